/** A folded sheet up to its six-node triangles: what the steps before `partMesh` make of it, its first flat laid out by its lengths. */
import { boundaryBreaks } from '../../../src/step/freeForm/boundaryEdges.ts';
import { faceBorders } from '../../../src/step/freeForm/faceBorders.ts';
import { type FlatAtlas, flatAtlas } from '../../../src/step/freeForm/flatAtlas.ts';
import { type PartMesh, partMesh } from '../../../src/step/freeForm/partMesh.ts';
import type { PartSkin, Skin } from '../../../src/step/freeForm/skin.ts';
import { skinCurves } from '../../../src/step/freeForm/skinCurves.ts';
import { boundaryLoops } from '../../../src/step/freeForm/skinMesh.ts';
import { trayFrame } from '../../../src/step/freeForm/trayFrame.ts';
import { laidOut, livePart, type Patch, skinOf } from './patches.ts';

export interface Meshed extends PartSkin {
  readonly flat: Float64Array;
  readonly jumps: ReturnType<typeof faceBorders>;
  readonly atlas: FlatAtlas;
  /** Triangles with edges of a length, mm. */
  mesh(size: number): PartMesh;
}

/**
 * @param own   of its skin
 * @param along flat x of a length along the section of the skin
 */
export function meshed(
  patches: readonly Patch[],
  own: Partial<Skin> = {},
  along: (length: number) => number = (length) => length,
): Meshed {
  const live = livePart(patches);
  const skin = skinOf(live, own);
  const part: PartSkin = { live, skin, frame: trayFrame(live, skin) };
  const flat = laidOut(skin, patches).map((value, i) => (i % 2 === 0 ? along(value) : value));
  const atlas = flatAtlas(part, flat);
  const jumps = faceBorders(live, skin);
  const breaks = boundaryBreaks(live, skin, boundaryLoops(skin.mesh));
  const curves = skinCurves(skin, flat, jumps, breaks);
  return { ...part, flat, jumps, atlas, mesh: (size) => partMesh(part, atlas, curves, () => size) };
}
