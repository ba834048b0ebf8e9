/** Six-node triangles on the neutral surface of a part, fine where it is curved both ways. */
import { chainsOf } from '../../geometry/chain.ts';
import { arcLengthFlat, type QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { triangulate } from '../../mesh/triangulation.ts';
import { IMAGE_OF_X, PLACED_SIZE } from '../../tray/neutralSurface.ts';
import type { FaceBorder } from './faceBorders.ts';
import { type FlatAtlas, newPlaced } from './flatAtlas.ts';
import type { SizeField } from './meshSizes.ts';
import type { PartPlace, PartSkin, Skin } from './skin.ts';
import { edgeAt, pointAt, type SkinCurve } from './skinCurves.ts';

export interface PartMesh {
  readonly mesh: QuadraticMesh;
  /** x y per node: where to start. */
  readonly start: Float64Array;
  /** Nodes around each hole, clockwise, corners and middles in turn. */
  readonly holes: readonly Uint32Array[];
  readonly borders: readonly BorderEdge[];
  /** Per node its place on each of the faces it lies on; none where a face has no parameters to tell. */
  readonly places: readonly (readonly PartPlace[])[];
}

/** An edge of the mesh on the border of two faces. */
export interface BorderEdge {
  readonly border: FaceBorder;
  /** Start, middle, end, with the face of the lower number on the left. */
  readonly nodes: readonly [number, number, number];
}

export function partMesh(
  own: PartSkin,
  atlas: FlatAtlas,
  curves: readonly SkinCurve[],
  wanted: SizeField,
): PartMesh {
  const divided = curves.map((curve): DividedCurve => ({ curve, at: divide(curve, wanted) }));
  for (let round = 0; ; round++) {
    const lines = pointsOf(divided);
    const segments = (inner: boolean): [number, number][] =>
      lines.pieces.flatMap(({ line, from, to }) =>
        (line.curve.inside !== null) === inner ? [[from, to]] : [],
      );
    const { points, triangles } = triangulate(lines.points, segments(false), segments(true), wanted);
    const edges = new Set<string>();
    for (let at = 0; at < triangles.length; at++) {
      edges.add(`${triangles[at]} ${triangles[at % 3 === 2 ? at - 2 : at + 1]}`);
    }
    const missing = lines.pieces.filter(
      ({ from, to }) => !edges.has(`${from} ${to}`) && !edges.has(`${to} ${from}`),
    );
    if (missing.length === 0 || round === 6) {
      return assembled(own, atlas, lines, points, triangles);
    }
    // A piece of line that is no edge of a triangle is halved until it is.
    for (const { line, piece, middle } of missing.reverse()) line.at.splice(piece + 1, 0, middle);
  }
}

/** A curve, and the distances along at which it is divided, its ends included. */
interface DividedCurve {
  readonly curve: SkinCurve;
  readonly at: number[];
}

/** The points all triangles must have: stops first, then what lies between them on each curve. */
interface LinePoints {
  /** x y per point */
  readonly points: number[];
  /** Where each lies: curve and distance along. */
  readonly where: { readonly curve: SkinCurve; readonly s: number }[];
  /** Pieces of curve between neighbouring points; `piece` counts along the curve, `middle` is the distance half-way. */
  readonly pieces: {
    readonly line: DividedCurve;
    readonly piece: number;
    readonly middle: number;
    readonly from: number;
    readonly to: number;
  }[];
}

function pointsOf(divided: readonly DividedCurve[]): LinePoints {
  const out: LinePoints = { points: [], where: [], pieces: [] };
  const stops = new Map<number, number>();
  const add = (curve: SkinCurve, s: number): number => {
    out.points.push(...pointAt(curve, s));
    return out.where.push({ curve, s }) - 1;
  };
  const stop = (vertex: number, curve: SkinCurve, s: number): number => {
    const known = stops.get(vertex) ?? add(curve, s);
    stops.set(vertex, known);
    return known;
  };
  for (const line of divided) {
    const { curve, at } = line;
    let from = stop(curve.vertices[0]!, curve, at[0]!);
    for (let k = 1; k < at.length; k++) {
      const s = at[k]!;
      const to = k === at.length - 1 ? stop(curve.vertices.at(-1)!, curve, s) : add(curve, s);
      out.pieces.push({ line, piece: k - 1, middle: (at[k - 1]! + s) / 2, from, to });
      from = to;
    }
  }
  return out;
}

/** Distances along at which a curve is divided, its ends included, as the size asks. */
function divide(curve: SkinCurve, wanted: SizeField): number[] {
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

function assembled(
  { skin, frame }: PartSkin,
  atlas: FlatAtlas,
  lines: LinePoints,
  points: readonly number[],
  corners: readonly number[],
): PartMesh {
  const trianglesAt = trianglesAround(skin);
  const placed: number[] = [];
  const places: PartPlace[][] = [];
  const scratch = newPlaced();
  const keep = (own: PartPlace[]): number => {
    for (const value of scratch) placed.push(value);
    return places.push(own) - 1;
  };
  const inside = (x: number, y: number): number => {
    atlas.place(x, y, scratch);
    return keep([atlas.onPart(x, y)]);
  };
  const onCurve = (curve: SkinCurve, s: number): number => {
    const { edge, fraction } = edgeAt(curve, s);
    const guesses = [curve.owner, curve.other].flatMap((owners) => {
      const own = owners[edge];
      if (own === undefined) return [];
      return [atlas.onPartEdge(own.triangle, own.edge, own.backward ? 1 - fraction : fraction)];
    });
    const { triangle, edge: corner, backward } = curve.owner[edge]!;
    atlas.placeOnEdge(triangle, corner, backward ? 1 - fraction : fraction, scratch);
    // Where curves meet there are more faces than two.
    for (const [end, vertex] of [curve.vertices[edge]!, curve.vertices[edge + 1]!].entries()) {
      if (Math.abs(fraction - end) > 1e-9) continue;
      for (const [t, k] of trianglesAt(vertex)) guesses.push(atlas.onPartEdge(t, k, 0));
    }
    const own: PartPlace[] = [];
    for (const guess of guesses) {
      if (own.some(({ face }) => face === guess.face)) continue;
      const foot = atlas.footOn(guess, scratch);
      if (foot !== null) own.push(foot);
    }
    return keep(own);
  };
  const used = new Set(corners);
  const numbers = new Int32Array(points.length / 2).fill(-1);
  for (const [i, { curve, s }] of lines.where.entries()) if (used.has(i)) numbers[i] = onCurve(curve, s);
  for (let i = lines.where.length; i < points.length / 2; i++) {
    if (!used.has(i)) continue;
    numbers[i] = inside(points[2 * i]!, points[2 * i + 1]!);
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
        const piece = onLine.get(edgeKey(from, to));
        if (piece !== undefined) {
          const { curve } = piece.line;
          middle = onCurve(curve, piece.middle);
          const { inside } = curve;
          if (inside === null) chains.set(numbers[from]!, [middle, numbers[to]!]);
          else {
            const nodes = [numbers[piece.from]!, middle, numbers[piece.to]!] as const;
            borders.push({
              border: inside.border,
              nodes: inside.lowerLeft ? nodes : [nodes[2], middle, nodes[0]],
            });
          }
        } else {
          const [x, y] = [0, 1].map((axis) => (points[2 * from + axis]! + points[2 * to + axis]!) / 2);
          middle = inside(x!, y!);
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
  for (const { keys } of chainsOf(new Map(Array.from(chains, ([from, [, to]]) => [from, to])))) {
    rings.push(Uint32Array.from(keys.flatMap((from) => [from, chains.get(from)![0]])));
  }
  const nodeCount = placed.length / PLACED_SIZE;
  const all = Float64Array.from(placed);
  // The hold on the base is laid out along x and y, so that the nodes there must have these as their directions.
  for (let t = 0; t < base.length; t++) {
    if (base[t] === 0) continue;
    for (let i = 0; i < 6; i++) all.set([1, 0, 0, 0, 1, 0], PLACED_SIZE * triangles[6 * t + i]! + IMAGE_OF_X);
  }
  const start = arcLengthFlat({ placed: all });
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
    places,
  };
}

const edgeKey = (a: number, b: number): string => (a < b ? `${a} ${b}` : `${b} ${a}`);

/** Triangles of the net about a vertex, each with the corner that the vertex is. */
function trianglesAround({ mesh: { triangles } }: Skin): (vertex: number) => readonly [number, number][] {
  const lists = new Map<number, [number, number][]>();
  for (const [at, vertex] of triangles.entries()) {
    const list = lists.get(vertex);
    if (list === undefined) lists.set(vertex, [[Math.floor(at / 3), at % 3]]);
    else list.push([Math.floor(at / 3), at % 3]);
  }
  return (vertex) => lists.get(vertex) ?? [];
}
