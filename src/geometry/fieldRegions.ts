/**
 * Where a field over the blank is above a level: regions to be filled and lines to be drawn.
 *
 * Every six-node triangle is cut into four by its own nodes and the field taken as linear on each. The border
 * of {value ≥ level} is then made of two sorts of edges: level lines across the small triangles, and parts of
 * the mesh's own border. All edges inside cancel, so a region is a few closed lines and not thousands of
 * triangles; painting the regions from the lowest level up gives bands without seams.
 */
import { chainsOf } from './chain.ts';
import type { Path, Point } from './path.ts';
import { QUARTERS } from './shapeFunctions.ts';

/** A field on six-node triangles, see `FlatField`. */
export interface NodalField {
  /** mm, x y per node; not changed */
  readonly flat: Float64Array;
  /** six node numbers a triangle; not changed */
  readonly triangles: Uint32Array;
  /** one a node; not changed */
  readonly values: Float64Array;
}

export interface FieldRegion {
  readonly level: number;
  /** Border of {value ≥ level}; outer lines counter-clockwise, holes clockwise; straight pieces. */
  readonly loops: readonly Path[];
  /** The level line itself, without the parts along the border of the blank. */
  readonly lines: readonly Path[];
}

const SMALL = QUARTERS.flat();

/**
 * The same quadratic field on triangles of half the size, so that its curves look like curves.
 *
 * New nodes get what the quadratic shape functions give them: at a quarter of a side 3/8, 3/4 and −1/8 of the
 * side's near end, middle and far end; between two middles −1/8 of the two corners they do not belong to,
 * 1/2 of both middles and 1/4 of the third (Zienkiewicz and Taylor, The Finite Element Method, quadratic
 * triangle; from memory).
 */
export function refined({ flat, triangles, values }: NodalField): NodalField {
  const x = [...flat];
  const v = [...values];
  const numbers = new Map<number, number>();
  const nodes = values.length;
  /** The node of a key; where there is none yet, a new one of so much of others. */
  const mixed = (key: number, parts: () => readonly (readonly [node: number, share: number])[]): number => {
    const known = numbers.get(key);
    if (known !== undefined) return known;
    const number = v.length;
    numbers.set(key, number);
    let sumX = 0;
    let sumY = 0;
    let sum = 0;
    for (const [node, share] of parts()) {
      sumX += share * flat[2 * node]!;
      sumY += share * flat[2 * node + 1]!;
      sum += share * values[node]!;
    }
    x.push(sumX, sumY);
    v.push(sum);
    return number;
  };
  const out: number[] = [];
  for (let t = 0; t < triangles.length; t += 6) {
    const at = (k: number): number => triangles[t + k]!;
    /** Node halfway between two of the six that are joined in a child. */
    const between = (a: number, b: number): number => {
      const [corner, middle] = a < 3 ? [a, b] : [b, a];
      if (corner < 3) {
        const side = middle - 3; // the side from corner `side` to the next
        const far = side === corner ? (corner + 1) % 3 : side;
        const key = at(corner) * nodes + at(middle);
        return mixed(key, () => [
          [at(corner), 3 / 8],
          [at(middle), 3 / 4],
          [at(far), -1 / 8],
        ]);
      }
      // Two middles: the corner they share counts nothing; the third middle lies opposite it.
      const third = 12 - a - b;
      const key = nodes * nodes + t + third;
      return mixed(key, () => {
        const shared = [0, 1, 2].find((k) => third !== k + 3 && third !== ((k + 2) % 3) + 3)!;
        return [
          [at(a), 1 / 2],
          [at(b), 1 / 2],
          [at(third), 1 / 4],
          [at((shared + 1) % 3), -1 / 8],
          [at((shared + 2) % 3), -1 / 8],
        ];
      });
    };
    for (const [a, b, c] of QUARTERS)
      out.push(at(a), at(b), at(c), between(a, b), between(b, c), between(c, a));
  }
  return { flat: Float64Array.from(x), triangles: Uint32Array.from(out), values: Float64Array.from(v) };
}

/**
 * @param levels values; each gives one region
 * @param tolerance mm a line may be moved when points are left out
 */
export function fieldRegions(field: NodalField, levels: readonly number[], tolerance: number): FieldRegion[] {
  const small = smallTriangles(field.triangles);
  const sides = sidesOf(small, field.values.length);
  return levels.map((level) => region(field, small, sides, level, tolerance));
}

function smallTriangles(triangles: Uint32Array): Uint32Array {
  const out = new Uint32Array(2 * triangles.length);
  for (let t = 0, o = 0; t < triangles.length; t += 6)
    for (const corner of SMALL) out[o++] = triangles[t + corner]!;
  return out;
}

interface Sides {
  /** Number of the side from each corner of the small triangles to the next one. */
  readonly numbers: Uint32Array;
  /** Both nodes of a side, the lower one first. */
  readonly ends: readonly number[];
  /** Sides that no neighbour runs the other way, three numbers each: from, to, number of the side. */
  readonly border: readonly number[];
}

function sidesOf(small: Uint32Array, nodes: number): Sides {
  const numbers = new Uint32Array(small.length);
  const ends: number[] = [];
  /** By lower node the side found last, and by side the one found before. */
  const last = new Int32Array(nodes).fill(-1);
  const before: number[] = [];
  /** Bit 0 where a triangle runs a side upwards, bit 1 where one runs it downwards. */
  const run: number[] = [];
  const each = (visit: (corner: number, from: number, to: number) => void): void => {
    for (let corner = 0; corner < small.length; corner++)
      visit(corner, small[corner]!, small[corner % 3 === 2 ? corner - 2 : corner + 1]!);
  };
  each((corner, from, to) => {
    const [low, high] = from < to ? [from, to] : [to, from];
    let side = last[low]!;
    while (side >= 0 && ends[2 * side + 1] !== high) side = before[side]!;
    if (side < 0) {
      side = run.length;
      ends.push(low, high);
      before.push(last[low]!);
      run.push(0);
      last[low] = side;
    }
    run[side] = run[side]! | (from < to ? 1 : 2);
    numbers[corner] = side;
  });
  const border: number[] = [];
  each((corner, from, to) => {
    if (run[numbers[corner]!] !== 3) border.push(from, to, numbers[corner]!);
  });
  return { numbers, ends, border };
}

function region(
  { flat, values }: NodalField,
  small: Uint32Array,
  { numbers, ends, border }: Sides,
  level: number,
  tolerance: number,
): FieldRegion {
  const nodes = values.length;
  const inside = (node: number): boolean => values[node]! >= level;
  /** A node has its own number, a point where a side crosses the level one behind all nodes. */
  const place = (key: number): Point => {
    if (key < nodes) return { x: flat[2 * key]!, y: flat[2 * key + 1]! };
    const a = ends[2 * (key - nodes)]!;
    const b = ends[2 * (key - nodes) + 1]!;
    const part = (level - values[a]!) / (values[b]! - values[a]!);
    return {
      x: flat[2 * a]! + part * (flat[2 * b]! - flat[2 * a]!),
      y: flat[2 * a + 1]! + part * (flat[2 * b + 1]! - flat[2 * a + 1]!),
    };
  };
  const levelLine = new Map<number, number>();
  for (let t = 0; t < small.length; t += 3) {
    const a = inside(small[t]!);
    const b = inside(small[t + 1]!);
    const c = inside(small[t + 2]!);
    if (a === b && b === c) continue;
    // Walking round, the level is left at one side and entered at another; the border closes between them.
    const leaves = a && !b ? t : b && !c ? t + 1 : t + 2;
    const enters = !a && b ? t : !b && c ? t + 1 : t + 2;
    levelLine.set(nodes + numbers[leaves]!, nodes + numbers[enters]!);
  }
  const all = new Map(levelLine);
  for (let e = 0; e < border.length; e += 3) {
    const a = border[e]!;
    const b = border[e + 1]!;
    const crossing = nodes + border[e + 2]!;
    if (inside(a)) all.set(a, inside(b) ? b : crossing);
    else if (inside(b)) all.set(crossing, b);
  }
  return {
    level,
    loops: chainsOf(all).map((chain) => thinned(chain.keys.map(place), true, tolerance)),
    lines: chainsOf(levelLine).map((chain) => thinned(chain.keys.map(place), chain.closed, tolerance)),
  };
}

/** The chain without the points that lie within `tolerance` of the line without them (Douglas and Peucker, 1973). */
function thinned(points: readonly Point[], closed: boolean, tolerance: number): Path {
  const list = closed ? [...points, points[0]!] : [...points];
  const keep = new Uint8Array(list.length);
  keep[0] = 1;
  keep[list.length - 1] = 1;
  // A closed chain has no ends; its farthest point from the start is the second fixed one.
  const stack: [number, number][] = [];
  if (closed) {
    const far = farthest(list, 0, 0, 0, list.length - 1).index;
    keep[far] = 1;
    stack.push([0, far], [far, list.length - 1]);
  } else stack.push([0, list.length - 1]);
  while (stack.length > 0) {
    const [first, last] = stack.pop()!;
    const { index, distance } = farthest(list, first, last, first, last);
    if (index < 0 || distance <= tolerance) continue;
    keep[index] = 1;
    stack.push([first, index], [index, last]);
  }
  const kept = list.filter((_, i) => keep[i] === 1);
  if (closed) kept.pop();
  return { vertices: kept.map(({ x, y }) => ({ x, y, bulge: 0 })), closed };
}

function farthest(
  list: readonly Point[],
  a: number,
  b: number,
  first: number,
  last: number,
): { index: number; distance: number } {
  const p = list[a]!;
  const q = list[b]!;
  const dx = q.x - p.x;
  const dy = q.y - p.y;
  const length = Math.hypot(dx, dy);
  let index = -1;
  let distance = -1;
  for (let i = first + 1; i < last; i++) {
    const x = list[i]!.x - p.x;
    const y = list[i]!.y - p.y;
    const off = length === 0 ? Math.hypot(x, y) : Math.abs(x * dy - y * dx) / length;
    if (off > distance) {
      distance = off;
      index = i;
    }
  }
  return { index, distance };
}
