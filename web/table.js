/** A table of sizes: rows fill as they are solved; stop; archive. */
import { Failure, postFile, saveAnswer, saveBlob } from './api.js';
import { byId, element, mm, say } from './page.js';
import { annealWords } from './result.js';
import { sentence } from './sentence.js';
import { words } from './words.js';

const said = words.table;

const cell = (text, kind) => element('td', kind ? { class: kind } : {}, text);

function rowOf({ place, name, state, verdict, reasons, warnings, figures, error }) {
  /** Nothing stands there for a tray without a blank. */
  const number = (write) => cell(figures === null ? '' : write(figures), 'number');
  const why = error === null ? [...reasons, ...warnings] : error.faults.map(({ message }) => message);
  return element(
    'tr',
    state === 'made' ? {} : { class: 'failed' },
    cell(place),
    element('th', { scope: 'row' }, name ?? said.noName),
    cell(verdict === null ? said.cannotBeMade : words.verdicts[verdict]),
    number(({ blankLength, blankWidth }) => `${mm(blankLength)} × ${mm(blankWidth)}`),
    number(({ rimToLose }) => mm(rimToLose)),
    number(({ thickest }) => mm(thickest, 2)),
    cell(figures === null ? '' : annealWords(figures.anneals)),
    number(({ mass }) => mass.toFixed(2)),
    number(({ cutLength }) => (cutLength / 1000).toFixed(2)),
    cell(why.join(' '), 'reasons'),
  );
}

/** The events of a stream of JSON lines. */
async function* events(response) {
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    const lines = (rest + value).split('\n');
    rest = lines.pop();
    for (const line of lines) yield JSON.parse(line);
  }
}

/**
 * @param formats as the service declares them
 * @param base    gives the tray that the rows start from
 */
export function table(formats, base) {
  const rows = byId('table-rows');
  const progress = byId('table-progress');
  const state = byId('table-words');
  const cancel = byId('table-cancel');
  const archive = byId('table-archive');
  const error = byId('table-error');
  let stop = new AbortController();
  /** The table that is shown, with the tray its rows started from. */
  let shown = null;

  byId('table-formats').append(
    ...formats.map((format) =>
      element(
        'label',
        {},
        element('input', {
          type: 'checkbox',
          name: 'table-format',
          value: format.id,
          checked: format.id === 'dxf',
        }),
        ` ${format.label}`,
      ),
    ),
  );

  function tell(text) {
    state.textContent = text;
    byId('table-announce').textContent = text;
  }

  /** Rows come as they are solved; they stand in the order of the table. */
  function place(tray) {
    const row = rowOf(tray);
    row.dataset.row = tray.row;
    const after = [...rows.children].find((other) => Number(other.dataset.row) > tray.row);
    rows.insertBefore(row, after ?? null);
  }

  async function solve(file) {
    stop.abort();
    stop = new AbortController();
    const { signal } = stop;
    shown = { file, base: base() };
    say(error, '');
    rows.replaceChildren();
    archive.disabled = true;
    cancel.disabled = false;
    progress.value = 0;
    byId('table-block').hidden = false;
    tell(sentence(said.reading, { file: file.name }));
    byId('many').scrollIntoView({ block: 'nearest' });
    let done = 0;
    let total = 0;
    let ended = false;
    try {
      for await (const event of events(await postFile('api/table', file, shown.base, signal))) {
        if (event.event === 'start') {
          total = event.rows;
          progress.max = Math.max(1, total);
          tell(sentence(said.solving, { count: total }));
        } else if (event.event === 'row') {
          done++;
          progress.value = done;
          state.textContent = sentence(said.progress, { done, total });
          place(event.tray);
        } else if (event.event === 'end') {
          ended = true;
          const { made: count, failed } = event;
          tell(sentence(failed > 0 ? said.solvedSome : said.solved, { count, failed }));
          archive.disabled = event.made === 0;
        }
      }
      if (!ended) throw new Failure([{ path: '', detail: said.brokenOffByService }], 'BROKEN');
    } catch (failure) {
      if (signal.aborted) {
        if (stop.signal === signal) tell(sentence(said.stopped, { done, total }));
      } else if (failure instanceof Failure) {
        say(error, failure.message);
        if (total === 0) byId('table-block').hidden = true;
        else tell(sentence(said.brokenOff, { done, total }));
      } else {
        say(error, said.connectionLost);
        tell(sentence(said.brokenOff, { done, total }));
      }
    } finally {
      if (stop.signal === signal) cancel.disabled = true;
    }
  }

  cancel.addEventListener('click', () => stop.abort());
  byId('table-file').addEventListener('change', (event) => {
    const [file] = event.target.files;
    if (file) solve(file);
    event.target.value = ''; // so that the same file can be chosen again
  });

  archive.addEventListener('click', async () => {
    const ids = [...byId('table-formats').querySelectorAll('input:checked')].map((input) => input.value);
    if (ids.length === 0) {
      say(error, said.tickOne);
      return;
    }
    say(error, '');
    archive.disabled = true;
    stop = new AbortController();
    cancel.disabled = false;
    progress.removeAttribute('value');
    const before = state.textContent;
    tell(said.archiving);
    try {
      await saveAnswer(
        await postFile(`api/table/archive?formats=${ids.join(',')}`, shown.file, shown.base, stop.signal),
      );
    } catch (failure) {
      if (!stop.signal.aborted) say(error, failure instanceof Failure ? failure.message : words.lost);
    } finally {
      tell(before);
      progress.value = progress.max;
      archive.disabled = false;
      cancel.disabled = true;
    }
  });

  byId('table-example').addEventListener('click', () => {
    const tray = base();
    const { length = 420, width = 280 } = tray.plan ?? {};
    const height = tray.section?.height ?? 34;
    const lines = ['name,plan.length,plan.width,section.height'];
    for (const [word, scale] of [
      ['small', 0.8],
      ['middle', 1],
      ['large', 1.25],
    ]) {
      lines.push(`drip-tray-${word},${Math.round(length * scale)},${Math.round(width * scale)},${height}`);
    }
    saveBlob(new Blob([`${lines.join('\r\n')}\r\n`], { type: 'text/csv' }), 'sizes.csv');
  });

  return { solve };
}
