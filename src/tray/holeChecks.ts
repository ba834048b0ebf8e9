/**
 * Whether holes are where a tray is flat or straight, and clear of bends, edges and one another.
 *
 * A hole is looked at as a core, a point, a line or a closed chain of lines, with a radius around it. On the
 * base its coordinates are those of the plan; on a wall they run along the edge from its middle, and up the
 * straight wall from the end of the bend. Lengths in mm.
 */
import type { Fault } from '../errors.ts';
import { radians } from '../units.ts';
import { words } from '../words/language.ts';
import {
  alongEdge,
  commonPoints,
  distanceBetween,
  distanceTo,
  edgeLength,
  edgesArea,
  isInside,
} from './edgeMeasures.ts';
import { edgeName, movedSegment } from './loopChecks.ts';
import { type LengthText, planEdgesOf, ROUNDING } from './planChecks.ts';
import { type PlanEdge, planEdge } from './planEdges.ts';
import {
  type LoopSegment,
  type PlanLoop,
  planLoop,
  planVertices,
  setbackOf,
  turnedAngle,
} from './planLoop.ts';
import { straightWallLength } from './section.ts';
import { shown } from './sentences.ts';
import type { HoleSpec, TraySpec } from './spec.ts';

interface Core {
  readonly points: readonly (readonly [number, number])[];
  readonly edges: readonly PlanEdge[];
  readonly radius: number;
}

/** Faults of all holes, in their order. */
export function holeFaults(spec: TraySpec, text: LengthText): Fault[] {
  const holes = spec.holes ?? [];
  const names = holes.map((hole) => hole.name);
  const loop = holes.length === 0 ? undefined : planLoop(spec);
  const cores = holes.map((hole) => coreOf(hole, spec));
  const say = words().messages.tray.hole;
  return holes.flatMap((hole, i): Fault[] => {
    const same = names.indexOf(hole.name);
    if (same !== i) {
      const path = `holes.${i}.name`;
      return [{ path, message: say.sameName(path, shown(hole.name), `holes.${same}`) }];
    }
    const shape = shapeFaults(hole, i, text);
    if (shape.length > 0) return shape;
    const place =
      hole.place.on === 'base'
        ? baseHoleFaults(spec, loop!, hole, cores[i]!, i, text)
        : wallHoleFaults(spec, loop!, hole, cores[i]!, i, text);
    if (place.length > 0) return place;
    const near = holes.findIndex(
      (other, k) =>
        k < i && isSamePlace(hole, other) && gap(cores[i]!, cores[k]!) < spec.sheet.thickness - ROUNDING,
    );
    if (near < 0) return [];
    const between = gap(cores[i]!, cores[near]!);
    const [name, other, otherName] = [shown(hole.name), `holes.${near}`, shown(holes[near]!.name)];
    const least = text.atLeast(spec.sheet.thickness);
    const message =
      between > 0
        ? say.near(`holes.${i}`, name, text.exact(between), other, otherName, least)
        : say.into(`holes.${i}`, name, other, otherName, least);
    return [{ path: `holes.${i}.place`, message }];
  });
}

const isSamePlace = ({ place: a }: HoleSpec, { place: b }: HoleSpec): boolean =>
  a.on === 'base' ? b.on === 'base' : b.on === 'wall' && a.edge === b.edge;

/** A hole's shape by itself. */
function shapeFaults({ shape }: HoleSpec, i: number, text: LengthText): Fault[] {
  const say = words().messages.tray.hole;
  if (shape.kind === 'slot' && shape.length <= shape.width + ROUNDING) {
    const path = `holes.${i}.shape.length`;
    return [{ path, message: say.slotTooShort(path, text.exact(shape.length), text.exact(shape.width)) }];
  }
  if (shape.kind !== 'polygon') return [];
  const edges = chain(shape.points.map(({ x, y }) => [x, y] as const));
  const path = `holes.${i}.shape.points`;
  const short = edges.findIndex((edge) => edgeLength(edge) < 0.01);
  if (short >= 0) return [{ path, message: say.cornerTwice(path, String(short)) }];
  if (edges.some((a, k) => edges.some((b, j) => j > k && edgesMeet(a, b)))) {
    return [{ path, message: say.crosses(path) }];
  }
  return edgesArea(edges) < 0 ? [{ path, message: say.clockwise(path) }] : [];
}

/** Whether two edges of a chain meet elsewhere than at an end they share. */
function edgesMeet(a: PlanEdge, b: PlanEdge): boolean {
  const shared =
    a.x1 === b.x0 && a.y1 === b.y0
      ? ([a.x1, a.y1] as const)
      : a.x0 === b.x1 && a.y0 === b.y1
        ? ([a.x0, a.y0] as const)
        : null;
  if (shared === null) return distanceBetween(a, b) < 0.01;
  const others = [
    [a, b],
    [b, a],
  ] as const;
  return (
    commonPoints(a, b).some(([x, y]) => Math.hypot(x - shared[0], y - shared[1]) > 0.01) ||
    others.some(([one, other]) => {
      const isEnd = one.x0 === shared[0] && one.y0 === shared[1];
      const [x, y] = isEnd ? [one.x1, one.y1] : [one.x0, one.y0];
      return distanceTo(other, x, y) < 0.01;
    })
  );
}

function chain(points: readonly (readonly [number, number])[]): PlanEdge[] {
  return points.map(([x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length]!;
    return planEdge({ x, y }, { x: nextX, y: nextY });
  });
}

function coreOf({ shape, place }: HoleSpec, spec: TraySpec): Core {
  const [x, y] = place.on === 'base' ? [place.x, place.y] : [place.along, upTheWall(spec, place.height)];
  if (shape.kind === 'round') return { points: [[x, y]], edges: [], radius: shape.diameter / 2 };
  if (shape.kind === 'slot') {
    const half = Math.max(0, shape.length - shape.width) / 2;
    const [dx, dy] = [half * Math.cos(radians(shape.angle)), half * Math.sin(radians(shape.angle))];
    const points = [
      [x - dx, y - dy],
      [x + dx, y + dy],
    ] as const;
    return { points, edges: chain(points).slice(0, 1), radius: shape.width / 2 };
  }
  const points = shape.points.map((point) => [x + point.x, y + point.y] as const);
  return { points, edges: chain(points), radius: 0 };
}

/** Metal between two holes, negative where one runs into the other. */
function gap(a: Core, b: Core): number {
  const inside = (outer: Core, inner: Core): boolean =>
    outer.edges.length > 2 && isInside(outer.edges, ...inner.points[0]!);
  if (inside(a, b) || inside(b, a)) return 0;
  const distances = [
    ...a.points.map((point) => coreDistance(b, point)),
    ...b.points.map((point) => coreDistance(a, point)),
    ...a.edges.flatMap((one) => b.edges.map((other) => distanceBetween(one, other))),
  ];
  return Math.min(...distances) - a.radius - b.radius;
}

function coreDistance(core: Core, [x, y]: readonly [number, number]): number {
  const toPoints = core.points.map((point) => Math.hypot(point[0] - x, point[1] - y));
  return Math.min(...toPoints, ...core.edges.map((edge) => distanceTo(edge, x, y)));
}

/** A hole in the flat of the base: on all sides at least the sheet's thickness inside the bends' beginning. */
function baseHoleFaults(
  spec: TraySpec,
  loop: PlanLoop,
  hole: HoleSpec,
  core: Core,
  i: number,
  text: LengthText,
): Fault[] {
  const edges = loop.segments.flatMap((segment) => movedSegment(segment, 0) ?? []);
  const distances = edges.flatMap((edge) => [
    ...core.points.map(([x, y]) => distanceTo(edge, x, y)),
    ...core.edges.map((own) => distanceBetween(own, edge)),
  ]);
  const room = Math.min(...distances) - core.radius;
  const inside = core.points.every(([x, y]) => isInside(edges, x, y));
  if (inside && room >= spec.sheet.thickness - ROUNDING) return [];
  const say = words().messages.tray.hole;
  const [name, least] = [shown(hole.name), text.atLeast(spec.sheet.thickness)];
  const message =
    inside && room > 0
      ? say.nearEndOfBase(`holes.${i}`, name, text.exact(room), least)
      : say.offBase(`holes.${i}`, name, least);
  return [{ path: `holes.${i}.place`, message }];
}

/** Distance up the straight wall from the end of the bend, of a height above the base's measured skin. */
function upTheWall(spec: TraySpec, height: number): number {
  const angle = turnedAngle(spec.section.draft);
  return (height - spec.section.bottomRadius * (1 - Math.cos(angle))) / Math.sin(angle);
}

/** A hole in the straight wall: at least the sheet's thickness from bends, from the rim and from the corners. */
function wallHoleFaults(
  spec: TraySpec,
  loop: PlanLoop,
  hole: HoleSpec,
  core: Core,
  i: number,
  text: LengthText,
): Fault[] {
  if (hole.place.on !== 'wall') return [];
  const { edge } = hole.place;
  const { thickness } = spec.sheet;
  const say = words().messages.tray.hole;
  const [own, name, side] = [`holes.${i}`, shown(hole.name), edgeName(spec, edge)];
  const thick = text.exact(thickness);
  const fault = (where: string, message: string): Fault[] => [{ path: `${own}.place.${where}`, message }];
  if (spec.plan.openEdges?.includes(edge) === true) return fault('edge', say.onOpenSide(own, name, side));
  const pieces = wallPieces(spec, loop, edge);
  const extent = (axis: 0 | 1, sign: 1 | -1): number =>
    sign * Math.max(...core.points.map((point) => sign * point[axis])) + sign * core.radius;
  const [left, right, low, high] = [extent(0, -1), extent(0, 1), extent(1, -1), extent(1, 1)];
  const from = Math.min(...pieces.map((piece) => piece.from));
  const to = Math.max(...pieces.map((piece) => piece.to));
  if (!(left >= from + thickness - ROUNDING && right <= to - thickness + ROUNDING)) {
    const most = [
      from + thickness + (hole.place.along - left),
      to - thickness - (right - hole.place.along),
    ] as const;
    const give =
      most[0] <= most[1] ? say.along(text.atLeast(most[0]), text.atMost(most[1])) : say.smallerOrOtherWall;
    return fault('along', say.beyondCorners(own, name, side, thick, give));
  }
  const top = Math.min(...pieces.flatMap((piece) => topBetween(spec, piece, left, right)));
  if (low >= thickness - ROUNDING && high <= top - thickness + ROUNDING) return [];
  const angle = turnedAngle(spec.section.draft);
  const heightOf = (up: number): number =>
    up * Math.sin(angle) + spec.section.bottomRadius * (1 - Math.cos(angle));
  const middle = upTheWall(spec, hole.place.height);
  const most = [heightOf(thickness + middle - low), heightOf(top - thickness - (high - middle))] as const;
  const give =
    most[0] <= most[1] ? say.height(text.atLeast(most[0]), text.atMost(most[1])) : say.smallerOrHigherWall;
  return fault('height', say.beyondWall(own, name, side, thick, give));
}

/** A piece of the wall above one edge: where it begins and ends along the edge, and how high it is there. */
interface WallPiece {
  readonly from: number;
  readonly to: number;
  readonly heightFrom: number;
  readonly heightTo: number;
}

function wallPieces(spec: TraySpec, loop: PlanLoop, edge: number): WallPiece[] {
  const vertices = planVertices(spec.plan);
  const plan = planEdgesOf(vertices)[edge]!;
  const setback = setbackOf(spec);
  const weld = (spec.forming.weldGap ?? 0) / 2;
  const isOwn = (segment: LoopSegment): boolean =>
    segment.edge === edge && (segment.kind === 'side' || segment.index === vertices.length + edge);
  return loop.segments.filter(isOwn).flatMap((segment) => {
    const at = movedSegment(segment, setback);
    if (at === null) return [];
    const middle = edgeLength(plan) / 2;
    // A mitre's weld gap is cut off the walls on both sides.
    const cut = (mitre: number): number => (mitre === 0 ? 0 : weld);
    const [atStart, atEnd] =
      segment.kind === 'side' ? [cut(segment.mitreAtStart), cut(segment.mitreAtEnd)] : [0, 0];
    return [
      {
        from: alongEdge(plan, at.x0, at.y0) - middle + atStart,
        to: alongEdge(plan, at.x1, at.y1) - middle - atEnd,
        heightFrom: segment.heightAtStart,
        heightTo: segment.heightAtEnd,
      },
    ];
  });
}

/** Length of the straight wall where a piece and a stretch along the edge have their ends; none when they are apart. */
function topBetween(spec: TraySpec, piece: WallPiece, left: number, right: number): number[] {
  const [from, to] = [Math.max(left, piece.from), Math.min(right, piece.to)];
  if (from > to) return [];
  const slope = (piece.heightTo - piece.heightFrom) / (piece.to - piece.from);
  return [from, to].map((along) => {
    const height = piece.heightFrom + slope * (along - piece.from);
    return (
      straightWallLength(spec) + (height - spec.section.height) / Math.sin(turnedAngle(spec.section.draft))
    );
  });
}
