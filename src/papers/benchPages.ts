/** The bench sheets on paper, a page for each part of the work: the same content as the bench view. */
import { drawn, type Item, openLine, type Picture } from '../drawing/picture.ts';
import { fittingHeight, textWidth } from '../drawing/textWidth.ts';
import { LINES } from '../drawing/weights.ts';
import type { StageShape } from '../gather/stageShapes.ts';
import type { Point } from '../geometry/path.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { BenchWords } from '../words/bench.ts';
import type { BenchFigure, BenchGroup, BenchNote, BenchSheet } from './benchSheet.ts';
import { darkness } from './benchWork.ts';
import { tickBox } from './cardFront.ts';
import { shapeView } from './formedView.ts';
import { type Block, heading, paragraph, text } from './marks.ts';
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
  const { width } = flow;
  for (const [i, sheet] of sheets.entries()) {
    if (i > 0) flow.break();
    flow.add((top) => paragraph(top, width, sheet.title, 4.5, true), 3);
    const { picture } = sheet;
    if (picture !== null) {
      const dark = darkness(shapes, picture.shape);
      flow.add((top) => viewBlock(pattern, shapes[picture.shape]!, dark, top, width), 3);
    }
    flow.add((top) => figuresBlock(top, width, sheet.figures, LARGE), 4);
    for (const group of sheet.groups) addGroup(flow, group);
    const written = (line: string) => (top: Point) => paragraph(top, width, line, BESIDE);
    addTitled(flow, bench.troubles, sheet.troubles.map(written));
    if (sheet.notes.length > 0)
      addTitled(flow, bench.note, [(top) => notesBlock(top, width, sheet.notes, bench)]);
    addTitled(flow, bench.cautions, sheet.cautions.map(written));
  }
  return flow.pages;
}

/** Blocks under a heading, which stays with the first of them. */
function addTitled(flow: PageFlow, title: string, blocks: readonly ((top: Point) => Block)[]): void {
  for (const [i, block] of blocks.entries())
    flow.add((top) => {
      if (i > 0) return block(top);
      const head = heading(top, flow.width, title, LINE);
      const body = block({ x: top.x, y: top.y - head.height - 0.5 });
      return { items: [...head.items, ...body.items], height: head.height + 0.5 + body.height };
    }, 1.5);
}

function addGroup(flow: PageFlow, { title, figures, lines }: BenchGroup): void {
  const { width } = flow;
  const ticks = lines.map((line) => (top: Point) => tickBox(top, width, line, LINE));
  if (figures.length === 0) addTitled(flow, title, ticks);
  else {
    addTitled(flow, title, [(top) => figuresBlock(top, width, figures, FIGURE)]);
    for (const tick of ticks) flow.add(tick, 1.5);
  }
}

/** The tray at a stage, from an angle, with the letters of its corners. */
function viewBlock(
  pattern: FlatPattern,
  { formed }: StageShape,
  dark: ArrayLike<number>,
  top: Point,
  width: number,
): Block {
  const view = shapeView(
    { ...pattern.field, formed },
    { width, height: VIEW, coarse: true, dark, corner: (index) => cornerName(pattern, index) },
  );
  const at = { x: top.x + (width - view.width) / 2, y: top.y - view.height };
  return { items: [{ kind: 'group', at, scale: 1, items: view.items }], height: view.height };
}

/** Figures beside each other, as many as there is room for. */
function figuresBlock(top: Point, width: number, figures: readonly BenchFigure[], size: number): Block {
  if (figures.length === 0) return { items: [], height: 0 };
  const wide = figures.map(
    ({ title, value }) => Math.max(textWidth(title, BESIDE), textWidth(value, size, true)) + GAP,
  );
  const columns = Math.max(1, Math.min(figures.length, Math.floor(width / Math.max(...wide))));
  const each = width / columns;
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
      const under = { x, y: y - BESIDE - 3 - 1.25 * size };
      const said = note === undefined ? { items: [], height: 0 } : paragraph(under, each - GAP, note, BESIDE);
      items.push(...said.items);
      lowest = Math.min(lowest, under.y - said.height);
    }
    y = lowest - 2;
  }
  return { items, height: top.y - y };
}

/** Lines to write on, two beside each other. */
function notesBlock(top: Point, width: number, notes: readonly BenchNote[], bench: BenchWords): Block {
  const half = (width - GAP) / 2;
  const items: Item[] = [];
  const pitch = 11;
  for (const [i, { title, text: wanted }] of notes.entries()) {
    const x = top.x + (i % 2) * (half + GAP);
    const y = top.y - Math.floor(i / 2) * pitch;
    const said = wanted === '' ? title : `${title}, ${bench.wanted(wanted)}`;
    items.push(
      text({ x, y: y - BESIDE }, BESIDE, said),
      drawn(
        [
          openLine([
            { x, y: y - 9 },
            { x: x + half, y: y - 9 },
          ]),
        ],
        LINES.thin,
      ),
    );
  }
  return { items, height: Math.ceil(notes.length / 2) * pitch };
}
