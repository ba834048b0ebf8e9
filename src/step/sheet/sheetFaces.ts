/**
 * Whether a solid is one sheet: each of its faces is accounted for as one of the two skins, as the edge of the sheet,
 * or as the wall of a hole that goes through both skins.
 *
 * Skins are faces from whose points the other skin lies one thickness behind. What is no skin falls into regions
 * that hang together: a region is the edge of the sheet, or the wall of a hole, when it is a ring with one border on
 * each skin and no wider than a slanted edge is. Anything else is refused with its place: a boss has one border, a
 * handle has two on one skin, a rib of the sheet's own thickness is a pair of faces that belongs to no skin.
 */

import { GatherpanError } from '../../errors.ts';
import { distance, dot, vectorAt } from '../../geometry/vector3.ts';
import { words } from '../../words/language.ts';
import { nearestEdges } from '../freeForm/nearestEdges.ts';
import { edgeMap, type Stitched, stitch } from '../freeForm/skinMesh.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { Accounting, Region, SheetFaces } from './accounting.ts';
import { refuseRegion, refuseUneven } from './oddRegion.ts';
import { EVEN, FACING, matches, type Probe, probesOf } from './throughMaterial.ts';
import { checkVolume } from './volume.ts';

/**
 * Most that a point of the sheet's edge may be away from either skin, in thicknesses: what an edge at a slant of 60°
 * is wide. A hole drilled level through a corner's wall is slanted by 45° in its middle and by more at its sides.
 */
const WIDEST_EDGE = 2;
/** Faces whose normals differ less than this at their common edge go on as one; radians. */
const SMOOTH = (12 * Math.PI) / 180;
/** Most that two normals of one plane differ in a coordinate. */
const PLANE = 1e-9;
/** A sheet is thin: its edge and the wall of a hole take up at most this share of a skin's area. */
const THIN = 0.5;

const say = () => words().messages.step.freeForm;

const refuse = (sentence: string): never => {
  throw new GatherpanError('NOT_MAKEABLE', sentence);
};

/**
 * @param live a solid
 * @throws GatherpanError NOT_MAKEABLE for a solid that is no one sheet, with the place of what does not belong to one
 */
export function sheetFaces(live: LivePart): SheetFaces {
  const { part } = live;
  const stitched = stitch(part, 1e-5 * Math.sqrt(part.area));
  const edges = edgeMap(stitched.mesh.triangles, stitched.mesh.position.length / 3);
  const { neighbours, smoothNeighbours } = neighboursOf(stitched, edges, part.faces.length);
  const probes = probesOf(live, stitched.mesh);
  const thickness = mainThickness(probes);
  const paired = pairedFaces(live, probes, thickness, smoothNeighbours);
  const [inner, outer] = skinsOf(live, probes, paired, thickness, smoothNeighbours);
  const found: Accounting = {
    inner,
    outer,
    thickness,
    stitched,
    probes,
    neighbours,
    smoothNeighbours,
  };
  const regions = regionsOf(live, found, edges);
  const least = Math.min(...[inner, outer].map((skin) => areaOf(live, skin)));
  if (!(Math.max(0, ...regions.map(({ area }) => area)) < 4 * least)) refuse(say().noTwoSkins);
  for (const region of regions) {
    if (isRing(region) && isNarrow(found, region) && beyondEdge(live, found, region).length === 0) continue;
    refuseRegion(found, region, beyondEdge(live, found, region));
  }
  if (regions.some(({ area }) => area > THIN * least)) refuse(say().noTwoSkins);
  checkBehind(found);
  checkVolume(live, found);
  return found;
}

const areaOf = ({ part }: LivePart, faces: ReadonlySet<number>): number =>
  [...faces].reduce((sum, face) => sum + part.faces[face]!.area, 0);

/**
 * Faces with a common edge, and those of them that meet smoothly there.
 *
 * @param edges of the net, see `edgeMap`
 * @throws GatherpanError NOT_MAKEABLE when more than two faces meet at an edge
 */
export function neighboursOf(
  { mesh, normals }: Stitched,
  edges: ReadonlyMap<number, readonly number[]>,
  faceCount: number,
): Pick<Accounting, 'neighbours' | 'smoothNeighbours'> {
  const lists = [0, 1].map(() => Array.from({ length: faceCount }, () => new Set<number>()));
  const [neighbours, smoothNeighbours] = lists as [Set<number>[], Set<number>[]];
  for (const uses of edges.values()) {
    if (uses.length > 2) refuse(say().branches);
    if (uses.length !== 2) continue;
    const [t, s] = uses.map((use) => Math.floor(use / 3)) as [number, number];
    const [a, b] = [mesh.face[t]!, mesh.face[s]!];
    if (a === b) continue;
    neighbours[a]!.add(b);
    neighbours[b]!.add(a);
    if (!meetsSmoothly({ mesh, normals }, t, s)) continue;
    smoothNeighbours[a]!.add(b);
    smoothNeighbours[b]!.add(a);
  }
  return { neighbours, smoothNeighbours };
}

/** Whether the normals of two triangles of the net agree at the vertices they share. */
function meetsSmoothly({ mesh, normals }: Stitched, t: number, s: number): boolean {
  return [0, 1, 2].every((k) => {
    const vertex = mesh.triangles[3 * t + k]!;
    const l = [0, 1, 2].find((corner) => mesh.triangles[3 * s + corner] === vertex);
    if (l === undefined) return true;
    return dot(vectorAt(normals, 9 * t + 3 * k), vectorAt(normals, 9 * s + 3 * l)) > Math.cos(SMOOTH);
  });
}

/** The thickness that most of the surface has, within `EVEN`; on curved faces the foot is a little off, on planes never. */
function mainThickness(probes: readonly Probe[]): number {
  const sorted = probes.filter(({ facing }) => facing > FACING).sort((a, b) => a.distance - b.distance);
  if (sorted.length === 0) refuse(say().skinsTooSmall);
  const { from, to } = heaviest(sorted, EVEN);
  const own = sorted.slice(from, to);
  const near = heaviest(own, 1e-6);
  return own[Math.floor((near.from + near.to) / 2)]!.distance;
}

/** Of probes by distance those within a share of it that stand for the most area. */
function heaviest(sorted: readonly Probe[], within: number): { from: number; to: number } {
  let best = { from: 0, to: 0, weight: 0 };
  let weight = 0;
  for (let from = 0, to = 0; from < sorted.length; from++) {
    for (; to < sorted.length && sorted[to]!.distance <= (1 + within) * sorted[from]!.distance; to++) {
      weight += sorted[to]!.weight;
    }
    if (weight > best.weight) best = { from, to, weight };
    weight -= sorted[from]!.weight;
  }
  return best;
}

/** Of each face whether most of it has another one thickness behind it; faces of one plane count as one. */
function pairedFaces(
  { part }: LivePart,
  probes: readonly Probe[],
  thickness: number,
  smooth: readonly ReadonlySet<number>[],
): boolean[] {
  const plane = part.faces.map(({ normals }) => {
    for (let i = 3; i < normals.length; i++)
      if (Math.abs(normals[i]! - normals[i % 3]!) > PLANE) return false;
    return true;
  });
  const group = plane.map((_, face) => face);
  for (const start of plane.keys()) {
    if (!plane[start] || group[start] !== start) continue;
    const open = [start];
    for (let face = open.pop(); face !== undefined; face = open.pop()) {
      for (const other of smooth[face]!) {
        if (!plane[other] || group[other] === start || group[other] !== other) continue;
        group[other] = start;
        open.push(other);
      }
    }
  }
  const [all, matched] = [new Float64Array(plane.length), new Float64Array(plane.length)];
  for (const probe of probes) {
    const own = group[probe.face]!;
    all[own] = all[own]! + probe.weight;
    if (matches(probe, thickness)) matched[own] = matched[own]! + probe.weight;
  }
  return group.map((own) => matched[own]! > 0.5 * all[own]!);
}

/** Share of a face's pairs below which they are taken for a miss at an edge. */
const FEW_PAIRS = 0.05;

/**
 * The two sides of the largest set of paired faces: those that go on smoothly are on one side, those that are paired
 * on two.
 */
function skinsOf(
  live: LivePart,
  probes: readonly Probe[],
  paired: readonly boolean[],
  thickness: number,
  smooth: readonly ReadonlySet<number>[],
): [inner: ReadonlySet<number>, outer: ReadonlySet<number>] {
  const partners = paired.map(() => new Map<number, number>());
  for (const probe of probes) {
    const { face, behind, weight } = probe;
    if (!paired[face] || !paired[behind] || !matches(probe, thickness)) continue;
    partners[face]!.set(behind, (partners[face]!.get(behind) ?? 0) + weight);
  }
  const links = paired.map(() => new Map<number, boolean>());
  for (const [face, own] of partners.entries()) {
    const whole = [...own.values()].reduce((sum, weight) => sum + weight, 0);
    for (const [other, weight] of own) {
      if (weight < FEW_PAIRS * whole || smooth[face]!.has(other)) continue;
      links[face]!.set(other, true);
      links[other]!.set(face, true);
    }
    if (!paired[face]) continue;
    for (const other of smooth[face]!) if (paired[other]) links[face]!.set(other, false);
  }
  const side = new Int8Array(paired.length);
  let best: [Set<number>, Set<number>] | null = null;
  let most = 0;
  for (const [start, is] of paired.entries()) {
    if (!is || side[start] !== 0) continue;
    const sides: [Set<number>, Set<number>] = [new Set([start]), new Set()];
    side[start] = 1;
    const open = [start];
    for (let face = open.pop(); face !== undefined; face = open.pop()) {
      for (const [other, opposite] of links[face]!) {
        const wanted = opposite ? -side[face]! : side[face]!;
        if (side[other] === 0) {
          side[other] = wanted;
          sides[wanted > 0 ? 0 : 1].add(other);
          open.push(other);
          // A face behind itself, as of a ball, has no other skin.
        } else if (side[other] !== wanted) refuse(other === face ? say().noTwoSkins : say().branches);
      }
    }
    const area = areaOf(live, sides[0]) + areaOf(live, sides[1]);
    if (area > most) [best, most] = [sides, area];
  }
  if (best === null) return refuse(say().noTwoSkins);
  const [a, b] = best;
  return areaOf(live, a) < areaOf(live, b) ? [a, b] : [b, a];
}

/** The faces that are no skin, in pieces that hang together. */
function regionsOf(
  live: LivePart,
  { stitched: { mesh }, inner, outer, neighbours }: Accounting,
  edges: ReadonlyMap<number, readonly number[]>,
): Region[] {
  const own = new Int32Array(live.part.faces.length).fill(-1);
  const sets: Set<number>[] = [];
  for (const start of live.part.faces.keys()) {
    if (own[start] !== -1 || inner.has(start) || outer.has(start)) continue;
    const faces = new Set<number>();
    const open = [start];
    own[start] = sets.push(faces) - 1;
    for (let face = open.pop(); face !== undefined; face = open.pop()) {
      faces.add(face);
      for (const other of neighbours[face]!) {
        if (own[other] !== -1 || inner.has(other) || outer.has(other)) continue;
        own[other] = own[start]!;
        open.push(other);
      }
    }
  }
  const count = mesh.position.length / 3;
  const counts = sets.map(() => ({ edges: 0, triangles: 0, vertices: new Set<number>() }));
  const chains = sets.map(() => [[], []] as [number, number][][]);
  for (const [t, face] of mesh.face.entries()) {
    const region = own[face]!;
    if (region < 0) continue;
    counts[region]!.triangles++;
    for (let k = 0; k < 3; k++) counts[region]!.vertices.add(mesh.triangles[3 * t + k]!);
  }
  for (const [key, uses] of edges) {
    const faces = uses.map((use) => mesh.face[Math.floor(use / 3)]!);
    for (const region of new Set(faces.map((face) => own[face]!))) {
      if (region < 0) continue;
      counts[region]!.edges++;
      for (const face of faces) {
        const skin = inner.has(face) ? 0 : outer.has(face) ? 1 : null;
        if (skin !== null) chains[region]![skin]!.push([Math.floor(key / count), key % count]);
      }
    }
  }
  return sets.map((faces, region) => {
    const { vertices, edges: edgeCount, triangles } = counts[region]!;
    return {
      faces,
      area: areaOf(live, faces),
      borders: [joined(chains[region]![0]!), joined(chains[region]![1]!)],
      euler: vertices.size - edgeCount + triangles,
    };
  });
}

/** Edges that hang together, by their vertices. */
function joined(edges: readonly (readonly [number, number])[]): Set<number>[] {
  const at = new Map<number, Set<number>>();
  for (const [from, to] of edges) {
    const [a, b] = [at.get(from) ?? new Set([from]), at.get(to) ?? new Set([to])];
    const [large, small] = a.size < b.size ? [b, a] : [a, b];
    for (const vertex of small) large.add(vertex);
    for (const vertex of large) at.set(vertex, large);
  }
  return [...new Set(at.values())];
}

/** Whether a region is a ring from skin to skin, as the edge of the sheet and the wall of a hole are. */
const isRing = ({ borders: [inner, outer], euler }: Region): boolean =>
  euler === 0 && inner.length === 1 && outer.length === 1;

/** Whether it has no more area than a ring of such a width. */
const isNarrow = (found: Accounting, { borders, area }: Region): boolean =>
  area <= WIDEST_EDGE * found.thickness * Math.max(...borders.map(([ring]) => lengthAlong(found, ring!)));

/** The vertices of a region that are farther from its borders on either skin than an edge is wide. */
function beyondEdge(live: LivePart, found: Accounting, { faces, borders }: Region): number[] {
  const { mesh } = found.stitched;
  const widest = WIDEST_EDGE * found.thickness;
  const vertices = new Set<number>();
  for (const [t, face] of mesh.face.entries()) {
    if (faces.has(face)) for (let k = 0; k < 3; k++) vertices.add(mesh.triangles[3 * t + k]!);
  }
  const sides = [found.inner, found.outer].map((skin) => sharedEdges(live, faces, skin));
  return [...vertices].filter((vertex) =>
    sides.some(
      (shared, side) =>
        shared.length > 0 &&
        !borders[side]!.some((ring) => ring.has(vertex)) &&
        !isWithin(live, shared, Float64Array.from(mesh.position.slice(3 * vertex, 3 * vertex + 3)), widest),
    ),
  );
}

/** Length of the net's edges between vertices of one border, mm. */
function lengthAlong({ stitched: { mesh }, inner, outer }: Accounting, ring: ReadonlySet<number>): number {
  let sum = 0;
  for (const [t, face] of mesh.face.entries()) {
    if (inner.has(face) || outer.has(face)) continue;
    for (let k = 0; k < 3; k++) {
      const [a, b] = [mesh.triangles[3 * t + k]!, mesh.triangles[3 * t + ((k + 1) % 3)]!];
      if (!ring.has(a) || !ring.has(b)) continue;
      sum += distance(vectorAt(mesh.position, 3 * a), vectorAt(mesh.position, 3 * b));
    }
  }
  return sum;
}

/** Numbers of the edges between faces of two sets. */
function sharedEdges({ part }: LivePart, ones: ReadonlySet<number>, others: ReadonlySet<number>): number[] {
  const own = new Set([...ones].flatMap((face) => part.faces[face]!.wires.flat()));
  return [...new Set([...others].flatMap((face) => part.faces[face]!.wires.flat()))].filter((edge) =>
    own.has(edge),
  );
}

function isWithin(live: LivePart, edges: readonly number[], point: Float64Array, reach: number): boolean {
  return nearestEdges(live, edges, point).some((edge) => {
    const foot = point.slice();
    live.snapToEdge(edge, foot);
    return distance(foot, point) <= reach;
  });
}

/**
 * Behind every point of a skin lies the other one, a thickness away; near a slanted or broken edge the ray leaves by
 * the edge before it gets there.
 */
function checkBehind({ probes, inner, outer, thickness }: Accounting): void {
  const skinOf = (face: number): 0 | 1 | null => (inner.has(face) ? 0 : outer.has(face) ? 1 : null);
  for (const probe of probes) {
    const own = skinOf(probe.face);
    if (own === null) continue;
    const other = skinOf(probe.behind);
    if (other === 1 - own && matches(probe, thickness)) continue;
    if (other === null && probe.distance <= (1 + EVEN) * thickness) continue;
    refuseUneven(thickness, probe);
  }
}
