/** Finds flat points in a mesh of six-node triangles: in which triangle, and where in it. */
import { extentOf } from './extent.ts';
import { hypotenuse } from './hypotenuse.ts';
import { shapeDerivatives, shapeFunctions } from './shapeFunctions.ts';

/** A place in a six-node triangle: its number and the local coordinates. */
export interface Place {
  readonly triangle: number;
  readonly u: number;
  readonly v: number;
}

/** How far outside a triangle, in local coordinates, a point may lie and still count as in it. */
const INSIDE = 1e-9;
/** Farthest that a point outside the mesh is carried on from its edge, in local coordinates. */
const FARTHEST = 0.6;

const shape = new Float64Array(6);
const du = new Float64Array(6);
const dv = new Float64Array(6);

/** A mesh whose triangles are sorted into a grid. */
export class Locator {
  private readonly flat: Float64Array;
  private readonly triangles: Uint32Array;
  private readonly cells: number[][];
  private readonly columns: number;
  private readonly rows: number;
  private readonly minX: number;
  private readonly minY: number;
  private readonly size: number;

  /**
   * @param flat      mm, x y per node; not changed
   * @param triangles six node numbers each; not changed
   */
  constructor(flat: Float64Array, triangles: Uint32Array) {
    this.flat = flat;
    this.triangles = triangles;
    const { minX, minY, maxX, maxY } = extentOf(flat);
    this.minX = minX;
    this.minY = minY;
    this.size = Math.sqrt(((maxX - minX) * (maxY - minY)) / Math.max(1, triangles.length / 6)) || 1;
    this.columns = Math.floor((maxX - minX) / this.size) + 1;
    this.rows = Math.floor((maxY - minY) / this.size) + 1;
    this.cells = Array.from({ length: this.columns * this.rows }, () => []);
    for (let t = 0; t < triangles.length / 6; t++) this.sortIn(t);
  }

  private sortIn(t: number): void {
    let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let k = 0; k < 6; k++) {
      const node = this.triangles[6 * t + k]!;
      x0 = Math.min(x0, this.flat[2 * node]!);
      x1 = Math.max(x1, this.flat[2 * node]!);
      y0 = Math.min(y0, this.flat[2 * node + 1]!);
      y1 = Math.max(y1, this.flat[2 * node + 1]!);
    }
    for (let row = this.row(y0); row <= this.row(y1); row++)
      for (let column = this.column(x0); column <= this.column(x1); column++)
        this.cells[row * this.columns + column]!.push(t);
  }

  private column(x: number): number {
    return Math.min(this.columns - 1, Math.max(0, Math.floor((x - this.minX) / this.size)));
  }

  private row(y: number): number {
    return Math.min(this.rows - 1, Math.max(0, Math.floor((y - this.minY) / this.size)));
  }

  /** The place of a point; for one outside the mesh the nearest triangle carried on a little. */
  find(x: number, y: number): Place {
    const { place, outside } = this.nearest(x, y);
    return place === null || outside > FARTHEST ? this.nearestNode(x, y) : place;
  }

  /** The place of a point in the mesh; null for one outside it. */
  within(x: number, y: number): Place | null {
    const { place, outside } = this.nearest(x, y);
    return outside <= INSIDE ? place : null;
  }

  /** The place in the nearest triangle, and how far outside of that, in local coordinates. */
  private nearest(x: number, y: number): { readonly place: Place | null; readonly outside: number } {
    const column = this.column(x);
    const row = this.row(y);
    let best: Place | null = null;
    let least = Infinity;
    const seen = new Set<number>();
    for (let ring = 0; ring <= Math.max(this.columns, this.rows); ring++) {
      for (let r = Math.max(0, row - ring); r <= Math.min(this.rows - 1, row + ring); r++) {
        for (let c = Math.max(0, column - ring); c <= Math.min(this.columns - 1, column + ring); c++) {
          if (Math.max(Math.abs(r - row), Math.abs(c - column)) !== ring) continue;
          for (const t of this.cells[r * this.columns + c]!) {
            if (seen.has(t)) continue;
            seen.add(t);
            const place = this.inTriangle(t, x, y);
            if (place === null) continue;
            const outside = Math.max(-place.u, -place.v, place.u + place.v - 1);
            if (outside <= INSIDE) return { place, outside };
            if (outside < least) {
              least = outside;
              best = place;
            }
          }
        }
      }
      // One more ring than the first that has triangles: the nearest may be next door.
      if (best !== null && ring >= 1) break;
    }
    return { place: best, outside: least };
  }

  /** Local coordinates of a point in a triangle by Newton's method, or null where it does not settle. */
  private inTriangle(t: number, x: number, y: number): Place | null {
    let u = 1 / 3;
    let v = 1 / 3;
    for (let step = 0; step < 12; step++) {
      shapeFunctions(u, v, shape);
      shapeDerivatives(u, v, du, dv);
      let [px, py, xu, xv, yu, yv] = [-x, -y, 0, 0, 0, 0];
      for (let k = 0; k < 6; k++) {
        const node = this.triangles[6 * t + k]!;
        const nx = this.flat[2 * node]!;
        const ny = this.flat[2 * node + 1]!;
        px += shape[k]! * nx;
        py += shape[k]! * ny;
        xu += du[k]! * nx;
        xv += dv[k]! * nx;
        yu += du[k]! * ny;
        yv += dv[k]! * ny;
      }
      const det = xu * yv - xv * yu;
      const stepU = (px * yv - py * xv) / det;
      const stepV = (py * xu - px * yu) / det;
      u -= stepU;
      v -= stepV;
      if (!(Math.abs(u) < 5 && Math.abs(v) < 5)) return null;
      if (Math.abs(stepU) + Math.abs(stepV) < 1e-11) return { triangle: t, u, v };
    }
    return null;
  }

  private nearestNode(x: number, y: number): Place {
    let least = Infinity;
    let found: Place = { triangle: 0, u: 0, v: 0 };
    for (let t = 0; t < this.triangles.length / 6; t++) {
      for (let k = 0; k < 3; k++) {
        const node = this.triangles[6 * t + k]!;
        const far = hypotenuse(this.flat[2 * node]! - x, this.flat[2 * node + 1]! - y);
        if (far >= least) continue;
        least = far;
        found = { triangle: t, u: k === 1 ? 1 : 0, v: k === 2 ? 1 : 0 };
      }
    }
    return found;
  }

  /** Values of `size` numbers a node, at a place, into `out`. */
  interpolate(place: Place, values: Float64Array, size: number, out: Float64Array): Float64Array {
    shapeFunctions(place.u, place.v, shape);
    out.fill(0);
    for (let k = 0; k < 6; k++) {
      const node = this.triangles[6 * place.triangle + k]!;
      for (let j = 0; j < size; j++) out[j] = out[j]! + shape[k]! * values[size * node + j]!;
    }
    return out;
  }
}
