/**
 * The blank marked out without a printer: straight edges first, then at each corner a few arcs, and the lines to scribe
 * the same way.
 *
 * Figures are from two datum edges, those of the rectangle or else of the box around the cut line, its lower left corner
 * 0, 0; at a corner from the straight edges that meet there, so that corners that are alike share them. mm.
 */
import { slicePath } from '../gather/slicePath.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import { lastCrossing } from '../geometry/ray.ts';
import { cornerName } from '../pattern/cornerName.ts';
import type { FlatPattern, ScribeLine } from '../pattern/flatPattern.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { type LoopSegment, loopPoint, planLoop } from '../tray/planLoop.ts';
import {
  type Line,
  type Reach,
  rounded,
  roundTo,
  type Sample,
  type StruckPiece,
  samplesAlong,
  stretch,
  struck,
} from './trammel.ts';

/** What a line is: the cut line, or a line to scribe. */
export type MarkedKind = 'cut' | Exclude<ScribeLine['kind'], 'rim-mark'>;

export interface MarkedLine {
  readonly kind: MarkedKind;
  /** Where its own straight edges would meet; null where they are the edges of the cut, or none are drawn. */
  readonly apex: Point | null;
  readonly pieces: readonly StruckPiece[];
  /** The curve itself, in the same frame: what a test compares. */
  readonly curve: readonly Sample[];
}

/** Zero and x axis of coordinates, seen from the datum. */
export interface Frame {
  readonly origin: Point;
  /** Direction of x, radians. */
  readonly angle: number;
}

/** A corner of the blank between two straight edges. */
export interface MarkedCorner {
  readonly frame: Frame;
  /** What is marked out by these figures, and what with the two edges in each other's place. */
  readonly letters: readonly string[];
  readonly turnedOver: readonly string[];
  /** The edges along which x is measured, in all of them. */
  readonly along: readonly string[];
  readonly lines: readonly MarkedLine[];
}

/** A straight edge of the blank, from the datum. */
export interface MarkedEdge {
  /** Of the corner at its end. */
  readonly name: string;
  readonly from: Point;
  readonly to: Point;
}

export interface MarkedBlank {
  /** Where the datum lies in the pattern's coordinates. */
  readonly origin: Point;
  /** Straight edges in order, each to where it would meet the next; empty where the plan has none. */
  readonly edges: readonly MarkedEdge[];
  readonly corners: readonly MarkedCorner[];
  /** Curves that belong to no corner, in the frame of the datum. */
  readonly rest: readonly MarkedLine[];
  /** Length and width, where the edges make a rectangle. */
  readonly rectangle: { readonly length: number; readonly width: number } | null;
}

/** Sides shorter than this have no straight edge of their own, mm. */
const SHORTEST_EDGE = 25;
/** An edge that is nearly along its side of the plan is drawn along it: the rest is within this share of the tolerance. */
const SNAP = 0.5;
/** How far a straight edge is drawn beside a bowed one, as a share of the tolerance, where it then serves for longer. */
const BESIDE = 0.8;
/** Curves that are this near to each other are alike: what two solved halves may differ, mm. */
const ALIKE = 0.02;

/** A line in the flat lies no further inside its place on the plan than this, mm. */
const INSIDE = 5;

/** The blank marked out. */
export function markedBlank(pattern: FlatPattern, reach: Reach): MarkedBlank {
  const boxOf = pathBounds(pattern.outline);
  const box = { x: boxOf.minX, y: boxOf.minY };
  const paths: { kind: MarkedKind; path: Path }[] = [
    { kind: 'cut', path: pattern.outline },
    ...pattern.scribeLines.flatMap(({ kind, path }) => (kind === 'rim-mark' ? [] : [{ kind, path }])),
  ].map(({ kind, path }) => ({ kind: kind as MarkedKind, path: moved(path, box) }));
  // Where edges meet is printed rounded, which moves all of a corner.
  const within = { ...reach, tolerance: reach.tolerance - reach.step * Math.SQRT1_2 };
  const sides = pattern.kind === 'tray' ? straightSides(pattern, box) : [];
  const tracks = paths.map(({ kind, path }) => ({ kind, path, edges: edgesOf(path, sides, within) }));
  const [cut] = tracks;
  const count = sides.length;
  const apexes = sides.map((_, i) =>
    cut!.edges === null ? null : meeting(cut!.edges[i]!.line, cut!.edges[(i + 1) % count]!.line),
  );
  const whole = (list: typeof tracks): MarkedLine[] =>
    list.map(({ kind, path }) => {
      const curve = samplesAlong(path);
      return { kind, curve, apex: null, pieces: struck(curve, null, null, reach) };
    });
  if (count === 0 || apexes.includes(null)) {
    return { origin: box, edges: [], corners: [], rest: whole(tracks), rectangle: null };
  }
  const points = apexes as Point[];
  const following = tracks.filter(({ edges }) => edges !== null);
  const runs = points.map((at, i): Run => {
    const next = points[(i + 1) % count]!;
    const frame = { origin: at, angle: Math.atan2(next.y - at.y, next.x - at.x) };
    const own = (point: Point): Point => inFrame(point, frame);
    const lines = following.map(({ kind, path, edges }): RunLine => {
      const [from, to] = [edges![i]!, edges![(i + 1) % count]!];
      const curve = samplesAlong(slicePath(path, from.middle, to.middle));
      const local = curve.map((sample) => ({ ...own(sample), direction: sample.direction - frame.angle }));
      return { kind, curve: local, ...localLines(kind, from.line, to.line, frame, reach) };
    });
    const letters = sides[i]!.corners.map((index) => cornerName(pattern, index));
    return { frame, letters, edges: [sides[i]!.name, sides[(i + 1) % count]!.name], lines };
  });
  const rectangle = rectangleOf(points, reach);
  // A rectangle is measured from its own edges.
  const datum = rectangle === null ? { x: 0, y: 0 } : lowestLeft(points);
  const printed = points.map(({ x, y }) => rounded({ x: x - datum.x, y: y - datum.y }, reach.step));
  const loose = tracks.filter((track) => track.edges === null);
  return {
    origin: { x: box.x + datum.x, y: box.y + datum.y },
    edges: printed.map((to, i) => ({
      name: runs[i]!.letters.join(', '),
      from: printed[(i + count - 1) % count]!,
      to,
    })),
    corners: alikeTogether(runs, within),
    rest: whole(loose.map((track) => ({ ...track, path: moved(track.path, datum) }))),
    rectangle,
  };
}

interface RunLine {
  readonly kind: MarkedKind;
  readonly curve: readonly Sample[];
  readonly lead: Line | null;
  readonly tail: Line | null;
}

interface Run {
  readonly frame: Frame;
  readonly letters: readonly string[];
  /** The straight edges before and after the corner. */
  readonly edges: readonly [string, string];
  readonly lines: readonly RunLine[];
}

const moved = (path: Path, { x, y }: Point): Path => ({
  ...path,
  vertices: path.vertices.map((vertex) => ({ ...vertex, x: vertex.x - x, y: vertex.y - y })),
});

export function inFrame({ x, y }: Point, { origin, angle }: Frame): Point {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const [dx, dy] = [x - origin.x, y - origin.y];
  return { x: c * dx + s * dy, y: c * dy - s * dx };
}

/** A straight side of the plan, and the corners and curved sides up to the next one. */
interface PlanSide {
  readonly name: string;
  readonly middle: Point;
  readonly normal: Point;
  readonly length: number;
  readonly corners: readonly number[];
}

function straightSides({ spec }: FlatPattern, origin: Point): PlanSide[] {
  const { segments, vertexCount } = planLoop(spec);
  const isEdge = (segment: LoopSegment): boolean =>
    segment.kind === 'side' && segment.length >= SHORTEST_EDGE;
  return segments.flatMap((segment, i) => {
    if (!isEdge(segment)) return [];
    const { x, y, normalX, normalY } = loopPoint(segment, 0.5, { x: 0, y: 0, normalX: 0, normalY: 0 });
    const after = [...segments.slice(i + 1), ...segments.slice(0, i + 1)];
    const gathered = after
      .slice(0, after.findIndex(isEdge))
      .flatMap((each) => (each.kind === 'corner' ? [each.index] : []));
    // Where no arc is between, a corner is cut out.
    const corners = gathered.length > 0 ? gathered : [(segment.index + 1) % vertexCount];
    const middle = { x: x - origin.x, y: y - origin.y };
    const name = turnName(vertexCount + segment.index, vertexCount);
    return [{ name, middle, normal: { x: normalX, y: normalY }, length: segment.length, corners }];
  });
}

interface TrackEdge {
  /** Of the curve, above the middle of the side. */
  readonly middle: Point;
  readonly line: Line;
}

/** The straight edges along a closed line; null for a line that does not pass every side. */
function edgesOf(path: Path, sides: readonly PlanSide[], reach: Reach): TrackEdge[] | null {
  if (!path.closed) return null;
  const found = sides.map((side) => {
    const at = (along: number): Point | null => crossing(path, side, along);
    const middle = at(0);
    if (middle === null) return null;
    const direction = edgeDirection(side, at(side.length / 4), at(-side.length / 4), reach);
    return { middle, line: bestEdge(path, middle, direction, reach) };
  });
  return found.includes(null) ? null : (found as TrackEdge[]);
}

/** Where the line passes a side, so far along it from its middle: the place farthest out. */
function crossing(path: Path, { middle, normal }: PlanSide, along: number): Point | null {
  const from = {
    x: middle.x - along * normal.y - INSIDE * normal.x,
    y: middle.y + along * normal.x - INSIDE * normal.y,
  };
  const out = lastCrossing(path, from, normal);
  return out === null ? null : { x: from.x + out * normal.x, y: from.y + out * normal.y };
}

/** Along the side of the plan, or, where the edge of the blank slopes against it, along that. */
function edgeDirection(side: PlanSide, ahead: Point | null, behind: Point | null, reach: Reach): Point {
  const along = { x: -side.normal.y, y: side.normal.x };
  if (ahead === null || behind === null) return along;
  const slope = (ahead.x - behind.x) * side.normal.x + (ahead.y - behind.y) * side.normal.y;
  if (Math.abs(slope) <= SNAP * reach.tolerance) return along;
  const length = Math.hypot(ahead.x - behind.x, ahead.y - behind.y);
  return { x: (ahead.x - behind.x) / length, y: (ahead.y - behind.y) / length };
}

/** The straight edge through a point of the line, or a little beside it where it then serves for longer. */
function bestEdge(path: Path, middle: Point, along: Point, reach: Reach): Line {
  const curve = samplesAlong(slicePath(path, middle, middle));
  const served = (line: Line): number => {
    const way = (list: readonly Point[]): number => {
      const end = list[Math.max(0, stretch(list, line, reach))]!;
      return Math.hypot(end.x - middle.x, end.y - middle.y);
    };
    return way(curve) + way([...curve].reverse());
  };
  const beside = (distance: number): Line => ({
    at: { x: middle.x - distance * along.y, y: middle.y + distance * along.x },
    along,
  });
  const shift = BESIDE * reach.tolerance;
  return [beside(0), beside(shift), beside(-shift)].reduce((best, line) =>
    served(line) > 1.1 * served(best) ? line : best,
  );
}

function meeting(a: Line, b: Line): Point | null {
  const cross = a.along.x * b.along.y - a.along.y * b.along.x;
  if (Math.abs(cross) < 0.05) return null;
  const t = ((b.at.x - a.at.x) * b.along.y - (b.at.y - a.at.y) * b.along.x) / cross;
  return { x: a.at.x + t * a.along.x, y: a.at.y + t * a.along.y };
}

/**
 * The straight edges of a line at a corner, in the corner's frame: where they meet is rounded, and a scribed one is
 * parallel to the edge of the blank, or is not used.
 */
function localLines(
  kind: MarkedKind,
  from: Line,
  to: Line,
  frame: Frame,
  { step }: Reach,
): Pick<RunLine, 'lead' | 'tail'> {
  const apex = meeting(from, to);
  if (apex === null) return { lead: null, tail: null };
  const at = kind === 'cut' ? { x: 0, y: 0 } : rounded(inFrame(apex, frame), step);
  const turned = ({ x, y }: Point): Point => {
    const [c, s] = [Math.cos(frame.angle), Math.sin(frame.angle)];
    return { x: c * x + s * y, y: c * y - s * x };
  };
  return { lead: { at, along: turned(from.along) }, tail: { at, along: turned(to.along) } };
}

/** Corners with the same curves, as they are or turned over, marked out once. */
function alikeTogether(runs: readonly Run[], reach: Reach): MarkedCorner[] {
  const groups: { run: Run; letters: string[]; turnedOver: string[]; along: string[] }[] = [];
  for (const run of runs) {
    const same = groups.find((group) => alike(group.run, run));
    const over = same ?? groups.find((group) => alike(group.run, turnedOverRun(run)));
    const [before, after] = run.edges;
    if (over === undefined) {
      groups.push({ run, letters: [...run.letters], turnedOver: [], along: [after] });
      continue;
    }
    (over === same ? over.letters : over.turnedOver).push(...run.letters);
    over.along.push(over === same ? after : before);
  }
  return groups.map(({ run, letters, turnedOver, along }) => ({
    frame: run.frame,
    letters,
    turnedOver,
    along: [...new Set(along)],
    lines: run.lines.map(({ kind, curve, lead, tail }) => ({
      kind,
      curve,
      apex: kind === 'cut' ? null : (lead?.at ?? null),
      pieces: struck(curve, lead, tail, reach),
    })),
  }));
}

function alike(a: Run, b: Run): boolean {
  return (
    a.lines.length === b.lines.length &&
    a.lines.every((line, i) => {
      const other = b.lines[i]!;
      return (
        line.kind === other.kind &&
        line.curve.length === other.curve.length &&
        line.curve.every(({ x, y }, k) => Math.hypot(x - other.curve[k]!.x, y - other.curve[k]!.y) <= ALIKE)
      );
    })
  );
}

/** The corner with its two edges in each other's place, at a right angle; the run backwards. */
const turnedOverRun = (run: Run): Run => ({
  ...run,
  lines: run.lines.map((line) => ({
    ...line,
    curve: [...line.curve]
      .reverse()
      .map(({ x, y, direction }) => ({ x: y, y: x, direction: -Math.PI / 2 - direction })),
  })),
});

const lowestLeft = (points: readonly Point[]): Point => ({
  x: Math.min(...points.map(({ x }) => x)),
  y: Math.min(...points.map(({ y }) => y)),
});

/** Length and width of a rectangle along the axes. */
function rectangleOf(points: readonly Point[], { step }: Reach): MarkedBlank['rectangle'] {
  if (points.length !== 4) return null;
  const { minX, minY, maxX, maxY } = pathBounds({
    vertices: points.map((point) => ({ ...point, bulge: 0 })),
    closed: true,
  });
  const onBox = ({ x, y }: Point): boolean =>
    Math.min(x - minX, maxX - x) < 1e-6 && Math.min(y - minY, maxY - y) < 1e-6;
  if (!points.every(onBox)) return null;
  return { length: roundTo(maxX - minX, step), width: roundTo(maxY - minY, step) };
}
