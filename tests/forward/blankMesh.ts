/** A quarter of a blank in nine-node quadrilaterals: rays from a core of the base to the rim, rings across them. */
import type { Loop } from './stage.ts';

export interface BlankMesh {
  /** Elements along the rim and out to it; nodes stand at twice as many places and one. */
  readonly around: number;
  readonly out: number;
  /** x y per node in the flat, mm: rays in order from the x axis to the y axis, each from the core outwards. */
  readonly flat: Float64Array;
}

export const nodeOf = (mesh: BlankMesh, ray: number, ring: number): number => ray * (2 * mesh.out + 1) + ring;

/** Part of the base, about its middle, that stays as it is. */
const CORE = 0.25;
/** Part of the elements of a ray that lie on the base. */
const ON_BASE = 0.3;

/** @param rim from the x axis to the y axis, closely followed */
export function blankMesh(
  loop: Loop,
  rim: readonly (readonly [number, number])[],
  around: number,
  out: number,
): BlankMesh {
  const { halfLength, halfWidth, radius } = loop;
  // Rays stand close about the corner and the farther apart the farther they are from it.
  const length = (i: number): number => Math.hypot(rim[i]![0] - rim[i - 1]![0], rim[i]![1] - rim[i - 1]![1]);
  const outside = rim.map(([x, y]) => Math.max(0, halfLength - x, halfWidth - y));
  let corner = 0;
  for (let i = 1; i < rim.length; i++) if (outside[i] === 0) corner += length(i);
  const way = [0];
  for (let i = 1; i < rim.length; i++)
    way.push(way[i - 1]! + length(i) / (1 + (outside[i - 1]! + outside[i]!) / corner));
  const rimAt = (share: number): readonly [number, number] => {
    const wanted = share * way.at(-1)!;
    const i = Math.max(
      1,
      way.findIndex((w) => w >= wanted - 1e-12),
    );
    const s = (wanted - way[i - 1]!) / (way[i]! - way[i - 1]!);
    const [[ax, ay], [bx, by]] = [rim[i - 1]!, rim[i]!];
    return [ax + s * (bx - ax), ay + s * (by - ay)];
  };
  const rings = 2 * out + 1;
  const flat = new Float64Array(2 * (2 * around + 1) * rings);
  for (let ray = 0; ray <= 2 * around; ray++) {
    const [x, y] = rimAt(ray / (2 * around));
    // The loop's nearest point, and how far the rim is from it.
    const [px, py] = [Math.max(0, x - halfLength), Math.max(0, y - halfWidth)];
    const away = Math.hypot(px, py);
    const footX = Math.min(x, halfLength) + (radius * px) / away;
    const footY = Math.min(y, halfWidth) + (radius * py) / away;
    const [coreX, coreY] = [CORE * footX, CORE * footY];
    const whole = Math.hypot(x - coreX, y - coreY);
    const base = Math.max(0, 1 - (away - radius) / whole);
    for (let ring = 0; ring < rings; ring++) {
      const s = ring / (rings - 1);
      const part = Math.min(ON_BASE, base);
      // Rings draw together towards the bend.
      const t = s < part ? base * (1 - (1 - s / part) ** 1.5) : base + ((s - part) / (1 - part)) * (1 - base);
      const node = ray * rings + ring;
      flat[2 * node] = coreX + t * (x - coreX);
      flat[2 * node + 1] = coreY + t * (y - coreY);
    }
  }
  // The ends lie on the axes.
  for (let ring = 0; ring < rings; ring++) {
    flat[2 * ring + 1] = 0;
    flat[2 * (2 * around * rings + ring)] = 0;
  }
  return { around, out, flat };
}
