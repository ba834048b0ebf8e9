/** From solved nodes to lines and arcs: the rim, and the lines on which bends begin and end. */
import type { MirrorLines, SectionLine } from '../mesh/quadraticMesh.ts';
import { fitClosedPath, fitPath } from '../outline/fit.ts';
import { mirrorJoin } from '../outline/mirror.ts';
import type { Path } from '../outline/path.ts';
import type { TraySolution } from '../solve/solveTray.ts';

/** Largest distance of a fitted line from the solved one, mm. */
export const OUTLINE_TOLERANCE = 0.02;
/** A turn of more than this between two edges is a corner, not a curve; radians. */
const CORNER_TURN = 0.35;

/** A line through solved nodes as tangent-continuous lines and arcs, over the whole blank. */
export function fitSolvedLine(solution: TraySolution, line: Pick<SectionLine, 'nodes' | 'closed'>): Path {
  const { mesh, flat } = solution;
  const points = new Float64Array(2 * line.nodes.length);
  for (const [i, node] of line.nodes.entries()) {
    points[2 * i] = flat[2 * node]!;
    points[2 * i + 1] = flat[2 * node + 1]!;
  }
  const first = line.nodes[0]!;
  const last = line.nodes[line.nodes.length - 1]!;
  const onLines = mesh.mirrorLines !== null && mesh.mirror[first] !== 0 && mesh.mirror[last] !== 0;
  if (mesh.mirrorLines !== null && onLines) return fitMirrored(points, mesh.mirrorLines);
  const turns = sharpTurns(points, line.closed);
  if (line.closed) return fitClosedPath(points, { tolerance: OUTLINE_TOLERANCE, corners: turns });
  return fitPieces(points, turns, undefined, undefined);
}

function fitMirrored(points: Float64Array, lines: MirrorLines): Path {
  const piece = fitPieces(
    points,
    sharpTurns(points, false),
    lines.firstAngle + Math.PI / 2,
    lines.lastAngle + Math.PI / 2,
  );
  return mirrorJoin(piece, lines);
}

/** Fits an open line, letting the tangent break at its sharp turns. */
function fitPieces(
  points: Float64Array,
  turns: readonly number[],
  startTangent: number | undefined,
  endTangent: number | undefined,
): Path {
  const stops = [0, ...turns, points.length / 2 - 1];
  const vertices: Path['vertices'][number][] = [];
  for (let k = 0; k + 1 < stops.length; k++) {
    const piece = fitPath(points.slice(2 * stops[k]!, 2 * stops[k + 1]! + 2), {
      tolerance: OUTLINE_TOLERANCE,
      ...(k === 0 && startTangent !== undefined ? { startTangent } : {}),
      ...(k + 2 === stops.length && endTangent !== undefined ? { endTangent } : {}),
    });
    vertices.push(...(k + 2 === stops.length ? piece.vertices : piece.vertices.slice(0, -1)));
  }
  return { vertices, closed: false };
}

/** Numbers of the points at which a chain turns sharply. */
function sharpTurns(points: Float64Array, closed: boolean): number[] {
  const count = points.length / 2;
  const turns: number[] = [];
  for (let i = closed ? 0 : 1; i < (closed ? count : count - 1); i++) {
    const before = (i + count - 1) % count;
    const after = (i + 1) % count;
    const ax = points[2 * i]! - points[2 * before]!;
    const ay = points[2 * i + 1]! - points[2 * before + 1]!;
    const bx = points[2 * after]! - points[2 * i]!;
    const by = points[2 * after + 1]! - points[2 * i + 1]!;
    if (Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) > CORNER_TURN) turns.push(i);
  }
  return turns;
}
