/** The bench view for a browser that cannot solve or runs no scripts: all of its sheets in one document. */
import type { BenchGroup, BenchNote, BenchSheet } from '../papers/benchSheet.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { BenchWords } from '../words/bench.ts';
import type { Words } from '../words/english.ts';
import { h, type Tree } from './answer.ts';
import { bigFigures, titledLines } from './benchTree.ts';
import { type BenchView, benchView } from './benchView.ts';
import { html } from './html.ts';
import type { PostedTrial } from './trialFields.ts';
import { type AskedTray, trialTree } from './trialPage.ts';

/**
 * The sheets as a part of a document, and the trial corner behind them.
 *
 * @param pattern of what is asked
 * @param posted what was typed of a trial
 * @throws GatherpanError NOT_SOLVED when a stage has no equilibrium
 */
export async function benchHtml(
  asked: AskedTray,
  pattern: FlatPattern,
  posted: PostedTrial,
  words: Words,
): Promise<string> {
  const view = await benchView(pattern, asked.unit, words);
  const bench = await words.bench();
  const { title } = words.page.scripts.bench.trial;
  return [
    html([
      h('h1', {}, bench.title(view.name)),
      h('p', { class: 'note' }, bench.keepsNothing),
      h(
        'ol',
        {},
        ...[...view.sheets, { id: 'trial', title }].map((part) =>
          h('li', {}, h('a', { href: `#${part.id}` }, part.title)),
        ),
      ),
    ]),
    ...view.sheets.map((sheet) => sheetHtml(sheet, view, bench)),
    html([trialTree(asked, pattern.spec, view, posted, words)]),
  ].join('\n');
}

const sheetHtml = (
  { id, title, picture, figures, groups, troubles, notes, cautions }: BenchSheet,
  { shapes }: BenchView,
  bench: BenchWords,
): string =>
  [
    `<article class="sheet">${html([h('h1', { id }, title)])}`,
    ...(picture === null ? [] : [`<figure>${shapes[picture.shape]!.svg}</figure>`]),
    html([
      ...(figures.length === 0 ? [] : [bigFigures(figures)]),
      ...groups.map(groupTree),
      ...titledLines(bench.troubles, troubles),
      ...(notes.length === 0 ? [] : [notesTree(notes, bench)]),
      ...titledLines(bench.cautions, cautions),
    ]),
    '</article>',
  ].join('\n');

const groupTree = ({ title, figures, lines }: BenchGroup): Tree =>
  h(
    'section',
    {},
    h('h2', {}, title),
    ...(figures.length === 0 ? [] : [bigFigures(figures)]),
    ...(lines.length === 0 ? [] : [h('ul', { class: 'ticks' }, ...lines.map(tickTree))]),
  );

const tickTree = (line: string): Tree =>
  h('li', {}, h('label', {}, h('input', { type: 'checkbox' }), h('span', {}, line)));

/** What should be measured; the page keeps nothing, so there is nothing to type into. */
const notesTree = (notes: readonly BenchNote[], bench: BenchWords): Tree =>
  h(
    'section',
    { class: 'plain' },
    h('h2', {}, bench.note),
    h(
      'ul',
      {},
      ...notes.map(({ title, text }) => h('li', {}, text === '' ? title : `${title}, ${bench.wanted(text)}`)),
    ),
  );
