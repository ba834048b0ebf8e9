/** The page: loads what the service offers, then solves whenever the form changes. */
import { Failure, getJson, postFile } from './api.js';
import { downloads, saveTray } from './downloads.js';
import { drawingQuestions } from './drawing.js';
import { announce, byId, element, say } from './page.js';
import { showChanges, showResult, summary } from './result.js';
import { sentence } from './sentence.js';
import { changes, made, preview, startSolving } from './solving.js';
import { table } from './table.js';
import { trayForm } from './trayForm.js';
import { words } from './words.js';

/** Between the last key and the question, ms: short enough to follow typing, long enough to skip half a number. */
const PAUSE = 40;
/** After so long a person is told that an answer is being worked on, ms. */
const SOON = 200;

const form = trayForm(changed);
/** The last tray that was solved, complete. */
let solved = null;
/** A STEP part that no tray file says, shown in the place of the form's tray: its file and what it was read with. */
let part = null;
let waiting;
let asked = new AbortController();
/** Whether the answer to what is in the form is still to come. */
let busy = false;
/** Whether what is shown is that answer. */
let good = false;
/** Those who wait for it. */
let settled = [];
let working;

/** What is shown is not, or no longer, the answer to what is in the form. */
function outdated() {
  busy = true;
  good = false;
  const result = byId('result');
  result.classList.add('old');
  result.setAttribute('aria-busy', 'true');
  clearTimeout(working);
  working = setTimeout(() => say(byId('stale'), words.working), SOON);
}

/** @param {boolean} isGood whether what is shown answers what is in the form */
function answered(isGood) {
  busy = false;
  good = isGood;
  clearTimeout(working);
  byId('result').classList.toggle('old', !isGood);
  byId('result').removeAttribute('aria-busy');
  const waited = settled;
  settled = [];
  for (const resolve of waited) resolve();
}

function changed() {
  outdated();
  asked.abort();
  clearTimeout(waiting);
  waiting = setTimeout(solve, PAUSE);
}

/**
 * The tray in the form, complete, as soon as it is solved.
 *
 * @throws Failure when it cannot be solved as it stands
 */
async function current() {
  while (busy) await new Promise((resolve) => settled.push(resolve));
  if (!good) throw new Failure([{ path: '', detail: words.cannotSave }], 'BAD_INPUT');
  return solved;
}

/** Solves what the form stands for; an older question that is still open is dropped. */
async function solve() {
  clearTimeout(waiting);
  outdated();
  asked.abort();
  asked = new AbortController();
  const { signal } = asked;
  const { tray } = form;
  const began = performance.now();
  try {
    const shown = await preview(tray, signal);
    if (signal.aborted) return;
    solved = shown.tray;
    part = null;
    form.showFaults([]);
    say(byId('general-error'), '');
    say(byId('stale'), '');
    answered(true);
    showResult(shown);
    void lookForChanges(shown, signal);
    const said = glance(shown);
    announce(byId('announce'), sentence(shown.figures === null ? words.summaryNoFlat : words.summary, said));
    if (document.activeElement !== byId('text')) showText();
    // For whoever wants to know how long a change takes to show.
    performance.measure('gatherpan:shown', { start: began, end: performance.now() });
  } catch (failure) {
    if (signal.aborted || failure.name === 'AbortError') return;
    if (!(failure instanceof Failure)) throw failure;
    if (failure.retryAfter > 0) waiting = setTimeout(solve, 1000 * Math.min(failure.retryAfter, 5));
    const others = form.showFaults(failure.faults);
    say(byId('general-error'), others.join('\n'));
    answered(false);
    say(byId('stale'), solved === null ? '' : words.stale);
    byId('glance').replaceChildren(
      element('b', {}, words.seeForm),
      element('span', {}, failure.faults[0]?.detail ?? ''),
    );
    announce(byId('announce'), failure.message);
  }
}

/** Asks what would turn the verdict, where it could be better; the rest of the page does not wait for it. */
async function lookForChanges({ tray, verdict }, signal) {
  showChanges(null);
  if (verdict.word === 'can be worked') return;
  try {
    const found = await changes(tray, signal);
    if (!signal.aborted) showChanges(found);
  } catch {
    // No advice is not an error: the verdict stands without it.
  }
}

/** Verdict and size in the bar that stays in sight. @returns both, for a sentence */
function glance(shown) {
  const said = summary(shown);
  byId('glance').replaceChildren(
    element('b', {}, said.verdict),
    element('span', {}, shown.figures === null ? words.noFlat : sentence(words.blank, said)),
  );
  return said;
}

function showText() {
  byId('text').value = JSON.stringify(form.tray, null, 2);
  say(byId('text-error'), '');
  byId('text').removeAttribute('aria-invalid');
}

/** Takes over a tray and solves it at once. */
function take(tray) {
  form.tray = tray;
  showText();
  return solve();
}

/** Shows a part that was solved as it is. The form keeps its tray; a change of it shows that one again. */
function showPart(file, base, shown) {
  clearTimeout(waiting);
  asked.abort();
  part = { file, base };
  say(byId('general-error'), '');
  say(byId('stale'), sentence(words.stalePart, { file: file.name }));
  answered(true);
  showChanges(null);
  showResult(shown);
  const said = shown.figures === null ? words.summaryOfPartNoFlat : words.summaryOfPart;
  announce(byId('announce'), sentence(said, { file: file.name, ...glance(shown) }));
}

/** @param said what a person says of a drawing */
async function takeFile(file, said = {}) {
  const error = byId('file-error');
  say(error, '');
  say(byId('file-note'), '');
  byId('file').removeAttribute('aria-invalid');
  try {
    const base = form.tray;
    const read = await (await postFile('api/upload', file, base, undefined, said)).json();
    if (read.kind === 'question') {
      drawing.ask(file, read.questions, said);
      byId('result').classList.add('old');
      say(byId('stale'), sentence(words.staleDrawing, { file: file.name }));
      return;
    }
    drawing.close();
    if (read.kind === 'table') sizes.solve(file);
    else if (read.kind === 'part') showPart(file, base, read.preview);
    else {
      say(byId('file-note'), read.notes?.join(' '));
      await take(read.tray);
    }
  } catch (failure) {
    if (!(failure instanceof Failure)) throw failure;
    const others = drawing.open ? drawing.showFaults(failure.faults) : failure.faults;
    say(error, others.map(({ detail }) => detail).join('\n'));
    if (others.length > 0) byId('file').setAttribute('aria-invalid', 'true');
    announce(byId('announce'), failure.message, 0);
  }
}

const drawing = drawingQuestions(takeFile, solve);
let sizes;

async function start() {
  const starting = startSolving();
  try {
    const [demo, sheets, formats, about] = await Promise.all(
      ['api/demo', 'api/sheets', 'api/formats', 'api/about'].map(getJson),
    );
    form.setMaterials(sheets);
    downloads(formats, async (path) => {
      const tray = part === null || busy ? await current() : null;
      return part === null ? made(path, tray) : postFile(`api/part/${path}`, part.file, part.base);
    });
    sizes = table(formats, () => form.tray);
    byId('version').textContent = sentence(words.version, about);
    byId('demo').addEventListener('click', () => take(demo));
    await take(demo);
    const lacking = await starting;
    say(byId('lacking'), lacking);
    if (lacking === '') performance.mark('gatherpan:ready');
  } catch (failure) {
    if (!(failure instanceof Failure)) throw failure;
    say(byId('general-error'), failure.message);
  }
}

byId('file').addEventListener('change', (event) => {
  const [file] = event.target.files;
  if (file) takeFile(file);
  event.target.value = '';
});
byId('save-tray').addEventListener('click', () => saveTray(form.tray));
byId('text-take').addEventListener('click', async () => {
  const field = byId('text');
  try {
    await take(JSON.parse(field.value));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    say(byId('text-error'), sentence(words.notJson, { fault: error.message }));
    field.setAttribute('aria-invalid', 'true');
    field.focus();
  }
});

// Dropped anywhere on the page, so that nobody has to aim and no file opens in place of the page.
const drop = byId('drop');
addEventListener('dragover', (event) => {
  event.preventDefault();
  drop.classList.add('over');
});
addEventListener('dragleave', (event) => {
  if (event.relatedTarget === null) drop.classList.remove('over');
});
addEventListener('drop', (event) => {
  event.preventDefault();
  drop.classList.remove('over');
  const [file] = event.dataTransfer?.files ?? [];
  if (file) takeFile(file);
});

start();
