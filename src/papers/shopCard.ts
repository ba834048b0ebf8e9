/**
 * The shop card: a front to work by (`cardFront.ts`) and a back with reasons, cautions and lines for what was measured.
 *
 * On the back left the tray in view and in section, right the figures; what is left to say goes to the shorter column.
 */

import { drawn, type Item, level, type Picture } from '../drawing/picture.ts';
import { fittingHeight, textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { formingActs, hasWeldedCorners } from '../gather/acts.ts';
import type { Course } from '../gather/workingPlan.ts';
import { cautionList } from '../material/cautions.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type PaperWords, type Words } from '../words/english.ts';
import { sentences as sentencesOf } from '../words/statement.ts';
import { cardFront, frontTable } from './cardFront.ts';
import { measuredBlock } from './cardMeasured.ts';
import { Columns, type Section, type Side } from './columns.ts';
import { type DataTable, dataTable, inPieces } from './dataTable.ts';
import { cornerRows, cornerTable, mainRows, type Row } from './figureRows.ts';
import { formedView } from './formedView.ts';
import type { LengthUnit } from './lengths.ts';
import { type Placed, paragraph, rows, text } from './marks.ts';
import { overbendRows } from './overbends.ts';
import { PAGE_SIZES } from './pageSizes.ts';
import { sectionView } from './sectionView.ts';
import { minded, reasonsOf } from './sentences.ts';
import { edgeWords, tuckTable, wayOf } from './tuckWords.ts';

export interface ShopCardOptions {
  readonly paper?: 'A4' | 'Letter';
  readonly unit?: LengthUnit;
  readonly words?: Words;
  /** Stages and anneals; the card leaves them out where there is no plan. */
  readonly plan?: Course;
  /** Printed at the foot: version of the program, and the day when it is known. */
  readonly version?: string;
  readonly date?: string;
  /** By how much a trial bend opened, degrees (`madeBend`); 0 where none was made. */
  readonly trialBend?: number;
  /** Rows about a strip for the rim, when one is to be welded on. */
  readonly strip?: readonly Row[];
}

const MARGIN = 12;
const GAP = 6;
/** Width of the names of rows, mm. */
const NAME_WIDTH = 21;
/** Nothing on a card is smaller: ten points, as the height of a capital. */
const SIZE = 2.43;
/** Height of the picture of the tray, mm. */
const VIEW = 30;
/** And of its section, with its sizes. */
const SECTION = { plain: 32, lip: 37 };
/** Longest piece of a table that stays together, mm. */
const LONGEST_PIECE = 110;

/** The card as one picture, its pages under one another. The pattern is not changed. */
export function shopCard(pattern: FlatPattern, options: ShopCardOptions = {}): Picture {
  const pages = shopCardPages(pattern, options);
  const [first] = pages;
  const height = pages.reduce((sum, page) => sum + page.height, 0);
  let y = height;
  const items = pages.map((page): Item => {
    y -= page.height;
    return { kind: 'group', at: { x: 0, y }, scale: 1, items: page.items };
  });
  return { ...first!, height, items };
}

/** The card's pages: the front, and the back; a tray with much to say of goes on behind it. */
export function shopCardPages(pattern: FlatPattern, options: ShopCardOptions = {}): Picture[] {
  const { paper = 'A4', words: table = english, unit = 'mm', plan, trialBend = 0 } = options;
  const words = table.papers;
  const page = PAGE_SIZES[paper];
  const width = page.width - 2 * MARGIN;
  const half = (width - GAP) / 2;
  const foot = measuredBlock(pattern, words, options, { x: MARGIN, y: MARGIN, width, size: SIZE });
  const top = page.height - MARGIN - TEXT.title - 5;
  const filled = (withView: boolean): Columns => {
    const columns = new Columns(
      { left: MARGIN, right: MARGIN + half + GAP },
      half,
      SIZE,
      { top, bottom: MARGIN + foot.height + 2 },
      { top, bottom: MARGIN },
    );
    for (const [section, side] of sections(pattern, options, half, withView)) columns.add(section, side);
    return columns;
  };
  const place = { x: MARGIN, y: top, width, height: top - MARGIN };
  const front = cardFront(pattern, place, { unit, words, plan, trialBend });
  const whole = filled(true).sheets;
  // Where that saves a page, the view of the formed tray is left out: the section has its sizes.
  const bare = whole.length > 1 ? filled(false).sheets : whole;
  const sheets = bare.length < whole.length ? bare : whole;
  const sides = [
    { said: words.cardFront, items: front },
    ...sheets.map((items, i) => ({
      said: sheets.length === 1 ? words.cardBack : words.cardBackPage(String(i + 1), String(sheets.length)),
      items: i === 0 ? [...items, ...foot.items] : items,
    })),
  ];
  return sides.map(({ said, items }) => ({
    width: page.width,
    height: page.height,
    title: `${words.cardTitle}: ${pattern.name}`,
    items: [...titleItems(pattern.name, said, page.height - MARGIN, width), ...items],
  }));
}

/** Name of the tray, what the page is, and a rule below. */
function titleItems(name: string, said: string, top: number, width: number): Item[] {
  const most = width - textWidth(said, TEXT.large) - GAP;
  return [
    text({ x: MARGIN, y: top - TEXT.title }, fittingHeight(name, most, TEXT.title, true), name, {
      bold: true,
    }),
    text({ x: MARGIN + width, y: top - TEXT.title }, TEXT.large, said, { align: 'right' }),
    drawn([level(top - TEXT.title - 2, MARGIN, MARGIN + width)], LINES.frame),
  ];
}

/** What the card says, and in which column it stands by choice. */
function sections(
  pattern: FlatPattern,
  options: ShopCardOptions,
  half: number,
  withView: boolean,
): (readonly [Section, Side?])[] {
  const { unit = 'mm', words: table = english, plan, strip } = options;
  const words = table.papers;
  const sentences = (list: readonly string[]): Placed[] =>
    list.map((sentence) => (top) => paragraph(top, sentence, SIZE));
  const rowsOf =
    (list: readonly Row[]): Placed =>
    (top) =>
      rows(top, list, NAME_WIDTH, SIZE);
  const drawnTable =
    (table: DataTable): Placed =>
    (top) =>
      dataTable(top, table, SIZE);
  const tables = (whole: DataTable): Placed[] => {
    const { height } = drawnTable(whole)({ x: 0, y: 0, width: half });
    return inPieces(whole, Math.ceil(height / LONGEST_PIECE)).map(drawnTable);
  };
  const list: (readonly [Section, Side?])[] = [
    ...(withView ? [viewSection(pattern, half, words)] : []),
    crossSection(pattern, half, unit, words),
  ];
  // What is cut, and of what, stands on the front.
  const onFront = [words.sheet, words.blank, words.trim];
  const main = mainRows(pattern, words, unit).filter(([name]) => !onFront.includes(name));
  const corners = cornerRows(pattern, words, unit);
  list.push(
    [{ title: words.trayAndBlank, blocks: [rowsOf(main)] }, 'right'],
    [
      {
        title: words.corners,
        blocks: corners.length > 1 ? tables(cornerTable(pattern, words, unit)) : [rowsOf(corners)],
      },
      'right',
    ],
  );
  const { verdict } = pattern.gather;
  const word = `${capital(table.verdict.words[verdict.word])}.`;
  const blocks: Placed[] = [
    (top) => paragraph(top, word, SIZE, true),
    ...sentences(reasonsOf(pattern, table, unit)),
  ];
  list.push([{ title: words.verdict, blocks }, 'right']);
  // A table that is too long for the front.
  const stages = frontTable(pattern, { unit, words, plan, trialBend: options.trialBend ?? 0 });
  if (stages !== null && !stages.onFront) {
    const key = words.stageKey(unit === 'mm' ? 'mm' : words.inches);
    list.push([{ title: words.stages, blocks: [...tables(stages.table), ...sentences([key])] }, 'left']);
  }
  const bends = overbendRows(pattern, options.trialBend ?? 0, words, unit);
  list.push([
    { title: words.overbendTitle, blocks: [rowsOf(bends), ...sentences([words.overbendHow])] },
    'left',
  ]);
  const tucks = tuckTable(pattern, words, unit);
  if (tucks.rows.length > 0)
    list.push([
      {
        title: words.gatherings[wayOf(pattern)].title,
        blocks: [...tables(tucks), ...sentences([edgeWords(pattern, unit, table).join(' ')])],
      },
      'left',
    ]);
  if (strip !== undefined) list.push([{ title: words.strip, blocks: [rowsOf(strip)] }, 'right']);
  // What is left to say goes to whichever column is shorter.
  if (plan !== undefined)
    list.push([{ title: words.anneals, blocks: sentences(annealSentences(plan, table)) }]);
  const { material } = pattern.sheet;
  const acts = formingActs(
    material,
    pattern.gather.anneals,
    strip !== undefined || hasWeldedCorners(pattern.spec),
  );
  const cautions = sentences(paragraphsOf(sentencesOf(cautionList(acts, material), table)));
  list.push([{ title: words.cautions, blocks: cautions, breaks: true }]);
  list.push([{ title: words.warnings, blocks: sentences(minded(pattern, table, unit)), breaks: true }]);
  return list;
}

/** The tray formed. */
function viewSection(pattern: FlatPattern, half: number, words: PaperWords): readonly [Section, Side] {
  const view = formedView(pattern, {
    width: half - 2,
    height: VIEW,
    corner: (index) => cornerName(pattern, index),
  });
  const block = pictureBlock('view', view.items, (half - view.width) / 2, view.height, 1.5);
  return [{ title: words.view, blocks: [block] }, 'left'];
}

/** The tray in section. */
function crossSection(
  pattern: FlatPattern,
  half: number,
  unit: LengthUnit,
  words: PaperWords,
): readonly [Section, Side] {
  const { items, height } = sectionView(
    pattern.spec,
    { width: half, height: SECTION[pattern.spec.section.rim.kind] },
    unit,
  );
  return [{ title: words.sectionTitle, blocks: [pictureBlock('section', items, 0, height, 0)] }, 'left'];
}

const pictureBlock =
  (id: string, items: readonly Item[], indent: number, height: number, below: number): Placed =>
  ({ x, y }) => ({
    items: [{ kind: 'group', id, at: { x: x + indent, y: y - height }, scale: 1, items }],
    height: height + below,
  });

/** What the plan says of annealing, alike anneals once. */
function annealSentences({ anneals }: Course, table: Words): string[] {
  const times = new Map<string, number>();
  for (const sentence of sentencesOf(anneals.sentences, table))
    times.set(sentence, (times.get(sentence) ?? 0) + 1);
  return [...times].map(([sentence, count]) =>
    count === 1 ? sentence : table.papers.severalTimes(String(count), sentence),
  );
}

/** Letters of a paragraph of several sentences at most. */
const LONGEST_PARAGRAPH = 170;

/** Short sentences go on in one paragraph: of one a sentence, half the lines would be empty at their ends. */
function paragraphsOf(list: readonly string[]): string[] {
  const found: string[] = [];
  for (const sentence of list) {
    const last = found.at(-1);
    if (last !== undefined && last.length + sentence.length < LONGEST_PARAGRAPH)
      found[found.length - 1] = `${last} ${sentence}`;
    else found.push(sentence);
  }
  return found;
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
