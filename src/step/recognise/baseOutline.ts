/** The outline of the flat base with what stands around it: open sides, mitres, holes. */
import type { Part } from '../part.ts';
import type { Surroundings } from './baseLoop.ts';
import { type BasePair, inFrame } from './basePair.ts';
import {
  isOnPiece,
  type OutlinePiece,
  outlineArea,
  outlineOf,
  pieceMiddle,
  pieceOf,
  type XY,
} from './planOutline.ts';

/** Of a side at a mitre, how much it reaches beyond its end per run: skin to skin, and over the bend of the part. */
export interface MitreSlope {
  readonly full: number;
  readonly actual: number;
}

export interface BaseOutline {
  readonly pieces: readonly OutlinePiece[];
  readonly holes: readonly (readonly OutlinePiece[])[];
  /** Number of the outer wire of the base's upper face. */
  readonly outer: number;
  /** Faces of the sheet's edge along open sides, and with them of wall ends that lie on the same plane. */
  readonly openFaces: readonly number[];
  readonly around: Surroundings;
  /** Filled while the mitres are asked for. */
  readonly gaps: readonly MitreSlope[];
}

/** null when an edge of the base is neither line nor arc. */
export function baseOutline(part: Part, base: BasePair, tolerance: number): BaseOutline | null {
  const face = part.faces[base.upper]!;
  const wires = face.wires.map((wire) =>
    outlineOf(
      wire.map((edge) => inPlan(part, base, edge)),
      tolerance,
    ),
  );
  if (wires.length === 0 || wires.some((wire) => wire === null)) return null;
  const outlines = wires as OutlinePiece[][];
  const areas = outlines.map(outlineArea);
  const outer = areas.indexOf(Math.max(...areas));
  const upper = new Set(face.wires[outer]!);
  const lower = new Set(part.faces[base.lower]!.wires.flat());
  const openFaces: number[] = [];
  const openEdges: OutlinePiece[] = [];
  for (const [number, { wires: own }] of part.faces.entries()) {
    if (number === base.upper || number === base.lower) continue;
    const edges = own.flat();
    const shared = edges.filter((edge) => upper.has(edge));
    if (shared.length === 0 || !edges.some((edge) => lower.has(edge))) continue;
    openFaces.push(number);
    for (const edge of shared) {
      const piece = pieceOf(inPlan(part, base, edge), tolerance);
      if (piece === null) return null;
      openEdges.push(piece);
    }
  }
  const gaps: MitreSlope[] = [];
  const ends = edgeEnds(part, base);
  return {
    pieces: outlines[outer]!,
    holes: outlines.filter((_, i) => i !== outer),
    outer,
    openFaces,
    gaps,
    around: {
      isOpen: (piece) => {
        const middle = pieceMiddle(piece);
        return openEdges.some((edge) => isOnPiece(edge, middle, tolerance));
      },
      isMitre: (at, before, after) => {
        const slopes = mitreSlopes(ends, at, before, after, tolerance);
        gaps.push(...slopes);
        return slopes.length > 0;
      },
    },
  };
}

function inPlan(part: Part, base: BasePair, edge: number): Float64Array {
  const { samples } = part.edges[edge]!;
  const out = new Float64Array((2 * samples.length) / 3);
  for (let i = 0; i < samples.length / 3; i++)
    out.set(inFrame(base.frame, samples, 3 * i).slice(0, 2), 2 * i);
  return out;
}

/** Where an edge of the part ends, off the base's upper face. */
interface EdgeEnd {
  /** In the base's frame; the height is that above the upper face. */
  readonly at: readonly [x: number, y: number, height: number];
  /** From there to its next point, seen from above. */
  readonly step: XY;
}

/** Both ends of all edges that do not bound the base. */
function edgeEnds(part: Part, base: BasePair): EdgeEnd[] {
  const onBase = new Set(part.faces[base.upper]!.wires.flat());
  return part.edges.flatMap(({ samples }, number) => {
    if (onBase.has(number)) return [];
    const last = samples.length - 3;
    const ends = [
      [0, 3],
      [last, last - 3],
    ] as const;
    return ends.map(([end, next]): EdgeEnd => {
      const [x, y, z] = inFrame(base.frame, samples, end);
      const [px, py] = inFrame(base.frame, samples, next);
      return { at: [x, y, z - base.thickness], step: [px - x, py - y] };
    });
  });
}

/** Edges that leave the base's corner up the bend, not square to either side; none where the corner is a sphere. */
function mitreSlopes(
  ends: readonly EdgeEnd[],
  at: XY,
  before: XY,
  after: XY,
  tolerance: number,
): MitreSlope[] {
  const turn = Math.atan2(
    before[0] * after[1] - before[1] * after[0],
    before[0] * after[0] + before[1] * after[1],
  );
  const full = Math.tan(turn / 2);
  const out: MitreSlope[] = [];
  for (const {
    at: [x, y, height],
    step,
  } of ends) {
    if (Math.hypot(x - at[0], y - at[1], height) > 10 * tolerance) continue;
    const [dx, dy] = step;
    if (Math.hypot(dx, dy) < 10 * tolerance) continue;
    // The reach of the side it belongs to: the nearer one in direction.
    const slope = (normal: XY, along: 1 | -1): number =>
      (along * (normal[0] * dy - normal[1] * dx)) / (normal[0] * dx + normal[1] * dy);
    const slopes = [slope(before, 1), slope(after, -1)];
    if (slopes.some((value) => Math.abs(value) < 1e-6)) continue;
    const actual = slopes.reduce((best, value) =>
      Math.abs(value - full) < Math.abs(best - full) ? value : best,
    );
    out.push({ full, actual });
  }
  return out;
}
