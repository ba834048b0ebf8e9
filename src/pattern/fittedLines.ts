/** From solved nodes to lines and arcs: the rim, and the lines on which bends begin and end. */
import { ifMakeable } from '../errors.ts';
import { wrapAngle } from '../geometry/arc.ts';
import { eased } from '../geometry/ease.ts';
import { fitClosedPath, fitPath } from '../geometry/fit.ts';
import { mirrorJoin } from '../geometry/mirror.ts';
import { type Path, SHORTEST_PIECE, type Vertex } from '../geometry/path.ts';
import { bulgeBetween, crossingNear, planEdge } from '../geometry/planEdges.ts';
import { tangentOf } from '../geometry/rimCurve.ts';
import { chains, type MirrorLines, type SectionLine } from '../mesh/quadraticMesh.ts';
import { mapPoint, unfolding } from '../mesh/unfold.ts';
import type { TraySolution } from '../solve/solveTray.ts';
import { pointArcsAsCorners } from './pointArcs.ts';

/** Largest distance of a fitted line from the solved one, mm. */
export const OUTLINE_TOLERANCE = 0.02;
/** The same for a line that is only scribed: a scriber and a square do no better. */
export const SCRIBE_TOLERANCE = 0.05;
/** A turn of more than this between two edges is a corner, not a curve; radians. */
const CORNER_TURN = 0.35;
/**
 * A smaller turn is one too where the parabolas of two edges meet at more than this angle, radians, and their other
 * ends are smooth by comparison: where a rim of one height runs out to another, say. Arcs without a break there
 * would swing about the line.
 */
const CORNER_BREAK = 0.03;
const ABOVE_NEIGHBOURS = 5;
/** Shortest piece where a line has bends too short for `SHORTEST_PIECE`, mm: about a corner of the base, say. */
export const LEAST_PIECE = SHORTEST_PIECE / 4;
/** Share of the tolerance in which corners are rounded where they turn by little. Beside them the fit is close. */
const EASE_SHARE = 0.75;

/**
 * A line around the tray through solved nodes as tangent-continuous lines and arcs, over the whole blank: closed,
 * or from mirror line to mirror line.
 */
export function fitSolvedLine(
  solution: TraySolution,
  line: Pick<SectionLine, 'nodes' | 'closed'>,
  tolerance: number = OUTLINE_TOLERANCE,
): Path {
  const points = pointsOf(solution.flat, line.nodes);
  return spansWedge(solution, line)
    ? fitAround(solution, points, tolerance)
    : fitPlain(points, line.closed, tolerance);
}

/**
 * The closed line around the whole blank through points in the place of solved nodes, corners and middles in turn: all
 * round, the first not repeated, or from mirror line to mirror line.
 */
export const fitAround = (
  { mesh }: TraySolution,
  points: Float64Array,
  tolerance: number = OUTLINE_TOLERANCE,
): Path =>
  mesh.mirrorLines === null
    ? fitPlain(points, true, tolerance)
    : fitMirrored(points, mesh.mirrorLines, tolerance);

/** Scribed lines, and how many more there are that no lines and arcs follow. */
export interface ScribedRow {
  readonly paths: readonly Path[];
  readonly leftOut: number;
}

/**
 * The lines of one row of the section over the whole blank. Those that end at a free edge are open; their parts
 * in the mirror images are joined to them where they meet on a mirror line. A line that cannot be fitted is left
 * out: the blank is right without it.
 */
export function fitSolvedRow(
  solution: TraySolution,
  lines: readonly Pick<SectionLine, 'nodes' | 'closed'>[],
): ScribedRow {
  const { mesh, flat } = solution;
  const { mirrorLines } = mesh;
  const paths: Path[] = [];
  let leftOut = 0;
  const add = (fitted: () => Path): void => {
    const path = ifMakeable(fitted);
    if (path === null) leftOut++;
    else paths.push(path);
  };
  const whole = lines.filter((line) => mirrorLines === null || spansWedge(solution, line));
  const parts = lines.filter((line) => !whole.includes(line));
  for (const line of whole) add(() => fitSolvedLine(solution, line, SCRIBE_TOLERANCE));
  if (mirrorLines === null || parts.length === 0) return { paths, leftOut };
  const copies = Math.round((2 * Math.PI) / (mirrorLines.lastAngle - mirrorLines.firstAngle));
  const { maps, numbers, vertexCount } = unfolding(mesh.mirror, mirrorLines, copies);
  const wholeFlat = new Float64Array(2 * vertexCount);
  const next = new Map<number, [middle: number, to: number]>();
  for (const [copy, map] of maps.entries()) {
    const own = numbers[copy]!;
    for (const { nodes } of parts) {
      for (const node of nodes) {
        const into = 2 * own[node]!;
        wholeFlat[into] = flat[2 * node]!;
        wholeFlat[into + 1] = flat[2 * node + 1]!;
        mapPoint(map, wholeFlat, into);
      }
      for (let i = 1; i < nodes.length; i += 2) {
        const [a, b] = [own[nodes[i - 1]!]!, own[nodes[(i + 1) % nodes.length]!]!];
        // A reflected part runs the other way round.
        next.set(map.mirrored ? b : a, [own[nodes[i]!]!, map.mirrored ? a : b]);
      }
    }
  }
  for (const { nodes, closed } of chains(next))
    add(() => fitPlain(pointsOf(wholeFlat, nodes), closed, SCRIBE_TOLERANCE));
  return { paths, leftOut };
}

/** True for a line that runs from one mirror line to the other, so that its images close it up. */
function spansWedge({ mesh }: TraySolution, { nodes }: Pick<SectionLine, 'nodes'>): boolean {
  if (mesh.mirrorLines === null) return false;
  return mesh.mirror[nodes[0]!] !== 0 && mesh.mirror[nodes[nodes.length - 1]!] !== 0;
}

function pointsOf(flat: Float64Array, nodes: Uint32Array): Float64Array {
  const points = new Float64Array(2 * nodes.length);
  for (const [i, node] of nodes.entries()) {
    points[2 * i] = flat[2 * node]!;
    points[2 * i + 1] = flat[2 * node + 1]!;
  }
  return points;
}

function fitPlain(nodes: Float64Array, closed: boolean, tolerance: number): Path {
  const { points } = pointArcsAsCorners(nodes, closed, null, tolerance, CORNER_TURN);
  const turns = sharpTurns(points, closed);
  const path = closed
    ? fitClosedPath(points, { tolerance, leastLength: LEAST_PIECE, between: 'quadratic', corners: turns })
    : fitPieces(points, turns, tolerance, undefined, undefined);
  return eased(path, EASE_SHARE * tolerance, SHORTEST_PIECE);
}

function fitMirrored(nodes: Float64Array, lines: MirrorLines, tolerance: number): Path {
  const tangents = { start: lines.firstAngle + Math.PI / 2, end: lines.lastAngle + Math.PI / 2 };
  const line = pointArcsAsCorners(nodes, false, tangents, tolerance, CORNER_TURN);
  const piece = fitPieces(
    line.points,
    sharpTurns(line.points, false),
    tolerance,
    line.cornerAtStart ? undefined : tangents.start,
    line.cornerAtEnd ? undefined : tangents.end,
  );
  return mirrorJoin(eased(piece, EASE_SHARE * tolerance, SHORTEST_PIECE), lines);
}

/** Fits an open line, letting the tangent break at its sharp turns. */
function fitPieces(
  points: Float64Array,
  turns: readonly number[],
  tolerance: number,
  startTangent: number | undefined,
  endTangent: number | undefined,
): Path {
  const stops = [0, ...turns, points.length / 2 - 1];
  let vertices: Vertex[] = [];
  for (let k = 0; k + 1 < stops.length; k++) {
    const piece = fitPath(points.slice(2 * stops[k]!, 2 * stops[k + 1]! + 2), {
      tolerance,
      leastLength: LEAST_PIECE,
      // The samples are the nodes of quadratic edges: corner, middle, corner, …
      between: 'quadratic',
      ...(k === 0 && startTangent !== undefined ? { startTangent } : {}),
      ...(k + 2 === stops.length && endTangent !== undefined ? { endTangent } : {}),
    });
    vertices = k === 0 ? [...piece.vertices] : joinedAtCorner(vertices, piece.vertices);
  }
  return { vertices, closed: false };
}

/**
 * Two open rows of lines and arcs that meet at a sharp corner, lengthened or shortened to where they cross: a
 * line of known direction ends beside the corner's sample, not on it.
 */
function joinedAtCorner(before: readonly Vertex[], after: readonly Vertex[]): Vertex[] {
  const last = before.length - 1;
  const a = planEdge(before[last - 1]!, before[last]!);
  const b = planEdge(after[0]!, after[1]!);
  const [x, y] = crossingNear({ edge: a, left: 0 }, { edge: b, left: 0 }, after[0]!) ?? [
    after[0]!.x,
    after[0]!.y,
  ];
  const corner = { x, y };
  return [
    ...before.slice(0, last - 1),
    { ...before[last - 1]!, bulge: bulgeBetween(a, before[last - 1]!, corner) },
    { ...corner, bulge: bulgeBetween(b, corner, after[1]!) },
    ...after.slice(1),
  ];
}

/** Numbers of the points at which a chain turns sharply. */
function sharpTurns(points: Float64Array, closed: boolean): number[] {
  const count = points.length / 2;
  const turns: number[] = [];
  // Edges are smooth in their middles, so only their ends, the even points, can be corners.
  for (let i = closed ? 0 : 2; i < (closed ? count : count - 1); i += 2) {
    const before = (i + count - 1) % count;
    const after = (i + 1) % count;
    const ax = points[2 * i]! - points[2 * before]!;
    const ay = points[2 * i + 1]! - points[2 * before + 1]!;
    const bx = points[2 * after]! - points[2 * i]!;
    const by = points[2 * after + 1]! - points[2 * i + 1]!;
    const turn = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
    if (turn > CORNER_TURN || isBreak(points, closed, i)) turns.push(i);
  }
  return turns;
}

/** Whether the parabolas on both sides of a point meet at an angle that those beside them do not have. */
function isBreak(points: Float64Array, closed: boolean, i: number): boolean {
  const own = breakAt(points, closed, i);
  return (
    own > CORNER_BREAK &&
    own > ABOVE_NEIGHBOURS * breakAt(points, closed, i - 2) &&
    own > ABOVE_NEIGHBOURS * breakAt(points, closed, i + 2)
  );
}

/** Angle between the tangents of the two parabolas that meet at a point, radians; 0 at the ends of an open chain. */
function breakAt(points: Float64Array, closed: boolean, i: number): number {
  const count = points.length / 2;
  if (!closed && (i < 2 || i > count - 3)) return 0;
  return Math.abs(wrapAngle(tangentOf(points, i, 1) - tangentOf(points, i, -1)));
}
