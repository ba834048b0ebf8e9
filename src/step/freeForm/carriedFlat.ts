/** A solution on one mesh of a part as the start on another one. */

import { shapeDerivatives, shapeFunctions } from '../../geometry/shapeFunctions.ts';
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import type { PartMesh } from './partMesh.ts';
import type { PartPlace } from './skin.ts';

/**
 * How far outside a triangle, in area coordinates, a point of its face may seem to lie: along a curved border the
 * straight edges of two meshes cut off different pieces.
 */
const OUTSIDE = 0.2;

/**
 * Flat positions for the nodes of `to`, carried over by the parameters of the part's faces, so that what the first
 * flat shape strains is not strained again.
 *
 * @param flat x y per node of `from`
 */
export function carriedFlat(from: PartMesh, flat: Float64Array, to: PartMesh): Float64Array {
  const finder = new TriangleFinder(from.mesh, from.start);
  const out = new Float64Array(2 * to.mesh.nodeCount);
  const shape = new Float64Array(6);
  for (let node = 0; node < to.mesh.nodeCount; node++) {
    const { triangle, u, v } = found(finder, from, to, node);
    shapeFunctions(u, v, shape);
    for (let i = 0; i < 6; i++) {
      const other = from.mesh.triangles[6 * triangle + i]!;
      for (let axis = 0; axis < 2; axis++) {
        out[2 * node + axis] = out[2 * node + axis]! + shape[i]! * flat[2 * other + axis]!;
      }
    }
  }
  return out;
}

interface Inside {
  readonly triangle: number;
  readonly u: number;
  readonly v: number;
  /** How far outside the triangle, in area coordinates. */
  readonly outside: number;
}

const outsideOf = (u: number, v: number): number => Math.max(0, -u, -v, u + v - 1);

/** The place of a node in another mesh: by the faces it lies on, or else by the first flat shape. */
function found(finder: TriangleFinder, from: PartMesh, to: PartMesh, node: number): Inside {
  const near = finder.near(to.start[2 * node]!, to.start[2 * node + 1]!);
  let best: Inside | null = null;
  for (const each of near) {
    const own = corrected(from, each, to.places[node]!);
    if (own !== null && (best === null || own.outside < best.outside)) best = own;
    if (best !== null && best.outside === 0) break;
  }
  return best ?? near[0]!;
}

/** The area coordinates at which a triangle's own parameters of a face are a node's; null when it has none. */
function corrected({ mesh, places }: PartMesh, guess: Inside, wanted: readonly PartPlace[]): Inside | null {
  const [shape, du, dv] = [new Float64Array(6), new Float64Array(6), new Float64Array(6)];
  for (const target of wanted) {
    const own: PartPlace[] = [];
    for (let i = 0; i < 6; i++) {
      const place = places[mesh.triangles[6 * guess.triangle + i]!]!.find(({ face }) => face === target.face);
      if (place !== undefined) own.push(place);
    }
    if (own.length < 6) continue;
    let { u, v } = guess;
    for (let step = 0; step < 4; step++) {
      shapeFunctions(u, v, shape);
      shapeDerivatives(u, v, du, dv);
      let [a, b, aU, aV, bU, bV] = [0, 0, 0, 0, 0, 0];
      for (const [i, place] of own.entries()) {
        a += shape[i]! * place.u;
        b += shape[i]! * place.v;
        aU += du[i]! * place.u;
        aV += dv[i]! * place.u;
        bU += du[i]! * place.v;
        bV += dv[i]! * place.v;
      }
      const det = aU * bV - aV * bU;
      u += ((target.u - a) * bV - (target.v - b) * aV) / det;
      v += ((target.v - b) * aU - (target.u - a) * bU) / det;
    }
    // Far off: the seam of a closed face lies between them.
    const outside = outsideOf(u, v);
    if (outside < OUTSIDE) return { triangle: guess.triangle, u, v, outside };
  }
  return null;
}

/** Finds the triangles of a mesh that a flat point lies in or near. */
class TriangleFinder {
  private readonly cells = new Map<number, number[]>();
  private readonly mesh: QuadraticMesh;
  private readonly start: Float64Array;
  private readonly size: number;

  constructor(mesh: QuadraticMesh, start: Float64Array) {
    this.mesh = mesh;
    this.start = start;
    let area = 0;
    const count = mesh.triangles.length / 6;
    for (let t = 0; t < count; t++) area += Math.abs(this.frame(t).det) / 2;
    this.size = 2 * Math.sqrt(area / count);
    for (let t = 0; t < count; t++) {
      const [xs, ys] = [0, 1].map((axis) =>
        [0, 1, 2].map((k) => Math.floor(start[2 * mesh.triangles[6 * t + k]! + axis]! / this.size)),
      ) as [number[], number[]];
      for (let i = Math.min(...xs); i <= Math.max(...xs); i++) {
        for (let j = Math.min(...ys); j <= Math.max(...ys); j++) {
          const list = this.cells.get(key(i, j));
          if (list === undefined) this.cells.set(key(i, j), [t]);
          else list.push(t);
        }
      }
    }
  }

  /** Triangles about a point, the ones it lies least outside of first; at least one. */
  near(x: number, y: number): Inside[] {
    const [column, row] = [Math.floor(x / this.size), Math.floor(y / this.size)];
    const out = new Map<number, Inside>();
    let least = Infinity;
    for (let reach = 0; !(least < OUTSIDE) && reach < MOST_REACH; reach++) {
      for (let i = column - reach; i <= column + reach; i++) {
        for (let j = row - reach; j <= row + reach; j++) {
          for (const triangle of this.cells.get(key(i, j)) ?? []) {
            if (out.has(triangle)) continue;
            const { px, py, ax, ay, bx, by, det } = this.frame(triangle);
            const u = ((x - px) * by - (y - py) * bx) / det;
            const v = ((y - py) * ax - (x - px) * ay) / det;
            const outside = outsideOf(u, v);
            least = Math.min(least, outside);
            out.set(triangle, { triangle, u, v, outside });
          }
        }
      }
    }
    return [...out.values()]
      .filter(({ outside }) => outside < Math.max(OUTSIDE, 2 * least))
      .sort((a, b) => a.outside - b.outside);
  }

  private frame(t: number): Readonly<Record<'px' | 'py' | 'ax' | 'ay' | 'bx' | 'by' | 'det', number>> {
    const at = (k: number, axis: number): number => this.start[2 * this.mesh.triangles[6 * t + k]! + axis]!;
    const [px, py] = [at(0, 0), at(0, 1)];
    const [ax, ay, bx, by] = [at(1, 0) - px, at(1, 1) - py, at(2, 0) - px, at(2, 1) - py];
    return { px, py, ax, ay, bx, by, det: ax * by - ay * bx };
  }
}

/** Cells about a point that are looked through, at the most. */
const MOST_REACH = 100;

const key = (i: number, j: number): number => (i + 50_000) * 100_003 + j + 50_000;
