/** Holes and scribe lines of a part, from its solved field. */

import { fitClosedPath } from '../../geometry/fit.ts';
import type { FlatField } from '../../geometry/flatField.ts';
import { distanceToPath, pathLength, reversePath } from '../../geometry/measure.ts';
import { offsetPath } from '../../geometry/offset.ts';
import type { Path } from '../../geometry/path.ts';
import type { Sheet } from '../../material/sheet.ts';
import { chains } from '../../mesh/quadraticMesh.ts';
import { fitSolvedLine } from '../../pattern/fittedLines.ts';
import { FlatFinder } from '../../pattern/flatFinder.ts';
import type { Hole, ScribeLine } from '../../pattern/flatPattern.ts';
import { type Scribed, scribed } from '../../pattern/scribed.ts';
import { circleAbout, holeWarnings } from '../../pattern/solvedHole.ts';
import type { TraySolution } from '../../solve/solveTray.ts';
import type { Statement } from '../../words/statement.ts';
import type { bendKinds } from './bendLines.ts';
import type { FaceBorder } from './faceBorders.ts';
import { type FilledHole, inFrame } from './filledHoles.ts';
import type { BorderEdge } from './partMesh.ts';
import type { TrayFrame } from './skin.ts';
import type { SolvedSkin } from './solvedSkin.ts';

/** Largest distance of a fitted hole from the mapped one, mm. */
const HOLE_TOLERANCE = 0.01;

/** Lines on which bends begin and end, in the blank; the base lies on their left. */
export function scribedLines(
  solution: TraySolution,
  edges: readonly BorderEdge[],
  found: readonly FaceBorder[],
  bends: ReturnType<typeof bendKinds>,
): Scribed {
  const rows = (['bend-begin', 'bend-end'] as const).map((kind) => {
    const next = new Map<number, [middle: number, to: number]>();
    for (const { border, nodes } of edges) {
      const bend = bends[found.indexOf(border)];
      if (bend?.kind !== kind) continue;
      const [from, middle, to] = bend.insideFirst ? nodes : [nodes[2], nodes[1], nodes[0]];
      next.set(from, [middle, to]);
    }
    return { kind, lines: chains(next) };
  });
  return scribed(solution, rows);
}

/**
 * Holes as they are cut, clockwise, the largest first.
 *
 * @param inset moved inwards by half the kerf when that is compensated, mm
 */
export function solvedHoles(
  { solution, part, filledHoles, frame }: SolvedSkin,
  field: FlatField,
  scribeLines: readonly ScribeLine[],
  sheet: Sheet,
  inset: number,
): { holes: Hole[]; warnings: Statement[] } {
  const lines = [
    ...part.holes.map((nodes) => meshedHole(solution, field, nodes)),
    ...filledHoles.map((hole) => mappedHole(field, frame, hole)),
  ].sort((a, b) => pathLength(b.path) - pathLength(a.path));
  const warnings: Statement[] = [];
  const holes = lines.map(({ path, points, strain }, number): Hole => {
    const name = String(number + 1);
    let distance = Infinity;
    // Of a round hole the path has two vertices only; its points are all round it.
    for (let i = 0; i < points.length; i += 2) {
      const point = { x: points[i]!, y: points[i + 1]! };
      for (const line of scribeLines) distance = Math.min(distance, distanceToPath(point, line.path));
    }
    warnings.push(...holeWarnings(name, { strain, distance, thickness: sheet.thickness }));
    const cut = inset === 0 ? path : offsetPath(path, -inset);
    return { name, path: reversePath(cut) };
  });
  return { holes, warnings };
}

interface HoleLine {
  /** Counter-clockwise. */
  readonly path: Path;
  /** x y of points all round it. */
  readonly points: Float64Array;
  /** Largest in-plane strain at its edge, logarithmic, without sign. */
  readonly strain: number;
}

/** A hole that the mesh has, from the nodes around it, clockwise. */
function meshedHole(solution: TraySolution, field: FlatField, nodes: Uint32Array): HoleLine {
  const points = Float64Array.from(
    [...nodes].flatMap((node) => [field.flat[2 * node]!, field.flat[2 * node + 1]!]),
  );
  let strain = 0;
  for (const node of nodes) {
    strain = Math.max(strain, Math.abs(field.majorStrain[node]!), Math.abs(field.minorStrain[node]!));
  }
  const path = circleThrough(points) ?? reversePath(fitSolvedLine(solution, { nodes, closed: true }));
  return { path, points, strain };
}

/** A hole in a plane that was solved whole. */
function mappedHole(field: FlatField, frame: TrayFrame, hole: FilledHole): HoleLine {
  const finder = new FlatFinder(field);
  const found = inFrame(hole, frame).map((point) => finder.find(point));
  const points = Float64Array.from(found.flatMap(({ x, y }) => [x, y]));
  const strain = Math.max(...found.map((each) => each.strain));
  const path =
    circleThrough(points) ?? fitClosedPath(points, { tolerance: HOLE_TOLERANCE, corners: hole.corners });
  return { path, points, strain };
}

/** The circle through solved points as two arcs, counter-clockwise, or null when they lie on none. */
function circleThrough(points: Float64Array): Path | null {
  const count = points.length / 2;
  let [cx, cy] = [0, 0];
  // The centre by the area and its middle: points need not stand at even distances.
  let twice = 0;
  for (let i = 0; i < count; i++) {
    const next = (i + 1) % count;
    const [ax, ay, bx, by] = [points[2 * i]!, points[2 * i + 1]!, points[2 * next]!, points[2 * next + 1]!];
    const cross = ax * by - ay * bx;
    twice += cross;
    cx += ((ax + bx) * cross) / 3;
    cy += ((ay + by) * cross) / 3;
  }
  return circleAbout(cx / twice, cy / twice, points);
}
