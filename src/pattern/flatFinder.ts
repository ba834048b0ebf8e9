/** From the formed tray back to the blank, through the solved field. */

import type { FlatField } from '../geometry/flatField.ts';
import { shapeDerivatives, shapeFunctions } from '../geometry/shapeFunctions.ts';

/** Where a formed point lies in the flat. */
export interface Found {
  readonly x: number;
  readonly y: number;
  /** Largest in-plane strain there, logarithmic, without sign. */
  readonly strain: number;
  /** Thickness strain there, logarithmic. */
  readonly thickness: number;
}

/** What of a field is searched. */
type SearchedField = Pick<
  FlatField,
  'flat' | 'formed' | 'triangles' | 'majorStrain' | 'minorStrain' | 'thicknessStrain'
>;

const squareOf = (x: number, y: number, z: number): number => x * x + y * y + z * z;

/** Finds the flat position of points of the formed surface. */
export class FlatFinder {
  private readonly field: SearchedField;
  private last = 0;
  private readonly shape = new Float64Array(6);
  private readonly du = new Float64Array(6);
  private readonly dv = new Float64Array(6);

  constructor(field: SearchedField) {
    this.field = field;
  }

  /** Flat position of the point of the solved surface nearest to a formed point, mm. */
  find(point: readonly [number, number, number]): Found {
    const count = this.field.triangles.length / 6;
    // Neighbouring points mostly lie in the same triangle.
    const here = this.locate(this.last, point);
    let best = here;
    let at = this.last;
    if (here.outside > 1e-9) {
      for (let t = 0; t < count; t++) {
        if (!this.isNear(t, point)) continue;
        const found = this.locate(t, point);
        if (found.outside < best.outside) {
          best = found;
          at = t;
        }
      }
    }
    this.last = at;
    return this.evaluate(at, best.u, best.v);
  }

  /** True when the point lies in the ball about a triangle. */
  private isNear(t: number, point: readonly [number, number, number]): boolean {
    const { triangles, formed } = this.field;
    const a = 3 * triangles[6 * t]!;
    const b = 3 * triangles[6 * t + 1]!;
    const c = 3 * triangles[6 * t + 2]!;
    const x = (formed[a]! + formed[b]! + formed[c]!) / 3;
    const y = (formed[a + 1]! + formed[b + 1]! + formed[c + 1]!) / 3;
    const z = (formed[a + 2]! + formed[b + 2]! + formed[c + 2]!) / 3;
    const distance = squareOf(point[0] - x, point[1] - y, point[2] - z);
    const reach = Math.max(
      squareOf(formed[a]! - x, formed[a + 1]! - y, formed[a + 2]! - z),
      squareOf(formed[b]! - x, formed[b + 1]! - y, formed[b + 2]! - z),
      squareOf(formed[c]! - x, formed[c + 1]! - y, formed[c + 2]! - z),
    );
    return distance <= 1.5 * reach;
  }

  /**
   * Area coordinates of the foot of a point on a triangle (Gauss–Newton), and how far outside it or away from it
   * that lies: the amount by which a coordinate is negative, plus the distance over the triangle's size.
   */
  private locate(
    t: number,
    point: readonly [number, number, number],
  ): { u: number; v: number; outside: number } {
    const { triangles, formed } = this.field;
    let u = 1 / 3;
    let v = 1 / 3;
    let away = Infinity;
    for (let step = 0; step < 12; step++) {
      shapeFunctions(u, v, this.shape);
      shapeDerivatives(u, v, this.du, this.dv);
      let [uu, uv, vv, ru, rv, rest] = [0, 0, 0, 0, 0, 0];
      for (let axis = 0; axis < 3; axis++) {
        let [x, xu, xv] = [0, 0, 0];
        for (let k = 0; k < 6; k++) {
          const value = formed[3 * triangles[6 * t + k]! + axis]!;
          x += this.shape[k]! * value;
          xu += this.du[k]! * value;
          xv += this.dv[k]! * value;
        }
        const r = point[axis]! - x;
        uu += xu * xu;
        uv += xu * xv;
        vv += xv * xv;
        ru += xu * r;
        rv += xv * r;
        rest += r * r;
      }
      const det = uu * vv - uv * uv;
      const stepU = (vv * ru - uv * rv) / det;
      const stepV = (uu * rv - uv * ru) / det;
      u += stepU;
      v += stepV;
      away = Math.sqrt(rest / Math.max(uu, vv));
      if (Math.abs(stepU) + Math.abs(stepV) < 1e-13) break;
      // Far from this triangle: its parabolas mean nothing there.
      if (!(Math.abs(u) + Math.abs(v) < 20)) return { u: 0, v: 0, outside: Infinity };
    }
    // The mesh is a hundredth of a triangle's size from the exact surface at most; only more counts as away.
    return { u, v, outside: Math.max(0, -u, -v, u + v - 1) + Math.max(0, away - 0.02) };
  }

  private evaluate(t: number, u: number, v: number): Found {
    const { triangles, flat, majorStrain, minorStrain, thicknessStrain } = this.field;
    shapeFunctions(u, v, this.shape);
    let [x, y, major, minor, thickness] = [0, 0, 0, 0, 0];
    for (let k = 0; k < 6; k++) {
      const node = triangles[6 * t + k]!;
      const w = this.shape[k]!;
      x += w * flat[2 * node]!;
      y += w * flat[2 * node + 1]!;
      major += w * majorStrain[node]!;
      minor += w * minorStrain[node]!;
      thickness += w * thicknessStrain[node]!;
    }
    return { x, y, strain: Math.max(Math.abs(major), Math.abs(minor)), thickness };
  }
}
