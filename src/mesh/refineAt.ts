/**
 * Makes a skeleton finer about some of its vertices only.
 *
 * Triangles are halved across their longest edge, and first the neighbour there, until that edge is the longest of both:
 * so the mesh stays without hanging vertices and no angle falls below half the smallest (M.-C. Rivara, "New mathematical
 * tools and techniques for the refinement and/or improvement of unstructured triangulations", Proc. 5th International
 * Meshing Roundtable, 1996, 77–86; from memory).
 */
import { PLACED_SIZE } from '../tray/neutralSurface.ts';
import { middleAcross, type Skeleton } from './skeleton.ts';

interface Triangle {
  readonly corners: readonly [number, number, number];
  readonly chart: number;
  /** Chart coordinates, a b per corner. */
  readonly coordinates: readonly number[];
}

/**
 * @param about vertices at which triangles become small
 * @param times how often they are halved in size there
 */
export function refineAt(skeleton: Skeleton, about: readonly number[], times: number): Skeleton {
  if (about.length === 0) return skeleton;
  const bisection = new Bisection(skeleton);
  const wanted = new Set(about);
  // Two bisections halve the size.
  for (let round = 0; round < 2 * times; round++) bisection.halveAt(wanted);
  return bisection.skeleton();
}

class Bisection {
  private readonly source: Skeleton;
  private readonly placed: number[];
  private readonly mirror: number[];
  /** Null where it was halved. */
  private readonly triangles: (Triangle | null)[] = [];
  /** The triangle on the left of every edge, by its ends in counter-clockwise order. */
  private readonly leftOf = new Map<string, number>();
  private readonly point = new Float64Array(PLACED_SIZE);

  constructor(source: Skeleton) {
    this.source = source;
    this.placed = Array.from(source.placed);
    this.mirror = Array.from(source.mirror);
    for (let t = 0; t < source.chart.length; t++) {
      const [a, b, c] = source.triangles.subarray(3 * t, 3 * t + 3);
      this.add({
        corners: [a!, b!, c!],
        chart: source.chart[t]!,
        coordinates: Array.from(source.coordinates.subarray(6 * t, 6 * t + 6)),
      });
    }
  }

  /** Halves every triangle that has a corner there. */
  halveAt(vertices: ReadonlySet<number>): void {
    const count = this.triangles.length;
    for (let t = 0; t < count; t++) {
      if (this.triangles[t]?.corners.some((corner) => vertices.has(corner)) === true) this.halve(t);
    }
  }

  skeleton(): Skeleton {
    const left = this.triangles.filter((triangle) => triangle !== null);
    return {
      charts: this.source.charts,
      placed: Float64Array.from(this.placed),
      mirror: Uint8Array.from(this.mirror),
      triangles: Uint32Array.from(left.flatMap(({ corners }) => [...corners])),
      chart: Uint16Array.from(left, ({ chart }) => chart),
      coordinates: Float64Array.from(left.flatMap(({ coordinates }) => [...coordinates])),
    };
  }

  private add(triangle: Triangle): void {
    const number = this.triangles.push(triangle) - 1;
    for (let e = 0; e < 3; e++) this.leftOf.set(edgeOf(triangle, e), number);
  }

  private halve(t: number): void {
    while (this.triangles[t] !== null) {
      const own = this.triangles[t]!;
      const e = this.longestEdge(own);
      const [from, to] = [own.corners[e]!, own.corners[(e + 1) % 3]!];
      const beyond = this.leftOf.get(`${to} ${from}`);
      const other = beyond === undefined ? null : this.triangles[beyond]!;
      if (other === null) {
        this.split(t, e, this.middleOf(own, e));
      } else {
        const f = this.longestEdge(other);
        if (other.corners[f] === to && other.corners[(f + 1) % 3] === from) {
          // The planar chart takes over the exact point of a curved edge.
          const curvedFirst = this.source.charts[own.chart]!.planar
            ? ([other, f] as const)
            : ([own, e] as const);
          const middle = this.middleOf(...curvedFirst);
          this.split(t, e, middle);
          this.split(beyond!, f, middle);
        } else this.halve(beyond!);
      }
    }
  }

  /** Of edges as long as each other the one with the lowest vertices. */
  private longestEdge({ corners }: Triangle): number {
    let best = 0;
    let most = -1;
    let name = '';
    for (let e = 0; e < 3; e++) {
      const [from, to] = [corners[e]!, corners[(e + 1) % 3]!];
      const [low, high] = from < to ? [from, to] : [to, from];
      const square = this.square(low, high);
      const own = `${low} ${high}`;
      if (square < most || (square === most && own > name)) continue;
      [best, most, name] = [e, square, own];
    }
    return best;
  }

  private square(a: number, b: number): number {
    let sum = 0;
    for (let k = 0; k < 3; k++) {
      sum += (this.placed[PLACED_SIZE * a + k]! - this.placed[PLACED_SIZE * b + k]!) ** 2;
    }
    return sum;
  }

  /** A new vertex in the middle of an edge. */
  private middleOf(triangle: Triangle, e: number): number {
    const [from, to] = [triangle.corners[e]!, triangle.corners[(e + 1) % 3]!];
    const [a, b] = this.middleCoordinates(triangle, e);
    this.source.charts[triangle.chart]!.place(a, b, this.point);
    this.placed.push(...this.point);
    return this.mirror.push(this.mirror[from]! & this.mirror[to]!) - 1;
  }

  private middleCoordinates({ chart, coordinates }: Triangle, e: number): [a: number, b: number] {
    const [i, j] = [2 * e, 2 * ((e + 1) % 3)];
    const [fromA, fromB, toA, toB] = [i, i + 1, j, j + 1].map((at) => coordinates[at]!) as [
      number,
      number,
      number,
      number,
    ];
    return [middleAcross(this.source.charts[chart]!, fromA, fromB, toA, toB), (fromB + toB) / 2];
  }

  private split(t: number, e: number, middle: number): void {
    const own = this.triangles[t]!;
    const { planar } = this.source.charts[own.chart]!;
    const at: readonly number[] = planar
      ? [this.placed[PLACED_SIZE * middle]!, this.placed[PLACED_SIZE * middle + 1]!]
      : this.middleCoordinates(own, e);
    for (let k = 0; k < 3; k++) this.leftOf.delete(edgeOf(own, k));
    this.triangles[t] = null;
    const corner = (k: number): readonly number[] => own.coordinates.slice(2 * (k % 3), 2 * (k % 3) + 2);
    const [from, to, apex] = [e, e + 1, e + 2].map((k) => own.corners[k % 3]!) as [number, number, number];
    const { chart } = own;
    this.add({ corners: [from, middle, apex], chart, coordinates: [...corner(e), ...at, ...corner(e + 2)] });
    this.add({
      corners: [middle, to, apex],
      chart,
      coordinates: [...at, ...corner(e + 1), ...corner(e + 2)],
    });
  }
}

const edgeOf = ({ corners }: Triangle, e: number): string => `${corners[e]!} ${corners[(e + 1) % 3]!}`;
