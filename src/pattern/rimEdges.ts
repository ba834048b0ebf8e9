/**
 * The free edge of a solved tray, mesh edge by mesh edge: which of it is the worked edge, the end of a wall with its
 * trim, and where the net rim runs within it. The rest of the free edge are ends of walls and edges without a wall.
 */

import { pointOnPiece } from '../geometry/arc.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Path, Vertex } from '../geometry/path.ts';
import { alongEdge } from '../geometry/shapeFunctions.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';
import { mapPoint, unfolding } from '../mesh/unfold.ts';
import type { TraySolution } from '../solve/solveTray.ts';
import type { NodalStrains } from '../solve/strains.ts';
import {
  FLAT,
  IMAGE_OF_X,
  IMAGE_OF_Y,
  mitreShift,
  type NeutralSurface,
  PLACED_SIZE,
} from '../tray/neutralSurface.ts';
import type { LoopPoint } from '../tray/planLoop.ts';
import { FlatFinder } from './flatFinder.ts';

/** A parabola of the edge in the flat: x y of its start, middle and end, mm. */
export interface RimEdge {
  readonly points: readonly number[];
  /** Where the middle of the worked edge stands in plan, mm. */
  readonly above: readonly [x: number, y: number];
  /** Length of the worked edge in plan, mm. */
  readonly reach: number;
  /** Finished over flat thickness, the mean along it. */
  readonly thickening: number;
  /** True at the end of a wall, false at a wall's side, at a welded edge and where there is no wall. */
  readonly worked: boolean;
}

/** The edges of the mesh's rim, in its order. */
export function rimEdges(
  solution: TraySolution,
  strains: NodalStrains,
  { section }: NeutralSurface,
): RimEdge[] {
  return nodesOfEdges(solution, section.pieces.length).map(({ nodes, worked }) => ({
    points: nodes.flatMap((node) => [solution.flat[2 * node]!, solution.flat[2 * node + 1]!]),
    ...placeOf(solution, nodes),
    thickening: meanThickening(nodes, (node) => strains.thickness[node]!),
    worked,
  }));
}

/**
 * The edges of the net rim: the worked edge moved down the wall (or in on the lip) by the trim, and what is left
 * below it of the sides of walls. The surface is known exactly there, so only the way to the flat is the mesh's.
 *
 * @param trim width of the trim along the section, mm; no wider than the section's last piece
 */
export function netRimEdges(
  solution: TraySolution,
  strains: NodalStrains,
  surface: NeutralSurface,
  trim: number,
): RimEdge[] {
  const { mesh, flat } = solution;
  const { placed } = mesh;
  const finder = new FlatFinder({
    flat,
    formed: Float64Array.from({ length: 3 * mesh.nodeCount }, (_, i) => {
      return placed[PLACED_SIZE * Math.floor(i / 3) + (i % 3)]!;
    }),
    triangles: mesh.triangles.filter((_, i) => mesh.base[Math.floor(i / 6)] === 0),
    majorStrain: strains.major,
    minorStrain: strains.minor,
    thicknessStrain: strains.thickness,
  });
  const found = new Map<number, readonly [number, number]>();
  const thickness = new Map<number, number>();
  const net = (node: number): readonly [number, number] => {
    const known = found.get(node);
    if (known !== undefined) return known;
    const at = finder.find(below(placed, node, surface, trim));
    thickness.set(node, at.thickness);
    found.set(node, [at.x, at.y]);
    return [at.x, at.y];
  };
  const edges = nodesOfEdges(solution, surface.section.pieces.length);
  const count = edges.length;
  const closed = mesh.mirrorLines === null;
  /** From which and up to which fraction an edge is left. */
  const left = edges.map(() => [0, 1] as [number, number]);
  for (const [i, { nodes, worked }] of edges.entries()) {
    if (!worked) continue;
    for (const step of [1, -1] as const) {
      const top = step === 1 ? nodes[2] : nodes[0];
      const depth = depthUnder(placed, top);
      for (let k = 1; k < count; k++) {
        const next = i + step * k;
        if (!closed && (next < 0 || next >= count)) break;
        const number = (next + count) % count;
        const side = edges[number]!;
        if (side.worked) break;
        const [near, far] = step === 1 ? [side.nodes[0], side.nodes[2]] : [side.nodes[2], side.nodes[0]];
        const share = (trim - depth(near)) / (depth(far) - depth(near));
        if (share >= 1) {
          left[number] = [1, 1];
          continue;
        }
        const at = step === 1 ? share : 1 - share;
        left[number]![step === 1 ? 0 : 1] = at;
        // Welded edges touch in the tray: only along its own edge is the end of the net rim sure to be this side's.
        found.set(top, onParabola(flat, side.nodes, at));
        thickness.set(
          top,
          blended(side.nodes, at, (node) => strains.thickness[node]!),
        );
        break;
      }
    }
  }
  return edges.flatMap(({ nodes, worked }, i): RimEdge[] => {
    const place = placeOf(solution, nodes);
    if (worked) {
      const points = nodes.flatMap((node) => net(node));
      return [
        { points, ...place, thickening: meanThickening(nodes, (node) => thickness.get(node)!), worked },
      ];
    }
    const [from, to] = left[i]!;
    if (to - from < 1e-9) return [];
    const points = [from, (from + to) / 2, to].flatMap((share) => onParabola(flat, nodes, share));
    return [
      { points, ...place, thickening: meanThickening(nodes, (node) => strains.thickness[node]!), worked },
    ];
  });
}

/** Points of edges that follow on each other, corners and middles in turn; of a closed chain the first is not repeated. */
export function chainPoints(edges: readonly RimEdge[], closed: boolean): Float64Array {
  const points = edges.flatMap((edge) => edge.points.slice(0, 4));
  return Float64Array.from(closed ? points : [...points, ...edges.at(-1)!.points.slice(4)]);
}

/** The stretches of a closed path along worked edges: the whole path where there are no others. */
export function workedParts(path: Path, edges: readonly RimEdge[]): Path[] {
  if (edges.every(({ worked }) => worked)) return [path];
  const isWorked = isWorkedAt(edges);
  const { vertices } = path;
  const count = vertices.length;
  const at = (i: number): Vertex => vertices[i % count]!;
  const worked = vertices.map((from, i) => {
    const { x, y } = pointOnPiece(from, at(i + 1), 0.5);
    return isWorked(x, y);
  });
  const parts: Path[] = [];
  for (let i = 0; i < count; i++) {
    if (!worked[i] || worked[(i + count - 1) % count]) continue;
    const part: Vertex[] = [at(i)];
    for (let k = i; worked[k % count] && k < i + count; k++) part.push(at(k + 1));
    const { x, y } = part.at(-1)!;
    parts.push({ vertices: [...part.slice(0, -1), { x, y, bulge: 0 }], closed: false });
  }
  return parts;
}

/** The edges over the whole blank, counter-clockwise. */
export function wholeEdges({ mesh }: TraySolution, edges: readonly RimEdge[]): RimEdge[] {
  const { mirrorLines: lines } = mesh;
  if (lines === null) return [...edges];
  const copies = Math.round((2 * Math.PI) / (lines.lastAngle - lines.firstAngle));
  return unfolding(mesh.mirror, lines, copies).maps.flatMap((map) => {
    const images = edges.map(({ points, above, ...edge }) => {
      const moved = Float64Array.from([...points, ...above]);
      for (let i = 0; i < moved.length; i += 2) mapPoint(map, moved, i);
      return { points: [...moved.subarray(0, 6)], above: [moved[6]!, moved[7]!] as const, ...edge };
    });
    // A reflected part runs the other way round.
    return map.mirrored ? images.reverse().map(reversed) : images;
  });
}

const reversed = ({ points, ...edge }: RimEdge): RimEdge => {
  const [ax, ay, mx, my, bx, by] = points as [number, number, number, number, number, number];
  return { ...edge, points: [bx, by, mx, my, ax, ay] };
};

/** Tells whether the edge nearest to a flat point is worked. */
export function isWorkedAt(edges: readonly RimEdge[]): (x: number, y: number) => boolean {
  return (x, y) => {
    let least = Infinity;
    let worked = true;
    for (const edge of edges) {
      const distance = Math.min(
        distanceToStraight(x, y, edge.points, 0, 1),
        distanceToStraight(x, y, edge.points, 1, 2),
      );
      if (distance < least) [least, worked] = [distance, edge.worked];
    }
    return worked;
  };
}

const planOf = ({ mesh }: TraySolution, node: number): readonly [number, number] => [
  mesh.placed[PLACED_SIZE * node]!,
  mesh.placed[PLACED_SIZE * node + 1]!,
];

/** Where the worked edge of three nodes stands in plan, and its chord there. */
function placeOf(solution: TraySolution, [from, middle, to]: EdgeNodes): Pick<RimEdge, 'above' | 'reach'> {
  const [[ax, ay], [bx, by]] = [planOf(solution, from), planOf(solution, to)];
  return { above: planOf(solution, middle), reach: hypotenuse(bx - ax, by - ay) };
}

/** Mean of the thickening along three nodes, by Simpson's rule. */
const meanThickening = ([from, middle, to]: EdgeNodes, strain: (node: number) => number): number =>
  (Math.exp(strain(from)) + 4 * Math.exp(strain(middle)) + Math.exp(strain(to))) / 6;

type EdgeNodes = readonly [from: number, middle: number, to: number];

/** @param row number of the section line that is the end of the wall */
function nodesOfEdges({ mesh }: TraySolution, row: number): { nodes: EdgeNodes; worked: boolean }[] {
  const { rim } = mesh;
  const tops = new Set(mesh.sectionLines.flatMap((line) => (line.row === row ? [...line.nodes] : [])));
  return Array.from({ length: rim.length >> 1 }, (_, i) => {
    const nodes: EdgeNodes = [rim[2 * i]!, rim[2 * i + 1]!, rim[(2 * i + 2) % rim.length]!];
    return { nodes, worked: tops.has(nodes[1]) };
  });
}

/** Place and outward normal in plan of a node of the wall, and the direction up the section there. */
function frameAt(placed: Float64Array, node: number): LoopPoint & { readonly up: Point3 } {
  const p = PLACED_SIZE * node;
  // The sheet laid flat reaches farther out than the bent one, along the normal.
  const [dx, dy] = [placed[p + FLAT]! - placed[p]!, placed[p + FLAT + 1]! - placed[p + 1]!];
  const size = Math.sqrt(dx * dx + dy * dy);
  const [nx, ny] = [dx / size, dy / size];
  const along = (k: number): number => nx * placed[p + IMAGE_OF_X + k]! + ny * placed[p + IMAGE_OF_Y + k]!;
  return {
    x: placed[p]!,
    y: placed[p + 1]!,
    normalX: nx,
    normalY: ny,
    up: [along(0), along(1), along(2)],
  };
}

type Point3 = readonly [number, number, number];

/** How far a node lies under the end of a wall, down the section from a node there, mm. */
function depthUnder(placed: Float64Array, top: number): (node: number) => number {
  const { up } = frameAt(placed, top);
  return (node) =>
    up.reduce(
      (sum, each, k) => sum + each * (placed[PLACED_SIZE * top + k]! - placed[PLACED_SIZE * node + k]!),
      0,
    );
}

/** The point of the neutral surface below a node at the end of the wall. */
function below(placed: Float64Array, node: number, surface: NeutralSurface, trim: number): Point3 {
  const { up, ...at } = frameAt(placed, node);
  const { x, y, normalX, normalY } = at;
  const run = trim * (normalX * up[0] + normalY * up[1]);
  const aside = mitreTaken(surface, at, run);
  const z = placed[PLACED_SIZE * node + 2]!;
  return [x - trim * up[0] + aside * normalY, y - trim * up[1] - aside * normalX, z - trim * up[2]];
}

/** How much a point of a mitred side moves along it where the section runs out less far, mm. */
function mitreTaken(surface: NeutralSurface, at: LoopPoint, less: number): number {
  if (less === 0) return 0;
  for (const segment of surface.loop.segments) {
    if (segment.kind !== 'side' || (segment.mitreAtStart === 0 && segment.mitreAtEnd === 0)) continue;
    const [tx, ty] = [(segment.x1 - segment.x0) / segment.length, (segment.y1 - segment.y0) / segment.length];
    const run = (at.x - segment.x0) * ty - (at.y - segment.y0) * tx;
    const s = (at.x - segment.x0) * tx + (at.y - segment.y0) * ty;
    const [start, end] = [mitreShift(surface, segment, 0, run), mitreShift(surface, segment, 1, run)];
    const faces = ty * at.normalX - tx * at.normalY > 1 - 1e-6;
    if (!faces || s <= start - 1e-6 || s >= segment.length + end + 1e-6) continue;
    const along = (s - start) / (segment.length + end - start);
    return mitreShift(surface, segment, along, run) - mitreShift(surface, segment, along, run - less);
  }
  return 0;
}

const onParabola = (flat: Float64Array, nodes: EdgeNodes, s: number): [number, number] => [
  blended(nodes, s, (node) => flat[2 * node]!),
  blended(nodes, s, (node) => flat[2 * node + 1]!),
];

/** A value at a fraction along an edge, from those at its three nodes. */
const blended = ([from, middle, to]: EdgeNodes, s: number, value: (node: number) => number): number =>
  alongEdge(s, value(from), value(middle), value(to));
