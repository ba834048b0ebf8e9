/** The strip for the rim as it is marked out from stock: a dimensioned drawing and a table of bend lines for each part. */
import { drawn, type Item, openLine, type Picture, rectangle, upright } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import type { Path } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { degrees } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { fine, type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { type Block, type Column, dimension, heading, paragraph, rows, Stack, text } from './marks.ts';
import { PageFlow } from './pageFlow.ts';
import type { PageSize } from './pageSizes.ts';
import { rowsBlock } from './rowsTable.ts';
import { type Strip, type StripBend, type StripOptions, type StripPart, strip, stripRows } from './strip.ts';

export interface StripPageOptions {
  readonly paper: PageSize;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
  readonly title: string;
  /** How it is set on, and the cautions. */
  readonly sentences: readonly string[];
}

/** Height of the strip on the paper; its length is to scale, its height only as far as that can be seen, mm. */
const LOWEST = 9;
const HIGHEST = 24;
/** Between figures under the drawing, mm. */
const APART = TEXT.normal + 0.9;

/** One page, unless there are very many bends. */
export function stripPages(
  pattern: FlatPattern,
  options: StripOptions,
  pageOptions: StripPageOptions,
): Picture[] {
  const { paper, unit, words, title, sentences } = pageOptions;
  const made = strip(pattern, options, words);
  const flow = new PageFlow(paper, title);
  flow.add((top) => rows(top, stripRows(pattern, options, unit, words), 28), 3);
  for (const [i, sentence] of sentences.entries())
    flow.add((top) => paragraph(top, sentence), i + 1 < sentences.length ? 0.8 : 4);
  for (const [i, part] of made.parts.entries()) {
    const name = words.stripPart(String(i + 1), withUnit(part.length, unit));
    const bends = bendsOn(part, made);
    flow.add(
      (top) =>
        new Stack(top)
          .add((column) => heading(column, name))
          .add((column) => partDrawing(column, part, bends, options.height, pageOptions)),
      3,
    );
    flow.add((top) => bendTable(top, bends, pageOptions));
  }
  return flow.pages;
}

/** Bends that begin or end on a part, from its left end. */
const bendsOn = ({ from, length }: StripPart, { bends }: Strip): StripBend[] =>
  bends
    .map((bend) => ({ ...bend, begin: bend.begin - from, end: bend.end - from }))
    .filter(({ begin, end }) => end > 0 && begin < length);

function partDrawing(
  top: Column,
  part: StripPart,
  bends: readonly StripBend[],
  height: number,
  { unit, words }: StripPageOptions,
): Block {
  const left = top.x + 14;
  const scale = (top.width - 16) / part.length;
  const high = Math.min(HIGHEST, Math.max(LOWEST, height * scale));
  const upper = top.y - 9;
  const lower = upper - high;
  const at = (mm: number): number => left + scale * mm;
  const said = (mm: number): string => lengthText(mm, unit, fine(unit));
  const places = bends.flatMap(({ begin, end }) => [begin, end]);
  let before = -Infinity;
  const spread = places.map((mm) => {
    before = Math.max(at(mm), before + APART);
    return before;
  });
  // Figures that were pushed beyond the right end go back to the left, the last one first.
  let after = left + scale * part.length + 2;
  for (let i = spread.length - 1; i >= 0; i--) {
    spread[i] = Math.min(spread[i]!, after);
    after = spread[i]! - APART;
  }
  const leaders: Path[] = places.map((mm, i) =>
    openLine([
      { x: at(mm), y: lower - 0.6 },
      { x: at(mm), y: lower - 2 },
      { x: spread[i]!, y: lower - 5 },
    ]),
  );
  const deep = Math.max(0, ...places.map((mm) => textWidth(said(mm), TEXT.normal)));
  const items: Item[] = [
    drawn([rectangle({ x: left, y: lower, width: scale * part.length, height: high })], LINES.cut),
    drawn(
      places.map((mm) => upright(at(mm), lower, upper)),
      LINES.scribe,
    ),
    drawn(leaders, LINES.thin),
    ...places.map((mm, i) =>
      text({ x: spread[i]! + TEXT.normal / 2, y: lower - 5.6 }, TEXT.normal, said(mm), {
        align: 'right',
        angle: Math.PI / 2,
      }),
    ),
    ...dimension({ x: left, y: upper }, { x: at(part.length), y: upper }, 4, said(part.length)),
    text({ x: left - 2, y: (lower + upper - TEXT.normal) / 2 }, TEXT.normal, said(height), {
      align: 'right',
    }),
  ];
  if (places.length === 0) return { items, height: top.y - lower + 2 };
  const measured = text({ x: left, y: lower - 7 - deep - TEXT.normal }, TEXT.normal, words.stripFromEnd);
  return { items: [...items, measured], height: top.y - lower + 9 + deep + TEXT.normal };
}

function bendTable(top: Column, bends: readonly StripBend[], { unit, words }: StripPageOptions): Block {
  const said = (mm: number): string => withUnit(mm, unit, fine(unit));
  const { heads } = words.stripTable;
  if (bends.length === 0) return { items: [], height: 0 };
  const table = [
    { cells: ['', heads.begins, heads.ends, heads.radius, heads.angle], bold: true },
    ...bends.map(({ begin, end, insideRadius, angle }, i) => ({
      cells: [
        words.stripTable.bend(String(i + 1)),
        said(begin),
        said(end),
        said(insideRadius),
        `${degrees(Math.abs(angle)).toFixed(1)}° ${angle > 0 ? words.stripTable.inwards : words.stripTable.outwards}`,
      ],
    })),
  ];
  return rowsBlock(top, table, [0, 0.34, 0.54, 0.74, 1]);
}
