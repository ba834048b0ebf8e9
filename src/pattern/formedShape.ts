/** The finished tray as a mesh, its trim taken off: for pictures of it. */
import type { FlatField } from '../geometry/flatField.ts';
import { quadraticMesh } from '../mesh/quadraticMesh.ts';
import { midpoints, refine } from '../mesh/skeleton.ts';
import { findSymmetry, mirrorLinesOf, symmetryVertices } from '../mesh/symmetry.ts';
import { densityFor, traySkeleton } from '../mesh/traySkeleton.ts';
import { wholeFormed } from '../solve/wholeField.ts';
import { neutralSurface } from '../tray/neutralSurface.ts';
import { rimCorners } from './corners.ts';
import type { FlatPattern } from './flatPattern.ts';

/** The neutral surface of a formed tray; nodes as in `FlatField`. */
export type FormedShape = Pick<FlatField, 'formed' | 'triangles' | 'rimNodes' | 'rimCorner'>;

/** The shape that is left when the trim is off. A part's walls carry no trim, nor do those of a tray without. */
export function formedShape({ kind, spec, field }: FlatPattern): FormedShape {
  if (kind === 'part' || spec.forming.trim === 0) return field;
  const surface = neutralSurface(spec);
  const symmetry = findSymmetry(symmetryVertices(spec), surface.loop, null);
  const coarse = traySkeleton(surface, symmetry, densityFor(surface));
  const fine = refine(coarse, midpoints(coarse));
  const lines = symmetry === null ? null : mirrorLinesOf(symmetry);
  const shape = wholeFormed(quadraticMesh(fine, midpoints(fine), lines));
  return { ...shape, rimCorner: rimCorners(shape, surface) };
}

/** Places in the list of rim nodes by the corner they belong to. */
export function rimPlaces(rimCorner: ArrayLike<number>): ReadonlyMap<number, readonly number[]> {
  const places = new Map<number, number[]>();
  for (let i = 0; i < rimCorner.length; i++) {
    const corner = rimCorner[i]!;
    if (corner >= 0) places.set(corner, [...(places.get(corner) ?? []), i]);
  }
  return places;
}
