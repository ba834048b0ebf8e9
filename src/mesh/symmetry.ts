/**
 * Mirror lines of a plan, and the piece of the loop between two neighbouring ones.
 *
 * A closed loop meets each of its mirror lines in exactly two points, so the 2m points of m mirror lines cut
 * it into 2m congruent pieces; solving one of them is enough.
 */
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { cornerMaking, loopPoint, type PlanLoop, planVertices } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { MirrorLines } from './quadraticMesh.ts';

/** A vertex of the plan with all that makes it differ from another vertex. */
export interface SymmetryVertex {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** Anything else that a mirror image must share, compared as text: of the vertex, and of the edge that starts here. */
  readonly vertexMark?: string;
  readonly edgeMark?: string;
  /** True where the wall is cut open. A mirror line through it would join the two edges again. */
  readonly isCut?: boolean;
}

/** The vertices of a tray's plan with all that tells them apart. */
export function symmetryVertices(spec: TraySpec): SymmetryVertex[] {
  const open = new Set(spec.plan.openEdges ?? []);
  return planVertices(spec.plan).map((vertex, i) => ({
    x: vertex.x,
    y: vertex.y,
    radius: vertex.radius,
    vertexMark: cornerMaking(spec, i),
    isCut: cornerMaking(spec, i) === 'notch',
    edgeMark: [open.has(i), (vertex.bulge ?? 0).toFixed(9), spec.section.heights?.[i] ?? 0].join(' '),
  }));
}

/** A point of the loop: segment number and fraction along it. */
export interface LoopPosition {
  readonly segment: number;
  readonly fraction: number;
}

/** Mirror symmetry of the plan: `order` mirror lines through the centre. */
export interface Symmetry {
  readonly centreX: number;
  readonly centreY: number;
  /** Number of mirror lines, at least 1. */
  readonly order: number;
  /** Outward direction along the mirror lines at the piece's first and last point, radians. */
  readonly startAngle: number;
  readonly endAngle: number;
  /** The piece of the loop, counter-clockwise. */
  readonly start: LoopPosition;
  readonly end: LoopPosition;
}

/** The mirror lines at both ends of the piece. */
export const mirrorLinesOf = ({ centreX, centreY, startAngle, endAngle }: Symmetry): MirrorLines => ({
  centreX,
  centreY,
  firstAngle: startAngle,
  lastAngle: endAngle,
});

/**
 * The symmetry a solve may use, or null when there is none.
 *
 * @param vertices plan vertices, counter-clockwise
 * @param loop     their plan loop
 * @param grain    rolling direction in radians when the sheet's properties depend on direction, null when
 *                 they do not; with a grain only mirror lines along and across it count
 */
export function findSymmetry(
  vertices: readonly SymmetryVertex[],
  loop: PlanLoop,
  grain: number | null,
): Symmetry | null {
  const count = vertices.length;
  const centreX = vertices.reduce((sum, vertex) => sum + vertex.x, 0) / count;
  const centreY = vertices.reduce((sum, vertex) => sum + vertex.y, 0) / count;
  const size = Math.max(...vertices.map((vertex) => hypotenuse(vertex.x - centreX, vertex.y - centreY)));
  const tolerance = 1e-9 * size;
  const points: (LoopPosition & { readonly angle: number })[] = [];
  for (let j = 0; j < count; j++) {
    const axis = axisOfMapping(vertices, j, centreX, centreY, tolerance);
    // Of all mirror lines those that meet no cut are a symmetry by themselves: images of cuts are cuts.
    if (axis === null || vertices.some(({ isCut }, i) => isCut === true && (2 * i - j) % count === 0))
      continue;
    if (grain !== null && Math.abs(Math.sin(2 * (axis - grain))) > 1e-9) continue;
    for (let i = 0; i < count; i++) {
      const position =
        (2 * i - j) % count === 0
          ? cornerMiddle(loop, i, count)
          : (2 * i + 1 - j) % count === 0
            ? edgeMiddle(loop, i, count)
            : null;
      if (position === null) continue;
      // Outwards at the point: seen from the centre a hollow plan may meet its mirror line twice on one side.
      const { normalX, normalY } = loopPoint(loop.segments[position.segment]!, position.fraction, {
        x: 0,
        y: 0,
        normalX: 0,
        normalY: 0,
      });
      points.push({ ...position, angle: directionOnAxis(axis, normalX, normalY) });
    }
  }
  if (points.length === 0) return null;
  const order = points.length / 2;
  points.sort((p, q) => p.segment + p.fraction - q.segment - q.fraction);
  // Of the congruent pieces take the one that starts nearest above the x axis, so that a rectangle is solved
  // in its first quadrant.
  const turn = (angle: number): number => {
    const positive = angle < -1e-9 ? angle + 2 * Math.PI : Math.max(0, angle);
    return positive > 2 * Math.PI - 1e-9 ? 0 : positive;
  };
  let first = 0;
  for (let i = 1; i < points.length; i++) {
    if (turn(points[i]!.angle) < turn(points[first]!.angle)) first = i;
  }
  const start = points[first]!;
  const end = points[(first + 1) % points.length]!;
  const startAngle = cleanAngle(start.angle);
  let endAngle = cleanAngle(end.angle);
  if (endAngle <= startAngle) endAngle += 2 * Math.PI;
  return { centreX, centreY, order, startAngle, endAngle, start, end };
}

/** An angle that is only rounding away from a multiple of 15° is that multiple. */
function cleanAngle(angle: number): number {
  const step = Math.PI / 12;
  const nearest = Math.round(angle / step) * step;
  return Math.abs(nearest - angle) < 1e-12 ? nearest : angle;
}

/** Direction of the mirror line that takes vertex i to vertex j − i for all i, or null. */
function axisOfMapping(
  vertices: readonly SymmetryVertex[],
  j: number,
  centreX: number,
  centreY: number,
  tolerance: number,
): number | null {
  const count = vertices.length;
  const at = (i: number): SymmetryVertex => vertices[((i % count) + count) % count]!;
  const first = at(0);
  const image = at(j);
  const axis =
    (Math.atan2(first.y - centreY, first.x - centreX) + Math.atan2(image.y - centreY, image.x - centreX)) / 2;
  const c = Math.cos(2 * axis);
  const s = Math.sin(2 * axis);
  for (let i = 0; i < count; i++) {
    const vertex = at(i);
    const target = at(j - i);
    const x = vertex.x - centreX;
    const y = vertex.y - centreY;
    if (Math.abs(c * x + s * y - (target.x - centreX)) > tolerance) return null;
    if (Math.abs(s * x - c * y - (target.y - centreY)) > tolerance) return null;
    if (Math.abs(vertex.radius - target.radius) > tolerance) return null;
    if (vertex.vertexMark !== target.vertexMark) return null;
    if (vertex.edgeMark !== at(j - i - 1).edgeMark) return null;
  }
  return axis;
}

/** The way along the mirror line that a direction points. */
function directionOnAxis(axis: number, x: number, y: number): number {
  const ahead = x * Math.cos(axis) + y * Math.sin(axis) >= 0;
  const angle = ahead ? axis : axis + Math.PI;
  return Math.atan2(Math.sin(angle), Math.cos(angle));
}

/** Position of a segment by kind and number, at a fraction; null when there is no such segment. */
function positionOf(
  loop: PlanLoop,
  kind: 'corner' | 'side',
  index: number,
  fraction: number,
): LoopPosition | null {
  const segment = loop.segments.findIndex((s) => s.kind === kind && s.index === index);
  return segment < 0 ? null : { segment, fraction };
}

/** Where an edge starts on the loop. */
function edgeStart(loop: PlanLoop, edge: number, count: number): LoopPosition | null {
  return positionOf(loop, 'side', edge, 0) ?? positionOf(loop, 'corner', count + edge, 0);
}

/** The middle of a corner's arc; of a corner without one, the start of the edge behind it. */
function cornerMiddle(loop: PlanLoop, vertex: number, count: number): LoopPosition | null {
  return positionOf(loop, 'corner', vertex, 0.5) ?? edgeStart(loop, vertex, count);
}

function edgeMiddle(loop: PlanLoop, edge: number, count: number): LoopPosition | null {
  const sides = loop.segments.flatMap((s, number) => (s.kind === 'side' && s.index === edge ? [number] : []));
  // A side cut by run-outs is symmetrical as well: its middle is that of the middle part.
  if (sides.length > 0)
    return { segment: sides[(sides.length - 1) >> 1]!, fraction: sides.length % 2 === 1 ? 0.5 : 1 };
  return (
    positionOf(loop, 'corner', count + edge, 0.5) ??
    // A side of no length: its middle is where the next corner begins.
    positionOf(loop, 'corner', (edge + 1) % count, 0)
  );
}
