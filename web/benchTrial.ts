/** The trial corner at the bench: what was measured, the hand that it tells, and trials kept under names. */
import { withUnit } from '../src/papers/lengths.ts';
import type { BenchView } from '../src/server/benchView.ts';
import type { HandFound } from '../src/server/handFound.ts';
import {
  dotsLabel,
  foundLines,
  TRIAL_LENGTHS,
  type TrialCorner,
  trialMeasurements,
  unitSign,
} from '../src/server/trialFields.ts';
import type { TrialForTray } from '../src/server/trialsKept.ts';
import { busyWhile } from './files.ts';
import { element, say, sentence } from './page.ts';
import { Failure, failure, saveAnswer, saveBlob } from './service.ts';
import { type Asked, fileOf, hand, trials } from './solving.ts';
import { words } from './words.js';

const said = words.bench.trial;
const KEY = 'gatherpan:trials';

export interface TrialPart {
  readonly view: BenchView;
  readonly asked: Asked;
  /** Cuts the tray for a hand. */
  use(forming: TrialForTray['forming']): void;
}

const NONE = { trials: [] };

/** What is kept here, not read yet; another tab, an older page or a person may have written it. */
function stored(): unknown {
  try {
    const text = localStorage.getItem(KEY);
    return text === null ? NONE : jsonIn(text);
  } catch {
    return NONE;
  }
}

/** Undefined where there is no JSON. */
function jsonIn(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

const textOf = (list: readonly TrialForTray[]): string =>
  JSON.stringify({ trials: list.map(({ trial }) => trial) }, null, 2);

/** The part of the page for a trial corner. */
export function trialPart({ view, asked, use }: TrialPart): HTMLElement[] {
  const { unit } = asked;
  const note = element('p', { class: 'note', role: 'status' });
  const error = element('p', { class: 'error', role: 'alert' });
  say(note, '');
  say(error, '');
  const field = (id: string, label: string, more: Record<string, string> = {}): HTMLInputElement =>
    element('input', { id: `trial-${id}`, autocomplete: 'off', 'aria-label': label, ...more });
  const labelled = (control: HTMLInputElement | HTMLSelectElement, label: string): HTMLElement =>
    element('div', { class: 'field' }, element('label', { for: control.id }, label), control);
  const measured = Object.fromEntries(
    TRIAL_LENGTHS.map((id) => [
      id,
      field(id, sentence(said[id], { unit: unitSign(unit) }), { inputmode: 'decimal' }),
    ]),
  ) as Record<(typeof TRIAL_LENGTHS)[number], HTMLInputElement>;
  const dots = field('dots', '', { inputmode: 'decimal' });
  const dotsPlace = element('div', {});
  const corner = element(
    'select',
    { id: 'trial-corner' },
    ...view.trial.map(({ letter }) => element('option', { value: letter }, letter)),
  );
  const chosen = (): TrialCorner =>
    view.trial.find(({ letter }) => letter === corner.value) ?? view.trial[0]!;
  const showDots = (): void => {
    const label = dotsLabel(chosen(), unit, words);
    dots.setAttribute('aria-label', label ?? '');
    dotsPlace.replaceChildren(...(label === null ? [] : [labelled(dots, label)]));
  };
  corner.addEventListener('change', showDots);
  showDots();

  const measurements = (): object => {
    const { middle, start, end, thickness } = measured;
    const typed = {
      middle: middle.value,
      start: start.value,
      end: end.value,
      thickness: thickness.value,
      dots: dots.value,
    };
    return trialMeasurements(chosen(), typed, unit);
  };

  const result = element('section', { 'aria-live': 'polite' });
  const list = element('section', {});
  /** Whether what is kept cannot be read. */
  let unreadable = false;

  function showFound(hand: HandFound): void {
    const { found } = hand;
    const name = field('name', said.name);
    const person = field('person', said.person);
    const keep = element('button', { type: 'button' }, said.keep);
    keep.addEventListener('click', () => {
      if (name.value.trim() === '') {
        say(error, said.nameless);
        name.focus();
        return;
      }
      const who = person.value.trim();
      const date = new Date().toISOString().slice(0, 10);
      const mark = { name: name.value.trim(), date, ...(who === '' ? {} : { person: who }) };
      void take({ trials: [{ ...found.trial, ...mark }] });
    });
    const cut = element('button', { type: 'button', class: 'main' }, said.use);
    cut.addEventListener('click', () => cutFor(found));
    result.replaceChildren(
      element(
        'ul',
        { class: 'found' },
        ...foundLines(hand, unit, words).map((each) => element('li', {}, each)),
      ),
      element('p', { class: 'actions' }, cut),
      element('h2', {}, said.keepTitle),
      labelled(name, said.name),
      labelled(person, said.person),
      element('p', { class: 'actions' }, keep),
    );
  }

  function cutFor({ trial: { name, sheet, hand: found }, forming, otherSheet }: TrialForTray): void {
    use(forming);
    const { material } = sheet;
    const values = { name, material, thickness: withUnit(sheet.thickness, unit, 2) };
    say(
      note,
      [
        sentence(said.used, { hand: found.value.toFixed(2) }),
        ...(otherSheet ? [sentence(said.otherSheet, values)] : []),
      ].join(' '),
    );
  }

  /** All that are kept, with more in the places of those of their names. @throws Failure */
  async function joined(more: unknown): Promise<readonly TrialForTray[]> {
    const all = await trials(asked, unreadable ? NONE : stored(), more);
    if (all === null) throw failure(words.bench.needsSolver);
    return all;
  }

  /** Keeps more, or says what is wrong with them. */
  async function take(more: unknown): Promise<void> {
    say(error, '');
    try {
      keep(await joined(more));
    } catch (fault) {
      if (!(fault instanceof Failure)) throw fault;
      say(error, fault.message);
    }
  }

  function keep(all: readonly TrialForTray[]): void {
    try {
      localStorage.setItem(KEY, textOf(all));
      unreadable = false;
    } catch (fault) {
      say(error, sentence(words.bench.notKept, { fault: (fault as Error).name }));
    }
    showKept(all);
  }

  function showKept(all: readonly TrialForTray[]): void {
    const save = element('button', { type: 'button' }, said.save);
    save.addEventListener('click', () =>
      saveBlob(new Blob([`${textOf(all)}\n`], { type: 'application/json' }), 'trials.json'),
    );
    const file = element('input', {
      id: 'trial-file',
      type: 'file',
      class: 'visually-hidden',
      accept: '.json,application/json',
    });
    file.addEventListener('change', async () => {
      const [taken] = file.files ?? [];
      if (taken === undefined) return;
      const found = jsonIn(await taken.text());
      if (found === undefined) say(error, sentence(said.notTrials, { file: taken.name }));
      else await take(found);
    });
    list.replaceChildren(
      element('h2', {}, said.kept),
      ...(all.length === 0
        ? [element('p', {}, said.none)]
        : [element('ul', { class: 'trials' }, ...all.map(rowOf))]),
      element(
        'p',
        { class: 'actions' },
        ...(all.length === 0 ? [] : [save]),
        file,
        element('label', { for: file.id, class: 'button' }, said.open),
      ),
    );
  }

  /** @param all among which it stands */
  function rowOf(one: TrialForTray, _place: number, all: readonly TrialForTray[]): HTMLElement {
    const { name, person, sheet: own, hand: found } = one.trial;
    const percent = (share: number): string => (100 * share).toFixed(0);
    const cut = element('button', { type: 'button' }, sentence(said.useIt, { name }));
    cut.addEventListener('click', () => cutFor(one));
    const forget = element('button', { type: 'button' }, sentence(said.forget, { name }));
    forget.addEventListener('click', () => keep(all.filter((each) => each !== one)));
    const values = {
      name,
      person: person ?? said.nobody,
      material: own.material,
      thickness: withUnit(own.thickness, unit, 2),
      hand: percent(found.value),
      low: percent(found.low),
      high: percent(found.high),
    };
    return element(
      'li',
      {},
      element('p', {}, sentence(said.one, values)),
      element('p', { class: 'actions' }, cut, ' ', forget),
    );
  }

  const find = element('button', { type: 'button', class: 'main' }, said.find);
  find.addEventListener('click', async () => {
    find.disabled = true;
    say(note, said.finding);
    say(error, '');
    try {
      const found = await hand(asked, measurements(), said.title);
      if (found === null) throw failure(words.bench.needsSolver);
      showFound(found);
    } catch (fault) {
      if (!(fault instanceof Failure)) throw fault;
      result.replaceChildren();
      say(error, fault.message);
    } finally {
      say(note, '');
      find.disabled = false;
    }
  });
  const paper = element('button', { type: 'button' }, said.sheet);
  paper.addEventListener('click', () =>
    busyWhile(paper, async () => saveAnswer(await fileOf(asked, { format: 'trial-pdf', values: { unit } }))),
  );
  showKept([]);
  // What cannot be read is told, and stays until something else is kept.
  joined(NONE).then(showKept, (fault) => {
    if (!(fault instanceof Failure)) throw fault;
    unreadable = true;
    say(error, sentence(said.unreadable, { fault: fault.message }));
  });
  return [
    element('p', {}, said.how),
    element('p', { class: 'actions' }, paper),
    element(
      'section',
      { class: 'notes' },
      labelled(corner, said.corner),
      ...TRIAL_LENGTHS.map((id) => labelled(measured[id], sentence(said[id], { unit: unitSign(unit) }))),
      dotsPlace,
    ),
    element('p', { class: 'actions' }, find),
    note,
    error,
    result,
    list,
  ];
}
