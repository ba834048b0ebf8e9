/**
 * Where the middle of the sheet ends: in the middle of its edge, which need not be square to the skins, as where two walls
 * meet at a mitre or a hole is drilled aslant.
 */
import {
  cross,
  dot,
  minus,
  moved,
  norm,
  scaled,
  unit,
  type Vector3,
  vectorAt,
} from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { PartPlace, Skin } from './skin.ts';

/** Cosine of the angle between skin and edge below which the edge is square to it: rounding of the kernel's net. */
const SQUARE = 1e-3;
/** Steps to the middle of the edge. */
const STEPS = 4;

/** Of the kernel edges of a skin's boundary the face of the sheet's edge there, where it goes through to the other skin. */
export function edgeFaces(
  { part }: Pick<LivePart, 'part'>,
  inner: ReadonlySet<number>,
  outer: ReadonlySet<number>,
): ReadonlyMap<number, number> {
  const edgesOf = (faces: ReadonlySet<number>): Set<number> =>
    new Set([...faces].flatMap((face) => part.faces[face]!.wires.flat()));
  const [own, others] = [edgesOf(inner), edgesOf(outer)];
  const out = new Map<number, number>();
  for (const [number, { wires }] of part.faces.entries()) {
    if (inner.has(number) || outer.has(number)) continue;
    const edges = wires.flat();
    if (!edges.some((edge) => others.has(edge))) continue;
    for (const edge of edges) if (own.has(edge)) out.set(edge, number);
  }
  return out;
}

/** A point and the normal out of a skin, x y z each. */
export interface OnSkin {
  readonly point: Vector3;
  readonly normal: Vector3;
}

/**
 * The point of a skin's surface, carried on beyond its boundary, under which the middle of the sheet ends; null where the
 * edge of the sheet is square to the skin.
 *
 * @param edge  number of the kernel edge
 * @param at    a point of that edge
 * @param guess parameters near it
 */
export function sheetEnd(
  live: LivePart,
  { edgeFaces: through, depth, turned }: Skin,
  edge: number,
  at: Vector3,
  guess: PartPlace,
): OnSkin | null {
  const face = through.get(edge);
  if (face === undefined) return null;
  const across = normalNear(live, face, at);
  const sign = turned ? -1 : 1;
  const rates = new Float64Array(18);
  let { u, v } = guess;
  let along: Vector3 | null = null;
  for (let step = 0; step < STEPS; step++) {
    live.differentiate(guess.face, u, v, rates);
    const normal = scaled(sign, vectorAt(rates, 3));
    if (along === null) {
      if (Math.abs(dot(across, normal)) < SQUARE) return null;
      along = unit(cross(normal, across));
    }
    // On the edge's own face, and no farther along the edge than the point.
    const middle = moved(vectorAt(rates, 0), -depth, normal);
    const wanted = [dot(across, minus(at, middle)), dot(along, minus(at, vectorAt(rates, 0)))];
    const [du, dv] = [6, 9].map((from) => {
      const skinStep = vectorAt(rates, from);
      const middleStep = moved(skinStep, -depth * sign, vectorAt(rates, from + 6));
      return [dot(across, middleStep), dot(along!, skinStep)] as const;
    }) as [readonly [number, number], readonly [number, number]];
    const det = du[0] * dv[1] - dv[0] * du[1];
    // At a pole one parameter says nothing.
    if (!(Math.abs(det) > 1e-8 * (norm(vectorAt(rates, 6)) + norm(vectorAt(rates, 9))) ** 2)) return null;
    u += (wanted[0]! * dv[1] - wanted[1]! * dv[0]) / det;
    v += (wanted[1]! * du[0] - wanted[0]! * du[1]) / det;
  }
  live.differentiate(guess.face, u, v, rates);
  return { point: vectorAt(rates, 0), normal: scaled(sign, vectorAt(rates, 3)) };
}

/** The normal of a face at its net's point nearest to a point. */
function normalNear({ part }: LivePart, face: number, at: Vector3): Vector3 {
  const { points, normals } = part.faces[face]!;
  let [best, least] = [0, Infinity];
  for (let i = 0; i < points.length; i += 3) {
    const away = norm(minus(vectorAt(points, i), at));
    if (away < least) [best, least] = [i, away];
  }
  return vectorAt(normals, best);
}
