/**
 * From a point of the first flat shape to the exact neutral surface: which triangle of the skin's net it lies in,
 * the surface parameters there, and the kernel's own point and normal.
 */

import { extentOf } from '../../geometry/extent.ts';
import {
  cross,
  distance,
  dot,
  minus,
  moved,
  scaled,
  unit,
  type Vector3,
  vectorAt,
} from '../../geometry/vector3.ts';
import { FLAT, IMAGE_OF_X, IMAGE_OF_Y, PLACED_SIZE, type Placed } from '../../tray/neutralSurface.ts';
import { onBridge } from './filledHoles.ts';
import { nearestEdges } from './nearestEdges.ts';
import { curvaturesOf, neutralShare } from './neutralFibre.ts';
import { sheetEnd } from './sheetEdge.ts';
import { type PartPlace, type PartSkin, placeIn } from './skin.ts';

export interface FlatAtlas {
  /** A value at a flat point from those at the vertices of the net. */
  interpolate(x: number, y: number, values: Float64Array): number;
  /** The place of a flat point on the part's own surfaces. */
  onPart(x: number, y: number): PartPlace;
  /** The same for a point on the edge of a triangle, from corner `edge` to the next one. */
  onPartEdge(triangle: number, edge: number, fraction: number): PartPlace;
  /** Surface parameters of the point of a face nearest to a placed one, from a guess; null where there are none. */
  footOn(guess: PartPlace, placed: Placed): PartPlace | null;
  /**
   * Change of the neutral surface's point with the parameters of a face, in the tray's frame: six numbers into
   * `out`; and the nine of the matrix that turns steps along the sheet's middle into those along its neutral
   * surface.
   */
  tangents(at: PartPlace, out: Float64Array): void;
  /** A placed point in the part's own space. */
  inPart(placed: ArrayLike<number>): Vector3;
  /** Puts a flat point on the middle of the sheet. */
  place(x: number, y: number, out: Placed): void;
  /** The same for a point on the exact edge of a face, where there is one: from corner `edge` of `triangle` to the next one. */
  placeOnEdge(triangle: number, edge: number, fraction: number, out: Placed): void;
}

/**
 * @param flat     x y per vertex of the skin's net
 */
export function flatAtlas({ live, skin, frame }: PartSkin, flat: Float64Array): FlatAtlas {
  const { triangles, parameters, face, position } = skin.mesh;
  const grid = triangleGrid(triangles, flat);
  const value = new Float64Array(6);
  const rates = new Float64Array(18);
  const turn = (w: Vector3): Vector3 => frame.axes.map((axis) => dot(axis, w)) as unknown as Vector3;
  const sign = skin.turned ? -1 : 1;
  const snapped = new Float64Array(3);
  const size = Math.sqrt(live.part.area);
  const put = (
    triangle: number,
    shares: readonly [number, number, number],
    edgeShares: boolean,
    out: Placed,
  ): void => {
    let [u, v, x, y] = [0, 0, 0, 0];
    for (let k = 0; k < 3; k++) {
      u += shares[k]! * parameters[6 * triangle + 2 * k]!;
      v += shares[k]! * parameters[6 * triangle + 2 * k + 1]!;
      x += shares[k]! * flat[2 * triangles[3 * triangle + k]!]!;
      y += shares[k]! * flat[2 * triangles[3 * triangle + k]! + 1]!;
    }
    live.evaluate(face[triangle]!, u, v, value);
    if (edgeShares) {
      let best = Infinity;
      const from = value.slice(0, 3);
      const feet = nearestEdges(live, live.part.faces[face[triangle]!]!.wires.flat(), from).map((edge) => {
        snapped.set(from);
        live.snapToEdge(edge, snapped);
        return { edge, foot: vectorAt(snapped, 0), away: distance(snapped, from) };
      });
      for (const { foot, away } of feet) {
        if (away >= best) continue;
        best = away;
        value.set(foot);
      }
      // Where edges meet, the one that is not square to the skin tells where the sheet ends.
      for (const { edge, foot } of feet) {
        if (distance(foot, value) > SAME_POINT * size) continue;
        const end = sheetEnd(live, skin, edge, foot, { face: face[triangle]!, u, v });
        if (end === null) continue;
        value.set(end.point);
        value.set(scaled(sign, end.normal), 3);
        break;
      }
    }
    const normal = scaled(sign, vectorAt(value, 3));
    out.set(turn(minus(moved(value, -skin.depth, normal), frame.origin)), 0);
    const [fx, fy] = pushForward(position, triangles, flat, triangle);
    const [r1, r2] = orthonormal(fx, fy, normal);
    out.set(turn(r1), IMAGE_OF_X);
    out.set(turn(r2), IMAGE_OF_Y);
    out[FLAT] = x;
    out[FLAT + 1] = y;
  };
  const inPart = (placed: ArrayLike<number>): Vector3 =>
    frame.axes.reduce<Vector3>((at, axis, k) => moved(at, placed[k]!, axis), frame.origin);
  const neutralMatrix = (at: Float64Array, sign: number): number[] => {
    const { values, directions } = curvaturesOf(at, sign);
    const matrix = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    for (const [k, value] of values.entries()) {
      const change = neutralShare(value, skin.depth, skin.thickness) - 1;
      if (change === 0) continue;
      const d = turn(directions[k]!);
      for (let i = 0; i < 9; i++) matrix[i] = matrix[i]! + change * d[Math.floor(i / 3)]! * d[i % 3]!;
    }
    return matrix;
  };
  /** Change of the sheet's middle with a parameter, from those of the skin and of its normal. */
  const stepAlong = (at: Float64Array, from: number): Vector3 =>
    moved(vectorAt(at, from), -skin.depth * sign, vectorAt(at, from + 6));
  return {
    interpolate(x, y, values) {
      const { triangle, shares } = grid(x, y);
      return shares.reduce((sum, share, k) => sum + share * values[triangles[3 * triangle + k]!]!, 0);
    },
    onPart(x, y) {
      const { triangle, shares } = grid(x, y);
      return placeIn(skin.mesh, triangle, shares);
    },
    onPartEdge(triangle, edge, fraction) {
      return placeIn(skin.mesh, triangle, edgeShares(edge, fraction));
    },
    footOn(guess, placed) {
      let { u, v } = guess;
      const target = inPart(placed);
      let away = Infinity;
      for (let step = 0; step < FOOT_STEPS; step++) {
        live.differentiate(guess.face, u, v, rates);
        const [a, b] = [stepAlong(rates, 6), stepAlong(rates, 9)];
        const gap = minus(target, moved(rates, -skin.depth * sign, vectorAt(rates, 3)));
        const [uu, uv, vv, ru, rv] = [dot(a, a), dot(a, b), dot(b, b), dot(a, gap), dot(b, gap)];
        away = Math.sqrt(dot(gap, gap));
        const det = uu * vv - uv * uv;
        // At a pole one parameter says nothing.
        if (!(det > 1e-8 * (uu + vv) ** 2)) return null;
        u += (vv * ru - uv * rv) / det;
        v += (uu * rv - uv * ru) / det;
      }
      return away < SAME_POINT * size ? { face: guess.face, u, v } : null;
    },
    tangents({ face: number, u, v }, out) {
      live.differentiate(number, u, v, rates);
      const matrix = neutralMatrix(rates, sign);
      for (const [k, from] of [6, 9].entries()) {
        out.set(times(matrix, turn(stepAlong(rates, from))), 3 * k);
      }
      out.set(matrix, 6);
    },
    inPart,
    place(x, y, out) {
      const { triangle, shares } = grid(x, y);
      put(triangle, shares, false, out);
      out[FLAT] = x;
      out[FLAT + 1] = y;
    },
    placeOnEdge(triangle, edge, fraction, out) {
      const ends = [edge, (edge + 1) % 3].map(
        (k) => [parameters[6 * triangle + 2 * k]!, parameters[6 * triangle + 2 * k + 1]!] as const,
      );
      // Over a hole that is filled there is no edge of the part.
      const bridged = skin.bridges.some((bridge) => onBridge(bridge, face[triangle]!, ends));
      put(triangle, edgeShares(edge, fraction), !bridged, out);
    },
  };
}

/** Steps from a guess to the foot of a point on a face, and how near it must come, as a share of the part's size. */
const FOOT_STEPS = 3;
const SAME_POINT = 1e-6;

/** Shares of a triangle's corners for a point on its edge. */
function edgeShares(edge: number, fraction: number): [number, number, number] {
  const shares: [number, number, number] = [0, 0, 0];
  shares[edge] = 1 - fraction;
  shares[(edge + 1) % 3] = fraction;
  return shares;
}

/** A 3 × 3 matrix, by rows, times a vector. */
export const times = (m: ArrayLike<number>, v: ArrayLike<number>): Vector3 => [
  dot(vectorAt(m, 0), v),
  dot(vectorAt(m, 3), v),
  dot(vectorAt(m, 6), v),
];

export const newPlaced = (): Placed => new Float64Array(PLACED_SIZE);

/** Images of flat x and y in space, of one triangle. */
function pushForward(
  position: readonly number[],
  triangles: readonly number[],
  flat: Float64Array,
  t: number,
): [Vector3, Vector3] {
  const [i, j, k] = [triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!];
  const [ax, ay] = [flat[2 * j]! - flat[2 * i]!, flat[2 * j + 1]! - flat[2 * i + 1]!];
  const [bx, by] = [flat[2 * k]! - flat[2 * i]!, flat[2 * k + 1]! - flat[2 * i + 1]!];
  const det = ax * by - ay * bx;
  const corner = vectorAt(position, 3 * i);
  const a = minus(vectorAt(position, 3 * j), corner);
  const b = minus(vectorAt(position, 3 * k), corner);
  return [moved(scaled(by / det, a), -ay / det, b), moved(scaled(-bx / det, a), ax / det, b)];
}

/** The rotation nearest to the push-forward, in the plane square to the normal. */
function orthonormal(fx: Vector3, fy: Vector3, n: Vector3): [Vector3, Vector3] {
  const e1 = unit(moved(fx, -dot(fx, n), n));
  const e2 = cross(n, e1);
  const angle = Math.atan2(dot(fx, e2) - dot(fy, e1), dot(fx, e1) + dot(fy, e2));
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [moved(scaled(c, e1), s, e2), moved(scaled(-s, e1), c, e2)];
}

/** Finds triangles by cells of an even grid; a point outside of all goes to the nearest one tried. */
function triangleGrid(
  triangles: readonly number[],
  flat: Float64Array,
): (x: number, y: number) => { triangle: number; shares: readonly [number, number, number] } {
  const { minX, minY, maxX, maxY } = extentOf(flat);
  const count = triangles.length / 3;
  const cells = Math.max(1, Math.ceil(Math.sqrt(count)));
  const [stepX, stepY] = [(maxX - minX) / cells, (maxY - minY) / cells];
  const column = (x: number): number => Math.min(cells - 1, Math.max(0, Math.floor((x - minX) / stepX)));
  const row = (y: number): number => Math.min(cells - 1, Math.max(0, Math.floor((y - minY) / stepY)));
  const lists: number[][] = Array.from({ length: cells * cells }, () => []);
  for (let t = 0; t < count; t++) {
    const xs = [0, 1, 2].map((k) => flat[2 * triangles[3 * t + k]!]!);
    const ys = [0, 1, 2].map((k) => flat[2 * triangles[3 * t + k]! + 1]!);
    for (let i = column(Math.min(...xs)); i <= column(Math.max(...xs)); i++) {
      for (let j = row(Math.min(...ys)); j <= row(Math.max(...ys)); j++) lists[j * cells + i]!.push(t);
    }
  }
  const shares = (t: number, x: number, y: number): [number, number, number] => {
    const [i, j, k] = [triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!];
    const [ax, ay] = [flat[2 * j]! - flat[2 * i]!, flat[2 * j + 1]! - flat[2 * i + 1]!];
    const [bx, by] = [flat[2 * k]! - flat[2 * i]!, flat[2 * k + 1]! - flat[2 * i + 1]!];
    const [dx, dy] = [x - flat[2 * i]!, y - flat[2 * i + 1]!];
    const det = ax * by - ay * bx;
    const s = (dx * by - dy * bx) / det;
    const r = (ax * dy - ay * dx) / det;
    return [1 - s - r, s, r];
  };
  return (x, y) => {
    let best = -Infinity;
    let out: { triangle: number; shares: [number, number, number] } = { triangle: 0, shares: [1, 0, 0] };
    for (let reach = 0; reach < cells; reach++) {
      for (let i = column(x) - reach; i <= column(x) + reach; i++) {
        for (let j = row(y) - reach; j <= row(y) + reach; j++) {
          const ring = Math.max(Math.abs(i - column(x)), Math.abs(j - row(y)));
          if (ring !== reach || i < 0 || j < 0 || i >= cells || j >= cells) continue;
          for (const t of lists[j * cells + i]!) {
            const own = shares(t, x, y);
            const least = Math.min(...own);
            if (least <= best) continue;
            best = least;
            out = { triangle: t, shares: own };
          }
        }
      }
      if (best > -1e-9 || (best > -Infinity && reach > 0)) break;
    }
    if (best < 0) {
      const kept = out.shares.map((share) => Math.max(0, share));
      const sum = kept[0]! + kept[1]! + kept[2]!;
      out = { triangle: out.triangle, shares: [kept[0]! / sum, kept[1]! / sum, kept[2]! / sum] };
    }
    return out;
  };
}
