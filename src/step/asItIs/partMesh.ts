/** Six-node triangles on the neutral surface of a part, fine where it is curved both ways. */
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import type { FaceBorder } from './faceBorders.ts';
import { type FlatAtlas, newPlaced, type TrayFrame } from './flatAtlas.ts';
import { neutralLength } from './neutralFibre.ts';
import { sizedTriangulation } from './sizedTriangulation.ts';
import { edgeAt, pointAt, type SkinCurve, skinCurves } from './skinCurves.ts';
import { boundaryLoops } from './skinMesh.ts';
import type { Skin } from './skins.ts';

export interface PartDensity {
  /** Angle a triangle may span in a bend of a twentieth of the part's size, radians: where the metal must stretch, and where it only bends. */
  readonly strained: number;
  readonly bent: number;
  /** Growth of triangle size per distance. */
  readonly growth: number;
}

export const PART_DENSITY: PartDensity = { strained: 0.4, bent: 1.2, growth: 0.27 };

/** Largest and smallest triangles: the part's size over these. */
const COARSEST = 8;
const FINEST = 100;
/** Angle of the boundary that one edge may span, radians, and the shortest such edge: the part's size over this. */
const EDGE_ANGLE = 0.5;
const FINEST_EDGE = 600;
/** A turn of the boundary that is a corner and no curve, radians. */
const SHARP = 0.5;
/** Strain of the first flat shape above which a place counts as strained. */
const STRAINED = 0.001;
/** The net's vertices on the neutral surface, x y z each, and the normals there. */
export interface NeutralVertices {
  readonly position: readonly number[];
  readonly normals: Float64Array;
}

export interface PartMesh {
  readonly mesh: QuadraticMesh;
  /** x y per node: where to start. */
  readonly start: Float64Array;
  /** Nodes around each hole, clockwise, corners and middles in turn. */
  readonly holes: readonly Uint32Array[];
  readonly borders: readonly BorderEdge[];
}

/** An edge of the mesh on the border of two faces. */
export interface BorderEdge {
  readonly border: FaceBorder;
  /** Start, middle, end, with the face of the lower number on the left. */
  readonly nodes: readonly [number, number, number];
}

export function partMesh(
  skin: Skin,
  flat: Float64Array,
  atlas: FlatAtlas,
  frame: TrayFrame,
  neutral: NeutralVertices,
  jumps: readonly FaceBorder[],
  density: PartDensity,
): PartMesh {
  const wanted = sizeField(skin, flat, atlas, neutral, density);
  const curves = skinCurves(skin, flat, jumps);
  const stations = curves.map((curve) => divide(curve, wanted));
  for (let round = 0; ; round++) {
    const lines = pointsOf(curves, stations);
    const segments = (inner: boolean): [number, number][] =>
      lines.pieces.flatMap(({ curve, from, to }) =>
        (curves[curve]!.inside !== null) === inner ? [[from, to]] : [],
      );
    const { points, triangles } = sizedTriangulation(lines.points, segments(false), segments(true), wanted);
    const edges = new Set<string>();
    for (let at = 0; at < triangles.length; at++) {
      edges.add(`${triangles[at]} ${triangles[at % 3 === 2 ? at - 2 : at + 1]}`);
    }
    const missing = lines.pieces.filter(
      ({ from, to }) => !edges.has(`${from} ${to}`) && !edges.has(`${to} ${from}`),
    );
    if (missing.length === 0 || round === 6) {
      return assembled(atlas, frame, curves, stations, lines, points, triangles);
    }
    // A piece of line that is no edge of a triangle is halved until it is.
    for (const { curve, piece } of missing.reverse()) {
      const list = stations[curve]!;
      list.splice(piece + 1, 0, (list[piece]! + list[piece + 1]!) / 2);
    }
  }
}

/** The points all triangles must have: stops first, then what lies between them on each curve. */
interface LinePoints {
  /** x y per point */
  readonly points: number[];
  /** Where each lies: curve and distance along. */
  readonly where: { readonly curve: number; readonly s: number }[];
  /** Pieces of curve between neighbouring points; `piece` counts along the curve. */
  readonly pieces: {
    readonly curve: number;
    readonly piece: number;
    readonly from: number;
    readonly to: number;
  }[];
}

function pointsOf(curves: readonly SkinCurve[], stations: readonly (readonly number[])[]): LinePoints {
  const out: LinePoints = { points: [], where: [], pieces: [] };
  const stops = new Map<number, number>();
  const add = (curve: number, s: number): number => {
    out.points.push(...pointAt(curves[curve]!, s));
    return out.where.push({ curve, s }) - 1;
  };
  const stop = (vertex: number, curve: number, s: number): number => {
    const known = stops.get(vertex) ?? add(curve, s);
    stops.set(vertex, known);
    return known;
  };
  for (const [c, { vertices }] of curves.entries()) {
    const list = stations[c]!;
    let from = stop(vertices[0]!, c, list[0]!);
    for (let k = 1; k < list.length; k++) {
      const to = k === list.length - 1 ? stop(vertices[vertices.length - 1]!, c, list[k]!) : add(c, list[k]!);
      out.pieces.push({ curve: c, piece: k - 1, from, to });
      from = to;
    }
  }
  return out;
}

/** Distances along at which a curve is divided, its ends included, as the size asks. */
function divide(curve: SkinCurve, wanted: (x: number, y: number) => number): number[] {
  const total = curve.along[curve.along.length - 1]!;
  const steps = 64;
  const running = [0];
  for (let i = 0; i < steps; i++) {
    const [x, y] = pointAt(curve, ((i + 0.5) * total) / steps);
    running.push(running[i]! + total / steps / wanted(x, y));
  }
  const closed = curve.vertices[0] === curve.vertices[curve.vertices.length - 1];
  const pieces = Math.max(closed ? 6 : 1, Math.round(running[steps]!));
  const out = [0];
  for (let piece = 1, at = 0; piece < pieces; piece++) {
    const target = (running[steps]! * piece) / pieces;
    while (running[at + 1]! < target) at++;
    out.push(((at + (target - running[at]!) / (running[at + 1]! - running[at]!)) * total) / steps);
  }
  return [...out, total];
}

/** Edge length wanted at a flat point: from the curvature there, and no jumps. */
function sizeField(
  skin: Skin,
  flat: Float64Array,
  atlas: FlatAtlas,
  { position, normals }: NeutralVertices,
  density: PartDensity,
): (x: number, y: number) => number {
  const { triangles } = skin.mesh;
  const count = position.length / 3;
  const strain = new Float64Array(count);
  const curvature = new Float64Array(count);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < flat.length; i += 2) {
    minX = Math.min(minX, flat[i]!);
    maxX = Math.max(maxX, flat[i]!);
    minY = Math.min(minY, flat[i + 1]!);
    maxY = Math.max(maxY, flat[i + 1]!);
  }
  const extent = Math.max(maxX - minX, maxY - minY);
  for (let at = 0; at < triangles.length; at++) {
    const [i, j] = [triangles[at]!, triangles[at % 3 === 2 ? at - 2 : at + 1]!];
    let turn = 0;
    for (let k = 0; k < 3; k++) turn += (normals[3 * i + k]! - normals[3 * j + k]!) ** 2;
    const size = neutralLength(position, normals, i, j, skin.thickness);
    const flatSize = Math.hypot(flat[2 * i]! - flat[2 * j]!, flat[2 * i + 1]! - flat[2 * j + 1]!);
    const [bend, stretch] = [Math.sqrt(turn) / size, Math.abs(Math.log(flatSize / size))];
    for (const vertex of [i, j]) {
      curvature[vertex] = Math.max(curvature[vertex]!, bend);
      strain[vertex] = Math.max(strain[vertex]!, stretch);
    }
  }
  const sizes = Array.from(curvature, (bend, vertex) => {
    const radius = 1 / Math.max(bend, 1e-9);
    // A parabola over an angle θ is too short by a share of θ⁴ of its length, so that a small bend may have a
    // larger angle for the same error in mm.
    const angle =
      strain[vertex]! > STRAINED
        ? Math.min(density.bent, density.strained * (extent / 20 / radius) ** 0.25)
        : density.bent;
    return Math.min(extent / COARSEST, Math.max(extent / FINEST, angle * radius));
  });
  for (const loop of boundaryLoops(skin.mesh)) {
    for (const [k, vertex] of loop.entries()) {
      const radius = turningRadius(
        flat,
        loop[(k + loop.length - 1) % loop.length]!,
        vertex,
        loop[(k + 1) % loop.length]!,
      );
      sizes[vertex] = Math.min(sizes[vertex]!, Math.max(extent / FINEST_EDGE, EDGE_ANGLE * radius));
    }
  }
  // Smallest first: each limits those farther away.
  const order = sizes.map((_, i) => i).sort((a, b) => sizes[a]! - sizes[b]!);
  for (const i of order) {
    const own = sizes[i]!;
    for (let j = 0; j < count; j++) {
      if (sizes[j]! <= own) continue;
      const d = Math.hypot(flat[2 * i]! - flat[2 * j]!, flat[2 * i + 1]! - flat[2 * j + 1]!);
      if (own + density.growth * d < sizes[j]!) sizes[j] = own + density.growth * d;
    }
  }
  return (x, y) => {
    const { triangle, shares } = atlas.locate(x, y);
    return [0, 1, 2].reduce((sum, k) => sum + shares[k]! * sizes[triangles[3 * triangle + k]!]!, 0);
  };
}

/** Radius of the flat boundary at a vertex, mm; endless where it is straight or has a corner. */
function turningRadius(flat: Float64Array, before: number, at: number, after: number): number {
  const [ax, ay] = [flat[2 * at]! - flat[2 * before]!, flat[2 * at + 1]! - flat[2 * before + 1]!];
  const [bx, by] = [flat[2 * after]! - flat[2 * at]!, flat[2 * after + 1]! - flat[2 * at + 1]!];
  const turn = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
  return turn < 1e-6 || turn > SHARP ? Infinity : (Math.hypot(ax, ay) + Math.hypot(bx, by)) / 2 / turn;
}

function assembled(
  atlas: FlatAtlas,
  frame: TrayFrame,
  curves: readonly SkinCurve[],
  stations: readonly (readonly number[])[],
  lines: LinePoints,
  points: readonly number[],
  corners: readonly number[],
): PartMesh {
  const placed: number[] = [];
  const scratch = newPlaced();
  const keep = (): number => {
    for (const value of scratch) placed.push(value);
    return placed.length / PLACED_SIZE - 1;
  };
  const onCurve = (curve: number, s: number): number => {
    const { edge, fraction } = edgeAt(curves[curve]!, s);
    const { triangle, edge: corner, backward } = curves[curve]!.owner[edge]!;
    atlas.placeOnEdge(triangle, corner, backward ? 1 - fraction : fraction, scratch);
    return keep();
  };
  const used = new Set(corners);
  const numbers = new Int32Array(points.length / 2).fill(-1);
  for (const [i, { curve, s }] of lines.where.entries()) if (used.has(i)) numbers[i] = onCurve(curve, s);
  for (let i = lines.where.length; i < points.length / 2; i++) {
    if (!used.has(i)) continue;
    atlas.place(points[2 * i]!, points[2 * i + 1]!, scratch);
    numbers[i] = keep();
  }
  const onLine = new Map<string, LinePoints['pieces'][number]>();
  for (const piece of lines.pieces) onLine.set(edgeKey(piece.from, piece.to), piece);
  const known = new Map<string, number>();
  const chains = new Map<number, [middle: number, to: number]>();
  const borders: BorderEdge[] = [];
  const triangles = new Uint32Array(2 * corners.length);
  const base = new Uint8Array(corners.length / 3);
  for (let t = 0; t < corners.length / 3; t++) {
    let level = frame.base >= 0 ? 1 : 0;
    for (let e = 0; e < 3; e++) {
      const [from, to] = [corners[3 * t + e]!, corners[3 * t + ((e + 1) % 3)]!];
      triangles[6 * t + e] = numbers[from]!;
      let middle = known.get(edgeKey(from, to));
      if (middle === undefined) {
        const line = onLine.get(edgeKey(from, to));
        if (line !== undefined) {
          const list = stations[line.curve]!;
          middle = onCurve(line.curve, (list[line.piece]! + list[line.piece + 1]!) / 2);
          const { inside } = curves[line.curve]!;
          if (inside === null) chains.set(numbers[from]!, [middle, numbers[to]!]);
          else {
            const nodes = [numbers[line.from]!, middle, numbers[line.to]!] as const;
            borders.push({
              border: inside.border,
              nodes: inside.lowerLeft ? nodes : [nodes[2], middle, nodes[0]],
            });
          }
        } else {
          const [x, y] = [0, 1].map((axis) => (points[2 * from + axis]! + points[2 * to + axis]!) / 2);
          atlas.place(x!, y!, scratch);
          middle = keep();
        }
        known.set(edgeKey(from, to), middle);
      }
      triangles[6 * t + 3 + e] = middle;
      // In the base all nodes lie at one height.
      for (const node of [numbers[from]!, middle]) {
        if (Math.abs(placed[PLACED_SIZE * node + 2]!) > 1e-6) level = 0;
      }
    }
    base[t] = level;
  }
  const rings: Uint32Array[] = [];
  while (chains.size > 0) {
    const nodes: number[] = [];
    for (let at = chains.keys().next().value!; chains.has(at); ) {
      const [middle, to] = chains.get(at)!;
      chains.delete(at);
      nodes.push(at, middle);
      at = to;
    }
    rings.push(Uint32Array.from(nodes));
  }
  const nodeCount = placed.length / PLACED_SIZE;
  const all = Float64Array.from(placed);
  const start = new Float64Array(2 * nodeCount);
  for (let node = 0; node < nodeCount; node++) {
    start[2 * node] = all[PLACED_SIZE * node + 9]!;
    start[2 * node + 1] = all[PLACED_SIZE * node + 10]!;
  }
  const around = (nodes: Uint32Array): number =>
    nodes.reduce((sum, node, i) => {
      const next = nodes[(i + 1) % nodes.length]!;
      return (
        sum + Math.hypot(start[2 * node]! - start[2 * next]!, start[2 * node + 1]! - start[2 * next + 1]!)
      );
    }, 0);
  rings.sort((a, b) => around(b) - around(a));
  return {
    mesh: {
      nodeCount,
      placed: all,
      triangles,
      mirror: new Uint8Array(nodeCount),
      mirrorLines: null,
      base,
      rim: rings[0]!,
      sectionLines: [],
    },
    start,
    holes: rings.slice(1),
    borders,
  };
}

const edgeKey = (a: number, b: number): string => (a < b ? `${a} ${b}` : `${b} ${a}`);
