/** The page: shows a tray, and solves it whenever the form changes. */

import { sheetKey } from '../src/material/alsoCalled.ts';
import type { LengthUnit } from '../src/papers/lengths.ts';
import { fine, withUnit } from '../src/papers/lengths.ts';
import type { Preview } from '../src/server/preview.ts';
import type { Units } from '../src/tray/fields.ts';
import { inUnits, readWritten, type TrayObject, unitsOf } from '../src/tray/writtenTray.ts';
import { pointAtPicture } from './atPoint.ts';
import { drawingQuestions } from './drawing.ts';
import { busyWhile, files } from './files.ts';
import { trayForm } from './form.ts';
import { further } from './further.ts';
import { keepSetting, lastTrays, linkOf, setting, steps, trayOf } from './kept.ts';
import { Later } from './later.ts';
import { keepPage } from './offline.ts';
import { announce, button, byId, image, input, picture, say, sentence } from './page.ts';
import { sendToPhone } from './phone.ts';
import { showChanges, showResult, summary } from './result.ts';
import { Failure, failure, isAbort, postFile, saveBlob } from './service.ts';
import { type Asked, archiveOf, fileOf, live, preview, readFile, startSolving } from './solving.ts';
import { Standing, tell } from './standing.ts';
import { table } from './table.ts';
import { facts, words } from './words.js';

/** Between the last key and the question, ms: short enough to follow typing, long enough to skip half a number. */
const PAUSE = 40;
/** A tray that stays so long is a step of its own, ms. */
const SETTLED = 1200;

/** What is shown: the answer to a tray, with the question. */
interface Solved extends Asked {
  readonly file: TrayObject;
  readonly shown: Preview;
}
const page: {
  solved: Solved | null;
  /** A STEP part that no tray file says, in the place of the form's tray: its file and what it was read with. */
  part: { readonly file: File; readonly base: TrayObject } | null;
  /** Ends what is still asked. */
  asked: AbortController;
} = { solved: null, part: null, asked: new AbortController() };
const standing = new Standing();
/** The question about what was typed, and the step that a tray becomes. */
const solving = new Later();
const settling = new Later();

const form = trayForm(changed);
const units = (): Units => unitsOf(form.tray);
const unit = (): LengthUnit => (units() === 'mm' ? 'mm' : 'inch');

/** What the form stands for, as a tray file, and the sheet that was taken for another. */
const written = () => readWritten(form.tray, facts.sheets, words.everyday);
const question = (): Asked => ({ tray: JSON.stringify(written().tray), unit: unit() });

/** There is no full answer: what is shown is the last tray that has one. */
function unanswered(text: string): void {
  if (standing.isLive && page.solved !== null) showResult(page.solved.shown, page.solved.unit);
  standing.answered(false, text);
}

function changed(): void {
  const signal = begin();
  if (document.activeElement !== byId('text')) showText();
  solving.after(PAUSE, () => solve(signal));
}

/** What was asked before is dropped, and of the tray that is in the form now a live answer is shown. */
function begin(): AbortSignal {
  standing.outdated();
  drop();
  page.asked = new AbortController();
  void showLive(page.asked.signal);
  return page.asked.signal;
}

/** Nobody waits any more for what was asked. */
function drop(): void {
  page.asked.abort();
  solving.drop();
  settling.drop();
}

async function showLive(signal: AbortSignal): Promise<void> {
  // Nothing is shown yet: whatever comes first is as soon as can be.
  if (page.solved === null) return;
  const shown = await live(question(), signal).catch(() => null);
  if (shown === null || signal.aborted || !standing.busy) return;
  standing.live(sentence(words.live, { accuracy: withUnit(shown.accuracy, unit(), fine(unit())) }));
  showResult(shown, unit());
  showChanges(undefined, unit(), use);
}

/** The tray in the form as soon as it is solved. @throws Failure when it cannot be as it stands */
async function current(): Promise<Solved> {
  await standing.settled();
  if (!standing.good || page.solved === null) throw failure(words.cannotSave);
  return page.solved;
}

/** Solves what the form stands for; an older question that is still open is dropped. */
async function solve(signal = begin()): Promise<void> {
  const { tray: file, near } = written();
  const full = question();
  const began = performance.now();
  try {
    const shown = await preview(full, signal);
    if (signal.aborted) return;
    page.solved = { ...full, file, shown };
    page.part = null;
    form.showFaults([]);
    say(byId('general-error'), '');
    showTaken(shown, near);
    standing.answered(true);
    show(shown, full, signal);
    // For whoever wants to know how long a change takes to show.
    performance.measure('gatherpan:shown', { start: began, end: performance.now() });
    settling.after(SETTLED, () => settle(file, shown));
  } catch (error) {
    if (signal.aborted || isAbort(error)) return;
    if (!(error instanceof Failure)) throw error;
    if (error.retryAfter > 0) solving.after(1000 * Math.min(error.retryAfter, 5), () => solve());
    showTaken(null, near);
    say(byId('general-error'), form.showFaults(error.faults).join('\n'));
    unanswered(page.solved === null ? '' : words.stale);
    announce(form.inLabels(error.message));
  }
}

/** The result, and what follows it while nobody changes anything. */
function show(shown: Preview, question: Asked, signal: AbortSignal): void {
  showResult(shown, question.unit);
  const hash = page.solved === null ? null : linkOf(page.solved.file);
  byId<HTMLAnchorElement>('to-bench').href = `bench.html${hash ?? ''}`;
  byId('to-bench').hidden = hash === null || shown.figures === null;
  const said = summary(shown, question.unit);
  announce(sentence(shown.figures === null ? words.summaryNoFlat : words.summary, said));
  void beside.look(shown, question, signal);
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
  drop();
  page.part = { file, base };
  say(byId('general-error'), '');
  standing.answered(true, sentence(words.stalePart, { file: file.name }));
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

/** @param said what a person says of a drawing */
async function takeFile(file: File, said: Readonly<Record<string, string>> = {}): Promise<void> {
  const error = byId('file-error');
  say(error, '');
  say(byId('file-note'), words.working);
  byId('file').removeAttribute('aria-invalid');
  try {
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
      const address = `api/part/files/${wanted.format}?${new URLSearchParams(wanted.values)}`;
      if (page.part !== null && !standing.busy) return postFile(address, page.part.file, page.part.base);
      return fileOf(await current(), wanted);
    },
    async archive(quantity) {
      const address = `api/part/archive?${new URLSearchParams({ quantity, unit: unit() })}`;
      if (page.part !== null && !standing.busy) return postFile(address, page.part.file, page.part.base);
      return archiveOf(await current(), quantity);
    },
  },
  () => units() === 'in',
);
/** The tray that is shown, where it is the one in the form. */
const shownTray = (): Solved | null => (standing.good && page.part === null ? page.solved : null);
pointAtPicture(shownTray, unit);
const beside = further(use);
const history_ = steps((tray) => void take(tray));
const last = lastTrays((tray) => void take(tray));

for (const choice of document.querySelectorAll<HTMLInputElement>('[name="page-unit"]'))
  choice.addEventListener('change', () => {
    form.convert(choice.value === 'in' ? 'in' : 'mm');
    keepSetting('unit', choice.value);
    saving.unit();
    if (page.part === null) void solve();
    else void takeFile(page.part.file);
  });
const file = input('file');
file.addEventListener('change', () => {
  const chosen = file.files?.[0];
  if (chosen !== undefined) void takeFile(chosen);
  file.value = '';
});
byId('stop').addEventListener('click', () => {
  drop();
  unanswered(words.stopped);
});
byId('formed-block').addEventListener('toggle', () => {
  const tray = shownTray();
  if (tray !== null) void beside.showFormed(tray.shown, tray, page.asked.signal).catch(() => {});
});
byId('why').addEventListener('toggle', () => {
  const tray = shownTray();
  if (tray !== null) void beside.lookForChanges(tray.shown, tray, page.asked.signal);
});
const print_ = button('print');
print_.addEventListener('click', () =>
  busyWhile(print_, async () => {
    if (page.part === null || standing.busy) await current();
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
  if (standing.busy && !standing.isLive) tell(words.stale);
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
  standing.outdated();
  if (linked === undefined) say(byId('file-error'), words.linkWrong);
  const lacking = await starting;
  say(byId('lacking'), lacking);
  await take(form.tray);
  if (lacking === '') performance.mark('gatherpan:ready');
  // So that the thread of live answers is warm when the first key comes.
  void live(question(), page.asked.signal).catch(() => null);
  await keepPage();
}

// A browser that lacks something has the form as it is without scripts.
start().catch((error: unknown) => {
  document.documentElement.classList.remove('scripted');
  throw error;
});
