/** Lengths and areas of a skin's neutral surface, cut by upright planes through a point of the base. */
import { cross, moved, norm, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import { curvaturesOf, neutralLength, neutralShare } from './neutralFibre.ts';
import { type PartSkin, placeIn, type Skin } from './skin.ts';

type Direction = readonly [number, number];
/** Shares of a triangle's corners. */
type Shares = readonly [number, number, number];

/** Points of a triangle at which its area is taken (three points, exact for parabolas). */
const QUADRATURE: readonly Shares[] = [
  [2 / 3, 1 / 6, 1 / 6],
  [1 / 6, 2 / 3, 1 / 6],
  [1 / 6, 1 / 6, 2 / 3],
];

/** A skin, seen from above from a point of its base. */
export class UprightCuts {
  private readonly live: LivePart;
  private readonly skin: Skin;
  private readonly sign: number;
  /** x y of each vertex from the centre. */
  private readonly plan: Float64Array;

  /** @param centre in plan, tray's frame */
  constructor({ live, skin, frame }: PartSkin, centre: { readonly x: number; readonly y: number }) {
    this.live = live;
    this.skin = skin;
    this.sign = skin.turned ? -1 : 1;
    const { position } = skin.mesh;
    this.plan = new Float64Array((2 * position.length) / 3);
    for (let vertex = 0; vertex < position.length / 3; vertex++) {
      for (let axis = 0; axis < 2; axis++) {
        let sum = axis === 0 ? -centre.x : -centre.y;
        for (let i = 0; i < 3; i++) {
          sum += frame.axes[axis]![i]! * (position[3 * vertex + i]! - frame.origin[i]!);
        }
        this.plan[2 * vertex + axis] = sum;
      }
    }
  }

  /** Length of the fibre of the neutral surface that runs from the centre to the rim in a direction, mm. */
  fibreLength(direction: Direction): number {
    const { plan } = this;
    const { triangles } = this.skin.mesh;
    const size = Math.hypot(...direction);
    const [dx, dy] = [direction[0] / size, direction[1] / size];
    const [position, normals] = [new Float64Array(6), new Float64Array(6)];
    let sum = 0;
    for (let t = 0; t < triangles.length / 3; t++) {
      const vertices = [triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!] as const;
      const off = vertices.map((v) => plan[2 * v + 1]! * dx - plan[2 * v]! * dy);
      const along = vertices.map((v) => plan[2 * v]! * dx + plan[2 * v + 1]! * dy);
      // Crossings of the triangle's edges with the plane, each vertex belonging to one side of it.
      const crossings: Shares[] = [];
      for (let k = 0; k < 3; k++) {
        const l = (k + 1) % 3;
        if (off[k]! >= 0 === off[l]! >= 0) continue;
        const shares: [number, number, number] = [0, 0, 0];
        shares[l] = off[k]! / (off[k]! - off[l]!);
        shares[k] = 1 - shares[l];
        crossings.push(shares);
      }
      if (crossings.length !== 2) continue;
      const reach = crossings.map((shares) => shares.reduce((total, s, k) => total + s * along[k]!, 0));
      const [low, high] = [Math.min(...reach), Math.max(...reach)];
      if (high <= 0) continue;
      for (const [k, shares] of crossings.entries()) this.middle(t, shares, position, normals, 3 * k);
      const whole = neutralLength(position, normals, 0, 1, this.skin.thickness);
      // The triangle below the centre counts from there on.
      sum += low >= 0 ? whole : (whole * high) / (high - low);
    }
    return sum;
  }

  /**
   * Area of the neutral surface within a wedge about the centre, mm².
   *
   * @param from to directions of the wedge's sides; less than half a turn apart, counter-clockwise
   */
  wedgeArea(from: Direction, to: Direction): number {
    const { plan } = this;
    const { triangles } = this.skin.mesh;
    let sum = 0;
    for (let t = 0; t < triangles.length / 3; t++) {
      const at = [0, 1, 2].map((k) => {
        const v = triangles[3 * t + k]!;
        return [plan[2 * v]!, plan[2 * v + 1]!] as const;
      });
      // Corners as shares, so that what is left of the triangle is a share of its area.
      let polygon: Shares[] = [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ];
      polygon = clipped(
        polygon,
        at.map(([x, y]) => from[0] * y - from[1] * x),
      );
      polygon = clipped(
        polygon,
        at.map(([x, y]) => to[1] * x - to[0] * y),
      );
      if (polygon.length < 3) continue;
      let share = 0;
      for (let n = 1; n + 1 < polygon.length; n++) {
        const [p, q, r] = [polygon[0]!, polygon[n]!, polygon[n + 1]!];
        share += (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
      }
      sum += Math.abs(share) * this.areaOf(t);
    }
    return sum;
  }

  /** A point of the sheet's middle and its normal. */
  private middle(
    t: number,
    shares: Shares,
    position: Float64Array,
    normals: Float64Array,
    into: number,
  ): void {
    const value = new Float64Array(6);
    const { face, u, v } = placeIn(this.skin.mesh, t, shares);
    this.live.evaluate(face, u, v, value);
    for (let i = 0; i < 3; i++) {
      normals[into + i] = this.sign * value[3 + i]!;
      position[into + i] = value[i]! - this.skin.depth * normals[into + i]!;
    }
  }

  private areaOf(t: number): number {
    const { mesh, depth, thickness } = this.skin;
    const rates = new Float64Array(18);
    const [p, q, r] = [placeIn(mesh, t, [1, 0, 0]), placeIn(mesh, t, [0, 1, 0]), placeIn(mesh, t, [0, 0, 1])];
    const inParameters = Math.abs((q.u - p.u) * (r.v - p.v) - (q.v - p.v) * (r.u - p.u)) / 2;
    let sum = 0;
    for (const shares of QUADRATURE) {
      const { face, u, v } = placeIn(mesh, t, shares);
      this.live.differentiate(face, u, v, rates);
      const [a, b] = [6, 9].map((from) =>
        moved(vectorAt(rates, from), -depth * this.sign, vectorAt(rates, from + 6)),
      ) as [Vector3, Vector3];
      const density = norm(cross(a, b));
      const share = curvaturesOf(rates, this.sign).values.reduce(
        (product, value) => product * neutralShare(value, depth, thickness),
        1,
      );
      sum += (density * share * inParameters) / QUADRATURE.length;
    }
    return sum;
  }
}

/** What of a polygon lies where a value, given at the triangle's corners, is not negative. */
function clipped(polygon: readonly Shares[], corners: readonly number[]): Shares[] {
  const at = polygon.map((shares) => shares.reduce((sum, share, k) => sum + share * corners[k]!, 0));
  return polygon.flatMap((shares, n) => {
    const m = (n + 1) % polygon.length;
    const [a, b] = [at[n]!, at[m]!];
    const out = a >= 0 ? [shares] : [];
    if (a >= 0 !== b >= 0) {
      const s = a / (a - b);
      const other = polygon[m]!;
      out.push([0, 1, 2].map((c) => (1 - s) * shares[c]! + s * other[c]!) as [number, number, number]);
    }
    return out;
  });
}
