/** Says of faces that belong to no sheet what they look like and where they are. */

import { GatherpanError } from '../../errors.ts';
import {
  cross,
  distance,
  dot,
  moved,
  norm,
  scaled,
  unit,
  type Vector3,
  vectorAt,
} from '../../geometry/vector3.ts';
import { words } from '../../words/language.ts';
import type { Accounting, Region } from './accounting.ts';
import { EVEN, FACING, matches, type Probe } from './throughMaterial.ts';

/** What is thicker than so many times the sheet is no sheet of another thickness any more. */
const ACROSS = 2.2;
/** Share of a face that has to lie over the sheet for it to be a pad, or the floor of a pocket; of a fillet a third does. */
const MOSTLY = 0.8;
/** A foot this many times as long as it is wide is a rib's. */
const RIB = 3;
/** A border that spans so much of the skin is the edge of the sheet and not that of a hole. */
const ROUND_THE_SHEET = 0.6;
/** Share of a thickness within which a doubled edge is twice as thick. */
const DOUBLED = 0.1;

/** What one sheet does not have. */
type OddKind = keyof ReturnType<typeof words>['messages']['step']['freeForm']['odd'];

const refuse = (sentence: string): never => {
  throw new GatherpanError('NOT_MAKEABLE', sentence);
};

/**
 * @param size of its foot, as it is said
 * @param at   x y z in the file's own coordinates, mm
 * @throws GatherpanError NOT_MAKEABLE, always
 */
export function refuseOdd(kind: OddKind, size: string, at: readonly number[]): never {
  const [x, y, z] = at.map((value) => String(Math.round(value) + 0)) as [string, string, string];
  return refuse(words().messages.step.freeForm.odd[kind](x, y, z, size));
}

/** @throws GatherpanError NOT_MAKEABLE, always */
export function refuseUneven(thickness: number, { distance, at }: Pick<Probe, 'distance' | 'at'>): never {
  const [x, y, z] = at.map((value) => String(Math.round(value) + 0)) as [string, string, string];
  return refuse(words().messages.step.freeForm.uneven(thickness.toFixed(2), distance.toFixed(2), x, y, z));
}

/**
 * @param beyond vertices of the region that are too far from the skins to belong to the edge of the sheet
 * @throws GatherpanError NOT_MAKEABLE, always
 */
export function refuseRegion(found: Accounting, region: Region, beyond: readonly number[]): never {
  const shape = shapeOf(found, region, beyond);
  if (isSharpBend(found, region)) {
    const [inner, outer] = region.borders;
    if (!shape.atRim && inner.length === 1 && outer.length === 1)
      return refuseOdd('turnedHole', shape.size, shape.place);
    return refuseOdd('sharpBend', shape.size, onBorder(found, region));
  }
  const uneven = unevenProbe(found, region);
  if (uneven === null) return refuseOdd(kindOf(region, shape), shape.size, shape.place);
  const doubled = Math.abs(uneven.distance / found.thickness - 2) < DOUBLED;
  if (shape.atRim && doubled) return refuseOdd('closedHem', shape.size, uneven.at);
  return refuseUneven(found.thickness, uneven);
}

interface Shape {
  /** Middle of its foot on the sheet, in the file's own coordinates. */
  readonly place: readonly number[];
  /** Length and width of the foot, mm: "20", or "40 × 15". */
  readonly size: string;
  readonly length: number;
  readonly width: number;
  /** Farthest above the skin, out of the material, and farthest below it, mm. */
  readonly above: number;
  readonly below: number;
  /** Whether one border on a skin lies inside another one. */
  readonly nested: boolean;
  /** Whether it is part of the edge round the whole sheet. */
  readonly atRim: boolean;
}

function shapeOf(found: Accounting, { faces, borders }: Region, beyond: readonly number[]): Shape {
  const { mesh, normals } = found.stitched;
  const at = (vertex: number): number[] => mesh.position.slice(3 * vertex, 3 * vertex + 3);
  const pointsOf = (vertices: Iterable<number>): number[][] => [...vertices].map(at);
  const own = new Set<number>();
  for (const [t, face] of mesh.face.entries()) {
    if (faces.has(face)) for (let k = 0; k < 3; k++) own.add(mesh.triangles[3 * t + k]!);
  }
  // It stands on the skin where it has more of its border.
  const sizes = borders.map((rings) => rings.reduce((sum, ring) => sum + ring.size, 0));
  const on = sizes[0]! >= sizes[1]! ? 0 : 1;
  const rings = [...borders[on]!].sort((a, b) => b.size - a.size);
  const foot = new Set(rings.flatMap((ring) => [...ring]));
  const skin = on === 0 ? found.inner : found.outer;
  let sum: Vector3 = [0, 0, 0];
  for (const [corner, vertex] of mesh.triangles.entries()) {
    if (!foot.has(vertex) || !skin.has(mesh.face[Math.floor(corner / 3)]!)) continue;
    sum = moved(sum, 1, vectorAt(normals, 3 * corner));
  }
  const up: Vector3 = norm(sum) > 0 ? unit(sum) : [0, 0, 1];
  const standing = pointsOf(foot.size > 0 ? foot : own);
  const middle = middleOf(standing);
  const heights = pointsOf(own).map((point) =>
    up.reduce((sum, n, i) => sum + n * (point[i]! - middle[i]!), 0),
  );
  const ofSkin = new Set(mesh.triangles.filter((_, corner) => skin.has(mesh.face[Math.floor(corner / 3)]!)));
  const atRim =
    borders.every((list) => list.length > 0) &&
    diagonal(standing) > ROUND_THE_SHEET * diagonal(pointsOf(ofSkin));
  // Of the edge of the sheet only what is too far from it counts.
  const seen = atRim && beyond.length > 0 ? pointsOf(beyond) : standing;
  const box = smallestBox(seen, up);
  return {
    place: middleOf(seen),
    size: sizeOf(box.length, box.width),
    ...box,
    above: Math.max(0, ...heights),
    below: Math.max(0, ...heights.map((height) => -height)),
    nested: rings.length > 1 && areNested(pointsOf(rings[0]!), pointsOf(rings[1]!)),
    atRim,
  };
}

/** A point of a region's border on a skin: the middle of the net's longest edge there. */
function onBorder({ stitched: { mesh } }: Accounting, { faces, borders }: Region): number[] {
  const rings = borders.flat();
  let [best, longest]: [number[], number] = [[], -1];
  for (const [t, face] of mesh.face.entries()) {
    if (!faces.has(face)) continue;
    for (let k = 0; k < 3; k++) {
      const ends = [k, (k + 1) % 3].map((corner) => mesh.triangles[3 * t + corner]!);
      if (!rings.some((ring) => ends.every((vertex) => ring.has(vertex)))) continue;
      const [a, b] = ends.map((vertex) => vectorAt(mesh.position, 3 * vertex)) as [Vector3, Vector3];
      if (distance(a, b) <= longest) continue;
      longest = distance(a, b);
      best = middleOf([a, b]);
    }
  }
  return best;
}

/** Whether one of two rings lies about the other. */
function areNested(one: readonly number[][], other: readonly number[][]): boolean {
  const [a, b] = [middleOf(one), middleOf(other)];
  const reach = Math.max(...one.map((point) => distance(point, a)));
  return distance(a, b) < reach / 2;
}

/** Lowest and highest coordinate of points along each axis. */
const spans = (points: readonly (readonly number[])[]): (readonly [number, number])[] =>
  [0, 1, 2].map((i) => {
    let [low, high] = [Infinity, -Infinity];
    for (const point of points) {
      low = Math.min(low, point[i]!);
      high = Math.max(high, point[i]!);
    }
    return [low, high] as const;
  });

/** Middle of the box about points. */
const middleOf = (points: readonly (readonly number[])[]): number[] =>
  spans(points).map(([low, high]) => (low + high) / 2);

/** Of that box. */
const diagonal = (points: readonly (readonly number[])[]): number =>
  Math.hypot(...spans(points).map(([low, high]) => high - low));

/** Sides of the smallest of some boxes about points, seen along a direction. */
function smallestBox(
  points: readonly (readonly number[])[],
  up: readonly number[],
): { length: number; width: number } {
  const e = unit(Math.abs(up[0]!) < 0.9 ? [0, up[2]!, -up[1]!] : [-up[2]!, 0, up[0]!]);
  const f = cross(up, e);
  let best = { length: Infinity, width: Infinity };
  for (let turn = 0; turn < 36; turn++) {
    const [c, s] = [Math.cos((turn * Math.PI) / 72), Math.sin((turn * Math.PI) / 72)];
    const sides = [
      [c, s],
      [-s, c],
    ].map(([p, q]) => {
      const along = points.map((point) => dot(point, moved(scaled(p!, e), q!, f)));
      return Math.max(...along) - Math.min(...along);
    }) as [number, number];
    const [width, length] = sides[0] < sides[1] ? sides : [sides[1], sides[0]];
    if (length * width < best.length * best.width * (1 - 1e-9) || best.length === Infinity)
      best = { length, width };
  }
  return best;
}

function sizeOf(length: number, width: number): string {
  const text = (value: number): string => (value < 2.95 ? value.toFixed(1) : value.toFixed(0));
  return width > 0.85 * length || text(width) === text(length)
    ? text(length)
    : `${text(length)} × ${text(width)}`;
}

function kindOf({ borders: [inner, outer] }: Region, shape: Shape): OddKind {
  if (inner.length > 0 && outer.length > 0) {
    if (inner.length + outer.length > 2) return 'rib';
    return shape.atRim ? 'edge' : 'collar';
  }
  if (shape.below > shape.above) return 'pocket';
  if (inner.length + outer.length > 1) return shape.nested ? 'tube' : 'handle';
  return shape.length > RIB * shape.width ? 'rib' : 'boss';
}

/**
 * Whether a face goes on from one skin and the face behind that from the other: then it is the same sheet.
 */
function goesOn({ neighbours, inner, outer }: Accounting, { face, behind }: Probe): boolean {
  const touches = (one: number, skin: ReadonlySet<number>): boolean =>
    [...neighbours[one]!].some((other) => skin.has(other));
  const between = (one: ReadonlySet<number>, other: ReadonlySet<number>): boolean =>
    touches(face, one) && !touches(face, other) && touches(behind, other) && !touches(behind, one);
  const isSkin = (one: number): boolean => inner.has(one) || outer.has(one);
  return !isSkin(face) && !isSkin(behind) && (between(inner, outer) || between(outer, inner));
}

/** Whether the sheet goes on in it over sharp edges. */
const isSharpBend = (found: Accounting, { faces }: Region): boolean =>
  found.probes.some(
    (probe) => faces.has(probe.face) && matches(probe, found.thickness) && goesOn(found, probe),
  );

/**
 * Where the sheet is thinner or thicker in the region; the place where it is most so. Only faces count that lie over
 * the sheet with the most of them: the foot of a fillet does for a little of it.
 */
function unevenProbe(found: Accounting, { faces }: Region): Probe | null {
  const { probes, inner, outer, thickness, neighbours, smoothNeighbours } = found;
  const isSkin = (face: number): boolean => inner.has(face) || outer.has(face);
  const off = ({ distance }: Probe): number => Math.abs(distance - thickness);
  // A face that is the skin's own, over something that stands on the other one.
  const continues = ({ face, behind }: Probe, skin: ReadonlySet<number>): boolean =>
    [...smoothNeighbours[face]!].some((other) => skin.has(other)) &&
    ![...neighbours[behind]!].some((other) => skin.has(other));
  const overSheet = (probe: Probe): boolean =>
    probe.facing > FACING &&
    probe.distance < ACROSS * thickness &&
    (isSkin(probe.behind) || goesOn(found, probe) || [inner, outer].some((skin) => continues(probe, skin)));
  let worst: Probe | null = null;
  for (const face of faces) {
    const own = probes.filter((probe) => probe.face === face);
    const weight = (list: readonly Probe[]): number => list.reduce((sum, each) => sum + each.weight, 0);
    const over = own.filter(overSheet);
    if (!(weight(over) > MOSTLY * weight(own))) continue;
    for (const probe of over) if (worst === null || off(probe) > off(worst)) worst = probe;
  }
  return worst !== null && off(worst) > EVEN * thickness ? worst : null;
}
