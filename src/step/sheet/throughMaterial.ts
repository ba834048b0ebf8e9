/**
 * How thick a solid is: from points of every face into the material, along the normal, to whatever face comes first.
 */

import { distance, dot, minus, moved, norm, scaled, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import type { PartPlace } from '../freeForm/skin.ts';
import type { SkinMesh } from '../freeForm/skinMesh.ts';
import type { LivePart } from '../occt/livePart.ts';

/** Triangles of a net from which it is measured, besides some of each face: so many at most. */
const MOST_PLACES = 600;
/** Fewest places on a face. */
const LEAST_PLACES = 6;
/** The net lies at most this share of the part's size off its surfaces: the kernel is asked for so much. */
const CHORD = 1 / 400;
/** Cosine between the normals above which the exact distance is worth finding. */
const WORTH = 0.7;

/** Largest difference of the thickness, as a share of it. */
export const EVEN = 0.01;
/** Cosine of the largest angle between a face and the one behind it: at the rim and in holes it is 90 degrees. */
export const FACING = 0.9;
/** A point of a face, and what lies behind it. */
export interface Probe {
  readonly face: number;
  readonly at: readonly number[];
  /** Unit vector into the material. */
  readonly into: readonly number[];
  /** mm² of its face that it stands for. */
  readonly weight: number;
  /** Number of the face that the ray leaves the material by. */
  readonly behind: number;
  /** mm; exact where the two faces look away from each other */
  readonly distance: number;
  /** Cosine between the ray and the other face's normal: 1 when the two are parallel. */
  readonly facing: number;
}

/** Whether the face behind a point is one thickness away and looks the other way. */
export const matches = ({ facing, distance }: Probe, thickness: number): boolean =>
  facing > FACING && Math.abs(distance - thickness) <= EVEN * thickness;

/** @param mesh net of the whole solid, seen from outside */
export function probesOf(live: LivePart, mesh: SkinMesh): Probe[] {
  const rays = new Rays(mesh);
  const stride = Math.max(1, Math.ceil(mesh.face.length / MOST_PLACES));
  const ofFace = new Map<number, number[]>();
  for (const [t, face] of mesh.face.entries()) {
    const own = ofFace.get(face);
    if (own === undefined) ofFace.set(face, [t]);
    else own.push(t);
  }
  const out: Probe[] = [];
  const value = new Float64Array(6);
  for (const [face, triangles] of ofFace) {
    const step = Math.max(1, Math.min(stride, Math.floor(triangles.length / LEAST_PLACES)));
    const all = triangles.reduce((sum, t) => sum + rays.area(t), 0);
    const picked: { readonly t: number; readonly r: number; readonly s: number; readonly size: number }[] =
      [];
    for (const [i, t] of triangles.entries()) {
      const size = rays.area(t);
      const large = size > all / LARGE;
      if (!large && i % step !== Math.floor(step / 2)) continue;
      const places = large ? SPREAD : MIDDLE;
      // Small ones stand for those that are passed over.
      const share = large ? size / places.length : size * step;
      for (const [r, s] of places) picked.push({ t, r, s, size: share });
    }
    const whole = picked.reduce((sum, { size }) => sum + size, 0);
    for (const { t, r, s, size } of picked) {
      const { u, v } = placeIn(mesh, t, r, s);
      live.evaluate(face, u, v, value);
      const at = vectorAt(value);
      const into = scaled(-1, vectorAt(value, 3));
      const behind = leaving(live, rays, at, into, value);
      if (behind === null) continue;
      out.push({ face, at, into, weight: (live.part.faces[face]!.area * size) / whole, ...behind });
    }
  }
  return out;
}

/** A triangle of more than a share of its face, one in so many, is asked in several places. */
const LARGE = 8;
/** Shares of a triangle's second and third corner: its middle, and an even lattice. */
const MIDDLE = [[1 / 3, 1 / 3]] as const;
const SPREAD = [0, 1, 2, 3].flatMap((i) =>
  [0, 1, 2, 3].flatMap((j) => (i + j < 4 ? [[(1 + 3 * i) / 15, (1 + 3 * j) / 15] as const] : [])),
);

/**
 * The face by which a ray leaves the material.
 *
 * The net's chords may lie on the wrong side of the point where a thin sheet is curved, so what lies a chord's height
 * behind it is asked for as well, and told by the exact surface.
 */
function leaving(
  live: LivePart,
  rays: Rays,
  at: readonly number[],
  into: readonly number[],
  value: Float64Array,
): Pick<Probe, 'behind' | 'distance' | 'facing'> | null {
  for (const hit of rays.leaving(at, into)) {
    const behind = rays.mesh.face[hit.triangle]!;
    if (hit.cosine < WORTH) {
      if (hit.along > 0) return { behind, distance: hit.along, facing: hit.cosine };
      continue;
    }
    const foot = footOn(live, placeIn(rays.mesh, hit.triangle, hit.r, hit.s), at, value);
    const along = dot(minus(foot, at), into);
    if (!(along > 1e-9 * rays.size)) continue;
    return { behind, distance: distance(foot, at), facing: dot(into, vectorAt(value, 3)) };
  }
  return null;
}

/** The place inside a triangle, at shares `r` of its second and `s` of its third corner. */
function placeIn({ face, parameters }: SkinMesh, triangle: number, r: number, s: number): PartPlace {
  const at = (axis: 0 | 1): number => {
    const [a, b, c] = [0, 2, 4].map((k) => parameters[6 * triangle + k + axis]!) as [number, number, number];
    return a + r * (b - a) + s * (c - a);
  };
  return { face: face[triangle]!, u: at(0), v: at(1) };
}

interface Hit {
  readonly triangle: number;
  /** Shares of its second and third corner. */
  readonly r: number;
  readonly s: number;
  /** Distance along the ray; somewhat negative ones are told too. */
  readonly along: number;
  /** Between the ray and the triangle's normal. */
  readonly cosine: number;
}

/** Rays through the very edge between two triangles are not lost. */
const SLACK = 1e-9;

/** Straight lines through a net. */
export class Rays {
  readonly mesh: SkinMesh;
  /** Largest extent of the net, mm. */
  readonly size: number;
  /** First corner and the two edges from it per triangle, nine numbers. */
  private readonly frames: Float64Array;

  constructor(mesh: SkinMesh) {
    const { position, triangles } = mesh;
    this.mesh = mesh;
    this.frames = new Float64Array(3 * triangles.length);
    const [low, high] = [
      [Infinity, Infinity, Infinity],
      [-Infinity, -Infinity, -Infinity],
    ];
    for (let at = 0; at < triangles.length; at++) {
      const from = position.slice(3 * triangles[at - (at % 3)]!, 3 * triangles[at - (at % 3)]! + 3);
      for (let k = 0; k < 3; k++) {
        const x = position[3 * triangles[at]! + k]!;
        this.frames[3 * at + k] = at % 3 === 0 ? x : x - from[k]!;
        low[k] = Math.min(low[k]!, x);
        high[k] = Math.max(high[k]!, x);
      }
    }
    this.size = Math.max(...high.map((x, k) => x - low[k]!));
  }

  /** mm² of a triangle */
  area(triangle: number): number {
    const [ex, ey, ez, fx, fy, fz] = this.frames.subarray(9 * triangle + 3, 9 * triangle + 9) as unknown as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    return Math.hypot(ey * fz - ez * fy, ez * fx - ex * fz, ex * fy - ey * fx) / 2;
  }

  /** The triangles by which a ray leaves what the net encloses, the nearest first. */
  leaving(at: readonly number[], into: readonly number[]): Hit[] {
    return this.crossed(at, into, 1, -1.5 * CHORD * this.size).sort((a, b) => a.along - b.along);
  }

  /** The triangle by which a ray from outside comes in first. */
  entering(at: readonly number[], along: readonly number[]): Hit | null {
    return this.crossed(at, along, -1, 0).reduce<Hit | null>(
      (best, hit) => (best === null || hit.along < best.along ? hit : best),
      null,
    );
  }

  /**
   * @param side 1 for triangles seen from behind, −1 for those seen from before
   *
   * Source: T. Möller, B. Trumbore, Fast, minimum storage ray/triangle intersection, 1997.
   */
  private crossed(at: readonly number[], into: readonly number[], side: 1 | -1, from: number): Hit[] {
    // Of all triangles for each ray: numbers by themselves, which no engine has to take out of lists.
    const dx = into[0]!;
    const dy = into[1]!;
    const dz = into[2]!;
    const ax = at[0]!;
    const ay = at[1]!;
    const az = at[2]!;
    const { frames: q } = this;
    const out: Hit[] = [];
    for (let o = 0; o < q.length; o += 9) {
      const ex = q[o + 3]!;
      const ey = q[o + 4]!;
      const ez = q[o + 5]!;
      const fx = q[o + 6]!;
      const fy = q[o + 7]!;
      const fz = q[o + 8]!;
      const px = dy * fz - dz * fy;
      const py = dz * fx - dx * fz;
      const pz = dx * fy - dy * fx;
      // The ray times the triangle's normal is −det.
      const det = ex * px + ey * py + ez * pz;
      if (!(side * det < 0)) continue;
      const tx = ax - q[o]!;
      const ty = ay - q[o + 1]!;
      const tz = az - q[o + 2]!;
      const r = (tx * px + ty * py + tz * pz) / det;
      if (!(r >= -SLACK && r <= 1 + SLACK)) continue;
      const sx = ty * ez - tz * ey;
      const sy = tz * ex - tx * ez;
      const sz = tx * ey - ty * ex;
      const s = (dx * sx + dy * sy + dz * sz) / det;
      if (!(s >= -SLACK && r + s <= 1 + SLACK)) continue;
      const along = (fx * sx + fy * sy + fz * sz) / det;
      if (!(along > from)) continue;
      const normal = Math.hypot(ey * fz - ez * fy, ez * fx - ex * fz, ex * fy - ey * fx);
      out.push({ triangle: o / 9, r, s, along, cosine: Math.abs(det) / normal });
    }
    return out;
  }
}

/** Steps to the foot of a point; each leaves a tenth of the way or less. */
const STEPS = 8;
/** Sideways distance from the foot at which it is found, as a share of the distance. */
const FOUND = 1e-6;

/**
 * The foot of a point on a face's surface: from a guess of its parameters, Gauss–Newton steps with the derivatives at
 * the guess, by differences. Leaves point and normal there in `out`.
 */
function footOn(live: LivePart, guess: PartPlace, at: readonly number[], out: Float64Array): Vector3 {
  const { face } = guess;
  let { u, v } = guess;
  const reach = 1e-4;
  const beside = new Float64Array(6);
  live.evaluate(face, u, v, out);
  const [p, q] = [0, 1].map((axis) => {
    live.evaluate(face, axis === 0 ? u + reach : u, axis === 1 ? v + reach : v, beside);
    return scaled(1 / reach, minus(beside, out));
  }) as [Vector3, Vector3];
  const [pp, pq, qq] = [dot(p, p), dot(p, q), dot(q, q)];
  const det = pp * qq - pq * pq;
  for (let step = 0; step < STEPS && det > 1e-12 * pp * qq; step++) {
    const gap = minus(at, out);
    const normal = vectorAt(out, 3);
    if (norm(moved(gap, -dot(gap, normal), normal)) < FOUND * norm(gap)) break;
    const [pg, qg] = [dot(p, gap), dot(q, gap)];
    u += (qq * pg - pq * qg) / det;
    v += (pp * qg - pq * pg) / det;
    live.evaluate(face, u, v, out);
  }
  return vectorAt(out);
}
