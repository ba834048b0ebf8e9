/** What is told of a part's sheet between the steps of solving it as it is. */
import type { Vector3 } from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { SkinMesh } from './skinMesh.ts';

export interface Skin {
  /** Seen from the inside of the tray. */
  readonly mesh: SkinMesh;
  /** Whether the kernel's normals of these faces point the other way. */
  readonly turned: boolean;
  /** mm; the part's own, or the one given for a surface. */
  readonly thickness: number;
  /** How far below the skin the neutral surface lies, mm. */
  readonly depth: number;
  /** Whether the sheet's edge is chamfered or rounded, so that the skin is not as long as the sheet. */
  readonly rimBroken: boolean;
  /** Faces of the sheet's edge by the kernel edges they have in common with the skin, see `sheetEdge.ts`. */
  readonly edgeFaces: ReadonlyMap<number, number>;
  /** Where faces go on over holes that are filled. */
  readonly bridges: readonly Bridge[];
}

export type Parameters = readonly [u: number, v: number];

/** A straight line by the parameters of a face, on which the face goes on over a hole until it meets another. */
export interface Bridge {
  readonly face: number;
  readonly from: Parameters;
  readonly to: Parameters;
}

/** The frame of the tray in the part's space: z up, out of the base. */
export interface TrayFrame {
  readonly axes: readonly Vector3[];
  readonly origin: Vector3;
  /** Number of the plane face taken for the base, or −1. */
  readonly base: number;
}

/** A part with the skin that is unfolded and the frame in which it is a tray. */
export interface PartSkin {
  readonly live: LivePart;
  readonly skin: Skin;
  readonly frame: TrayFrame;
}

/** A point by the parameters of one of the part's faces. */
export interface PartPlace {
  readonly face: number;
  readonly u: number;
  readonly v: number;
}

/** The place in a triangle of a net, by the shares of its corners. */
export function placeIn(
  { face, parameters }: SkinMesh,
  triangle: number,
  shares: readonly [number, number, number],
): PartPlace {
  const at = (axis: 0 | 1): number =>
    shares.reduce((sum, share, k) => sum + share * parameters[6 * triangle + 2 * k + axis]!, 0);
  return { face: face[triangle]!, u: at(0), v: at(1) };
}
