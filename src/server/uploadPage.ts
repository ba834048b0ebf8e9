/** The page for those without scripts after a file: what has to be said of a drawing first, and a part that no tray file says. */
import { escaped } from '../drawing/svg.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import type { Words } from '../words/english.ts';
import { figuresTree, h } from './answer.ts';
import { benchFold, figureFolds, list, verdictHtml } from './answerPage.ts';
import { drawingChoices, sharpCorners } from './drawingChoices.ts';
import { html } from './html.ts';
import type { DrawingQuestion, FileToRead, Opened, Read, ReadDrawing } from './jobs.ts';
import { type PageWords, pageWords } from './pageWords.ts';
import type { Preview } from './preview.ts';

/** What a person may answer to a question of a drawing, a line each. */
function choices(question: DrawingQuestion, words: PageWords): string[] {
  if (question.about === 'cornerRadius') return [sharpCorners(question, words)];
  return drawingChoices(question, words).map(([value, text]) =>
    question.about === 'loop' ? `${value}: ${text}` : text,
  );
}

/** What a file opens as. */
export function opened(
  read: Exclude<Read, { kind: 'table' }>,
  { unit, base = '' }: FileToRead,
  words: Words,
): Opened {
  switch (read.kind) {
    case 'question':
      return { tray: null, asks: true, html: questionHtml(read, words) };
    case 'part':
      return { tray: null, asks: false, html: partHtml(read.preview, base, unit, words) };
    default:
      return { tray: read.tray, asks: false, html: 'notes' in read ? notesHtml(read.notes) : '' };
  }
}

/** What has to be said before the drawing is a tray. */
function questionHtml(
  { questions, picture }: Extract<ReadDrawing, { kind: 'question' }>,
  table: Words,
): string {
  const words = pageWords(table);
  const { form } = table.page.index;
  const label = {
    units: form.plainUnits,
    cornerRadius: form.drawingRadius,
    layer: form.drawingLayer,
    loop: form.plainLoop,
  };
  const asked = questions.map((question) =>
    h(
      'li',
      {},
      label[question.about],
      h('ul', {}, ...choices(question, words).map((text) => h('li', {}, text))),
    ),
  );
  const shown = picture === null ? '' : `<figure class="blank">${picture}</figure>`;
  return `<section class="result">${html([h('p', { class: 'notice' }, table.messages.server.upload.drawingLeavesOpen), h('ul', {}, ...asked)])}${shown}</section>`;
}

/** A part that no tray file says; its files are made from the solid, which is sent again for that. */
function partHtml(shown: Preview, base: string, unit: LengthUnit, table: Words): string {
  const words = pageWords(table);
  const { take } = table.page.index;
  const head = verdictHtml(shown, words);
  const { pictures, cautions } = shown;
  if (pictures === null || cautions === null) return `<section class="result">${head}</section>`;
  return [
    `<section class="result">${head}`,
    `<figure class="blank">${pictures.blank}</figure>`,
    `<dl class="figures">${html(figuresTree(shown, words, unit, []))}</dl>`,
    `<form method="post" action="api/part/archive?unit=${unit}" enctype="multipart/form-data"><input type="hidden" name="base" value="${escaped(base)}">`,
    html([
      h(
        'p',
        {},
        h('label', { for: 'part-file' }, table.messages.server.upload.chooseAgain),
        ' ',
        h('input', { id: 'part-file', type: 'file', name: 'file', required: '' }),
      ),
      h('p', { class: 'actions' }, h('button', { type: 'submit', class: 'main' }, take.archive)),
    ]),
    '</form>',
    list(cautions.cutting, 'cautions'),
    `<div class="folds">${benchFold(shown, [], table)}`,
    figureFolds(shown, unit, table),
    '</div></section>',
  ].join('\n');
}

/** What is to know of how a file was read. */
const notesHtml = (notes: readonly string[]): string =>
  html(notes.map((note) => h('p', { class: 'note' }, note)));

/** The page with the field for a file unfolded. */
export const withOpenFile = (page: string): string =>
  page.replace('<details id="plain-open">', '<details id="plain-open" open>');
