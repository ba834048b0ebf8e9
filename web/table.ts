/** A table of sizes: rows fill as they are solved; stop; archive. */
import type { ManifestTray } from '../src/jobs/manifest.ts';
import { fine, type LengthUnit, sizeText, withUnit } from '../src/papers/lengths.ts';
import { cutText, howOften } from '../src/server/answer.ts';
import type { TrayObject } from '../src/tray/writtenTray.ts';
import { button, byId, element, input, say, sentence } from './page.ts';
import { Failure, saveAnswer, saveBlob } from './service.ts';
import { type AskedTable, archiveOfTable, MOST_ROWS, notMadeHere, solveTable } from './tables.ts';
import { facts, words } from './words.js';

const said = words.table;

const cell = (text: string, kind = ''): HTMLElement =>
  element('td', kind === '' ? {} : { class: kind }, text);

function rowOf(
  { place, name, state, verdict, reasons, warnings, figures, error }: ManifestTray,
  unit: LengthUnit,
): HTMLElement {
  /** Nothing stands there for a tray without a blank. */
  const number = (write: (known: NonNullable<typeof figures>) => string): HTMLElement =>
    cell(figures === null ? '' : write(figures), 'number');
  const why = error === null ? [...reasons, ...warnings] : error.faults.map(({ message }) => message);
  const row = element(
    'tr',
    state === 'made' ? {} : { class: 'failed' },
    cell(place),
    element('th', { scope: 'row' }, name ?? said.noName),
    cell(verdict === null ? said.cannotBeMade : words.verdicts[verdict]),
    number(({ blankLength, blankWidth }) => sizeText(blankLength, blankWidth, unit, fine(unit))),
    number(({ rimToLose }) => withUnit(rimToLose, unit, fine(unit))),
    number(({ thickest }) => withUnit(thickest, unit, 2)),
    cell(figures === null ? '' : howOften(figures.anneals, words)),
    number(({ mass }) => mass.toFixed(2)),
    number(({ cutLength }) => cutText(cutLength, unit)),
    cell(why.join(' '), 'reasons'),
  );
  // On a narrow screen a row is a block, and what heads its column stands in it.
  const heads = document.querySelectorAll('#table thead th');
  for (const [i, each] of [...row.children].entries())
    (each as HTMLElement).dataset.head = heads[i]!.textContent;
  return row;
}

/**
 * @param base gives the tray that the rows start from, and the unit that they are told in
 */
export function table(base: () => { readonly file: TrayObject; readonly unit: LengthUnit }): {
  solve(file: File): Promise<void>;
} {
  const rows = byId('table-rows');
  const progress = byId<HTMLProgressElement>('table-progress');
  const state = byId('table-words');
  const cancel = button('table-cancel');
  const archive = button('table-archive');
  const error = byId('table-error');
  const note = byId('table-note');
  const star = byId('table-star');
  /** What is said of a table that is too large for this browser. */
  let large = '';
  const tooMany = (): void => {
    large = sentence(said.tooMany, { most: MOST_ROWS });
    say(note, large);
  };
  let stop = new AbortController();
  /** The table that is shown. */
  let shown: AskedTable | null = null;

  byId('table-formats').append(
    ...facts.formats.map((format) =>
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

  function tell(text: string): void {
    state.textContent = text;
    byId('table-announce').textContent = text;
  }

  /** Rows come as they are solved; they stand in the order of the table. */
  function place(tray: ManifestTray): void {
    const row = rowOf(tray, shown?.unit ?? 'mm');
    row.dataset.row = String(tray.row);
    const after = [...rows.children].find((other) => Number((other as HTMLElement).dataset.row) > tray.row);
    rows.insertBefore(row, after ?? null);
    if (tray.reasons.some((reason) => reason.includes('*'))) say(star, words.star);
  }

  async function solve(file: File): Promise<void> {
    stop.abort();
    stop = new AbortController();
    const { signal } = stop;
    const { file: from, unit } = base();
    const asked = { file, base: from, unit };
    shown = asked;
    say(error, '');
    large = '';
    say(note, large);
    say(star, '');
    rows.replaceChildren();
    archive.disabled = true;
    cancel.disabled = false;
    progress.value = 0;
    byId('table-block').hidden = false;
    tell(sentence(said.reading, { file: file.name }));
    byId<HTMLDetailsElement>('many').open = true;
    byId('many').scrollIntoView({ block: 'nearest' });
    let done = 0;
    let total = 0;
    try {
      await solveTable(asked, signal, tooMany, (event) => {
        if (signal.aborted) return;
        if (event.event === 'start') {
          total = event.rows;
          progress.max = Math.max(1, total);
          tell(sentence(said.solving, { count: total }));
        } else if (event.event === 'row') {
          done++;
          progress.value = done;
          state.textContent = sentence(said.progress, { done, total });
          place(event.tray);
        } else {
          const { made: count, failed } = event;
          tell(sentence(failed > 0 ? said.solvedSome : said.solved, { count, failed }));
          archive.disabled = count === 0;
        }
      });
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
  const chosen = input('table-file');
  chosen.addEventListener('change', () => {
    const file = chosen.files?.[0];
    if (file !== undefined) void solve(file);
    chosen.value = ''; // so that the same file can be chosen again
  });

  archive.addEventListener('click', async () => {
    const ids = [...byId('table-formats').querySelectorAll<HTMLInputElement>('input:checked')].map(
      (box) => box.value,
    );
    if (shown === null || ids.length === 0) {
      say(error, said.tickOne);
      return;
    }
    say(error, '');
    const away = facts.formats.filter(({ id }) => notMadeHere(ids).includes(id)).map(({ label }) => label);
    say(note, away.length > 0 ? sentence(said.madeByService, { formats: away.join(', ') }) : large);
    archive.disabled = true;
    stop = new AbortController();
    cancel.disabled = false;
    progress.removeAttribute('value');
    const before = state.textContent;
    tell(said.archiving);
    try {
      const made = await archiveOfTable(shown, ids, stop.signal, (done) => {
        progress.value = done;
      });
      await saveAnswer(made);
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
    const { file, unit } = base();
    const { plan, section } = { ...facts.demo, ...file } as typeof facts.demo;
    const { length, width } = { ...facts.demo.plan, ...plan };
    const { height } = { ...facts.demo.section, ...section };
    const lines = ['name,plan.length,plan.width,section.height'];
    for (const [word, scale] of [
      ['small', 0.8],
      ['middle', 1],
      ['large', 1.25],
    ] as const) {
      lines.push(
        `drip-tray-${word},${[length * scale, width * scale].map((each) => each.toFixed(unit === 'mm' ? 0 : 2)).join(',')},${height}`,
      );
    }
    saveBlob(new Blob([`${lines.join('\r\n')}\r\n`], { type: 'text/csv' }), 'sizes.csv');
  });

  return { solve };
}
