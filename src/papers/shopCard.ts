/**
 * The shop card: one page that goes to the bench with the blank, or more for a tray with very many corners.
 *
 * Left the tray in view and in section, right the figures; below, the plan of work where there is one, what to
 * check, what to mind, and lines for what was measured.
 */

import { drawn, type Item, openLine, type Picture, rectangle } from '../drawing/picture.ts';
import { fittingHeight, textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { formingActs, hasWeldedCorners } from '../gather/acts.ts';
import type { Course } from '../gather/workingPlan.ts';
import { cautionList } from '../material/cautions.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type PaperWords, type Words } from '../words/english.ts';
import { sentences as sentencesOf } from '../words/statement.ts';
import { measuredBlock } from './cardMeasured.ts';
import { Columns, type Placed, type Section, type Side } from './columns.ts';
import { type DataTable, dataTable, inPieces } from './dataTable.ts';
import { cornerRows, cornerTable, mainRows, type Row } from './figureRows.ts';
import { formedView } from './formedView.ts';
import type { LengthUnit } from './lengths.ts';
import { type Block, paragraph, rows, text } from './marks.ts';
import { overbendRows } from './overbends.ts';
import { PAGE_SIZES } from './pageSizes.ts';
import { sectionView } from './sectionView.ts';
import { minded, reasonsOf } from './sentences.ts';
import { stageColumns, zoneName } from './stageTable.ts';
import { tuckWords } from './tuckWords.ts';

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
/** Reading size first; a card with much to say gets smaller letters, but none that nobody can read at a bench. */
const SIZES = [2.3, 2.15, 2, 1.9, TEXT.small];
/** With letters smaller than this the picture of the tray is smaller too, mm. */
const SMALL = 1.95;
/** Longest piece of a table that stays together, mm. */
const LONGEST_PIECE = 110;

/** The card as one picture; what does not fit one page stands below it. The pattern is not changed. */
export function shopCard(pattern: FlatPattern, options: ShopCardOptions = {}): Picture {
  const pages = shopCardPages(pattern, options);
  const [first] = pages;
  if (pages.length === 1) return first!;
  const height = pages.reduce((sum, page) => sum + page.height, 0);
  let y = height;
  const items = pages.map((page): Item => {
    y -= page.height;
    return { kind: 'group', at: { x: 0, y }, scale: 1, items: page.items };
  });
  return { ...first!, height, items };
}

/** The card's pages: one, unless the smallest letters do not fit it; then as many as reading size takes. */
export function shopCardPages(pattern: FlatPattern, options: ShopCardOptions = {}): Picture[] {
  for (const size of SIZES) {
    const pages = cardOf(pattern, options, size);
    if (pages.length === 1) return pages;
  }
  return cardOf(pattern, options, SIZES[0]!);
}

function cardOf(pattern: FlatPattern, options: ShopCardOptions, size: number): Picture[] {
  const { paper = 'A4', words = english } = options;
  const page = PAGE_SIZES[paper];
  const width = page.width - 2 * MARGIN;
  const half = (width - GAP) / 2;
  const foot = measuredBlock(pattern, words.papers, options, { x: MARGIN, y: MARGIN, width, size });
  const top = page.height - MARGIN - TEXT.title - 5;
  const columns = new Columns(
    { left: MARGIN, right: MARGIN + half + GAP },
    half,
    size,
    { top, bottom: MARGIN + foot.height + 2 },
    { top, bottom: MARGIN },
  );
  for (const [section, side] of sections(pattern, options, half, size)) columns.add(section, side);
  const { sheets } = columns;
  return sheets.map((items, i) => {
    const said =
      sheets.length === 1
        ? words.papers.cardTitle
        : words.papers.cardPage(String(i + 1), String(sheets.length));
    return {
      width: page.width,
      height: page.height,
      title: `${words.papers.cardTitle}: ${pattern.name}`,
      items: [
        ...titleItems(pattern.name, said, page.height - MARGIN, width),
        ...items,
        ...(i === 0 ? foot.items : []),
      ],
    };
  });
}

/** Name of the tray, what the page is, and a rule below. */
function titleItems(name: string, said: string, top: number, width: number): Item[] {
  const most = width - textWidth(said, TEXT.large) - GAP;
  return [
    text({ x: MARGIN, y: top - TEXT.title }, fittingHeight(name, most, TEXT.title, true), name, {
      bold: true,
    }),
    text({ x: MARGIN + width, y: top - TEXT.title }, TEXT.large, said, { align: 'right' }),
    drawn(
      [
        openLine([
          { x: MARGIN, y: top - TEXT.title - 2 },
          { x: MARGIN + width, y: top - TEXT.title - 2 },
        ]),
      ],
      LINES.frame,
    ),
  ];
}

/** What the card says, and in which column it stands by choice. */
function sections(
  pattern: FlatPattern,
  options: ShopCardOptions,
  half: number,
  size: number,
): (readonly [Section, Side?])[] {
  const { unit = 'mm', words: table = english, plan, strip } = options;
  const words = table.papers;
  const sentences = (list: readonly string[]): Placed[] =>
    list.map((sentence) => (top) => paragraph(top, half, sentence, size));
  const rowsOf =
    (list: readonly Row[]): Placed =>
    (top) =>
      rows(top, half, list, NAME_WIDTH, size);
  const drawnTable =
    (table: DataTable): Placed =>
    (top) =>
      dataTable(top, half, table, size);
  const tables = (whole: DataTable): Placed[] => {
    const { height } = drawnTable(whole)({ x: 0, y: 0 });
    return inPieces(whole, Math.ceil(height / LONGEST_PIECE)).map(drawnTable);
  };
  const height = size < SMALL ? 44 : 58;
  const list: (readonly [Section, Side?])[] = [...views(pattern, half, height, unit, words)];
  const corners = cornerRows(pattern, words, unit);
  list.push(
    [{ title: words.trayAndBlank, blocks: [rowsOf(mainRows(pattern, words, unit))] }, 'right'],
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
    (top) => paragraph(top, half, word, size, true),
    ...sentences(reasonsOf(pattern, table, unit)),
  ];
  list.push([{ title: words.verdict, blocks }, 'right']);
  if (plan !== undefined && plan.stages.length > 0 && plan.stages[0]!.zones.length > 0) {
    const key = words.stageKey(unit === 'mm' ? 'mm' : words.inches);
    const blocks = [...tables(stageColumns(pattern, plan, words, unit)), ...sentences([key])];
    list.push([{ title: words.stages, blocks }, 'left']);
  }
  const bends = overbendRows(pattern, options.trialBend ?? 0, words, unit);
  list.push([
    { title: words.overbendTitle, blocks: [rowsOf(bends), ...sentences([words.overbendHow])] },
    'left',
  ]);
  const tucks = tuckRows(pattern, table, unit);
  if (tucks.length > 0) list.push([{ title: words.tucks, blocks: [rowsOf(tucks)] }, 'left']);
  if (strip !== undefined) list.push([{ title: words.strip, blocks: [rowsOf(strip)] }, 'right']);
  // What is left to say goes to whichever column is shorter.
  if (plan !== undefined)
    list.push([{ title: words.anneals, blocks: sentences(annealSentences(plan, table)) }]);
  list.push([
    {
      title: words.checks,
      blocks: words.checkList.map((check) => (top) => tickBox(top, half, check, size)),
    },
  ]);
  const { material } = pattern.sheet;
  const acts = formingActs(
    material,
    pattern.gather.anneals,
    strip !== undefined || hasWeldedCorners(pattern.spec),
  );
  list.push([{ title: words.cautions, blocks: sentences(sentencesOf(cautionList(acts, material), table)) }]);
  list.push([{ title: words.warnings, blocks: sentences(minded(pattern, table, unit)) }]);
  return list;
}

/** The tray formed and in section. */
function views(
  pattern: FlatPattern,
  half: number,
  height: number,
  unit: LengthUnit,
  words: PaperWords,
): (readonly [Section, Side])[] {
  const view = formedView(pattern, {
    width: half - 2,
    height,
    corner: (index) => cornerName(pattern, index),
  });
  const cut = sectionView(pattern.spec, { width: half, height: 38 }, unit);
  const placed =
    (id: string, items: readonly Item[], indent: number, height: number, below: number): Placed =>
    ({ x, y }) => ({
      items: [{ kind: 'group', id, at: { x: x + indent, y: y - height }, scale: 1, items }],
      height: height + below,
    });
  const formed = placed('view', view.items, (half - view.width) / 2, view.height, 1.5);
  return [
    [{ title: words.view, blocks: [formed] }, 'left'],
    [{ title: words.sectionTitle, blocks: [placed('section', cut.items, 0, cut.height, 0)] }, 'left'],
  ];
}

/** A box to tick and a sentence. */
function tickBox(top: { x: number; y: number }, width: number, sentence: string, size: number): Block {
  const block = paragraph({ x: top.x + size + 2, y: top.y }, width - size - 2, sentence, size);
  const box = rectangle({ x: top.x, y: top.y - size - 0.2, width: size + 0.2, height: size + 0.2 });
  return { items: [drawn([box], LINES.thin), ...block.items], height: block.height };
}

function tuckRows(pattern: FlatPattern, table: Words, unit: LengthUnit): Row[] {
  const said = new Map<string, number[]>();
  for (const tuck of pattern.gather.tucks) {
    const line = tuckWords(tuck, unit, table);
    said.set(line, [...(said.get(line) ?? []), tuck.zone]);
  }
  return [...said].map(([line, numbers]): Row => [zoneName(pattern, numbers, table.papers), line]);
}

/** What the plan says of annealing, alike anneals once. */
function annealSentences({ anneals }: Course, table: Words): string[] {
  const times = new Map<string, number>();
  for (const sentence of sentencesOf(anneals.sentences, table))
    times.set(sentence, (times.get(sentence) ?? 0) + 1);
  return [...times].map(([sentence, count]) =>
    count === 1 ? sentence : table.papers.severalTimes(String(count), sentence),
  );
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
