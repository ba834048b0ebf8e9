/**
 * Where bends begin and end on a part: the edges between faces of the skin at which the curvature across the edge
 * changes by a jump, as far as they run around the base and not away from it (those bound a corner, no bend).
 */
import { baseFoot } from './baseFoot.ts';
import { borderLength, type FaceBorder } from './faceBorders.ts';
import type { Skin } from './skin.ts';

export type BendKind = 'bend-begin' | 'bend-end';

/** Curvature that is none, as a share of the one on the other side. */
const STRAIGHT = 0.02;

/**
 * What begins or ends at each border; null where nothing does.
 *
 * @param flat x y per vertex of the skin's net: the first flat shape
 * @param base number of the plane face taken for the base, or −1
 */
export function bendKinds(
  skin: Skin,
  flat: Float64Array,
  base: number,
  found: readonly FaceBorder[],
): ReturnType<typeof kindOf>[] {
  const foot = baseFoot(skin.mesh, flat, base);
  return found.map((each) => kindOf(skin, flat, base, foot, each));
}

/** What the common edge of two faces is, and whether the base is on the side of the lower face number. */
function kindOf(
  skin: Skin,
  flat: Float64Array,
  base: number,
  foot: (x: number, y: number) => readonly [number, number],
  { borders, curvatures }: FaceBorder,
): { kind: BendKind; insideFirst: boolean } | null {
  const { face } = skin.mesh;
  let [length, around, inner] = [0, 0, 0];
  for (const border of borders) {
    const { from, to, sides } = border;
    const size = borderLength(skin, border);
    length += size;
    const [x, y] = [(flat[2 * from]! + flat[2 * to]!) / 2, (flat[2 * from + 1]! + flat[2 * to + 1]!) / 2];
    const [dx, dy] = [flat[2 * to]! - flat[2 * from]!, flat[2 * to + 1]! - flat[2 * from + 1]!];
    const [fx, fy] = foot(x, y);
    let [ox, oy] = [x - fx, y - fy];
    // The first side's own triangle lies to the left of the edge.
    const [px, py] = [-dy, dx];
    // Which way is out: away from the base, or, on its boundary, away from the base's own triangle.
    const own = sides.find(([triangle]) => face[triangle] === base);
    if (own !== undefined) {
      [ox, oy] = own === sides[0] ? [-px, -py] : [px, py];
      around += size;
    } else {
      const sine = (ox * dy - oy * dx) / (Math.hypot(ox, oy) * Math.hypot(dx, dy));
      around += size * sine * sine;
    }
    inner += size * Math.sign(-(ox * px + oy * py));
  }
  if (around < length / 2) return null;
  const [a, b] = curvatures;
  const [inside, outside] = inner > 0 ? [a, b] : [b, a];
  const kind = Math.abs(outside) < STRAIGHT * Math.abs(inside) ? 'bend-end' : 'bend-begin';
  return { kind, insideFirst: inner > 0 };
}
