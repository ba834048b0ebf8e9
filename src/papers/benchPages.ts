/** The bench sheets on paper, a page for each part of the work: the same content as the bench view. */
import { drawn, type Item, level, type Picture } from '../drawing/picture.ts';
import { fittingHeight, textWidth } from '../drawing/textWidth.ts';
import { LINES } from '../drawing/weights.ts';
import type { StageShape } from '../gather/stageShapes.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { BenchWords } from '../words/bench.ts';
import type { BenchFigure, BenchGroup, BenchNote, BenchSheet } from './benchSheet.ts';
import { darkness } from './benchWork.ts';
import { tickBox } from './cardFront.ts';
import { shapeView } from './formedView.ts';
import { type Block, type Column, heading, type Placed, paragraph, Stack, text } from './marks.ts';
import { PageFlow } from './pageFlow.ts';
import type { PageSize } from './pageSizes.ts';

/** Heights of letters, mm: figures at arm's length, lines, and what stands beside a figure; nothing is under ten points. */
const [FIGURE, LARGE, LINE, BESIDE] = [5, 8, 2.9, 2.5];
const VIEW = 52;
const GAP = 5;

export interface BenchPageOptions {
  readonly paper: PageSize;
  readonly bench: BenchWords;
}

/** @param shapes the flat blank and the end of each stage */
export function benchPages(
  pattern: FlatPattern,
  sheets: readonly BenchSheet[],
  shapes: readonly StageShape[],
  { paper, bench }: BenchPageOptions,
): Picture[] {
  const flow = new PageFlow(paper, bench.title(pattern.name));
  for (const [i, sheet] of sheets.entries()) {
    if (i > 0) flow.break();
    flow.add((top) => paragraph(top, sheet.title, 4.5, true), 3);
    const { picture } = sheet;
    if (picture !== null) {
      const dark = darkness(shapes, picture.shape);
      flow.add((top) => viewBlock(top, pattern, shapes[picture.shape]!, dark), 3);
    }
    flow.add((top) => figuresBlock(top, sheet.figures, LARGE), 4);
    for (const group of sheet.groups) addGroup(flow, group);
    const written =
      (line: string): Placed =>
      (top) =>
        paragraph(top, line, BESIDE);
    addTitled(flow, bench.troubles, sheet.troubles.map(written));
    if (sheet.notes.length > 0) addTitled(flow, bench.note, [(top) => notesBlock(top, sheet.notes, bench)]);
    addTitled(flow, bench.cautions, sheet.cautions.map(written));
  }
  return flow.pages;
}

/** Blocks under a heading, which stays with the first of them. */
function addTitled(flow: PageFlow, title: string, [first, ...rest]: readonly Placed[]): void {
  if (first === undefined) return;
  flow.add((top) => new Stack(top).add((column) => heading(column, title, LINE), 0.5).add(first), 1.5);
  for (const block of rest) flow.add(block, 1.5);
}

function addGroup(flow: PageFlow, { title, figures, lines }: BenchGroup): void {
  const ticks = lines.map(
    (line): Placed =>
      (top) =>
        tickBox(top, line, LINE),
  );
  const large: Placed[] = figures.length === 0 ? [] : [(top) => figuresBlock(top, figures, FIGURE)];
  addTitled(flow, title, [...large, ...ticks]);
}

/** The tray at a stage, from an angle, with the letters of its corners. */
function viewBlock(
  { x, y, width }: Column,
  pattern: FlatPattern,
  { formed }: StageShape,
  dark: ArrayLike<number>,
): Block {
  const view = shapeView(
    { ...pattern.field, formed },
    { width, height: VIEW, coarse: true, dark, corner: (index) => cornerName(pattern, index) },
  );
  const at = { x: x + (width - view.width) / 2, y: y - view.height };
  return { items: [{ kind: 'group', at, scale: 1, items: view.items }], height: view.height };
}

/** Figures beside each other, as many as there is room for. */
function figuresBlock(top: Column, figures: readonly BenchFigure[], size: number): Block {
  if (figures.length === 0) return { items: [], height: 0 };
  const wide = figures.map(
    ({ title, value }) => Math.max(textWidth(title, BESIDE), textWidth(value, size, true)) + GAP,
  );
  const columns = Math.max(1, Math.min(figures.length, Math.floor(top.width / Math.max(...wide))));
  const each = top.width / columns;
  const items: Item[] = [];
  let y = top.y;
  for (let first = 0; first < figures.length; first += columns) {
    let lowest = y;
    for (const [i, { title, value, note }] of figures.slice(first, first + columns).entries()) {
      const x = top.x + i * each;
      items.push(
        text({ x, y: y - BESIDE }, BESIDE, title),
        text({ x, y: y - BESIDE - 2 - size }, fittingHeight(value, each - 1, size, true), value, {
          bold: true,
        }),
      );
      const under = { x, y: y - BESIDE - 3 - 1.25 * size, width: each - GAP };
      const said = note === undefined ? { items: [], height: 0 } : paragraph(under, note, BESIDE);
      items.push(...said.items);
      lowest = Math.min(lowest, under.y - said.height);
    }
    y = lowest - 2;
  }
  return { items, height: top.y - y };
}

/** Lines to write on, two beside each other. */
function notesBlock(top: Column, notes: readonly BenchNote[], bench: BenchWords): Block {
  const half = (top.width - GAP) / 2;
  const items: Item[] = [];
  const pitch = 11;
  for (const [i, { title, text: wanted }] of notes.entries()) {
    const x = top.x + (i % 2) * (half + GAP);
    const y = top.y - Math.floor(i / 2) * pitch;
    const said = wanted === '' ? title : `${title}, ${bench.wanted(wanted)}`;
    items.push(text({ x, y: y - BESIDE }, BESIDE, said), drawn([level(y - 9, x, x + half)], LINES.thin));
  }
  return { items, height: Math.ceil(notes.length / 2) * pitch };
}
