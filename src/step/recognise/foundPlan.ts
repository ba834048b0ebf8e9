/** From the loop found in a part to the plan of a tray file. */
import type { FoundCorner, FoundJoint, FoundSegment, FoundSide } from './baseLoop.ts';
import type { Place } from './holes.ts';
import type { XY } from './planOutline.ts';
import { tidy } from './tidy.ts';

export interface FoundPlan {
  readonly plan: Record<string, unknown>;
  readonly place: Place;
  /** The side on each edge of the plan, null where corners take all of it. */
  readonly edges: readonly (FoundSide | null)[];
  /** The corner an edge without a side starts from. */
  readonly cornerBefore: (edge: number) => FoundSegment | undefined;
  /** Where the middle of an edge lies along its side, from the side's start, mm. */
  readonly middleOf: (edge: number) => number;
  readonly makings: readonly ('gather' | 'notch')[];
}

interface Found {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly sweep: number;
  readonly at: FoundCorner | FoundJoint;
  /** The side after it, if there is one. */
  readonly side: FoundSide | null;
}

/**
 * @param setback from where the bend begins to the meeting line of base and wall planes, mm
 */
export function foundPlan(loop: readonly FoundSegment[], setback: number): FoundPlan | null {
  const vertices = verticesOf(loop, setback);
  if (vertices === null || vertices.length < 3) return null;
  const square = vertices.length === 4 && vertices.every(({ sweep }) => Math.abs(sweep - Math.PI / 2) < 1e-7);
  const rectangle = square ? rectangleOf(vertices) : null;
  if (square && rectangle === null) return null;
  const order = rectangle?.order ?? vertices.map((_, i) => i);
  const sorted = order.map((i) => vertices[i]!);
  const edges = sorted.map(({ side }) => side);
  const open = edges.flatMap((side, i) => (side?.open === true ? [i] : []));
  const plan: Record<string, unknown> = rectangle?.plan ?? {
    vertices: sorted.map(({ x, y, radius }) => ({ x: tidy(x), y: tidy(y), radius: tidy(radius) })),
  };
  if (open.length > 0) plan.openEdges = open;
  return {
    plan,
    place: rectangle?.place ?? ((x, y) => [tidy(x), tidy(y)]),
    edges,
    cornerBefore: (edge) => sorted[edge]?.at,
    middleOf: (edge) => {
      const [a, b] = [sorted[edge]!, sorted[(edge + 1) % sorted.length]!];
      const { from, normal } = edges[edge]!;
      return -normal[1] * ((a.x + b.x) / 2 - from[0]) + normal[0] * ((a.y + b.y) / 2 - from[1]);
    },
    makings: sorted.map(({ at }) => (at.kind === 'joint' && at.mitre ? 'notch' : 'gather')),
  };
}

/** The plan's vertices, each with the edge after it; the sides between them are moved out to the wall. */
function verticesOf(loop: readonly FoundSegment[], setback: number): Found[] | null {
  const count = loop.length;
  const out: Found[] = [];
  for (const [i, at] of loop.entries()) {
    if (at.kind === 'side') continue;
    const before = loop[(i + count - 1) % count]!;
    const after = loop[(i + 1) % count]!;
    const side = after.kind === 'side' ? after : null;
    if (at.kind === 'corner') {
      const sign = Math.sign(at.sweep);
      const radius = at.radius + sign * setback;
      const middle = at.startAngle + at.sweep / 2;
      const reach = (sign * radius) / Math.cos(at.sweep / 2);
      out.push({
        x: at.centre[0] + reach * Math.cos(middle),
        y: at.centre[1] + reach * Math.sin(middle),
        radius,
        sweep: at.sweep,
        at,
        side,
      });
      continue;
    }
    if (before.kind !== 'side' || side === null) return null;
    const [x, y] = crossing(
      at.at,
      before.normal,
      before.open ? 0 : setback,
      side.normal,
      side.open ? 0 : setback,
    );
    out.push({ x, y, radius: 0, sweep: at.sweep, at, side });
  }
  return out;
}

/** Where two lines through a point meet after each is moved along its normal. */
function crossing(at: XY, a: XY, moveA: number, b: XY, moveB: number): XY {
  const cross = a[0] * b[1] - a[1] * b[0];
  return [at[0] + (moveA * b[1] - moveB * a[1]) / cross, at[1] + (a[0] * moveB - b[0] * moveA) / cross];
}

function rectangleOf(
  vertices: readonly Found[],
): { plan: Record<string, unknown>; place: Place; order: number[] } | null {
  const centreX = vertices.reduce((sum, { x }) => sum + x, 0) / 4;
  const centreY = vertices.reduce((sum, { y }) => sum + y, 0) / 4;
  const edge = Math.atan2(vertices[1]!.y - vertices[0]!.y, vertices[1]!.x - vertices[0]!.x);
  const quarter = Math.PI / 2;
  const parallel = Math.abs(edge / quarter - Math.round(edge / quarter)) < 1e-8;
  const turn = parallel ? 0 : -edge;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const place: Place = (x, y) => [
    tidy(c * (x - centreX) - s * (y - centreY)),
    tidy(s * (x - centreX) + c * (y - centreY)),
  ];
  const at = (right: boolean, up: boolean): number =>
    vertices.findIndex(({ x, y }) => {
      const [px, py] = place(x, y);
      return px > 0 === right && py > 0 === up;
    });
  const order = [at(true, true), at(false, true), at(false, false), at(true, false)];
  if (order.includes(-1)) return null;
  const radii = order.map((i) => tidy(vertices[i]!.radius));
  const corner = place(vertices[order[0]!]!.x, vertices[order[0]!]!.y);
  return {
    plan: {
      length: tidy(2 * corner[0]),
      width: tidy(2 * corner[1]),
      cornerRadius: radii.every((radius) => radius > 0 && radius === radii[0]) ? radii[0] : radii,
    },
    place,
    order,
  };
}
