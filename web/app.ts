/** The page: shows a tray, and solves it whenever the form changes. */

import { trayNameFrom } from '../src/fileName.ts';
import { sheetKey } from '../src/material/alsoCalled.ts';
import type { LengthUnit } from '../src/papers/lengths.ts';
import { withUnit } from '../src/papers/lengths.ts';
import type { Preview } from '../src/server/preview.ts';
import type { Units } from '../src/tray/fields.ts';
import { inUnits, readWritten, type TrayObject, unitsOf } from '../src/tray/writtenTray.ts';
import { pointAtPicture } from './atPoint.ts';
import { drawingQuestions } from './drawing.ts';
import { busyWhile, files } from './files.ts';
import { trayForm } from './form.ts';
import { keepSetting, lastTrays, linkOf, setting, steps, trayOf } from './kept.ts';
import { keepPage } from './offline.ts';
import { announce, button, byId, image, input, picture, say, sentence } from './page.ts';
import { sendToPhone } from './phone.ts';
import { showChanges, showFigures, showResult, summary } from './result.ts';
import { Failure, failure, isAbort, postFile, saveBlob } from './service.ts';
import {
  type Asked,
  archiveOf,
  changes,
  course,
  fileOf,
  formed,
  live,
  preview,
  readFile,
  startSolving,
} from './solving.ts';
import { table } from './table.ts';
import { facts, words } from './words.js';

/** Between the last key and the question, ms: short enough to follow typing, long enough to skip half a number. */
const PAUSE = 40;
/** After so long a person is told that an answer is being worked on; and after so long, for how long, ms. */
const SOON = 200;
const LONG = 2000;
/** Advice takes time from live answers while somebody types: it is looked for after such a pause, ms. */
const THOUGHT = 300;
/** A tray that stays so long is a step of its own, ms. */
const SETTLED = 1200;

/** What is shown: the answer to a tray, with the question. */
interface Solved extends Asked {
  readonly file: TrayObject;
  readonly shown: Preview;
}
let solved: Solved | null = null;
/** The answer that changes have been looked for. */
let sought: Preview | null = null;
/** A STEP part that no tray file says, shown in the place of the form's tray: its file and what it was read with. */
let part: { readonly file: File; readonly base: TrayObject } | null = null;
let waiting: ReturnType<typeof setTimeout>;
let settling: ReturnType<typeof setTimeout>;
let ticking: ReturnType<typeof setTimeout>;
let asked = new AbortController();
/** Whether the answer to what is in the form is still to come, and whether what is shown is that answer. */
let busy = false;
let good = false;
/** What a live answer says of itself, while it is the one that is shown. */
let nearly = '';
/** Those who wait for the full answer. */
let settled: (() => void)[] = [];

const form = trayForm(changed);
const units = (): Units => unitsOf(form.tray);
const unit = (): LengthUnit => (units() === 'mm' ? 'mm' : 'inch');

/** What the form stands for, as a tray file, and the sheet that was taken for another. */
const written = () => readWritten(form.tray, facts.sheets, words.everyday);
const question = (): Asked => ({ tray: JSON.stringify(written().tray), unit: unit() });

/** The sentence over the result; its button stops what is worked on. */
function tell(text: string, canStop = false): void {
  byId('stale').hidden = text === '';
  byId('stale-text').textContent = text;
  byId('stop').hidden = !canStop;
}

/** What is shown is not, or no longer, the answer to what is in the form. */
function outdated(): void {
  if (!busy) {
    const began = performance.now();
    const tick = (): void => {
      const time = performance.now() - began;
      const seconds = Math.round(time / 1000);
      if (time >= LONG) tell(`${nearly} ${sentence(words.workingFor, { seconds })}`.trim(), true);
      else if (nearly === '') tell(words.working);
      ticking = setTimeout(tick, time < LONG ? LONG - time : 1000);
    };
    clearTimeout(ticking);
    ticking = setTimeout(tick, SOON);
  }
  busy = true;
  good = false;
  nearly = '';
  byId('result').classList.remove('live');
  byId('result').classList.add('old');
  byId('result').setAttribute('aria-busy', 'true');
  byId('phone-code').hidden = true;
}

/** @param isGood whether what is shown answers what is in the form */
function answered(isGood: boolean, text = ''): void {
  busy = false;
  good = isGood;
  clearTimeout(ticking);
  tell(text);
  // What could not be saved was another tray.
  if (isGood) say(byId('take-error'), '');
  nearly = '';
  byId('result').classList.remove('live');
  byId('result').classList.toggle('old', !isGood);
  byId('result').removeAttribute('aria-busy');
  const waited = settled;
  settled = [];
  for (const resolve of waited) resolve();
}

/** There is no full answer: what is shown is the last tray that has one. */
function unanswered(text: string): void {
  if (nearly !== '' && solved !== null) showResult(solved.shown, solved.unit);
  answered(false, text);
}

function changed(): void {
  const signal = begin();
  if (document.activeElement !== byId('text')) showText();
  waiting = setTimeout(() => solve(signal), PAUSE);
}

/** What was asked before is dropped, and of the tray that is in the form now a live answer is shown. */
function begin(): AbortSignal {
  outdated();
  asked.abort();
  clearTimeout(waiting);
  clearTimeout(settling);
  asked = new AbortController();
  void showLive(asked.signal);
  return asked.signal;
}

async function showLive(signal: AbortSignal): Promise<void> {
  // Nothing is shown yet: whatever comes first is as soon as can be.
  if (solved === null) return;
  const shown = await live(question(), signal).catch(() => null);
  if (shown === null || signal.aborted || !busy) return;
  nearly = sentence(words.live, { accuracy: withUnit(shown.accuracy, unit(), unit() === 'mm' ? 1 : 2) });
  byId('result').classList.remove('old');
  byId('result').classList.add('live');
  tell(nearly);
  showResult(shown, unit());
  showChanges(undefined, unit(), use);
}

/** The tray in the form as soon as it is solved. @throws Failure when it cannot be as it stands */
async function current(): Promise<Solved> {
  while (busy) await new Promise<void>((resolve) => settled.push(resolve));
  if (!good || solved === null) throw failure(words.cannotSave);
  return solved;
}

/** Solves what the form stands for; an older question that is still open is dropped. */
async function solve(signal = begin()): Promise<void> {
  clearTimeout(waiting);
  const { tray: file, near } = written();
  const full = question();
  const began = performance.now();
  try {
    const shown = await preview(full, signal);
    if (signal.aborted) return;
    solved = { ...full, file, shown };
    part = null;
    form.showFaults([]);
    say(byId('general-error'), '');
    showTaken(shown, near);
    answered(true);
    show(shown, full, signal);
    // For whoever wants to know how long a change takes to show.
    performance.measure('gatherpan:shown', { start: began, end: performance.now() });
    settling = setTimeout(() => settle(file, shown), SETTLED);
  } catch (error) {
    if (signal.aborted || isAbort(error)) return;
    if (!(error instanceof Failure)) throw error;
    if (error.retryAfter > 0) waiting = setTimeout(() => solve(), 1000 * Math.min(error.retryAfter, 5));
    showTaken(null, near);
    say(byId('general-error'), form.showFaults(error.faults).join('\n'));
    unanswered(solved === null ? '' : words.stale);
    announce(form.inLabels(error.message));
  }
}

/** The result, and what follows it while nobody changes anything. */
function show(shown: Preview, question: Asked, signal: AbortSignal): void {
  showResult(shown, question.unit);
  const hash = solved === null ? null : linkOf(solved.file);
  byId<HTMLAnchorElement>('to-bench').href = `bench.html${hash ?? ''}`;
  byId('to-bench').hidden = hash === null || shown.figures === null;
  const said = summary(shown, question.unit);
  announce(sentence(shown.figures === null ? words.summaryNoFlat : words.summary, said));
  void lookFurther(shown, question, signal);
}

/** When it is annealed, the picture where it is open, and what would help; nobody waits for these. */
async function lookFurther(shown: Preview, question: Asked, signal: AbortSignal): Promise<void> {
  showChanges(undefined, question.unit, use);
  try {
    await showFormed(shown, question, signal);
    await new Promise((resolve) => setTimeout(resolve, THOUGHT));
    if (signal.aborted) return;
    if (shown.anneals !== null && shown.anneals.count !== 0 && shown.anneals.count !== null) {
      const found = await course(question, signal).catch(() => null);
      if (signal.aborted) return;
      showFigures(shown, question.unit, found);
    }
    await lookForChanges(shown, question, signal);
  } catch {
    // The verdict stands without the picture and the anneals.
  }
}

/** What would turn the verdict, where it is seen: the search may keep a processor busy for seconds. */
async function lookForChanges(shown: Preview, question: Asked, signal: AbortSignal): Promise<void> {
  const { word } = shown.verdict;
  const seen = word === 'not in one piece' || byId<HTMLDetailsElement>('why').open;
  if (!seen || word === 'can be worked' || sought === shown) return;
  sought = shown;
  showChanges(null, question.unit, use);
  // No advice is not an error: the verdict stands without it.
  const found = await changes(question, signal).catch(() => undefined);
  if (!signal.aborted) showChanges(found, question.unit, use);
}

async function showFormed(shown: Preview, question: Asked, signal: AbortSignal): Promise<void> {
  const target = image('picture-formed');
  if (!byId<HTMLDetailsElement>('formed-block').open || shown.figures === null) return;
  const svg = await formed(question, shown, signal);
  if (!signal.aborted && svg !== '') picture(target, svg, 'image/svg+xml', target.alt);
}

/** Makes a change that was proposed. */
function use(path: string, to: number | string): void {
  const inside = inUnits(form.tray, 'mm') as Record<string, unknown>;
  const [group = '', field = ''] = path.split('.');
  const changedTray = { ...inside, [group]: { ...(inside[group] as object), [field]: to } };
  void take(inUnits(changedTray, units()));
}

/** What a gauge and another name of a sheet were taken for, at their fields. */
function showTaken(shown: Preview | null, near: string | null): void {
  const { sheet } = form.tray as {
    readonly sheet?: { readonly thickness?: unknown; readonly material?: unknown };
  };
  const gauge = /\D/.test(String(sheet?.thickness ?? '').replace(/[.,]/g, ''));
  const thickness = shown?.tray.sheet.thickness;
  say(
    byId('thickness-taken'),
    gauge && thickness !== undefined
      ? sentence(words.gaugeTaken, { thickness: withUnit(thickness, unit(), 2) })
      : undefined,
  );
  const name = (written().tray.sheet as { readonly material?: unknown } | undefined)?.material;
  const known = facts.sheets.find((each) => each.name === name);
  const typed = typeof sheet?.material === 'string' ? sheetKey(sheet.material) : '';
  say(
    byId('material-taken'),
    known === undefined || typed === sheetKey(known.name)
      ? undefined
      : sentence(near === null ? words.sheetTaken : words.sheetNear, known),
  );
}

/** A tray that stays is a step to come back to. */
function settle(file: TrayObject, shown: Preview): void {
  history_.add(file);
  if (shown.figures !== null) last.add(file, summary(shown, unit()).size, image('picture-blank'));
}

function showText(): void {
  byId<HTMLTextAreaElement>('text').value = JSON.stringify(written().tray, null, 2);
  say(byId('text-error'), '');
  byId('text').removeAttribute('aria-invalid');
}

/** Takes over a tray and solves it at once; the page takes its unit. */
function take(tray: TrayObject): Promise<void> {
  form.set(tray);
  showUnits();
  showText();
  return solve();
}

function showUnits(): void {
  for (const choice of document.querySelectorAll<HTMLInputElement>('[name="page-unit"]'))
    choice.checked = choice.value === units();
  saving.unit();
}

/** Shows a part that was solved as it is. The form keeps its tray; a change of it shows that one again. */
function showPart(file: File, base: TrayObject, shown: Preview): void {
  clearTimeout(waiting);
  asked.abort();
  part = { file, base };
  say(byId('general-error'), '');
  answered(true, sentence(words.stalePart, { file: file.name }));
  showChanges(undefined, unit(), use);
  showResult(shown, unit());
  picture(
    image('picture-formed'),
    shown.pictures?.formed ?? '',
    'image/svg+xml',
    image('picture-formed').alt,
  );
  const said = shown.figures === null ? words.summaryOfPartNoFlat : words.summaryOfPart;
  announce(sentence(said, { file: file.name, ...summary(shown, unit()) }));
}

/** Largest file that may be a tray file, bytes. */
const TRAY_FILE = 1_000_000;

/** A tray file, which needs nobody else to be read; null for any other. */
async function trayIn(file: File): Promise<TrayObject | null> {
  if (file.size > TRAY_FILE) return null;
  try {
    const value: unknown = JSON.parse(await file.text());
    return typeof value === 'object' && value !== null && !Array.isArray(value)
      ? (value as TrayObject)
      : null;
  } catch {
    return null;
  }
}

/** @param said what a person says of a drawing */
async function takeFile(file: File, said: Readonly<Record<string, string>> = {}): Promise<void> {
  const error = byId('file-error');
  say(error, '');
  say(byId('file-note'), words.working);
  byId('file').removeAttribute('aria-invalid');
  try {
    const own = await trayIn(file);
    if (own !== null) {
      say(byId('file-note'), '');
      drawing.close();
      await take(inUnits({ name: trayNameFrom(file.name), ...own }, units()));
      return;
    }
    const base = written().tray;
    const read = await readFile(file, base, said, unit());
    say(byId('file-note'), '');
    if (read.kind === 'question') {
      drawing.ask(file, read.questions, said);
      drawing.show(read.picture);
      byId('result').classList.add('old');
      tell(sentence(words.staleDrawing, { file: file.name }));
      return;
    }
    drawing.close();
    if (read.kind === 'table') void sizes.solve(file);
    else if (read.kind === 'part') showPart(file, base, read.preview);
    else {
      say(byId('file-note'), read.notes?.join(' '));
      drawing.show('picture' in read ? read.picture : null);
      await take(inUnits({ ...read.tray }, units()));
    }
  } catch (fault) {
    if (!(fault instanceof Failure)) throw fault;
    say(byId('file-note'), '');
    const others = drawing.open ? drawing.showFaults(fault.faults) : fault.faults;
    say(error, others.map(({ detail }) => form.inLabels(detail)).join('\n'));
    if (others.length > 0) byId('file').setAttribute('aria-invalid', 'true');
    announce(fault.message, 0);
  }
}

const drawing = drawingQuestions(
  (file, said) => void takeFile(file, said as Record<string, string>),
  () => void solve(),
);
const sizes = table(() => ({ file: written().tray, unit: unit() }));
const saving = files(
  {
    async file(wanted) {
      if (part !== null && !busy) {
        const address = `api/part/files/${wanted.format}?${new URLSearchParams(wanted.values)}`;
        return postFile(address, part.file, part.base);
      }
      return fileOf(await current(), wanted);
    },
    async archive(quantity) {
      if (part !== null && !busy)
        return postFile(
          `api/part/archive?${new URLSearchParams({ quantity, unit: unit() })}`,
          part.file,
          part.base,
        );
      return archiveOf(await current(), quantity);
    },
  },
  () => units() === 'in',
);
pointAtPicture(() => (good && part === null ? solved : null), unit);
const history_ = steps((tray) => void take(tray));
const last = lastTrays((tray) => void take(tray));

for (const choice of document.querySelectorAll<HTMLInputElement>('[name="page-unit"]'))
  choice.addEventListener('change', () => {
    form.convert(choice.value === 'in' ? 'in' : 'mm');
    keepSetting('unit', choice.value);
    saving.unit();
    if (part === null) void solve();
    else void takeFile(part.file);
  });
const file = input('file');
file.addEventListener('change', () => {
  const chosen = file.files?.[0];
  if (chosen !== undefined) void takeFile(chosen);
  file.value = '';
});
byId('stop').addEventListener('click', () => {
  asked.abort();
  clearTimeout(waiting);
  unanswered(words.stopped);
});
byId('formed-block').addEventListener('toggle', () => {
  if (part === null && solved !== null && good)
    void showFormed(solved.shown, solved, asked.signal).catch(() => {});
});
byId('why').addEventListener('toggle', () => {
  if (part === null && solved !== null && good) void lookForChanges(solved.shown, solved, asked.signal);
});
const print_ = button('print');
print_.addEventListener('click', () =>
  busyWhile(print_, async () => {
    if (part === null || busy) await current();
    print();
  }),
);
/** The address of what is in the form, once it is solved. @throws Failure where it cannot be, or is too long */
async function linkOfForm(): Promise<string> {
  const { file: tray } = await current();
  const hash = linkOf(tray);
  if (hash === null) throw failure(words.linkTooLong);
  history_.add(tray);
  return new URL(hash, location.href).href;
}
sendToPhone(linkOfForm);
// The browser's own printing waits for nobody: the paper then says what it shows.
addEventListener('beforeprint', () => {
  if (busy && nearly === '') tell(words.stale);
});
const link = button('copy-link');
link.addEventListener('click', () =>
  busyWhile(link, async () => {
    const address = await linkOfForm();
    try {
      await navigator.clipboard.writeText(address);
      say(byId('take-note'), words.linkCopied);
    } catch {
      say(byId('take-note'), words.linkNotCopied);
    }
  }),
);
byId('save-tray').addEventListener('click', () => {
  const { tray } = written();
  const blob = new Blob([`${JSON.stringify(tray, null, 2)}\n`], { type: 'application/json' });
  saveBlob(blob, `${String(tray.name ?? 'tray')}-tray.json`);
});
byId('demo').addEventListener('click', () => void take(inUnits(facts.demo, units())));
byId('text-take').addEventListener('click', () => {
  const field = byId<HTMLTextAreaElement>('text');
  try {
    void take(JSON.parse(field.value) as TrayObject);
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    say(byId('text-error'), sentence(words.notJson, { fault: error.message }));
    field.setAttribute('aria-invalid', 'true');
    field.focus();
  }
});

// Dropped anywhere on the page, so that nobody has to aim and no file opens in place of the page.
addEventListener('dragover', (event) => {
  event.preventDefault();
  document.body.classList.add('over');
});
addEventListener('dragleave', (event) => {
  if (event.relatedTarget === null) document.body.classList.remove('over');
});
addEventListener('drop', (event) => {
  event.preventDefault();
  document.body.classList.remove('over');
  const dropped = event.dataTransfer?.files[0];
  if (dropped !== undefined) void takeFile(dropped);
});

async function start(): Promise<void> {
  document.documentElement.classList.add('scripted');
  byId('version').textContent = sentence(words.version, { version: facts.version });
  const starting = startSolving();
  const linked = trayOf(location.hash);
  const first: TrayObject = linked ?? inUnits(facts.demo, setting('unit') === 'in' ? 'in' : 'mm');
  form.set(first);
  showUnits();
  outdated();
  if (linked === undefined) say(byId('file-error'), words.linkWrong);
  const lacking = await starting;
  say(byId('lacking'), lacking);
  await take(form.tray);
  if (lacking === '') performance.mark('gatherpan:ready');
  // So that the thread of live answers is warm when the first key comes.
  void live(question(), asked.signal).catch(() => null);
  await keepPage();
}

// A browser that lacks something has the form as it is without scripts.
start().catch((error: unknown) => {
  document.documentElement.classList.remove('scripted');
  throw error;
});
