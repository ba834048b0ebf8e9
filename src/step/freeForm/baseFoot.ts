/** How far a flat point is from the base of the part. */
import { edgeMap, type SkinMesh } from './skinMesh.ts';

/**
 * The flat point of the base's edge nearest to a flat point; the middle of the whole when there is no plane base.
 *
 * @param flat x y per vertex of the net
 * @param base number of the plane face taken for the base, or −1
 */
export function baseFoot(
  mesh: SkinMesh,
  flat: Float64Array,
  base: number,
): (x: number, y: number) => [number, number] {
  const edges: [number, number, number, number][] = [];
  for (const uses of edgeMap(mesh.triangles, mesh.position.length / 3).values()) {
    const own = uses.filter((use) => mesh.face[Math.floor(use / 3)] === base);
    if (own.length !== 1) continue;
    const at = own[0]!;
    const [i, j] = [mesh.triangles[at]!, mesh.triangles[at % 3 === 2 ? at - 2 : at + 1]!];
    edges.push([flat[2 * i]!, flat[2 * i + 1]!, flat[2 * j]!, flat[2 * j + 1]!]);
  }
  if (edges.length === 0) {
    let [x, y] = [0, 0];
    for (let i = 0; i < flat.length; i += 2) {
      x += (2 * flat[i]!) / flat.length;
      y += (2 * flat[i + 1]!) / flat.length;
    }
    return () => [x, y];
  }
  return (x, y) => {
    let best = Infinity;
    let out: [number, number] = [x, y];
    for (const [ax, ay, bx, by] of edges) {
      const [dx, dy] = [bx - ax, by - ay];
      const s = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      const [px, py] = [ax + s * dx, ay + s * dy];
      const d = Math.hypot(x - px, y - py);
      if (d >= best) continue;
      best = d;
      out = [px, py];
    }
    return out;
  };
}
