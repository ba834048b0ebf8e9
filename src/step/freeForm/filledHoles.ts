/**
 * Holes that are taken as cut in a sheet that was solved whole, as the holes of a tray file are: a net without them,
 * and their edges to be carried to the blank. The faces' surfaces go on over the hole and meet where their border
 * would go on.
 */

import { angleBetween, distance, dot, minus, moved, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import { nearestEdges } from './nearestEdges.ts';
import type { Bridge, Parameters, Skin, TrayFrame } from './skin.ts';
import { boundaryLoops, edgeMap, flipToDelaunay, type SkinMesh, splitLongEdges } from './skinMesh.ts';

/** The edge of a hole on the middle of the sheet. */
export interface FilledHole {
  /** Number of its loop among the boundaries of the skin. */
  readonly loop: number;
  /** x y z per point in the part's space, counter-clockwise seen from inside the tray. */
  readonly points: readonly (readonly [number, number, number])[];
  /** Numbers of the points that are corners. */
  readonly corners: readonly number[];
}

/** Points of the exact edge for each edge of the net. */
const POINTS_PER_EDGE = 4;
/** A turn of more than this between two of them is a corner; radians. */
const CORNER_TURN = 0.35;
/** Longest edge of the net over a hole, in longest edges round it. */
const COARSENESS = 1.5;
/** Most that two surfaces may be apart where they should meet over a hole, as a share of the way across it. */
const MEETING = 1e-3;

export interface Filled {
  readonly holes: FilledHole[];
  /** The lines across them on which their faces go on. */
  readonly bridges: Bridge[];
  /** Middles of the holes that could not be filled, x y z in the part's space. */
  readonly unfilled: (readonly number[])[];
}

/**
 * Fills holes, changing the skin's net in place.
 *
 * @param open numbers of the loops that are left as they are
 */
export function fillHoles(live: LivePart, skin: Skin, open: ReadonlySet<number>): Filled {
  const { mesh } = skin;
  const out: Filled = { holes: [], bridges: [], unfilled: [] };
  for (const [number, loop] of boundaryLoops(mesh).entries()) {
    // The first is the rim.
    if (number === 0 || open.has(number)) continue;
    const around = stepsAround(mesh, loop);
    const cut = cutByFace(live, runsOf(around));
    const covers = (cut?.pieces ?? []).flatMap((piece): Cover[] => {
      const ears = earsOf(counterClockwise(inLengths(live, piece.face, piece.parameters)));
      return ears === null ? [] : [{ ...piece, ears }];
    });
    if (cut === null || covers.length < cut.pieces.length) {
      const mean = (axis: number): number =>
        loop.reduce((sum, vertex) => sum + mesh.position[3 * vertex + axis]!, 0) / loop.length;
      out.unfilled.push([0, 1, 2].map(mean));
      continue;
    }
    out.holes.push({ loop: number, ...edgeOf(live, skin, around) });
    out.bridges.push(...cut.bridges);
    addCover(live, mesh, covers);
  }
  return out;
}

/** Whether a line between two points by a face's parameters is a piece of a bridge. */
export function onBridge({ face, from, to }: Bridge, own: number, ends: readonly Parameters[]): boolean {
  const [du, dv] = [to[0] - from[0], to[1] - from[1]];
  const square = du * du + dv * dv;
  return (
    own === face &&
    ends.every(([u, v]) => {
      const [a, b] = [u - from[0], v - from[1]];
      const along = (a * du + b * dv) / square;
      return along > -1e-9 && along < 1 + 1e-9 && Math.abs(a * dv - b * du) < 1e-9 * square;
    })
  );
}

/** An edge of the net at the edge of a hole, with the hole on its left. */
interface Step {
  readonly face: number;
  readonly from: number;
  readonly to: number;
  /** Surface parameters of its ends. */
  readonly ends: readonly [Parameters, Parameters];
}

function stepsAround(mesh: SkinMesh, loop: readonly number[]): Step[] {
  const count = mesh.position.length / 3;
  // The cover of a hole before this one has changed the net.
  const edges = edgeMap(mesh.triangles, count);
  const around = [...loop].reverse();
  return around.map((from, i) => {
    const to = around[(i + 1) % around.length]!;
    const use = edges.get(from < to ? from * count + to : to * count + from)![0]!;
    const triangle = Math.floor(use / 3);
    const end = (vertex: number): Parameters => {
      const k = [0, 1, 2].find((corner) => mesh.triangles[3 * triangle + corner] === vertex)!;
      return [mesh.parameters[6 * triangle + 2 * k]!, mesh.parameters[6 * triangle + 2 * k + 1]!];
    };
    return { face: mesh.face[triangle]!, from, to, ends: [end(from), end(to)] };
  });
}

/** Vertices one after the other on one face. */
interface Run {
  readonly face: number;
  readonly vertices: readonly number[];
  readonly parameters: readonly Parameters[];
}

/** The runs of a hole's edge on its faces, each with both its ends; null when it crosses the seam of a closed face. */
function runsOf(around: readonly Step[]): Run[] | null {
  const first = around.findIndex((step, i) => step.face !== around.at(i - 1)!.face);
  const ordered = around.map((_, i) => around[(Math.max(0, first) + i) % around.length]!);
  const runs: { face: number; vertices: number[]; parameters: Parameters[] }[] = [];
  for (const [i, { face, from, to, ends }] of ordered.entries()) {
    const run = runs.at(-1);
    if (run === undefined || face !== ordered[i - 1]!.face) {
      runs.push({ face, vertices: [from, to], parameters: [...ends] });
      continue;
    }
    if (!same(run.parameters.at(-1)!, ends[0])) return null;
    run.vertices.push(to);
    run.parameters.push(ends[1]);
  }
  if (runs.length > 1) return runs;
  const { face, vertices, parameters } = runs[0]!;
  if (!same(parameters.at(-1)!, parameters[0]!)) return null;
  return [{ face, vertices: vertices.slice(0, -1), parameters: parameters.slice(0, -1) }];
}

const same = (a: Parameters, b: Parameters): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-9;

/**
 * A hole cut up by face: a run between two of one other face is cut off along the line from its one end to its
 * other, until one face is left. Null for a hole over a point where three faces meet, or over a border that is not
 * where the parameters of both its faces run straight, as they do along the edge of a bend.
 */
function cutByFace(live: LivePart, runs: Run[] | null): { pieces: Run[]; bridges: Bridge[] } | null {
  if (runs === null) return null;
  const pieces: Run[] = [];
  const bridges: Bridge[] = [];
  let left = runs;
  while (left.length > 1) {
    const i = left.findIndex((_, k) => left.at(k - 1)!.face === left[(k + 1) % left.length]!.face);
    if (i < 0) return null;
    // The run to be cut off stands last but one.
    const turned = left.map((_, k) => left[(i + 2 + k) % left.length]!);
    const [own, after] = left.length === 2 ? [left[i]!, left[1 - i]!] : [turned.at(-2)!, turned.at(-1)!];
    const before = left.length === 2 ? after : turned.at(-3)!;
    const across: Bridge[] = [
      { face: own.face, from: own.parameters[0]!, to: own.parameters.at(-1)! },
      { face: after.face, from: before.parameters.at(-1)!, to: after.parameters[0]! },
    ];
    if (!meet(live, across)) return null;
    bridges.push(...across);
    pieces.push(own);
    const joined = {
      face: after.face,
      vertices: [...before.vertices, ...after.vertices],
      parameters: [...before.parameters, ...after.parameters],
    };
    left = left.length === 2 ? [after] : [...turned.slice(0, -3), joined];
  }
  return { pieces: [...pieces, ...left], bridges };
}

/** Whether two lines, each by its face's parameters, are one in space. */
function meet(live: LivePart, [one, other]: readonly Bridge[]): boolean {
  const at = ({ face, from, to }: Bridge, share: number): Float64Array => {
    const value = new Float64Array(6);
    const [u, v] = [0, 1].map((axis) => (1 - share) * from[axis]! + share * to[axis]!) as [number, number];
    live.evaluate(face, u, v, value);
    return value;
  };
  const length = distance(at(one!, 0), at(one!, 1));
  return [0.25, 0.5, 0.75].every((share) => distance(at(one!, share), at(other!, share)) < MEETING * length);
}

/** The hole's points in the tray's frame. */
export function inFrame({ points }: FilledHole, { axes, origin }: TrayFrame): Vector3[] {
  return points.map((point) => axes.map((axis) => dot(axis, minus(point, origin))) as unknown as Vector3);
}

/** What one face has of a hole, with its triangles by their numbers in the run. */
interface Cover extends Run {
  readonly ears: readonly (readonly [number, number, number])[];
}

/** Lays triangles over a hole, with vertices of their own where those round the hole are too far apart. */
function addCover(live: LivePart, mesh: SkinMesh, covers: readonly Cover[]): void {
  const around = [...new Set(covers.flatMap(({ vertices }) => vertices))];
  const own = new Map(around.map((vertex, i) => [vertex, i]));
  const ears = covers.flatMap((cover) => cover.ears.map((ear) => ({ cover, ear })));
  const cover: SkinMesh = {
    position: around.flatMap((vertex) => mesh.position.slice(3 * vertex, 3 * vertex + 3)),
    triangles: ears.flatMap(({ cover: { vertices }, ear }) => ear.map((k) => own.get(vertices[k]!)!)),
    face: ears.map(({ cover: { face } }) => face),
    parameters: ears.flatMap(({ cover: { parameters }, ear }) => ear.flatMap((k) => parameters[k]!)),
  };
  const lengths = [...edgeMap(cover.triangles, around.length)].flatMap(([key, uses]) => {
    if (uses.length !== 1) return [];
    const [from, to] = [Math.floor(key / around.length), key % around.length];
    return [distance(vectorAt(cover.position, 3 * to), vectorAt(cover.position, 3 * from))];
  });
  const value = new Float64Array(6);
  flipToDelaunay(cover);
  splitLongEdges(cover, COARSENESS * Math.max(...lengths), (face, u, v) => {
    live.evaluate(face, u, v, value);
    return [value[0]!, value[1]!, value[2]!];
  });
  flipToDelaunay(cover);
  const first = mesh.position.length / 3 - around.length;
  for (let i = 3 * around.length; i < cover.position.length; i++) mesh.position.push(cover.position[i]!);
  for (const vertex of cover.triangles) {
    mesh.triangles.push(vertex < around.length ? around[vertex]! : first + vertex);
  }
  mesh.face.push(...cover.face);
  mesh.parameters.push(...cover.parameters);
}

/** Surface parameters in mm, as the surface is stretched at the first of them. */
function inLengths(
  live: LivePart,
  face: number,
  parameters: readonly (readonly [number, number])[],
): (readonly [number, number])[] {
  const [here, beside] = [new Float64Array(6), new Float64Array(6)];
  const [u, v] = parameters[0]!;
  live.evaluate(face, u, v, here);
  const reach = 1e-4;
  const [perU, perV] = [0, 1].map((axis) => {
    live.evaluate(face, axis === 0 ? u + reach : u, axis === 1 ? v + reach : v, beside);
    return distance(beside, here) / reach;
  }) as [number, number];
  return parameters.map((own) => [own[0] * perU, own[1] * perV] as const);
}

/** The same polygon, seen from its other side when it runs clockwise. */
function counterClockwise(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const twice = points.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = points[(i + 1) % points.length]!;
    return sum + x * nextY - nextX * y;
  }, 0);
  return points.map(([x, y]) => [twice < 0 ? -x : x, y] as const);
}

/**
 * Triangles of a polygon by cutting off one corner after the other (G. H. Meisters, "Polygons have ears", 1975,
 * title from memory); null when it crosses itself.
 */
function earsOf(points: readonly (readonly [number, number])[]): [number, number, number][] | null {
  const cross = (i: number, j: number, k: number): number => {
    const [p, q, r] = [points[i]!, points[j]!, points[k]!];
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  };
  if (points.length < 3) return null;
  const left = points.map((_, i) => i);
  const out: [number, number, number][] = [];
  while (left.length > 3) {
    const size = left.length;
    const at = left.findIndex((own, k) => {
      const [before, after] = [left[(k + size - 1) % size]!, left[(k + 1) % size]!];
      if (!(cross(before, own, after) > 0)) return false;
      return left.every(
        (other) =>
          other === before ||
          other === own ||
          other === after ||
          cross(before, own, other) < 0 ||
          cross(own, after, other) < 0 ||
          cross(after, before, other) < 0,
      );
    });
    if (at < 0) return null;
    out.push([left[(at + size - 1) % size]!, left[at]!, left[(at + 1) % size]!]);
    left.splice(at, 1);
  }
  const [a, b, c] = left as [number, number, number];
  return cross(a, b, c) > 0 ? [...out, [a, b, c]] : null;
}

/** Points of the hole's exact edge, moved to the middle of the sheet. */
function edgeOf(
  live: LivePart,
  { mesh: { position }, depth, turned }: Skin,
  around: readonly Step[],
): Omit<FilledHole, 'loop'> {
  const points: Vector3[] = [];
  const [at, value] = [new Float64Array(3), new Float64Array(6)];
  const inwards = turned ? depth : -depth;
  for (const { face, from, to, ends } of around) {
    const edges = live.part.faces[face]!.wires.flat();
    for (let k = 0; k < POINTS_PER_EDGE; k++) {
      const share = k / POINTS_PER_EDGE;
      const chord = Float64Array.from([0, 1, 2], (axis) => {
        return (1 - share) * position[3 * from + axis]! + share * position[3 * to + axis]!;
      });
      let [best, found] = [Infinity, chord];
      for (const edge of nearestEdges(live, edges, chord)) {
        at.set(chord);
        live.snapToEdge(edge, at);
        const away = distance(at, chord);
        if (away < best) [best, found] = [away, at.slice()];
      }
      const [u, v] = [0, 1].map((axis) => (1 - share) * ends[0][axis]! + share * ends[1][axis]!) as [
        number,
        number,
      ];
      live.evaluate(face, u, v, value);
      points.push(moved(found, inwards, vectorAt(value, 3)));
    }
  }
  const count = points.length;
  const corners = points.flatMap((point, i) => {
    const [before, after] = [points[(i + count - 1) % count]!, points[(i + 1) % count]!];
    return angleBetween(minus(point, before), minus(after, point)) > CORNER_TURN ? [i] : [];
  });
  return { points, corners };
}
