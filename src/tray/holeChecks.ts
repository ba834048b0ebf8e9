/**
 * Whether holes are where a tray is flat or straight, and clear of bends, edges and one another.
 *
 * A hole is looked at as a core, a point, a line or a closed chain of lines, with a radius around it. On the
 * base its coordinates are those of the plan; on a wall they run along the edge from its middle, and up the
 * straight wall from the end of the bend. Lengths in mm.
 */
import type { Fault } from '../errors.ts';
import {
  alongEdge,
  distanceBetween,
  distanceTo,
  edgeBounds,
  edgeLength,
  edgesArea,
  isInside,
} from '../geometry/edgeMeasures.ts';
import { type PlanEdge, planEdge } from '../geometry/planEdges.ts';
import { radians } from '../units.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { type EdgeIndex, edgeIndex, meetingEdges } from './edgeIndex.ts';
import { movedSegment } from './loopChecks.ts';
import { type LengthText, planEdgesOf, ROUNDING, SMALLEST_EDGE } from './planChecks.ts';
import {
  type LoopSegment,
  type PlanLoop,
  planLoop,
  planVertices,
  setbackOf,
  shortOfMitre,
  turnedAngle,
} from './planLoop.ts';
import { straightWallLength } from './section.ts';
import { edgeName, shown } from './sentences.ts';
import type { HoleSpec, TraySpec } from './spec.ts';

interface Core {
  readonly hole: HoleSpec;
  /** A point is an edge without length. */
  readonly edges: readonly PlanEdge[];
  readonly bounds: ReturnType<typeof edgeBounds>;
  readonly radius: number;
}

/** Edges, and where they lie. */
interface Indexed {
  readonly edges: readonly PlanEdge[];
  readonly index: EdgeIndex;
}

/** The holes that may be in each other's way: those in the base, or in one wall, with all their edges. */
interface Place extends Indexed {
  /** Numbers of the holes. */
  readonly holes: readonly number[];
  /** The hole that each edge belongs to. */
  readonly owners: readonly number[];
}

/** Faults of holes that were looked for lately, by all that they depend on, for each table of words. */
const known = new WeakMap<Words, Map<string, readonly Fault[]>>();
/** The sizes of a table come one after the other, and few are looked at side by side. */
const MOST_KNOWN = 8;

/**
 * Faults of all holes, in their order. The rows of a table often share holes and the base they lie in, and are looked at
 * once.
 */
export function holeFaults(spec: TraySpec, text: LengthText): readonly Fault[] {
  const { holes = [], plan, section, sheet, forming, measured } = spec;
  if (holes.length === 0) return [];
  const { bottomRadius, draft } = section;
  const { corners, weldGap } = forming;
  const walls = holes.some(({ place }) => place.on !== 'base') ? [section, weldGap, measured] : [];
  const base = [plan, bottomRadius, draft, sheet.thickness, corners];
  const key = JSON.stringify([holes, base, walls, text.exact(1)]);
  const ofWords = known.get(words()) ?? new Map<string, readonly Fault[]>();
  known.set(words(), ofWords);
  const found = ofWords.get(key) ?? faultsOf(spec, holes, text);
  // The latest last, so that the oldest goes first.
  ofWords.delete(key);
  ofWords.set(key, found);
  if (ofWords.size > MOST_KNOWN) ofWords.delete(ofWords.keys().next().value!);
  return found;
}

function faultsOf(spec: TraySpec, holes: readonly HoleSpec[], text: LengthText): Fault[] {
  const first = new Map<string, number>();
  holes.forEach(({ name }, i) => {
    if (!first.has(name)) first.set(name, i);
  });
  const loop = planLoop(spec);
  const edges = loop.segments.flatMap((segment) => movedSegment(segment, 0) ?? []);
  const base = { edges, index: edgeIndex(edges) };
  const cores = holes.map((hole) => coreOf(hole, spec));
  const places = placesOf(holes, cores);
  const say = words().messages.tray.hole;
  return holes.flatMap((hole, i): Fault[] => {
    const same = first.get(hole.name)!;
    if (same !== i) {
      const path = `holes.${i}.name`;
      return [{ path, message: say.sameName(path, shown(hole.name), `holes.${same}`) }];
    }
    const shape = shapeFaults(hole, i, text);
    if (shape.length > 0) return shape;
    const place =
      hole.place.on === 'base'
        ? baseHoleFaults(spec, base, cores[i]!, i, text)
        : wallHoleFaults(spec, loop, cores[i]!, i, text);
    if (place.length > 0) return place;
    const near = nearHole(i, cores, places.get(placeOf(hole))!, spec.sheet.thickness - ROUNDING);
    if (near === undefined) return [];
    const [own, other] = [called(hole, i), called(holes[near.hole]!, near.hole)];
    const least = text.atLeast(spec.sheet.thickness);
    const message =
      near.gap > 0 ? say.near(own, text.exact(near.gap), other, least) : say.into(own, other, least);
    return [{ path: `holes.${i}.place`, message }];
  });
}

const called = ({ name }: HoleSpec, i: number): string =>
  words().messages.tray.hole.called(`holes.${i}`, shown(name));

const placeOf = ({ place }: HoleSpec): number | 'base' => (place.on === 'base' ? 'base' : place.edge);

function placesOf(holes: readonly HoleSpec[], cores: readonly Core[]): Map<number | 'base', Place> {
  const groups = new Map<number | 'base', number[]>();
  holes.forEach((hole, i) => {
    const group = groups.get(placeOf(hole));
    if (group === undefined) groups.set(placeOf(hole), [i]);
    else group.push(i);
  });
  return new Map(
    [...groups].map(([key, own]) => {
      const edges = own.flatMap((i) => cores[i]!.edges);
      const owners = own.flatMap((i) => cores[i]!.edges.map(() => i));
      const index = edgeIndex(
        edges,
        owners.map((i) => cores[i]!.radius),
      );
      return [key, { holes: own, edges, owners, index }];
    }),
  );
}

/**
 * The first of the holes before hole `i` that is nearer to it than `least`, and the metal between them: 0 or less
 * where one runs into the other or lies in it.
 */
function nearHole(
  i: number,
  cores: readonly Core[],
  { holes, edges, owners, index }: Place,
  least: number,
): { readonly hole: number; readonly gap: number } | undefined {
  const own = cores[i]!;
  const within = holes.find((k) => k < i && (liesIn(own, cores[k]!) || liesIn(cores[k]!, own)));
  const gaps = new Map<number, number>();
  for (const edge of own.edges) {
    for (const at of index.near(edge, own.radius + least)) {
      const k = owners[at]!;
      if (k >= i || k > (within ?? i)) continue;
      const gap = distanceBetween(edge, edges[at]!) - own.radius - cores[k]!.radius;
      if (gap < least) gaps.set(k, Math.min(gap, gaps.get(k) ?? gap));
    }
  }
  if (within !== undefined) gaps.set(within, 0);
  if (gaps.size === 0) return undefined;
  const hole = Math.min(...gaps.keys());
  return { hole, gap: gaps.get(hole)! };
}

/** Whether a hole lies in another that is a polygon, provided that their edges do not meet. */
function liesIn(inner: Core, outer: Core): boolean {
  const { x0, y0 } = inner.edges[0]!;
  const [[left, right], [low, high]] = outer.bounds;
  if (x0 < left || x0 > right || y0 < low || y0 > high) return false;
  return outer.edges.length > 2 && isInside(outer.edges, x0, y0);
}

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
  const short = edges.findIndex((edge) => edgeLength(edge) < SMALLEST_EDGE);
  if (short >= 0) return [{ path, message: say.cornerTwice(path, String(short)) }];
  if (meetingEdges(edges, SMALLEST_EDGE) !== undefined) return [{ path, message: say.crosses(path) }];
  return edgesArea(edges) < 0 ? [{ path, message: say.clockwise(path) }] : [];
}

function chain(points: readonly (readonly [number, number])[]): PlanEdge[] {
  return points.map(([x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length]!;
    return planEdge({ x, y }, { x: nextX, y: nextY });
  });
}

/** Distance from a point of the base to the edge of a hole in it. */
export function distanceToHole(spec: TraySpec, hole: HoleSpec, x: number, y: number): number {
  const { edges, radius } = coreOf(hole, spec);
  return Math.min(...edges.map((edge) => distanceTo(edge, x, y))) - radius;
}

function coreOf(hole: HoleSpec, spec: TraySpec): Core {
  const { shape, place } = hole;
  const [x, y] = place.on === 'base' ? [place.x, place.y] : [place.along, upTheWall(spec, place.height)];
  const core = (edges: readonly PlanEdge[], radius: number): Core => ({
    hole,
    edges,
    bounds: edgeBounds(edges),
    radius,
  });
  if (shape.kind === 'round') return core(chain([[x, y]]), shape.diameter / 2);
  if (shape.kind === 'slot') {
    const half = Math.max(0, shape.length - shape.width) / 2;
    const [dx, dy] = [half * Math.cos(radians(shape.angle)), half * Math.sin(radians(shape.angle))];
    const points = [
      [x - dx, y - dy],
      [x + dx, y + dy],
    ] as const;
    return core(chain(points).slice(0, 1), shape.width / 2);
  }
  return core(chain(shape.points.map((point) => [x + point.x, y + point.y] as const)), 0);
}

/** A hole in the flat of the base: on all sides at least the sheet's thickness inside the bends' beginning. */
function baseHoleFaults(
  { sheet: { thickness } }: TraySpec,
  base: Indexed,
  { hole, edges, radius }: Core,
  i: number,
  text: LengthText,
): Fault[] {
  const room = edges.reduce(
    (least, own) =>
      base.index
        .near(own, radius + thickness)
        .reduce((nearest, at) => Math.min(nearest, distanceBetween(own, base.edges[at]!) - radius), least),
    Number.POSITIVE_INFINITY,
  );
  // With room all round, a hole lies on the base as a whole or not at all.
  const inside = room > 0 && isInside(base.edges, edges[0]!.x0, edges[0]!.y0);
  if (inside && room >= thickness - ROUNDING) return [];
  const say = words().messages.tray.hole;
  const [own, least] = [called(hole, i), text.atLeast(thickness)];
  const message = inside ? say.nearEndOfBase(own, text.exact(room), least) : say.offBase(own, least);
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
  { hole, bounds, radius }: Core,
  i: number,
  text: LengthText,
): Fault[] {
  if (hole.place.on !== 'wall') return [];
  const { edge } = hole.place;
  const { thickness } = spec.sheet;
  const say = words().messages.tray.hole;
  const [own, side] = [called(hole, i), edgeName(spec, edge)];
  const thick = text.exact(thickness);
  const fault = (where: string, message: string): Fault[] => [{ path: `holes.${i}.place.${where}`, message }];
  if (spec.plan.openEdges?.includes(edge) === true) return fault('edge', say.onOpenSide(own, side));
  const pieces = wallPieces(spec, loop, edge);
  const [along, up] = bounds;
  const [left, right, low, high] = [along[0] - radius, along[1] + radius, up[0] - radius, up[1] + radius];
  const from = Math.min(...pieces.map((piece) => piece.from));
  const to = Math.max(...pieces.map((piece) => piece.to));
  if (!(left >= from + thickness - ROUNDING && right <= to - thickness + ROUNDING)) {
    const most = [
      from + thickness + (hole.place.along - left),
      to - thickness - (right - hole.place.along),
    ] as const;
    const give =
      most[0] <= most[1] ? say.along(text.atLeast(most[0]), text.atMost(most[1])) : say.smallerOrOtherWall;
    return fault('along', say.beyondCorners(own, side, thick, give));
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
  return fault('height', say.beyondWall(own, side, thick, give));
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
  const gap = spec.forming.weldGap ?? 0;
  const isOwn = (segment: LoopSegment): boolean =>
    segment.edge === edge && (segment.kind === 'side' || segment.index === vertices.length + edge);
  return loop.segments.filter(isOwn).flatMap((segment) => {
    const at = movedSegment(segment, setback);
    if (at === null) return [];
    const middle = edgeLength(plan) / 2;
    // A mitre's weld gap is cut off the walls on both sides.
    const cut = (mitre: number): number => (mitre === 0 ? 0 : shortOfMitre(gap, mitre));
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
