/** Holes in the straight walls of a part. */
import type { Part } from '../part.ts';
import { type BasePair, inFrame } from './basePair.ts';
import type { FoundSection } from './foundProfile.ts';
import { alongSide, type FoundSide, runFromSegment } from './foundSegments.ts';
import { type FoundHole, foundHole } from './holes.ts';
import { type OutlinePiece, outlineOf } from './planOutline.ts';

/** A plane face with holes in it, and which of its wires goes round the outside. */
export interface HoledFace {
  readonly face: number;
  readonly outer: number;
}

/** A hole, its outline in mm along the side from its start and up the wall from its start. */
export interface WallHole {
  readonly side: FoundSide;
  readonly hole: FoundHole;
  readonly outline: readonly OutlinePiece[];
}

/** Faces that share an edge with a hole in a face. */
export function holeFaces(part: Part, of: number, outer: number): number[] {
  const edges = new Set(part.faces[of]!.wires.flatMap((wire, i) => (i === outer ? [] : wire)));
  return [...part.faces.entries()]
    .filter(([number, face]) => number !== of && face.wires.flat().some((edge) => edges.has(edge)))
    .map(([number]) => number);
}

/** Plane upright or leaning faces with more than one boundary. */
export function wallsWithHoles(part: Part, base: BasePair, skip: ReadonlySet<number>): HoledFace[] {
  return [...part.faces.entries()].flatMap(([face, { wires, normals }]) => {
    if (skip.has(face) || wires.length < 2) return [];
    const [nx, ny, nz] = [normals[0]!, normals[1]!, normals[2]!];
    for (let i = 0; i < normals.length; i += 3) {
      if (nx * normals[i]! + ny * normals[i + 1]! + nz * normals[i + 2]! < 1 - 1e-9) return [];
    }
    const { z } = base.frame;
    // A flat rim is a ring as well.
    if (Math.abs(nx * z[0]! + ny * z[1]! + nz * z[2]!) > 1 - 1e-9) return [];
    const sizes = wires.map((wire) => sizeOf(part, wire));
    return [{ face, outer: sizes.indexOf(Math.max(...sizes)) }];
  });
}

/** Diagonal of the box round a wire. */
function sizeOf(part: Part, wire: readonly number[]): number {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (const edge of wire) {
    for (const [i, value] of part.edges[edge]!.samples.entries()) {
      low[i % 3] = Math.min(low[i % 3]!, value);
      high[i % 3] = Math.max(high[i % 3]!, value);
    }
  }
  return Math.hypot(...low.map((value, k) => high[k]! - value));
}

/** The holes of the upper skin's walls; null when one is of no shape a tray file names. */
export function foundWallHoles(
  part: Part,
  base: BasePair,
  { profile, walls }: FoundSection,
  holed: readonly HoledFace[],
  tolerance: number,
): WallHole[] | null {
  const out: WallHole[] = [];
  const foot = profile.points[1]!;
  for (const { face, outer } of holed) {
    const segment = walls.find((wall) => wall.face === face)?.segment ?? null;
    if (segment === null) continue;
    if (segment.kind !== 'side') return null;
    for (const [i, wire] of part.faces[face]!.wires.entries()) {
      if (i === outer) continue;
      const edges = wire.map((edge) => {
        const { samples } = part.edges[edge]!;
        const flat = new Float64Array((2 * samples.length) / 3);
        for (let k = 0; k < samples.length / 3; k++) {
          const [x, y, height] = inFrame(base.frame, samples, 3 * k);
          const run = runFromSegment(segment, x, y);
          flat.set([alongSide(segment, x, y), Math.hypot(run - foot.run, height - foot.height)], 2 * k);
        }
        return flat;
      });
      const outline = outlineOf(edges, tolerance);
      const hole = outline === null ? null : foundHole(outline);
      if (outline === null || hole === null) return null;
      out.push({ side: segment, hole, outline });
    }
  }
  return out;
}
