/** The kernel's edges along the boundary of a skin. */
import {
  angleBetween,
  distance,
  dot,
  minus,
  scaled,
  unit,
  type Vector3,
  vectorAt,
} from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import { EDGE_SAMPLES } from '../part.ts';
import type { Skin } from './skin.ts';

/** Kernel edges with the skin on one side only. */
export function boundaryEdges(live: LivePart, skin: Skin): number[] {
  const uses = new Map<number, number>();
  for (const face of new Set(skin.mesh.face)) {
    for (const edge of live.part.faces[face]!.wires.flat()) uses.set(edge, (uses.get(edge) ?? 0) + 1);
  }
  return [...uses].flatMap(([edge, count]) => (count === 1 ? [edge] : []));
}

/** Kernel edges of the rim: those that start nearest to the net's longest boundary, which has all of their ends. */
export function rimEdges(live: LivePart, skin: Skin, loops: readonly (readonly number[])[]): number[] {
  const { position } = skin.mesh;
  return boundaryEdges(live, skin).filter((edge) => {
    const { samples } = live.part.edges[edge]!;
    const away = loops.map((loop) =>
      Math.min(...loop.map((vertex) => distance(vectorAt(position, 3 * vertex), vectorAt(samples, 0)))),
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
  const out = new Set<number>();
  for (const vertex of loops.flat()) {
    const point = vectorAt(skin.mesh.position, 3 * vertex);
    const [one, other, third] = ends.filter(({ at }) => distance(at, point) < SAME * size);
    if (one === undefined || other === undefined || third !== undefined) continue;
    // They set out from the point in opposite ways where the boundary goes straight on.
    if (Math.PI - angleBetween(one.into, other.into) > BREAK) out.add(vertex);
  }
  return out;
}

/**
 * An end of an edge and the direction in which the edge sets out from there, by the circle through three samples: the
 * inversion at the end makes a line along that direction of it. So whole circles in one edge, of which samples are far apart,
 * go straight on as well.
 */
function endOf(samples: Float64Array, from: number, step: number): { at: Vector3; into: Vector3 } {
  const at = vectorAt(samples, from);
  const [near, far] = [1, 2].map((k) => {
    const chord = minus(vectorAt(samples, from + k * step), at);
    return scaled(1 / dot(chord, chord), chord);
  }) as [Vector3, Vector3];
  return { at, into: unit(minus(near, far)) };
}
