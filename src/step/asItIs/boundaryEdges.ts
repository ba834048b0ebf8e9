/** The kernel's edges along the boundary of a skin. */
import type { LivePart } from '../kernel/readShape.ts';
import { EDGE_SAMPLES } from '../part.ts';
import type { Skin } from './skins.ts';

/** Kernel edges with the skin on one side only. */
export function boundaryEdges(live: LivePart, skin: Skin): number[] {
  const uses = new Map<number, number>();
  for (const face of new Set(skin.mesh.face)) {
    for (const edge of live.part.faces[face]!.wires.flat()) uses.set(edge, (uses.get(edge) ?? 0) + 1);
  }
  return [...uses].flatMap(([edge, count]) => (count === 1 ? [edge] : []));
}

/** Kernel edges of the rim: those whose middle lies nearest to the net's longest boundary. */
export function rimEdges(live: LivePart, skin: Skin, loops: readonly (readonly number[])[]): number[] {
  const { position } = skin.mesh;
  const middle = (EDGE_SAMPLES - 1) / 2;
  return boundaryEdges(live, skin).filter((edge) => {
    const { samples } = live.part.edges[edge]!;
    const away = loops.map((loop) =>
      Math.min(
        ...loop.map((vertex) =>
          Math.hypot(...[0, 1, 2].map((i) => position[3 * vertex + i]! - samples[3 * middle + i]!)),
        ),
      ),
    );
    return away[0] === Math.min(...away);
  });
}

/** A turn of the boundary from one edge to the next that is an angle and not the kernel's rounding, radians. */
const BREAK = 0.01;
/** Points nearer than this share of the part's size are one. */
const SAME = 1e-5;

/** Vertices of the net at which two edges of the boundary meet at an angle. */
export function boundaryBreaks(
  live: LivePart,
  skin: Skin,
  loops: readonly (readonly number[])[],
): ReadonlySet<number> {
  const ends = boundaryEdges(live, skin).flatMap((edge) => {
    const { samples } = live.part.edges[edge]!;
    return [endOf(samples, 0, 3), endOf(samples, 3 * (EDGE_SAMPLES - 1), -3)];
  });
  const size = Math.sqrt(live.part.area);
  const apart = (a: ArrayLike<number>, b: ArrayLike<number>): number =>
    Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!, a[2]! - b[2]!);
  const out = new Set<number>();
  for (const vertex of loops.flat()) {
    const point = skin.mesh.position.slice(3 * vertex, 3 * vertex + 3);
    const [one, other, third] = ends.filter(({ at }) => apart(at, point) < SAME * size);
    if (one === undefined || other === undefined || third !== undefined) continue;
    const along = one.into.reduce((sum, value, i) => sum + value * other.into[i]!, 0);
    // They set out from the point in opposite ways where the boundary goes straight on.
    if (Math.acos(Math.max(-1, Math.min(1, -along))) > BREAK) out.add(vertex);
  }
  return out;
}

/** An end of an edge and the direction in which the edge sets out from there, by the parabola of three samples. */
function endOf(samples: Float64Array, from: number, step: number): { at: number[]; into: number[] } {
  const at = [0, 1, 2].map((i) => samples[from + i]!);
  const raw = at.map((value, i) => 4 * samples[from + step + i]! - 3 * value - samples[from + 2 * step + i]!);
  const length = Math.hypot(raw[0]!, raw[1]!, raw[2]!);
  return { at, into: raw.map((value) => value / length) };
}
