/** From the loop found in a part to the plan of a tray file. */
import { bulgeBetween, crossingNear, type MovedEdge } from '../../geometry/planEdges.ts';
import type { FoundCorner, FoundJoint, FoundSegment, FoundSide } from './foundSegments.ts';
import type { Place } from './holes.ts';
import type { XY } from './planOutline.ts';
import { tidy } from './tidy.ts';

/** A straight or bulged edge of the plan, as the loop has it. */
export type FoundEdge = FoundSide | FoundCorner;

/** The plan as a tray file has it, with what ties it to the part. */
export interface FoundPlan {
  readonly plan: Record<string, unknown>;
  readonly place: Place;
  /** What stands on each edge of the plan, null where corners take all of it. */
  readonly edges: readonly (FoundEdge | null)[];
  /** The corner an edge of which nothing is left starts from. */
  readonly cornerBefore: (edge: number) => FoundSegment | undefined;
  /** Where the middle of a straight edge lies along its side, from the side's start, mm. */
  readonly middleOf: (side: FoundSide) => number;
  readonly makings: readonly ('gather' | 'notch')[];
}

/** A vertex of the plan, mm and radians. */
interface Found {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly sweep: number;
  readonly at: FoundCorner | FoundJoint;
  /** The edge after it, if anything is left of it. */
  readonly edge: FoundEdge | null;
}

/**
 * @param setback from where the bend begins to the meeting line of base and wall planes, mm
 * @returns null when the loop is none of a plan's
 */
export function foundPlan(loop: readonly FoundSegment[], setback: number): FoundPlan | null {
  const vertices = verticesOf(loop, setback);
  if (vertices === null || vertices.length < 2) return null;
  const square =
    vertices.length === 4 &&
    vertices.every(({ sweep, edge }) => Math.abs(sweep - Math.PI / 2) < 1e-7 && edge?.kind !== 'corner');
  const rectangle = square ? rectangleOf(vertices) : null;
  if (square && rectangle === null) return null;
  const order = rectangle?.order ?? vertices.map((_, i) => i);
  const sorted = order.map((i) => vertices[i]!);
  const edges = sorted.map(({ edge }) => edge);
  const open = edges.flatMap((edge, i) => (edge?.open === true ? [i] : []));
  const plan: Record<string, unknown> = rectangle?.plan ?? {
    vertices: polygonOf(sorted, setback),
  };
  if (open.length > 0) plan.openEdges = open;
  return {
    plan,
    place: rectangle?.place ?? ((x, y) => [tidy(x), tidy(y)]),
    edges,
    cornerBefore: (edge) => sorted[edge]?.at,
    middleOf: (side) => {
      const edge = edges.indexOf(side);
      const [a, b] = [sorted[edge]!, sorted[(edge + 1) % sorted.length]!];
      const { from, normal } = side;
      return -normal[1] * ((a.x + b.x) / 2 - from[0]) + normal[0] * ((a.y + b.y) / 2 - from[1]);
    },
    makings: sorted.map(({ at }) => (at.kind === 'joint' && at.mitre ? 'notch' : 'gather')),
  };
}

/** The plan radius. Of a sphere it is rounded up: a corner any tighter cannot be rolled. */
function radiusOf({ radius, at }: Found): number {
  const settled = tidy(radius);
  const sphere = at.kind === 'corner' && at.sweep > 0 && at.radius < 1e-6;
  return sphere && settled < radius - 1e-10 ? tidy(settled + 1e-6) : settled;
}

/** Entries of the plan's vertices. A bulge is settled to 1e-9: 3e-6 mm of rise over the longest edge. */
function polygonOf(vertices: readonly Found[], setback: number): Record<string, number>[] {
  return vertices.map((vertex, i) => {
    const { x, y, edge } = vertex;
    const entry = { x: tidy(x), y: tidy(y), radius: radiusOf(vertex) };
    if (edge?.kind !== 'corner') return entry;
    const next = vertices[(i + 1) % vertices.length]!;
    return { ...entry, bulge: tidy(bulgeBetween(onPlan(edge, setback).edge, vertex, next), 1e9) };
  });
}

/** The plan's vertices, each with the edge after it; edges with a wall are moved out to it. */
function verticesOf(loop: readonly FoundSegment[], setback: number): Found[] | null {
  const count = loop.length;
  const out: Found[] = [];
  for (const [i, at] of loop.entries()) {
    if (at.kind === 'side' || (at.kind === 'corner' && at.isEdge)) continue;
    const before = edgeAt(loop[(i + count - 1) % count]!);
    const edge = edgeAt(loop[(i + 1) % count]!);
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
        edge,
      });
      continue;
    }
    if (before === null || edge === null) return null;
    const place = jointOnPlan(at, before, edge, setback);
    if (place === null) return null;
    out.push({ x: place[0], y: place[1], radius: 0, sweep: at.sweep, at, edge });
  }
  return out;
}

/** A segment as an edge of the plan; null for a joint, and for an arc that is a corner's rounding. */
const edgeAt = (segment: FoundSegment): FoundEdge | null =>
  segment.kind === 'side' || (segment.kind === 'corner' && segment.isEdge) ? segment : null;

/** An edge of the loop, moved out to its edge of the plan. */
function onPlan(edge: FoundEdge, setback: number): MovedEdge {
  const left = edge.open ? 0 : -setback;
  if (edge.kind === 'side') {
    const [[x0, y0], [x1, y1]] = [edge.from, edge.to];
    return { edge: { x0, y0, x1, y1, curvature: 0, centreX: Number.NaN, centreY: Number.NaN }, left };
  }
  const sign = Math.sign(edge.sweep);
  const [x0, y0] = edge.centre;
  // Crossings ask for the circle alone, and not for where the arc ends.
  const circle = { curvature: sign / edge.radius, centreX: x0, centreY: y0 };
  return { edge: { x0, y0, x1: x0, y1: y0, ...circle }, left };
}

/** Where a joint of the loop lies on the plan; null when the edges do not meet there. */
function jointOnPlan(at: FoundJoint, before: FoundEdge, after: FoundEdge, setback: number): XY | null {
  const [a, b] = [onPlan(before, setback), onPlan(after, setback)];
  if (at.sweep !== 0) return crossingNear(a, b, { x: at.at[0], y: at.at[1] });
  // Where two edges meet smoothly, one of them is an arc: its normal there.
  const arc = after.kind === 'corner' ? after : (before as FoundCorner);
  const sign = Math.sign(arc.sweep);
  const grown = (arc.radius - sign * b.left) / arc.radius;
  return [
    arc.centre[0] + grown * (at.at[0] - arc.centre[0]),
    arc.centre[1] + grown * (at.at[1] - arc.centre[1]),
  ];
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
  const radii = order.map((i) => radiusOf(vertices[i]!));
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
