/**
 * Starts for Newton's method from the size solved before, so that the sizes of one family need fewer steps.
 *
 * On every mesh a solve begins from a guess: the arc-length flat on the coarsest, the flat carried over from the
 * mesh before on the others. What the solution of the neighbouring size added to its guess is added to this
 * size's guess as well. Only the way to the solution gets shorter: it is iterated to the same residual. Its last
 * digits do depend on the start, so whoever wants the same bytes again has to solve the same sizes in the same
 * order with one cache.
 */
import { Locator } from '../geometry/locate.ts';
import { arcLengthFlat, type QuadraticMesh } from '../mesh/quadraticMesh.ts';

interface Kept {
  readonly mesh: QuadraticMesh;
  /** x y per node, mm: solution less guess. */
  readonly difference: Float64Array;
}

/** Share of the edges that must correspond for a neighbour to be of use. */
const ENOUGH_EDGES = 0.8;

/** What the last size solved added to its guesses, one entry a refinement. */
export class StartCache {
  private readonly kept: (Kept | undefined)[] = [];
  /** By refinement: for each node of the size now being solved the neighbour's node, or -1. */
  private readonly nodes: (Int32Array | null)[] = [];
  private own: StartCache | null = null;

  /** Starts for the finer meshes of trays that need such. */
  get finer(): StartCache {
    this.own ??= new StartCache();
    return this.own;
  }

  /**
   * A start from the neighbour, or null when its mesh is too different. Called from the coarsest mesh upwards.
   *
   * @param level refinements of the coarsest mesh
   * @param guess x y per node of `mesh`, mm; not changed
   */
  startFor(level: number, mesh: QuadraticMesh, guess: Float64Array): Float64Array | null {
    const before = this.kept[level];
    const nodes = before === undefined ? null : this.correspondence(level, mesh, before.mesh);
    this.nodes[level] = nodes;
    if (before === undefined || nodes === null) return null;
    return withDifference(mesh, guess, nodes, before);
  }

  /** Remembers a solution and the guess it was begun from, in place of the one before; neither is changed. */
  keep(level: number, mesh: QuadraticMesh, guess: Float64Array, flat: Float64Array): void {
    this.kept[level] = { mesh, difference: flat.map((value, i) => value - guess[i]!) };
  }

  /**
   * Corners correspond by number on the coarsest mesh and as its nodes do above; middles by their edges. A base may be
   * triangulated otherwise after the smallest change: nodes within it then have no like, -1.
   */
  private correspondence(level: number, mesh: QuadraticMesh, before: QuadraticMesh): Int32Array | null {
    if (!sameDirections(mesh, before)) return null;
    const corners = firstMiddle(mesh);
    if (corners !== firstMiddle(before)) return null;
    const coarser = level === 0 ? null : this.nodes[level - 1];
    if (coarser === undefined || (level > 0 && coarser?.length !== corners)) return null;
    const nodes = new Int32Array(mesh.nodeCount).fill(-1);
    for (let node = 0; node < corners; node++) nodes[node] = coarser === null ? node : coarser[node]!;
    const edges = new Map<number, number>();
    forEachEdge(before, (from, to, middle) => edges.set(edgeKey(from, to, corners), middle));
    let found = 0;
    let all = 0;
    forEachEdge(mesh, (from, to, middle) => {
      all++;
      const [a, b] = [nodes[from]!, nodes[to]!];
      const match = a < 0 || b < 0 ? undefined : edges.get(edgeKey(a, b, corners));
      if (match === undefined) return;
      nodes[middle] = match;
      found++;
    });
    if (found < ENOUGH_EDGES * all) return null;
    if (found < all) for (const node of nodesWithinBase(mesh)) nodes[node] = -1;
    return nodes;
  }
}

/** Nodes of triangles of the base that belong to none of the wall. */
function nodesWithinBase({ base, triangles, nodeCount }: QuadraticMesh): Set<number> {
  const onWall = new Uint8Array(nodeCount);
  const within = new Set<number>();
  for (const [i, node] of triangles.entries()) if (base[Math.floor(i / 6)] === 0) onWall[node] = 1;
  for (const node of triangles) if (onWall[node] === 0) within.add(node);
  return within;
}

function withDifference(
  mesh: QuadraticMesh,
  guess: Float64Array,
  nodes: Int32Array,
  { mesh: before, difference }: Kept,
): Float64Array {
  const start = guess.slice();
  for (let node = 0; node < nodes.length; node++) {
    const from = nodes[node]!;
    if (from < 0) continue;
    start[2 * node] = guess[2 * node]! + difference[2 * from]!;
    start[2 * node + 1] = guess[2 * node + 1]! + difference[2 * from + 1]!;
  }
  if (!nodes.includes(-1)) return start;
  // A node within the base without its like takes what lies at its place.
  const within = nodesWithinBase(mesh);
  const base = new Locator(
    arcLengthFlat(before),
    before.triangles.filter((_, i) => before.base[Math.floor(i / 6)] === 1),
  );
  const here = new Float64Array(2);
  for (const node of within) {
    if (nodes[node]! >= 0) continue;
    const [x, y] = [guess[2 * node]!, guess[2 * node + 1]!];
    base.interpolate(base.find(x, y), difference, 2, here);
    start[2 * node] = x + here[0]!;
    start[2 * node + 1] = y + here[1]!;
  }
  // A middle on the wall without its like takes the mean of its edge's ends.
  forEachEdge(mesh, (from, to, middle) => {
    if (nodes[middle]! >= 0 || within.has(middle)) return;
    for (let k = 0; k < 2; k++) {
      const ends = start[2 * from + k]! - guess[2 * from + k]! + (start[2 * to + k]! - guess[2 * to + k]!);
      start[2 * middle + k] = guess[2 * middle + k]! + ends / 2;
    }
  });
  return start;
}

const edgeKey = (from: number, to: number, corners: number): number =>
  from < to ? from * corners + to : to * corners + from;

function forEachEdge(mesh: QuadraticMesh, visit: (from: number, to: number, middle: number) => void): void {
  const { triangles } = mesh;
  for (let t = 0; t < triangles.length; t += 6) {
    for (let e = 0; e < 3; e++)
      visit(triangles[t + e]!, triangles[t + ((e + 1) % 3)]!, triangles[t + 3 + e]!);
  }
}

/** Corners are numbered before middles. */
function firstMiddle({ triangles }: QuadraticMesh): number {
  let first = Infinity;
  for (let t = 0; t < triangles.length; t += 6) {
    for (let e = 3; e < 6; e++) first = Math.min(first, triangles[t + e]!);
  }
  return first;
}

/** Whether the mirror lines of two meshes point the same way. */
function sameDirections(a: QuadraticMesh, b: QuadraticMesh): boolean {
  if (a.mirrorLines === null || b.mirrorLines === null) return a.mirrorLines === b.mirrorLines;
  return (
    Math.abs(a.mirrorLines.firstAngle - b.mirrorLines.firstAngle) < 1e-9 &&
    Math.abs(a.mirrorLines.lastAngle - b.mirrorLines.lastAngle) < 1e-9
  );
}
