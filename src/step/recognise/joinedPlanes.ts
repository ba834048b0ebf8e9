/** Plane faces that go on in one another, as one: other programs cut a face in two where ours does not. */
import { endToEnd } from '../../geometry/chain.ts';
import { distance, dot, minus, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import type { Part, PartEdge, PartFace } from '../part.ts';

/**
 * The part with neighbouring faces of one plane joined, without the edges between them. Curved faces stay as they
 * are; edges keep their numbers.
 *
 * @param tolerance distance of points from a common plane, mm
 */
export function withJoinedPlanes(part: Part, tolerance: number): Part {
  const normals = part.faces.map((face) => planeNormal(face, tolerance));
  const parent = part.faces.map((_, i) => i);
  const root = (face: number): number => {
    let at = face;
    while (parent[at] !== at) at = parent[at]!;
    return at;
  };
  for (const [a, b] of neighbours(part)) {
    const [n, m] = [normals[a]!, normals[b]!];
    if (n === null || m === null || root(a) === root(b)) continue;
    if (dot(n, m) < 1 - 1e-9) continue;
    if (isOnPlane(part.faces[b]!, part.faces[a]!.points, n, tolerance)) parent[root(b)] = root(a);
  }
  const groups = new Map<number, PartFace[]>();
  for (const [i, face] of part.faces.entries()) {
    const own = groups.get(root(i));
    if (own === undefined) groups.set(root(i), [face]);
    else own.push(face);
  }
  if (groups.size === part.faces.length) return part;
  const faces = [...groups.values()].map((group) =>
    group.length === 1 ? group[0]! : joined(group, part.edges, tolerance),
  );
  return { ...part, faces };
}

/** The normal all points of a face share, when they lie on one plane; out of the material. */
export function planeNormal(face: PartFace, tolerance: number): Vector3 | null {
  const normal = vectorAt(face.normals);
  for (let i = 0; i < face.points.length; i += 3) {
    if (dot(normal, vectorAt(face.normals, i)) < 1 - 1e-9) return null;
  }
  if (!isOnPlane(face, face.points, normal, tolerance)) return null;
  const [x, y, z] = normal.map((value) => (Math.abs(value) < 1e-12 ? 0 : value)) as [number, number, number];
  return [x, y, z];
}

/** Whether all points of a face lie on the plane through the first of `points`. */
function isOnPlane(
  face: PartFace,
  points: Float64Array,
  normal: readonly number[],
  tolerance: number,
): boolean {
  for (let i = 0; i < face.points.length; i += 3) {
    if (Math.abs(dot(normal, minus(vectorAt(face.points, i), points))) > tolerance) return false;
  }
  return true;
}

/** Pairs of faces with an edge in common. */
function neighbours({ faces }: Part): [number, number][] {
  const owner = new Map<number, number>();
  const out: [number, number][] = [];
  for (const [face, { wires }] of faces.entries()) {
    for (const edge of wires.flat()) {
      const other = owner.get(edge);
      if (other === undefined) owner.set(edge, face);
      else if (other !== face) out.push([other, face]);
    }
  }
  return out;
}

function joined(group: readonly PartFace[], edges: readonly PartEdge[], tolerance: number): PartFace {
  const uses = new Map<number, number>();
  for (const edge of group.flatMap(({ wires }) => wires.flat())) uses.set(edge, (uses.get(edge) ?? 0) + 1);
  const border = [...uses].filter(([, count]) => count === 1).map(([edge]) => edge);
  const triangles: number[] = [];
  let first = 0;
  for (const face of group) {
    for (const corner of face.triangles) triangles.push(first + corner);
    first += face.points.length / 3;
  }
  const all = (of: (face: PartFace) => Float64Array): Float64Array =>
    Float64Array.from(group.flatMap((face) => [...of(face)]));
  return {
    points: all(({ points }) => points),
    normals: all(({ normals }) => normals),
    parameters: all(({ parameters }) => parameters),
    triangles: Uint32Array.from(triangles),
    area: group.reduce((sum, { area }) => sum + area, 0),
    wires: closedChains(border, edges, tolerance),
  };
}

/** Edges sorted into the closed boundaries they make; what does not close stays one wire, for others to refuse. */
function closedChains(border: readonly number[], edges: readonly PartEdge[], tolerance: number): number[][] {
  const chains = endToEnd<number, Vector3>(border, {
    ends: (edge) => {
      const { samples } = edges[edge]!;
      return [vectorAt(samples), vectorAt(samples, samples.length - 3)];
    },
    meet: (a, b) => distance(a, b) < 10 * tolerance,
  });
  return chains.map(({ links }) => links.map(({ piece }) => piece));
}
