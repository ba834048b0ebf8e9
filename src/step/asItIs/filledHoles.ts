/**
 * Holes that lie in one face, which are taken as cut in a sheet that was solved whole, as the holes of a tray file
 * are: a net without them, and their edges to be carried to the blank. The face's surface goes on over the hole.
 *
 * Holes that reach over several faces stay in the net.
 */
import type { LivePart } from '../kernel/readShape.ts';
import type { TrayFrame } from './flatAtlas.ts';
import { nearestEdges } from './nearestEdges.ts';
import { boundaryLoops, edgeMap, flipToDelaunay, type SkinMesh, splitLongEdges } from './skinMesh.ts';
import type { Skin } from './skins.ts';

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

/**
 * Fills the holes that lie in one face, changing the skin's net in place.
 *
 * @param open numbers of the loops that are left as they are
 */
export function fillHoles(live: LivePart, skin: Skin, open: ReadonlySet<number>): FilledHole[] {
  const { mesh } = skin;
  const edges = edgeMap(mesh.triangles, mesh.position.length / 3);
  const faceAlong = (from: number, to: number): number => {
    const count = mesh.position.length / 3;
    const use = edges.get(from < to ? from * count + to : to * count + from)![0]!;
    return mesh.face[Math.floor(use / 3)]!;
  };
  const holes: FilledHole[] = [];
  for (const [number, loop] of boundaryLoops(mesh).entries()) {
    // The first is the rim.
    if (number === 0 || open.has(number)) continue;
    const face = faceAlong(loop[0]!, loop[1]!);
    const alone = loop.every((vertex, i) => faceAlong(vertex, loop[(i + 1) % loop.length]!) === face);
    if (!alone) continue;
    // With the hole on the left.
    const around = [...loop].reverse();
    const parameters = parametersOf(mesh, face);
    const own = around.map((vertex) => parameters.get(vertex)!);
    const ears = earsOf(counterClockwise(inLengths(live, face, own)));
    if (ears === null) continue;
    holes.push({ loop: number, ...edgeOf(live, skin, face, around, own) });
    addCover(live, mesh, face, around, own, ears);
  }
  return holes;
}

/** The hole's points in the tray's frame. */
export function inFrame(
  { points }: FilledHole,
  { axes, origin }: TrayFrame,
): (readonly [number, number, number])[] {
  return points.map(
    (point) =>
      axes.map((axis) => axis.reduce((sum, value, i) => sum + value * (point[i]! - origin[i]!), 0)) as [
        number,
        number,
        number,
      ],
  );
}

/** Lays triangles over a hole, with vertices of their own where those round the hole are too far apart. */
function addCover(
  live: LivePart,
  mesh: SkinMesh,
  face: number,
  around: readonly number[],
  parameters: readonly (readonly [number, number])[],
  ears: readonly (readonly [number, number, number])[],
): void {
  const cover: SkinMesh = {
    position: around.flatMap((vertex) => mesh.position.slice(3 * vertex, 3 * vertex + 3)),
    triangles: ears.flat(),
    face: ears.map(() => face),
    parameters: ears.flat().flatMap((k) => parameters[k]!),
  };
  const longest = Math.max(
    ...around.map((_, i) => {
      const to = (i + 1) % around.length;
      return Math.hypot(...[0, 1, 2].map((k) => cover.position[3 * to + k]! - cover.position[3 * i + k]!));
    }),
  );
  const value = new Float64Array(6);
  flipToDelaunay(cover);
  splitLongEdges(cover, COARSENESS * longest, (own, u, v) => {
    live.evaluate(own, u, v, value);
    return [value[0]!, value[1]!, value[2]!];
  });
  flipToDelaunay(cover);
  const first = mesh.position.length / 3 - around.length;
  for (let i = 3 * around.length; i < cover.position.length; i++) mesh.position.push(cover.position[i]!);
  for (const own of cover.triangles) {
    mesh.triangles.push(own < around.length ? around[own]! : first + own);
  }
  mesh.face.push(...cover.face);
  mesh.parameters.push(...cover.parameters);
}

/** Surface parameters of a face's vertices. */
function parametersOf({ triangles, face, parameters }: SkinMesh, own: number): Map<number, [number, number]> {
  const out = new Map<number, [number, number]>();
  for (const [at, vertex] of triangles.entries()) {
    if (face[Math.floor(at / 3)] === own) out.set(vertex, [parameters[2 * at]!, parameters[2 * at + 1]!]);
  }
  return out;
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
    return Math.hypot(...[0, 1, 2].map((k) => beside[k]! - here[k]!)) / reach;
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
  face: number,
  around: readonly number[],
  parameters: readonly (readonly [number, number])[],
): Omit<FilledHole, 'loop'> {
  const points: [number, number, number][] = [];
  const edges = live.part.faces[face]!.wires.flat();
  const [at, value] = [new Float64Array(3), new Float64Array(6)];
  for (const [i, from] of around.entries()) {
    const next = (i + 1) % around.length;
    const to = around[next]!;
    for (let k = 0; k < POINTS_PER_EDGE; k++) {
      const share = k / POINTS_PER_EDGE;
      const chord = Float64Array.from([0, 1, 2], (axis) => {
        return (1 - share) * position[3 * from + axis]! + share * position[3 * to + axis]!;
      });
      let [best, found] = [Infinity, chord];
      for (const edge of nearestEdges(live, edges, chord)) {
        at.set(chord);
        live.snapToEdge(edge, at);
        const away = Math.hypot(at[0]! - chord[0]!, at[1]! - chord[1]!, at[2]! - chord[2]!);
        if (away < best) [best, found] = [away, at.slice()];
      }
      const [u, v] = [0, 1].map(
        (axis) => (1 - share) * parameters[i]![axis]! + share * parameters[next]![axis]!,
      ) as [number, number];
      live.evaluate(face, u, v, value);
      const inwards = turned ? depth : -depth;
      points.push(
        [0, 1, 2].map((axis) => found[axis]! + inwards * value[3 + axis]!) as [number, number, number],
      );
    }
  }
  const count = points.length;
  const corners = points.flatMap((point, i) => {
    const [before, after] = [points[(i + count - 1) % count]!, points[(i + 1) % count]!];
    const [a, b] = [point.map((x, k) => x - before[k]!), point.map((x, k) => after[k]! - x)];
    const along = a.reduce((sum, x, k) => sum + x * b[k]!, 0) / Math.hypot(...a) / Math.hypot(...b);
    return Math.acos(Math.max(-1, Math.min(1, along))) > CORNER_TURN ? [i] : [];
  });
  return { points, corners };
}
