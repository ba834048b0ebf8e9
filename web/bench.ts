/** The bench view: one part of the work a screen, solved in this browser, with ticks and notes that stay here. */

import type { BenchFigure, BenchGroup, BenchNote, BenchSheet } from '../src/papers/benchSheet.ts';
import type { LengthUnit } from '../src/papers/lengths.ts';
import { withUnit } from '../src/papers/lengths.ts';
import { bigFigures, titledLines } from '../src/server/benchTree.ts';
import type { BenchView } from '../src/server/benchView.ts';
import { lengthFrom, millimetresFrom, numberFrom } from '../src/tray/writtenSize.ts';
import { readWritten, type TrayObject, unitsOf } from '../src/tray/writtenTray.ts';
import { keepWork, markOf, trayKey, type Work, workOf } from './benchKept.ts';
import { type TrialPart, trialPart } from './benchTrial.ts';
import { busyWhile } from './files.ts';
import { linkOf, trayOf } from './kept.ts';
import { announce, button, byId, element, image, input, node, picture, say, sentence } from './page.ts';
import { Failure, saveAnswer } from './service.ts';
import { scriptAddress } from './solver.ts';
import { type Asked, bench, fileOf, startSolving } from './solving.ts';
import type { Turned } from './turned.ts';
import { facts, words } from './words.js';

const said = words.bench;
/** How far what was measured may lie off, mm or degrees, and is still as it should be. */
const NEAR = 0.5;

/** What lies on the bench. */
const onBench: {
  tray: TrayObject;
  view: BenchView | null;
  /** The view that can be turned, where the browser has one. */
  turned: Turned | null;
  /** Number of the part that is shown. */
  at: number;
  /** Name of the corner that is being worked; empty for none. */
  worked: string;
  /** Whether what is shown is of the tray before it was changed. */
  stale: boolean;
} = { tray: {}, view: null, turned: null, at: 0, worked: '', stale: false };

const unit = (): LengthUnit => (unitsOf(onBench.tray) === 'mm' ? 'mm' : 'inch');
const asked = (): Asked => ({
  tray: JSON.stringify(readWritten(onBench.tray, facts.sheets, words.everyday).tray),
  unit: unit(),
});
const key = (): string => trayKey(onBench.tray);
const parts = byId<HTMLSelectElement>('part');

/** What is kept of this tray; nothing where the browser keeps none. */
function work(): Work {
  try {
    return workOf(key());
  } catch {
    return { ticks: [], notes: {} };
  }
}

function keep(changed: Partial<Work>): void {
  try {
    keepWork(key(), { ...work(), ...changed });
  } catch (error) {
    say(byId('kept'), sentence(said.notKept, { fault: (error as Error).name }));
  }
}

const isDone = (mark: string): boolean => work().ticks.includes(mark);

/** A box that is ticked when the line of this mark is done. @param changed is told of it once it is kept */
function tickBox(mark: string, changed: () => void = () => {}): HTMLInputElement {
  const box = element('input', { type: 'checkbox' });
  box.checked = isDone(mark);
  box.addEventListener('change', () => {
    const others = work().ticks.filter((each) => each !== mark);
    keep({ ticks: box.checked ? [...others, mark] : others });
    changed();
  });
  return box;
}

const figures = (list: readonly BenchFigure[]): Node | string => node(bigFigures(list));

const ticks = (sheet: string, lines: readonly string[]): HTMLElement =>
  element(
    'ul',
    { class: 'ticks' },
    ...lines.map((line) =>
      element(
        'li',
        {},
        element('label', {}, tickBox(markOf(`${sheet}: ${line}`)), element('span', {}, line)),
      ),
    ),
  );

const groupOf = (sheet: string, { title, figures: large, lines }: BenchGroup): HTMLElement =>
  element(
    'section',
    {},
    element('h2', {}, title),
    ...(large.length === 0 ? [] : [figures(large)]),
    ...(lines.length === 0 ? [] : [ticks(sheet, lines)]),
  );

/** How what was typed compares with what it should be. */
function compared({ wanted, unit: kind }: BenchNote, typed: string): string {
  if (typed.trim() === '') return '';
  const units = unitsOf(onBench.tray);
  const number = kind === 'mm' ? lengthFrom(typed, units) : numberFrom(typed);
  if (number === null) return said.noNumber;
  if (wanted === null) return '';
  const off = (kind === 'mm' ? millimetresFrom(number, units) : number) - wanted;
  if (Math.abs(off) <= NEAR) return said.as;
  const value = kind === 'mm' ? withUnit(Math.abs(off), unit()) : `${Math.abs(off).toFixed(0)}°`;
  return sentence(off > 0 ? said.more : said.less, { value });
}

function noteOf(note: BenchNote): HTMLElement {
  const { id, title, text } = note;
  const place = `note-${id}`;
  const typed = element('input', {
    id: place,
    autocomplete: 'off',
    inputmode: 'decimal',
    'aria-describedby': `${place}-said`,
  });
  const beside = element('p', { class: 'hint', id: `${place}-said`, role: 'status' });
  const tell = (): void => {
    beside.textContent = [
      text === '' ? '' : sentence(said.wanted, { value: text }),
      compared(note, typed.value),
    ]
      .filter((each) => each !== '')
      .join('; ');
  };
  typed.value = work().notes[id] ?? '';
  typed.addEventListener('input', () => {
    keep({ notes: { ...work().notes, [id]: typed.value } });
    tell();
  });
  tell();
  return element('div', { class: 'field' }, element('label', { for: place }, title), typed, beside);
}

const listed = (title: string, lines: readonly string[]): (Node | string)[] =>
  titledLines(title, lines).map(node);

/** The corner that is being worked: chosen, or the first in turn that is not done yet; its group is shown. */
function turnsOf({ id, turns, groups }: BenchSheet): HTMLElement {
  const place = element('div', {});
  const markFor = (corner: string): string => markOf(`${id}: corner ${corner} done`);
  const next = (): string | undefined => turns.find((corner) => !isDone(markFor(corner)));
  const choose = (chosen: string): void => {
    const group = groups.find(({ corners }) => corners?.includes(chosen));
    const done = tickBox(markFor(chosen), () => choose(done.checked ? (next() ?? chosen) : chosen));
    place.replaceChildren(
      element('h2', {}, said.turns),
      element(
        'div',
        { class: 'turns', role: 'group', 'aria-label': said.turns },
        ...turns.map((corner) => {
          const choice = element(
            'button',
            { type: 'button', 'aria-pressed': String(corner === chosen) },
            isDone(markFor(corner)) ? `${corner} ✓` : corner,
          );
          choice.addEventListener('click', () => choose(corner));
          return choice;
        }),
      ),
      ...(group === undefined ? [] : [groupOf(`${id} ${chosen}`, group)]),
      element(
        'p',
        { class: 'ticks done' },
        element('label', {}, done, element('span', {}, sentence(said.done, { corner: chosen }))),
      ),
    );
    onBench.turned?.mark(chosen);
    onBench.worked = chosen;
  };
  choose(next() ?? turns[0]!);
  return place;
}

function body(sheet: BenchSheet): (Node | string)[] {
  const { id, figures: large, groups, turns, troubles, notes, cautions } = sheet;
  const ofCorners = groups.findIndex(({ corners }) => corners !== undefined);
  onBench.worked = '';
  return [
    ...(large.length === 0 ? [] : [figures(large)]),
    ...groups.flatMap((group, i) => [
      ...(i === ofCorners && turns.length > 1 ? [turnsOf(sheet)] : []),
      ...(turns.length > 1 && group.corners?.some((corner) => turns.includes(corner))
        ? []
        : [groupOf(id, group)]),
    ]),
    ...listed(said.troubles, troubles),
    ...(notes.length === 0
      ? []
      : [element('section', { class: 'notes' }, element('h2', {}, said.note), ...notes.map(noteOf))]),
    ...listed(said.cautions, cautions),
  ];
}

function show(number: number): void {
  const { view } = onBench;
  if (view === null) return;
  const { sheets } = view;
  // Behind the sheets comes the trial corner.
  const at = Math.min(Math.max(number, 0), sheets.length);
  onBench.at = at;
  const sheet = sheets[at];
  byId('sheet-title').textContent = sheet?.title ?? said.trial.title;
  byId('sheet-body').replaceChildren(...(sheet === undefined ? trialPart(trialOf(view)) : body(sheet)));
  parts.value = String(at);
  button('earlier').disabled = at === 0;
  button('later').disabled = at === sheets.length;
  showPicture(sheet?.picture ?? null);
}

const trialOf = (shown: BenchView): TrialPart => ({
  view: shown,
  asked: asked(),
  use(changed) {
    setForming(changed);
    onBench.stale = true;
  },
});

function showPicture(wanted: BenchSheet['picture']): void {
  const { view, turned, worked } = onBench;
  byId('turned').hidden = wanted === null;
  byId('turn').hidden = wanted === null || turned === null;
  if (wanted === null || view === null) return;
  picture(image('drawn'), view.shapes[wanted.shape]!.svg, 'image/svg+xml', wanted.said);
  turned?.show(wanted.shape, wanted.said);
  turned?.mark(worked);
}

/** Goes to a part, which is read out from its title. */
async function go(number: number): Promise<void> {
  if (onBench.stale) {
    onBench.at = number;
    await solve();
  } else show(number);
  scrollTo({ top: 0 });
  byId('sheet-title').focus({ preventScroll: true });
}

/** Whether this browser can show what is turned: what does that is not loaded where it cannot. */
const turnable = (): boolean => element('canvas').getContext('webgl2') !== null;

/** The picture to be turned in the place of the drawn one, where the browser can. */
async function standUp(): Promise<void> {
  if (onBench.view === null || !turnable()) return;
  try {
    const { turned: make } = await import('./turned.ts');
    const { view } = onBench;
    onBench.turned?.end();
    byId('stand').hidden = false;
    onBench.turned = make(byId('stand'), view);
    image('drawn').hidden = true;
    showPicture(view.sheets[onBench.at]?.picture ?? null);
  } catch {
    // It did not come, or not to life: the drawn picture stays.
    byId('stand').hidden = true;
  }
}

/** The service shows the same sheets where this browser cannot solve. */
function leaveToService(): void {
  say(byId('working'), undefined);
  say(byId('fault'), said.needsSolver);
  const { tray, unit: shownIn } = asked();
  input('asked-tray').value = tray;
  input('asked-unit').value = shownIn;
  byId('by-service').hidden = false;
}

async function solve(): Promise<void> {
  onBench.stale = false;
  say(byId('working'), said.solving);
  say(byId('fault'), undefined);
  const view = await bench(asked()).catch((error: unknown) => {
    if (error instanceof Failure) return error;
    throw error;
  });
  say(byId('working'), undefined);
  if (view instanceof Failure) {
    say(byId('fault'), view.message);
    return;
  }
  if (view === null) {
    leaveToService();
    return;
  }
  onBench.view = view;
  byId('tray-name').textContent = view.name;
  const titles = [...view.sheets.map(({ title }) => title), said.trial.title];
  const count = titles.length;
  parts.replaceChildren(
    ...titles.map((title, i) =>
      element('option', { value: String(i) }, sentence(said.part, { number: i + 1, count, title })),
    ),
  );
  byId('work').hidden = false;
  byId('parts').hidden = false;
  show(onBench.at);
  announce(titles[onBench.at]!);
  await standUp();
}

/** The address says what is worked on, so that it can be sent or opened again. */
function setTray(tray: TrayObject): void {
  onBench.tray = tray;
  const link = linkOf(tray);
  if (link === null) return;
  history.replaceState(null, '', link);
  byId<HTMLAnchorElement>('back').href = `./${link}`;
}

const forming = () => onBench.tray.forming as { readonly gathering?: string } | undefined;

/** Changes how the tray is worked. */
const setForming = (changed: object): void =>
  setTray({ ...onBench.tray, forming: { ...forming(), ...changed } });

function listen(): void {
  button('earlier').addEventListener('click', () => void go(onBench.at - 1));
  button('later').addEventListener('click', () => void go(onBench.at + 1));
  parts.addEventListener('change', () => void go(Number(parts.value)));
  for (const [id, around, above] of [
    ['turn-left', -1, 0],
    ['turn-right', 1, 0],
    ['turn-up', 0, 1],
    ['turn-down', 0, -1],
  ] as const)
    button(id).addEventListener('click', () => onBench.turned?.turn(around, above));
  for (const way of ['tucks', 'blows']) {
    const choice = input(`way-${way}`);
    choice.checked = (forming()?.gathering ?? 'tucks') === way;
    choice.addEventListener('change', () => {
      setForming({ gathering: way });
      void solve();
    });
  }
  button('forget').addEventListener('click', () => {
    keep({ ticks: [], notes: {} });
    show(onBench.at);
  });
  const paper = button('paper');
  paper.addEventListener('click', () =>
    busyWhile(paper, async () => {
      const values = { unit: unit() };
      await saveAnswer(await fileOf(asked(), { format: 'bench-pdf', values }));
    }),
  );
}

async function start(): Promise<void> {
  document.documentElement.classList.add('scripted');
  const linked = trayOf(location.hash);
  if (linked === null || linked === undefined) {
    say(byId('fault'), said.wrongTray);
    return;
  }
  setTray(linked);
  listen();
  const lacking = await startSolving();
  if (lacking === '') await solve();
  else leaveToService();
  // The page may be opened here first.
  if ('serviceWorker' in navigator)
    await navigator.serviceWorker.register(scriptAddress('sw.js')).catch(() => {});
}

void start();
