/** How far apart two rims of one mesh lie. */
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Point } from '../geometry/path.ts';
import type { QuadraticMesh } from '../mesh/quadraticMesh.ts';

/**
 * How far outside a rim another one lies, along the normal of the first at each of its nodes, mm; negative inside.
 *
 * @param own   x y per node, mm
 * @param other the same of the other flat
 * @param shift by which the other one is moved first, mm
 */
export function rimDistances(
  { rim, mirrorLines }: QuadraticMesh,
  own: Float64Array,
  other: Float64Array,
  shift: Point = { x: 0, y: 0 },
): Float64Array {
  const closed = mirrorLines === null;
  const n = rim.length;
  const out = new Float64Array(n);
  for (const [i, node] of rim.entries()) {
    const before = rim[closed ? (i + n - 1) % n : Math.max(0, i - 1)]!;
    const after = rim[closed ? (i + 1) % n : Math.min(n - 1, i + 1)]!;
    const tx = own[2 * after]! - own[2 * before]!;
    const ty = own[2 * after + 1]! - own[2 * before + 1]!;
    const dx = other[2 * node]! - own[2 * node]! + shift.x;
    const dy = other[2 * node + 1]! - own[2 * node + 1]! + shift.y;
    out[i] = (dx * ty - dy * tx) / hypotenuse(tx, ty);
  }
  return out;
}
