/** The plan in a drawing, over a grid, so that a person sees what was found and how large it is. */
import { drawn, filled, type Item, level, upright } from '../drawing/picture.ts';
import { svgText } from '../drawing/svg.ts';
import { GREY, LINES, PALE, PAPER, TEXT } from '../drawing/weights.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import { text } from '../papers/marks.ts';
import { holeOutline } from '../tray/holeOutline.ts';
import type { DrawnPlan } from '../tray/planDxf.ts';
import type { DrawingUnit } from '../tray/planSchema.ts';
import type { HoleSpec } from '../tray/spec.ts';
import { MILLIMETRES, MILLIMETRES_PER_INCH } from '../units.ts';
import { words } from '../words/language.ts';

/** Room for the outline, mm on the paper; the page scales the whole. */
const ROOM = { width: 100, height: 70 };
const EDGE = 4;
const FOOT = 13;
/** From one line of text to the next. */
const LINE = 5;
/** Squares of the grid along the longer side, at most. */
const SQUARES = 12;

/**
 * @param read the unit that the plan was read in
 * @param known whether that is the drawing's own, or a person's; otherwise the figures are told without one
 */
export function planSvg(plan: DrawnPlan, read: DrawingUnit, known: boolean): string {
  const outline: Path = {
    closed: true,
    vertices: plan.vertices.map(({ x, y, bulge }) => ({ x, y, bulge: bulge ?? 0 })),
  };
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const [width, height] = [maxX - minX, maxY - minY];
  const scale = Math.min(ROOM.width / width, ROOM.height / height);
  const unit = MILLIMETRES[read];
  const step = niceStep(Math.max(width, height) / SQUARES / unit) * unit;
  const lines: Path[] = [];
  for (let x = Math.floor(minX / step) * step; x <= maxX + step * 1.001; x += step)
    lines.push(upright(x, minY - step / 2, maxY + step / 2));
  for (let y = Math.floor(minY / step) * step; y <= maxY + step * 1.001; y += step)
    lines.push(level(y, minX - step / 2, maxX + step / 2));
  const drawing: Item = {
    kind: 'group',
    at: { x: EDGE + (ROOM.width - width * scale) / 2 - minX * scale, y: EDGE + FOOT - minY * scale },
    scale,
    items: [
      drawn(lines, { ...LINES.thin, colour: PALE }),
      filled([outline], PAPER),
      drawn(lines, { ...LINES.thin, colour: PALE, dash: [0.5, 1] }),
      drawn([outline, ...plan.holes.map(holePath)], LINES.cut),
    ],
  };
  const say = words().messages.drawnPlan;
  const size = (per: number): [string, string] => [figure(width / per), figure(height / per)];
  const grid = figure(step / unit);
  const labels = known
    ? [say.size(...size(1), ...size(MILLIMETRES_PER_INCH)), say.grid(`${grid} ${read}`)]
    : [say.figures(...size(unit)), say.grid(grid)];
  return svgText(
    {
      width: ROOM.width + 2 * EDGE,
      height: height * scale + 2 * EDGE + FOOT,
      title: say.title,
      items: [
        drawing,
        ...labels.map((label, i) =>
          text({ x: EDGE, y: EDGE - 1 + LINE * (labels.length - 1 - i) }, TEXT.normal, label, {
            colour: GREY,
          }),
        ),
      ],
    },
    { paper: false },
  );
}

/** 1, 2 or 5 times a power of ten, not below. */
function niceStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return [1, 2, 5, 10].map((each) => each * power).find((each) => each >= least * (1 - 1e-9)) ?? 10 * power;
}

/** With the figures that a person tells a size by. */
const figure = (size: number): string => String(Number(size.toPrecision(5)));

function holePath({ shape, place }: HoleSpec): Path {
  const at = place.on === 'base' ? place : { x: 0, y: 0 };
  const vertices = holeOutline(shape).map(({ x, y, bulge }) => ({ x: at.x + x, y: at.y + y, bulge }));
  return { vertices, closed: true };
}
