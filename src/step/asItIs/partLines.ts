/** Holes and scribe lines of a part, from its solved field. */
import type { Sheet } from '../../material/sheet.ts';
import { chains } from '../../mesh/quadraticMesh.ts';
import { distanceToPath, reversePath } from '../../outline/measure.ts';
import { offsetPath } from '../../outline/offset.ts';
import type { Path } from '../../outline/path.ts';
import type { Hole, ScribeLine } from '../../pattern/flatPattern.ts';
import { fitSolvedLine, fitSolvedRow } from '../../pattern/lines.ts';
import { circleAbout, holeWarnings } from '../../pattern/solvedHole.ts';
import type { FlatField } from '../../solve/flatField.ts';
import type { TraySolution } from '../../solve/solveTray.ts';
import { english } from '../../words/english.ts';
import type { bendKinds } from './bendLines.ts';
import type { FaceBorder } from './faceBorders.ts';
import type { BorderEdge } from './partMesh.ts';

/** Lines on which bends begin and end, in the blank; the base lies on their left. */
export function scribedLines(
  solution: TraySolution,
  edges: readonly BorderEdge[],
  found: readonly FaceBorder[],
  bends: ReturnType<typeof bendKinds>,
): ScribeLine[] {
  return (['bend-begin', 'bend-end'] as const).flatMap((kind) => {
    const next = new Map<number, [middle: number, to: number]>();
    for (const { border, nodes } of edges) {
      const bend = bends[found.indexOf(border)];
      if (bend?.kind !== kind) continue;
      const [from, middle, to] = bend.insideFirst ? nodes : [nodes[2], nodes[1], nodes[0]];
      next.set(from, [middle, to]);
    }
    return fitSolvedRow(solution, chains(next)).map((path) => ({ kind, path }));
  });
}

/**
 * Holes as they are cut, clockwise.
 *
 * @param rings nodes around each hole, clockwise
 * @param inset moved inwards by half the kerf when that is compensated, mm
 */
export function solvedHoles(
  solution: TraySolution,
  field: FlatField,
  rings: readonly Uint32Array[],
  scribeLines: readonly ScribeLine[],
  sheet: Sheet,
  inset: number,
): { holes: Hole[]; warnings: string[] } {
  const warnings: string[] = [];
  const holes = rings.map((nodes, number): Hole => {
    const name = String(number + 1);
    const net =
      circleThrough(field.flat, nodes) ?? reversePath(fitSolvedLine(solution, { nodes, closed: true }));
    let strain = 0;
    for (const node of nodes) {
      strain = Math.max(strain, Math.abs(field.majorStrain[node]!), Math.abs(field.minorStrain[node]!));
    }
    const points = net.vertices;
    const distance = Math.min(
      ...scribeLines.flatMap(({ path }) => points.map((point) => distanceToPath(point, path))),
    );
    warnings.push(...holeWarnings(name, { strain, distance, thickness: sheet.thickness }, english));
    const cut = inset === 0 ? net : offsetPath(net, -inset);
    return { name, path: reversePath(cut) };
  });
  return { holes, warnings };
}

/** The circle through solved nodes as two arcs, counter-clockwise, or null when they lie on none. */
function circleThrough(flat: Float64Array, nodes: Uint32Array): Path | null {
  let [cx, cy] = [0, 0];
  // The centre by the area and its middle: nodes need not stand at even distances.
  let twice = 0;
  for (const [i, node] of nodes.entries()) {
    const next = nodes[(i + 1) % nodes.length]!;
    const [ax, ay, bx, by] = [flat[2 * node]!, flat[2 * node + 1]!, flat[2 * next]!, flat[2 * next + 1]!];
    const cross = ax * by - ay * bx;
    twice += cross;
    cx += ((ax + bx) * cross) / 3;
    cy += ((ay + by) * cross) / 3;
  }
  cx /= twice;
  cy /= twice;
  return circleAbout(
    cx,
    cy,
    Float64Array.from([...nodes].flatMap((node) => [flat[2 * node]!, flat[2 * node + 1]!])),
  );
}
