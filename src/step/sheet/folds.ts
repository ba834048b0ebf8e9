/** Hems and rolled edges: one sheet, but folded back so closely that no way of working it by hand is told here. */

import type { SheetFaces } from './accounting.ts';
import { refuseOdd } from './oddRegion.ts';
import { FACING, Rays } from './throughMaterial.ts';

/** A skin that faces itself over a gap narrower than so many thicknesses is folded back (common practice, no source). */
const GAP = 4;

/** @throws GatherpanError NOT_MAKEABLE with the place of a fold */
export function refuseFolds({ stitched: { mesh }, probes, inner, outer, thickness }: SheetFaces): void {
  const rays = new Rays(mesh);
  for (const { face, at, into } of probes) {
    const skin = inner.has(face) ? inner : outer.has(face) ? outer : null;
    if (skin === null) continue;
    const hit = rays.entering(
      at,
      into.map((value) => -value),
    );
    if (hit === null || hit.cosine < FACING || hit.along > GAP * thickness) continue;
    if (!skin.has(mesh.face[hit.triangle]!)) continue;
    refuseOdd('fold', '', at);
  }
}
