/** Holes and scribe lines of a part, from its solved field. */
import type { Sheet } from '../../material/sheet.ts';
import { chains } from '../../mesh/quadraticMesh.ts';
import { distanceToPiece } from '../../outline/arc.ts';
import { pathArea, reversePath } from '../../outline/measure.ts';
import { offsetPath } from '../../outline/offset.ts';
import type { Path, Vertex } from '../../outline/path.ts';
import type { Hole, ScribeLine } from '../../pattern/flatPattern.ts';
import { fitSolvedLine, fitSolvedRow } from '../../pattern/lines.ts';
import type { FlatField } from '../../solve/flatField.ts';
import type { TraySolution } from '../../solve/solveTray.ts';
import { percentFromLogStrain } from '../../units.ts';
import type { bendKinds } from './bendLines.ts';
import type { FaceBorder } from './faceBorders.ts';
import type { BorderEdge } from './partMesh.ts';

/** A solved hole that is a circle within this is written as one, mm. */
const ROUND_WITHIN = 0.02;
/** Strain at a hole's edge above which its shape will not come out true (common practice, no source). */
const TRUE_WITHIN_STRAIN = 0.02;
/** Fewest sheet thicknesses between a hole and a bend (common practice, no source). */
const THICKNESSES_TO_BEND = 2;

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
    if (strain > TRUE_WITHIN_STRAIN) {
      warnings.push(
        `The hole ${name} lies where the metal is strained by ${percentFromLogStrain(strain).toFixed(0)} %: its ` +
          'place comes out right but its shape will distort in the forming; drill it afterwards, or move it.',
      );
    }
    const distance = Math.min(...scribeLines.map(({ path }) => apart(net, path)));
    if (distance < THICKNESSES_TO_BEND * sheet.thickness) {
      warnings.push(
        `The hole ${name} is ${distance.toFixed(1)} mm from a bend, less than ${THICKNESSES_TO_BEND} sheet ` +
          `thicknesses (${(THICKNESSES_TO_BEND * sheet.thickness).toFixed(1)} mm): its edge will pull out of shape.`,
      );
    }
    const cut = inset === 0 ? net : offsetPath(net, -inset);
    return { name, path: reversePath(cut) };
  });
  return { holes, warnings };
}

/** Smallest distance of the vertices of one path from another, mm. */
const apart = (from: Path, to: Path): number =>
  Math.min(
    ...from.vertices.map(({ x, y }) => {
      const { vertices, closed } = to;
      const pieces = closed ? vertices.length : vertices.length - 1;
      return Math.min(
        ...Array.from({ length: pieces }, (_, i) =>
          distanceToPiece(x, y, vertices[i]!, vertices[(i + 1) % vertices.length]!),
        ),
      );
    }),
  );

/** The circle through solved nodes as two arcs, counter-clockwise, or null when they lie on none. */
function circleThrough(flat: Float64Array, nodes: Uint32Array): Path | null {
  let [cx, cy] = [0, 0];
  // Centre and radius by the area and its middle: nodes need not stand at even distances.
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
  const radii = Array.from(nodes, (node) => Math.hypot(flat[2 * node]! - cx, flat[2 * node + 1]! - cy));
  const radius = radii.reduce((sum, value) => sum + value / radii.length, 0);
  if (radii.some((value) => Math.abs(value - radius) > ROUND_WITHIN)) return null;
  const vertices: Vertex[] = [
    { x: cx + radius, y: cy, bulge: 1 },
    { x: cx - radius, y: cy, bulge: 1 },
  ];
  const path = { vertices, closed: true };
  return pathArea(path) > 0 ? path : reversePath(path);
}
