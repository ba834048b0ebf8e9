/** What to measure on a trial corner and with what: drawings, a table to fill in, and the lines of the measurements file. */
import { circle, drawn, filled, type Item, level, openLine, type Picture } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { DOT_CLEAR, type TrialDots, trialDots } from '../pattern/trialDots.ts';
import { loopPoint, planLoop } from '../tray/planLoop.ts';
import { workedTray } from '../tray/workedTray.ts';
import type { PaperWords } from '../words/english.ts';
import { measuredCorners } from './cardMeasured.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';
import {
  arrowHead,
  type Block,
  type Column,
  dimension,
  heading,
  leader,
  paragraph,
  Stack,
  text,
  towards,
} from './marks.ts';
import { PageFlow } from './pageFlow.ts';
import type { PageSize } from './pageSizes.ts';
import { type RowsTable, rowsTable } from './rowsTable.ts';
import { sheetSection } from './skins.ts';

export interface TrialPageOptions {
  readonly paper: PageSize;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
}

const GAP = 8;
const FIGURE = 62;

/** The sheet of a trial corner. */
export function trialPages(pattern: FlatPattern, options: TrialPageOptions): Picture[] {
  const { words } = options;
  const { trial } = words;
  const flow = new PageFlow(options.paper, trial.title(pattern.name));
  const dots = trialDots(pattern);
  // The corner that gathers most tells most.
  const [most] = [...pattern.report.corners].sort((a, b) => (b.rimToLose ?? 0) - (a.rimToLose ?? 0));
  const shown = dots.find(({ index }) => index === most?.index) ?? dots[0];
  for (const [i, sentence] of trial.how.entries())
    flow.add((top) => paragraph(top, sentence), i + 1 < trial.how.length ? 1 : 4);
  if (shown !== undefined) {
    flow.add((top) => {
      const left = { ...top, width: (top.width - GAP) / 2 };
      const right = { ...left, x: left.x + left.width + GAP };
      const figures = [
        dotFigure(left, pattern, shown, options),
        placesFigure(right, pattern, shown.index, words),
      ];
      return { items: figures.flatMap(({ items }) => items), height: FIGURE + 10 };
    });
  }
  flow.add((top) => sectionFigure(top, pattern, words), 5);
  flow.add((top) => rowsTable(top, tableOf(pattern, dots, options)), 5);
  flow.add((top) => fileLines(top, pattern, shown, options));
  return flow.pages;
}

/** The corner of the flat blank with its two dots. */
function dotFigure(
  top: Column,
  pattern: FlatPattern,
  { points: [a, b], apart, inset }: TrialDots,
  { unit, words }: TrialPageOptions,
): Block {
  const { width } = top;
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const outwards = Math.atan2(b.y - a.y, b.x - a.x) - Math.PI / 2;
  const edge = towards(middle, outwards, inset);
  const high = FIGURE - 8;
  const scale = Math.min(width, high) / Math.max(1.7 * apart, 4 * inset);
  const centre = { x: top.x + width / 2, y: top.y - 8 - high / 2 };
  const focus = towards(middle, outwards, -inset / 2);
  const place = ({ x, y }: Point): Point => ({
    x: centre.x + scale * (x - focus.x),
    y: centre.y + scale * (y - focus.y),
  });
  const clip = {
    x: focus.x - width / 2 / scale,
    y: focus.y - high / 2 / scale,
    width: width / scale,
    height: high / scale,
  };
  const [onA, onB, onEdge, onMiddle] = [a, b, edge, middle].map(place) as [Point, Point, Point, Point];
  const lines: Path[] = pattern.scribeLines.filter(({ kind }) => kind !== 'rim-mark').map(({ path }) => path);
  return {
    items: [
      ...heading(top, words.trial.dotsTitle).items,
      {
        kind: 'group',
        at: place({ x: 0, y: 0 }),
        scale,
        clip,
        items: [drawn([pattern.outline], LINES.cut), drawn(lines, LINES.scribe)],
      },
      drawn([openLine([onEdge, towards(onEdge, outwards, -2.2 * inset * scale)])], LINES.centre),
      filled([circle(onA, 0.9), circle(onB, 0.9)], '#000000'),
      ...dimension(onA, onB, 7, withUnit(apart, unit, 1)),
      ...dimension(onEdge, onMiddle, 4 + (apart * scale) / 2, withUnit(inset, unit, 1)),
    ],
    height: FIGURE,
  };
}

/** The corner from above: where it begins, its middle, where it ends. */
function placesFigure(top: Column, { spec }: FlatPattern, corner: number, words: PaperWords): Block {
  const segment = planLoop(spec).segments.find((each) => each.kind === 'corner' && each.index === corner)!;
  const names = [words.trial.begins, words.trial.middle, words.trial.ends];
  const places = [0, 0.5, 1].map((share) => ({
    ...loopPoint(segment, share, { x: 0, y: 0, normalX: 0, normalY: 0 }),
  }));
  // Drawn of one size, whatever the corner's radius: only the places matter.
  const radius = FIGURE / 3;
  const mean = places[1]!;
  const turn = segment.kind === 'corner' ? segment.sweep : 0;
  const centre = {
    x: top.x + top.width / 2 - (radius / 2) * mean.normalX,
    y: top.y - 10 - FIGURE / 2 - (radius / 2) * mean.normalY,
  };
  const direction = (i: number): number => Math.atan2(places[i]!.normalY, places[i]!.normalX);
  const on = (i: number): Point => towards(centre, direction(i), radius);
  const leg = (i: number, sense: number): Point => towards(on(i), direction(i) + (sense * Math.PI) / 2, 18);
  const rim: Path = {
    vertices: [
      { ...leg(0, -Math.sign(turn)), bulge: 0 },
      { ...on(0), bulge: Math.tan(turn / 4) },
      { ...on(2), bulge: 0 },
      { ...leg(2, Math.sign(turn)), bulge: 0 },
    ],
    closed: false,
  };
  return {
    items: [
      ...heading(top, words.trial.placesTitle).items,
      drawn([rim], LINES.cut),
      ...names.flatMap((name, i): Item[] => {
        const from = towards(on(i), direction(i), 9);
        const left = Math.cos(direction(i)) < -0.3;
        const right = Math.cos(direction(i)) > 0.3;
        return [
          drawn([openLine([from, on(i)])], LINES.thin),
          arrowHead(on(i), direction(i) + Math.PI),
          text(towards(from, direction(i), 2), TEXT.normal, name, {
            align: left ? 'right' : right ? 'left' : 'center',
            halo: true,
          }),
        ];
      }),
    ],
    height: FIGURE,
  };
}

/** The tray on the table, cut through the corner: what is measured of the rim. */
function sectionFigure(top: Column, { spec, sheet }: FlatPattern, words: PaperWords): Block {
  const worked = workedTray(spec);
  const section = sheetSection(worked, Math.max(20, 0.6 * worked.section.height));
  const box = pathBounds(section);
  const head = heading(top, words.trial.sectionTitle);
  const scale = Math.min(42 / (box.maxY - box.minY), (0.4 * top.width) / (box.maxX - box.minX));
  const high = scale * (box.maxY - box.minY);
  const at = { x: top.x + 12 - scale * box.minX, y: top.y - head.height - 8 - high - scale * box.minY };
  const table = at.y + scale * box.minY;
  const edge = { x: at.x + scale * box.maxX, y: at.y + scale * box.maxY };
  const beyond = edge.x + 22;
  const mic = { x: edge.x - (scale * sheet.thickness) / 2, y: edge.y };
  return {
    items: [
      ...head.items,
      { kind: 'group', at, scale, items: [filled([section], '#d9d9d9'), drawn([section], LINES.edge)] },
      drawn([level(table, top.x, beyond + 12)], LINES.cut),
      text({ x: top.x, y: table - 4 }, TEXT.normal, words.trial.table),
      ...dimension({ x: edge.x + 2, y: table }, { x: edge.x + 2, y: edge.y }, -10, words.trial.height),
      ...leader([
        { x: beyond + 4, y: edge.y + 4 },
        { x: mic.x, y: mic.y - 1 },
      ]),
      text({ x: beyond + 5, y: edge.y + 3 }, TEXT.normal, words.trial.thickness),
    ],
    height: head.height + 8 + high + 6,
  };
}

/** Lines to write on, for the corners that tell most. */
function tableOf(
  pattern: FlatPattern,
  dots: readonly TrialDots[],
  { unit, words: { trial } }: TrialPageOptions,
): RowsTable {
  const corners = measuredCorners(pattern);
  const letters = corners.map((index) => pattern.report.corners.find((each) => each.index === index)!.letter);
  const blank = corners.map(() => '______');
  const own = (index: number): TrialDots | undefined => dots.find((each) => each.index === index);
  const rows = [
    { cells: ['', ...letters], bold: true },
    ...trial.rows.map((name) => ({ cells: [name, ...blank] })),
    ...(dots.length === 0
      ? []
      : [
          {
            cells: [
              trial.dotsBefore,
              ...corners.map((index) => {
                const found = own(index);
                return found === undefined ? '–' : lengthText(found.apart, unit, 1);
              }),
            ],
          },
          { cells: [trial.dotsAfter, ...blank] },
        ]),
  ];
  const first = 0.52;
  const rights = rows[0]!.cells.map((_, i) => first + ((1 - first) * i) / Math.max(1, corners.length));
  return { title: trial.tableTitle, rows, rights };
}

/** The measurements file with blanks in it. */
function fileLines(
  top: Column,
  pattern: FlatPattern,
  shown: TrialDots | undefined,
  { unit, words }: TrialPageOptions,
): Block {
  const letter = shown?.letter ?? pattern.report.corners[0]?.letter ?? 'A';
  const inch = unit !== 'mm';
  const length = (mm: number): string => (inch ? (mm / 25.4).toFixed(3) : String(mm));
  const marks =
    shown === undefined
      ? []
      : [
          `  "marks": [{ "direction": "along", "inset": ${length(shown.inset)}, "before": ${length(shown.apart)}, "after": ____, "skin": "outside" }]`,
        ];
  const lines = [
    `{ "units": "${inch ? 'in' : 'mm'}", "corner": "${letter}",`,
    '  "rimHeight": { "from": "table", "middle": ____, "start": ____, "end": ____ },',
    `  "rimThickness": { "middle": ____ }${marks.length > 0 ? ',' : ''}`,
    ...marks,
    '}',
  ];
  const stack = new Stack(top).add((column) => heading(column, words.trial.fileTitle), 1);
  for (const [i, line] of lines.entries()) {
    const indent = line.startsWith(' ') ? 4 : 0;
    const written = ({ x, y }: Column): Item =>
      text({ x: x + indent, y: y - TEXT.normal }, TEXT.normal, line.trim());
    stack.add((column) => ({ items: [written(column)], height: 4.4 }), i + 1 < lines.length ? 0 : 1);
  }
  return stack.add((column) => paragraph(column, words.trial.clear(withUnit(DOT_CLEAR, unit, 0))));
}
