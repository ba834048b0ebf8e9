/** The page for those without scripts: the form as it was posted, and the answer that the scripts would show. */

import { escaped } from '../drawing/svg.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import { readTray } from '../tray/readTray.ts';
import { readWritten, type TrayObject, unitsOf } from '../tray/writtenTray.ts';
import type { Words } from '../words/english.ts';
import { annealCourse } from './annealCourse.ts';
import { cornersTree, figuresTree, reasonsTree, restTree, verdictTree } from './answer.ts';
import { developForShow } from './develop.ts';
import { formedSvg } from './formedPicture.ts';
import { html } from './html.ts';
import { type PageWords, pageFacts, pageWords } from './pageWords.ts';
import { type Preview, preview } from './preview.ts';

/**
 * The answer to a tray as a part of a document.
 *
 * @param tray as the form was posted, see `postedTray`
 * @throws GatherpanError as `readTray` and `developTray`
 */
export function answerHtml(tray: TrayObject, table: Words, version: string): string {
  const words = pageWords(table);
  const { sheets, formats } = pageFacts(table, version);
  const { tray: file, near } = readWritten(tray, sheets, words.everyday);
  const unit = unitsOf(file) === 'in' ? 'inch' : 'mm';
  const developed = developForShow(readTray(file, { name: 'tray' }));
  const shown = preview(developed, { unit, formed: formedSvg });
  const { figures, pictures, cautions, anneals } = shown;
  const { take } = table.page.index;
  const known = sheets.find(({ name }) => name === near);
  const taken =
    known === undefined
      ? ''
      : `<p class="note">${escaped(words.sheetNear.replace('{name}', known.name).replace('{title}', known.title))}</p>`;
  const head = `${verdictHtml(shown, words)}${taken}`;
  if (
    figures === null ||
    anneals === null ||
    cautions === null ||
    pictures === null ||
    developed.kind === 'no flat'
  )
    return `<section class="result">${head}</section>`;
  const course = anneals.count === null || anneals.count === 0 ? [] : annealCourse(developed);
  const save = (format: string, label: string, main = false): string =>
    `<button type="submit" name="format" value="${format}"${main ? ' class="main"' : ''}>${escaped(label)}</button>`;
  const hidden = (name: string, value: string): string =>
    `<input type="hidden" name="${name}" value="${escaped(value)}">`;
  return [
    `<section class="result">${head}`,
    `<figure class="blank">${pictures.blank}</figure>`,
    `<dl class="figures">${html(figuresTree(shown, words, unit, course))}</dl>`,
    `<form method="post" action="page/file">${hidden('tray', JSON.stringify(file))}${hidden('unit', unit)}`,
    `<p class="actions">${save('dxf', take.cut, true)} ${save('', take.archive)} <button type="submit" formaction="bench">${escaped(take.bench)}</button></p>`,
    list(cautions.cutting, 'cautions'),
    `<div class="folds"><details><summary>${escaped(take.single)}</summary><p class="actions">${formats.map(({ id, label }) => save(id, label)).join(' ')}</p></details>`,
    benchFold(shown, anneals.notes, table),
    figureFolds(shown, unit, table, pictures.formed),
    '</div>',
    '</form></section>',
  ].join('\n');
}

/** The verdict over an answer. */
export const verdictHtml = (shown: Preview, words: PageWords): string =>
  `<div class="verdict" data-verdict="${shown.verdict.word}">${html(verdictTree(shown, words))}</div>`;

/** Sentences one under the other. */
export const list = (texts: readonly string[], kind = ''): string =>
  `<ul${kind === '' ? '' : ` class="${kind}"`}>${texts.map((text) => `<li>${escaped(text)}</li>`).join('')}</ul>`;

const fold = (title: string, content: string): string =>
  `<details><summary>${escaped(title)}</summary>${content}</details>`;

/** What is to be known at the bench. @param annealing how it is annealed, ahead of the cautions */
export const benchFold = (
  { cautions, notes }: Preview,
  annealing: readonly string[],
  { page }: Words,
): string =>
  fold(
    page.index.bench.title,
    [
      ...(annealing.length === 0 ? [] : [list(annealing)]),
      list(cautions?.annealing ?? [], 'cautions'),
      list(notes),
      list(cautions?.forming ?? [], 'cautions'),
    ].join(''),
  );

/** Corner by corner, the tray from an angle where there is a picture, and why the verdict is what it is. */
export function figureFolds(
  shown: Preview,
  unit: LengthUnit,
  table: Words,
  formed: string | null = null,
): string {
  const words = pageWords(table);
  const { result } = table.page.index;
  return [
    fold(
      result.eachCorner,
      `<div class="scroll"><table>${html(cornersTree(shown, words, unit))}</table></div><dl class="rest">${html(restTree(shown, words, unit))}</dl>`,
    ),
    ...(formed === null ? [] : [fold(result.formed, `<figure>${formed}</figure>`)]),
    fold(result.why, `<ul>${html(reasonsTree(shown))}</ul>`),
  ].join('\n');
}
