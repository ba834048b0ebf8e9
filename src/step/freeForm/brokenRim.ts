/** Whether the sheet ends where its skin does, or where the middle of its edge is: else it is chamfered or rounded. */
import { distance, dot, vectorAt } from '../../geometry/vector3.ts';
import { edgeMap, type Stitched } from './skinMesh.ts';

/** A rim that leans further from square than this counts as broken, as the sine of the angle: 20°. */
const SLANT = Math.sin((20 * Math.PI) / 180);

/** Part of the edge that may lean, for what a net has of rounding at its corners. */
const FEW = 0.01;

/**
 * Whether a skin ends at chamfers or roundings: then it is shorter than the sheet.
 *
 * @param skin    numbers of its faces
 * @param through of the faces that go from skin to skin: where these slant, the middle of the sheet is known
 */
export function rimIsBroken(
  { mesh, normals }: Stitched,
  skin: ReadonlySet<number>,
  through: ReadonlySet<number>,
): boolean {
  const { triangles, position, face } = mesh;
  let whole = 0;
  let slanted = 0;
  for (const uses of edgeMap(triangles, position.length / 3).values()) {
    if (uses.length !== 2) continue;
    const [t, s] = uses.map((use) => Math.floor(use / 3)) as [number, number];
    if (skin.has(face[t]!) === skin.has(face[s]!)) continue;
    const [from, to] = [uses[0]!, uses[0]! % 3 === 2 ? uses[0]! - 2 : uses[0]! + 1];
    const length = distance(vectorAt(position, 3 * triangles[to]!), vectorAt(position, 3 * triangles[from]!));
    const other = [0, 1, 2].find((k) => triangles[3 * s + k] === triangles[from]!)!;
    const cosine = dot(vectorAt(normals, 3 * from), vectorAt(normals, 9 * s + 3 * other));
    whole += length;
    const beside = skin.has(face[t]!) ? face[s]! : face[t]!;
    if (Math.abs(cosine) > SLANT && !through.has(beside)) slanted += length;
  }
  return slanted > FEW * whole;
}
