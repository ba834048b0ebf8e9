/**
 * The thickness of a solid sheet: the distance of its skins, the same within 1 % everywhere.
 *
 * It is measured through the material from every face, along its normal to whatever comes first. What is left of the
 * sheet under a pocket or a pad is seen so as well, which the skins by themselves do not show.
 */
import { GatherpanError } from '../../errors.ts';
import { words } from '../../words/language.ts';
import type { LivePart } from '../kernel/readShape.ts';
import type { SkinMesh } from './skinMesh.ts';

/** Triangles of a net from which the thickness is measured, besides one of each face: so many at most. */
const MOST_PLACES = 2000;
/** Largest difference of the thickness, as a share of it. */
const EVEN = 0.01;
/** Cosine of the largest angle between a face and the one behind it: at the rim and in holes it is 90 degrees. */
const FACING = 0.9;

const say = () => words().messages.step.asItIs;

const refuse = (sentence: string): never => {
  throw new GatherpanError('NOT_MAKEABLE', sentence);
};

/** From a face that is no skin, what is farther than so many times the thickness lies along the sheet. */
const ACROSS = 3;

interface Measured {
  readonly fromSkin: boolean;
  readonly at: readonly number[];
  readonly thickness: number;
}

/**
 * @param mesh  net of the whole solid
 * @param inner face numbers of the skin inside the tray
 * @param outer and of the other skin
 * @returns mm
 * @throws GatherpanError NOT_MAKEABLE when it is not the same everywhere
 */
export function measureThickness(
  live: LivePart,
  mesh: SkinMesh,
  inner: ReadonlySet<number>,
  outer: ReadonlySet<number>,
): number {
  const skinOf = (face: number): 'inner' | 'outer' | null =>
    inner.has(face) ? 'inner' : outer.has(face) ? 'outer' : null;
  const found: Measured[] = [];
  const stride = Math.ceil(mesh.face.length / MOST_PLACES);
  const out = new Float64Array(6);
  for (const [t, face] of mesh.face.entries()) {
    if (t % stride !== 0 && face === mesh.face[t - 1]) continue;
    const [u, v] = parametersAt(mesh, t, 1 / 3, 1 / 3);
    live.evaluate(face, u, v, out);
    const at = [out[0]!, out[1]!, out[2]!];
    const into = [-out[3]!, -out[4]!, -out[5]!];
    const own = skinOf(face);
    // From what is no skin only skins count: from one end of a plate to the other is no thickness.
    const hit = firstHit(mesh, at, into, (other) => (own === null ? other !== face : skinOf(other) !== own));
    if (hit === null) continue;
    const behind = mesh.face[hit.triangle]!;
    if (own === null && skinOf(behind) === null) continue;
    const thickness = distanceToSurface(
      live,
      behind,
      ...parametersAt(mesh, hit.triangle, hit.r, hit.s),
      at,
      out,
    );
    const facing = into[0]! * out[3]! + into[1]! * out[4]! + into[2]! * out[5]!;
    if (facing > FACING) found.push({ fromSkin: own !== null, at, thickness });
  }
  return evenThickness(found);
}

function evenThickness(found: readonly Measured[]): number {
  const ofSkins = found.filter(({ fromSkin }) => fromSkin);
  if (ofSkins.length === 0) refuse(say().skinsTooSmall);
  const middle = commonest(ofSkins.map(({ thickness }) => thickness).sort((a, b) => a - b));
  const sorted = found
    .filter(({ fromSkin, thickness }) => fromSkin || thickness < ACROSS * middle)
    .sort((a, b) => a.thickness - b.thickness);
  const worst = [sorted[0]!, sorted[sorted.length - 1]!].sort(
    (a, b) => Math.abs(b.thickness - middle) - Math.abs(a.thickness - middle),
  )[0]!;
  if (!(Math.abs(worst.thickness - middle) <= EVEN * middle)) {
    const [x, y, z] = worst.at.map((value) => value.toFixed(0));
    refuse(say().uneven(middle.toFixed(2), worst.thickness.toFixed(2), x!, y!, z!));
  }
  return middle;
}

/** Surface parameters inside a triangle, at shares `r` of its second and `s` of its third corner. */
function parametersAt({ parameters }: SkinMesh, triangle: number, r: number, s: number): [number, number] {
  const at = (axis: 0 | 1): number => {
    const [a, b, c] = [0, 2, 4].map((k) => parameters[6 * triangle + k + axis]!) as [number, number, number];
    return a + r * (b - a) + s * (c - a);
  };
  return [at(0), at(1)];
}

interface Hit {
  readonly triangle: number;
  /** Shares of its second and third corner. */
  readonly r: number;
  readonly s: number;
}

/**
 * The first triangle of the faces wanted that a ray meets.
 *
 * Source: T. Möller, B. Trumbore, Fast, minimum storage ray/triangle intersection, 1997.
 */
function firstHit(
  { position: q, triangles, face }: SkinMesh,
  at: readonly number[],
  into: readonly number[],
  wanted: (face: number) => boolean,
): Hit | null {
  const [dx, dy, dz] = into as [number, number, number];
  let nearest = Infinity;
  let hit: Hit | null = null;
  let asked = -1;
  let want = false;
  for (let t = 0; t < face.length; t++) {
    if (face[t] !== asked) {
      asked = face[t]!;
      want = wanted(asked);
    }
    if (!want) continue;
    const [a, b, c] = [3 * triangles[3 * t]!, 3 * triangles[3 * t + 1]!, 3 * triangles[3 * t + 2]!];
    const [ex, ey, ez] = [q[b]! - q[a]!, q[b + 1]! - q[a + 1]!, q[b + 2]! - q[a + 2]!];
    const [fx, fy, fz] = [q[c]! - q[a]!, q[c + 1]! - q[a + 1]!, q[c + 2]! - q[a + 2]!];
    const [px, py, pz] = [dy * fz - dz * fy, dz * fx - dx * fz, dx * fy - dy * fx];
    const det = ex * px + ey * py + ez * pz;
    if (det === 0) continue;
    const [tx, ty, tz] = [at[0]! - q[a]!, at[1]! - q[a + 1]!, at[2]! - q[a + 2]!];
    const r = (tx * px + ty * py + tz * pz) / det;
    if (!(r >= -SLACK && r <= 1 + SLACK)) continue;
    const [sx, sy, sz] = [ty * ez - tz * ey, tz * ex - tx * ez, tx * ey - ty * ex];
    const s = (dx * sx + dy * sy + dz * sz) / det;
    if (!(s >= -SLACK && r + s <= 1 + SLACK)) continue;
    const along = (fx * sx + fy * sy + fz * sz) / det;
    if (along > 0 && along < nearest) {
      nearest = along;
      hit = { triangle: t, r, s };
    }
  }
  return hit;
}

/** Rays through the very edge between two triangles are not lost. */
const SLACK = 1e-9;

/** From a guess of the foot's parameters, two Gauss–Newton steps with differences for derivatives. */
function distanceToSurface(
  live: LivePart,
  face: number,
  u: number,
  v: number,
  at: readonly number[],
  out: Float64Array,
): number {
  const beside = new Float64Array(6);
  for (let step = 0; step < 3; step++) {
    live.evaluate(face, u, v, out);
    const gap = [0, 1, 2].map((i) => at[i]! - out[i]!);
    const rates = [0, 1].map((axis) => {
      const reach = 1e-4;
      live.evaluate(face, axis === 0 ? u + reach : u, axis === 1 ? v + reach : v, beside);
      return [0, 1, 2].map((i) => (beside[i]! - out[i]!) / reach);
    });
    const dot = (a: readonly number[], b: readonly number[]): number =>
      a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
    const [p, q] = rates as [number[], number[]];
    const [pp, pq, qq, pg, qg] = [dot(p, p), dot(p, q), dot(q, q), dot(p, gap), dot(q, gap)];
    const det = pp * qq - pq * pq;
    if (!(det > 1e-12 * pp * qq)) break;
    u += (qq * pg - pq * qg) / det;
    v += (pp * qg - pq * pg) / det;
  }
  live.evaluate(face, u, v, out);
  return Math.hypot(at[0]! - out[0]!, at[1]! - out[1]!, at[2]! - out[2]!);
}

/** The value most agree on to a 10,000th; on curved faces the foot is a little off, on plane ones never. */
function commonest(sorted: readonly number[]): number {
  const median = sorted[Math.floor(sorted.length / 2)]!;
  let best = { from: 0, count: 0 };
  for (let from = 0, to = 0; from < sorted.length; from++) {
    while (to < sorted.length && sorted[to]! - sorted[from]! < 1e-6 * median) to++;
    if (to - from > best.count) best = { from, count: to - from };
  }
  return sorted[best.from + Math.floor(best.count / 2)]!;
}
