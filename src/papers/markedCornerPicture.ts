/** One kind of corner of a blank that is marked out, to scale: its pieces numbered, centres, and x and y of its points. */

import { circle, cross, drawn, type Item, openLine, polygon } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { wrapAngle } from '../geometry/arc.ts';
import type { Path, Point } from '../geometry/path.ts';
import { fine, type LengthUnit, lengthText } from './lengths.ts';
import type { MarkedCorner } from './markingOut.ts';
import { type Block, type Column, text } from './marks.ts';
import { type StruckPiece, samplesAlong } from './trammel.ts';

/** The path of a piece; a lath as the chain of its stations. */
function pathOf(piece: StruckPiece): Path {
  if (piece.kind === 'circle') return circle(piece.centre, piece.radius);
  const { from, to } = piece;
  if (piece.kind === 'line') return openLine([from, to]);
  if (piece.kind === 'arc') {
    const turn = (point: Point): number => Math.atan2(point.y - piece.centre.y, point.x - piece.centre.x);
    const cross =
      (from.x - piece.centre.x) * (to.y - piece.centre.y) -
      (from.y - piece.centre.y) * (to.x - piece.centre.x);
    const sweep = cross === 0 ? Math.PI : wrapAngle(turn(to) - turn(from));
    return {
      vertices: [
        { ...from, bulge: Math.tan(sweep / 4) },
        { ...to, bulge: 0 },
      ],
      closed: false,
    };
  }
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const [c, s] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const on = piece.stations.map(({ along, off }) => ({
    x: from.x + along * c - off * s,
    y: from.y + along * s + off * c,
  }));
  return openLine([from, ...on, to]);
}

const endsOf = (piece: StruckPiece): Point[] => (piece.kind === 'circle' ? [] : [piece.from, piece.to]);

/** Room for the leaders of figures left of and below the picture of a corner, mm. */
const LEADERS = 4.5;

/**
 * The corner to scale: the two edges, every piece with its number, where the centres are, and x and y of the points of the
 * cut line.
 */
export function markedCornerPicture(top: Column, { lines, letters }: MarkedCorner, unit: LengthUnit): Block {
  const corner = letters.length > 0;
  const curves = lines.map(({ curve }) => curve);
  const points = lines.flatMap(({ pieces, apex }) => [
    ...pieces.flatMap(endsOf),
    ...(apex === null ? [] : [apex]),
  ]);
  // The straight edges go on for a little beyond the last point.
  const seen = corner ? points : curves.flat();
  const beyond = corner ? 12 : 0;
  const maxX = Math.max(...seen.map(({ x }) => x), 10) + beyond;
  const maxY = Math.max(...seen.map(({ y }) => y), 10) + beyond;
  const minX = Math.min(...seen.map(({ x }) => x), 0);
  const minY = Math.min(...seen.map(({ y }) => y), 0);
  const cut = lines.filter(({ kind }) => kind === 'cut').flatMap(({ pieces }) => pieces.flatMap(endsOf));
  const figures = cut.flatMap(({ x, y }) => [x, y]).map((mm) => lengthText(mm, unit, fine(unit)));
  const ordinate = corner ? LEADERS + Math.max(...figures.map((said) => textWidth(said, TEXT.normal)), 0) : 3;
  const room = { width: top.width - ordinate - 3, height: 82 };
  const scale = Math.min(room.width / (maxX - minX), room.height / (maxY - minY));
  const high = scale * (maxY - minY);
  const zero = { x: top.x + ordinate - scale * minX, y: top.y - high - scale * minY };
  const place = ({ x, y }: Point): Point => ({ x: zero.x + scale * x, y: zero.y + scale * y });
  const list = lines.flatMap(({ pieces }) => pieces);
  const clip = { x: minX, y: minY, width: maxX - minX, height: maxY - minY };
  const centres = list.flatMap((piece) =>
    piece.kind === 'arc' || piece.kind === 'circle' ? [piece.centre] : [],
  );
  const shown = centres.filter(({ x, y }) => x > minX && x < maxX && y > minY && y < maxY);
  const items: Item[] = [
    drawn(
      [
        openLine([place({ x: minX, y: 0 }), place({ x: maxX, y: 0 })]),
        openLine([place({ x: 0, y: minY }), place({ x: 0, y: maxY })]),
      ],
      LINES.centre,
    ),
    {
      kind: 'group',
      at: zero,
      scale,
      clip,
      items: lines.flatMap(({ kind, curve }) => [
        drawn([openLine(curve)], kind === 'cut' ? LINES.cut : kind === 'net-rim' ? LINES.rim : LINES.scribe),
      ]),
    },
    drawn(
      shown.flatMap((point) => cross(place(point), 1.2)),
      LINES.thin,
    ),
  ];
  if (corner) items.push(...ordinates(cut, place, { x: top.x + ordinate, y: top.y - high }, unit));
  items.push(
    drawn(
      points.map((point) => tick(place(point))),
      LINES.edge,
    ),
  );
  const taken: { x: number; y: number }[] = [];
  for (const [i, piece] of list.entries()) {
    const at = freeSpot(pathOf(piece), place, taken);
    taken.push(at);
    items.push(
      text({ x: at.x, y: at.y - TEXT.normal / 2 }, TEXT.normal, String(i + 1), {
        align: 'center',
        halo: true,
        bold: true,
      }),
    );
  }
  return { items, height: high + ordinate };
}

const tick = ({ x, y }: Point): Path =>
  polygon([
    { x: x - 0.5, y },
    { x, y: y - 0.5 },
    { x: x + 0.5, y },
    { x, y: y + 0.5 },
  ]);

/** Beside the middle of a piece, or near it, where no other number stands, on the paper. */
function freeSpot(path: Path, place: (point: Point) => Point, taken: readonly Point[]): Point {
  const curve = samplesAlong(path);
  let best: { at: Point; room: number } | null = null;
  for (const share of [0.5, 0.35, 0.65, 0.2, 0.8]) {
    const sample = curve[Math.round(share * (curve.length - 1))]!;
    const on = place(sample);
    for (const off of [3, -3, 5.5, -5.5]) {
      const at = { x: on.x - off * Math.sin(sample.direction), y: on.y + off * Math.cos(sample.direction) };
      const room = Math.min(...taken.map((other) => Math.hypot(other.x - at.x, other.y - at.y)), 6);
      if (best === null || room > best.room + 1e-9) best = { at, room };
    }
  }
  return best!.at;
}

/** x of points below and y at their left, spread so that none lies on another. */
function ordinates(
  points: readonly Point[],
  place: (point: Point) => Point,
  corner: Point,
  unit: LengthUnit,
): Item[] {
  const said = (mm: number): string => lengthText(mm, unit, fine(unit));
  const each = (pick: (point: Point) => number): number[] =>
    [...new Set(points.map((point) => Number(pick(point).toFixed(6))))].sort((a, b) => a - b);
  const spread = (list: readonly number[]): number[] => {
    let before = -Infinity;
    return list.map((at) => {
      before = Math.max(at, before + TEXT.normal + 0.9);
      return before;
    });
  };
  const items: Item[] = [];
  const leaders: Path[] = [];
  const xs = each(({ x }) => x);
  const at = spread(xs.map((x) => place({ x, y: 0 }).x));
  xs.forEach((x, i) => {
    const mine = points.find((point) => Math.abs(point.x - x) < 1e-5)!;
    const from = place({ x, y: mine.y });
    leaders.push(openLine([from, { x: from.x, y: corner.y - 1 }, { x: at[i]!, y: corner.y - 3 }]));
    items.push(
      text({ x: at[i]! + TEXT.normal / 2, y: corner.y - 4 }, TEXT.normal, said(x), {
        align: 'right',
        angle: Math.PI / 2,
      }),
    );
  });
  const ys = each(({ y }) => y);
  const up = spread(ys.map((y) => place({ x: 0, y }).y));
  ys.forEach((y, i) => {
    const mine = points.find((point) => Math.abs(point.y - y) < 1e-5)!;
    const from = place({ x: mine.x, y });
    leaders.push(openLine([from, { x: corner.x - 1, y: from.y }, { x: corner.x - 3, y: up[i]! }]));
    items.push(
      text({ x: corner.x - 3.6, y: up[i]! - TEXT.normal / 2 }, TEXT.normal, said(y), { align: 'right' }),
    );
  });
  return [drawn(leaders, LINES.join), ...items];
}
