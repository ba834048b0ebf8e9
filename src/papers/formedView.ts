/**
 * The formed tray seen from an angle: shaded, with its rim and its outline, as items of a picture.
 *
 * Parallel projection of the solved mesh on the neutral surface, far triangles painted first, then the lines that
 * are in sight. It takes any shape the solver takes. Shade is the cosine of the angle to a light that stands beside
 * the eye (Lambert's law).
 */

import { drawn, type Item, openLine, polygon } from '../drawing/picture.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import type { Path, Point } from '../geometry/path.ts';
import { dot, moved, unit, type Vector3 } from '../geometry/vector3.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { type FormedShape, formedShape, rimPlaces } from '../pattern/formedShape.ts';
import { radians } from '../units.ts';
import { depthMap, type Seen } from './depthMap.ts';
import {
  COARSE_SHADE,
  chains,
  normals,
  quarters,
  SAME_SHADE,
  shadedTriangles,
  silhouette,
} from './facets.ts';

export interface ViewOptions {
  /** Room on the paper, mm. */
  readonly width: number;
  readonly height: number;
  /** Where the eye stands: degrees round from the −y side towards +x, and above the base's plane. */
  readonly around?: number;
  readonly above?: number;
  /** Larger facets at half the size, for a picture that is drawn anew at every key. */
  readonly coarse?: boolean;
  /** By how much a node is darker than the light makes it, 0 to 1. */
  readonly dark?: ArrayLike<number>;
  /** Writes the letter of a corner beside its rim; none when left out. */
  readonly corner?: (index: number) => string;
}

/** Number of greys: few enough to gather triangles of one grey into one path. */
const GREYS = 20;
const DARKEST = 0x8c;
const BRIGHTEST = 0xf6;
/** Triangles are rimmed by a hair of their own grey, mm on the paper, so that no seams show. */
const HAIR = 0.08;

interface Face {
  /** Its corners, counter-clockwise on the paper. */
  readonly nodes: readonly [number, number, number];
  /** How near the eye it lies, in whole steps; the flat of the base, which lies below everything, has -1. */
  readonly band: number;
  readonly grey: number;
  /** Whether one sees its inside. */
  readonly facing: boolean;
}

/** Steps of depth that are told apart: faces of one step do not hide each other. */
const BANDS = 60;
/** Room beside the view for the letters of corners, mm on the paper. */
const LETTER_ROOM = 4.5;

export interface View {
  readonly items: Item[];
  readonly width: number;
  readonly height: number;
}

/** The view of the finished tray, trim taken off, its lower left corner at the origin. */
export const formedView = (pattern: FlatPattern, options: ViewOptions): View =>
  shapeView(formedShape(pattern), options);

/** The view of a shape, its lower left corner at the origin. */
export function shapeView(field: FormedShape, options: ViewOptions): View {
  const { around = 28, above = 34 } = options;
  const look = projection(radians(around), radians(above));
  const nodes = field.formed.length / 3;
  const seen = seenBy(look, field.formed, options);
  const { x, y, depth, scale, width, height } = seen;
  const at = (node: number): Point => ({ x: x[node]!, y: y[node]! });

  const fine = quarters(field);
  const fineNormals = normals(field.formed, fine);
  const triangles = shadedTriangles(
    field,
    fine,
    fineNormals,
    options.coarse === true ? COARSE_SHADE : SAME_SHADE,
  );
  const faces = facesOf(field, triangles, look, depth, options.dark);
  const map = depthMap(seen, triangles);
  const inSight = ([a, b]: readonly [number, number]): boolean =>
    map.visible((x[a]! + x[b]!) / 2, (y[a]! + y[b]!) / 2, (depth[a]! + depth[b]!) / 2);
  const { rimNodes } = field;
  const rim = Array.from(rimNodes, (node, i): [number, number] => [
    node,
    rimNodes[(i + 1) % rimNodes.length]!,
  ]);
  const lines = (list: readonly (readonly [number, number])[]): Path[] =>
    chains(list.filter(inSight)).map((chain) => openLine(chain.map(at)));
  const items: Item[] = [
    ...shadedFaces(faces, nodes, at),
    drawn(lines(silhouette(nodes, fine, fineNormals, look.back)), LINES.frame),
    drawn(lines(rim), LINES.edge),
    ...(options.corner === undefined ? [] : cornerLetters(field, seen, look.up[2] * scale, options.corner)),
  ];
  return {
    items: [{ kind: 'group', at: { x: 0, y: 0 }, scale: 1, decimals: 2, items }],
    width,
    height,
  };
}

/** The nodes as they are seen, so large that they fill the room. */
function seenBy(look: Look, formed: Float64Array, options: ViewOptions): Seen & { readonly scale: number } {
  const nodes = formed.length / 3;
  const x = new Float64Array(nodes);
  const y = new Float64Array(nodes);
  const depth = new Float64Array(nodes);
  for (let node = 0; node < nodes; node++) {
    const p = formed.subarray(3 * node, 3 * node + 3);
    x[node] = dot(look.right, p);
    y[node] = dot(look.up, p);
    depth[node] = dot(look.back, p);
  }
  const room = options.corner === undefined ? 0 : LETTER_ROOM;
  const least = { x: smallest(x), y: smallest(y) };
  const most = { x: largest(x), y: largest(y) };
  const scale = Math.min(
    (options.width - 2 * room) / (most.x - least.x),
    (options.height - 2 * room) / (most.y - least.y),
  );
  for (let node = 0; node < nodes; node++) {
    x[node] = room + (x[node]! - least.x) * scale;
    y[node] = room + (y[node]! - least.y) * scale;
    depth[node] = depth[node]! * scale;
  }
  const width = (most.x - least.x) * scale + 2 * room;
  const height = (most.y - least.y) * scale + 2 * room;
  return { x, y, depth, width, height, scale };
}

/** Faces of one band, grey and side as one area, the farthest first. */
function shadedFaces(faces: Face[], nodes: number, at: (node: number) => Point): Item[] {
  faces.sort((a, b) => a.band - b.band || Number(a.facing) - Number(b.facing) || a.grey - b.grey);
  const items: Item[] = [];
  for (let i = 0; i < faces.length; ) {
    const { band, grey, facing } = faces[i]!;
    const run: Face[] = [];
    for (; i < faces.length; i++) {
      const face = faces[i]!;
      if (face.band !== band || face.grey !== grey || face.facing !== facing) break;
      run.push(face);
    }
    const colour = greyColour(grey);
    const paths = borders(run, nodes).map((loop) => polygon(loop.map(at)));
    items.push({ kind: 'path', paths, fill: colour, stroke: { weight: HAIR, colour }, overlapping: true });
  }
  return items;
}

/**
 * The letter of each corner outside the middle of its rim, on the near side below the wall.
 *
 * @param upright what 1 mm of height measures in the view, mm
 */
function cornerLetters(
  { formed, rimNodes, rimCorner }: FormedShape,
  { x, y }: Seen,
  upright: number,
  words: (index: number) => string,
): Item[] {
  const middleX = (smallest(x) + largest(x)) / 2;
  const middleY = (smallest(y) + largest(y)) / 2;
  return [...rimPlaces(rimCorner)].map(([corner, places]) => {
    const list = places.map((place) => rimNodes[place]!);
    // A corner over the end of the list of rim nodes would have its middle elsewhere; the mean of its places has not.
    const px = list.reduce((sum, node) => sum + x[node]!, 0) / list.length;
    const py = list.reduce((sum, node) => sum + y[node]!, 0) / list.length;
    const node = list.reduce((best, each) =>
      Math.hypot(x[each]! - px, y[each]! - py) < Math.hypot(x[best]! - px, y[best]! - py) ? each : best,
    );
    const away = Math.atan2(y[node]! - middleY, x[node]! - middleX);
    const below = Math.min(1, Math.max(0, -2 * Math.sin(away))) * formed[3 * node + 2]! * upright;
    const base = y[node]! + 3 * Math.sin(away) - below - TEXT.normal / 2;
    return {
      kind: 'text',
      // Never below the room left for it.
      at: { x: x[node]! + 3 * Math.cos(away), y: Math.max(0.3, base) },
      height: TEXT.normal,
      text: words(corner),
      align: 'center',
      bold: true,
      halo: true,
    };
  });
}

interface Look {
  readonly right: Vector3;
  readonly up: Vector3;
  /** From the part to the eye. */
  readonly back: Vector3;
  readonly light: Vector3;
}

function projection(around: number, above: number): Look {
  const [ca, sa, ce, se] = [Math.cos(around), Math.sin(around), Math.cos(above), Math.sin(above)];
  const right: Vector3 = [ca, sa, 0];
  const back: Vector3 = [sa * ce, -ca * ce, se];
  const up: Vector3 = [-sa * se, ca * se, ce];
  return { right, up, back, light: unit(moved(moved(back, 0.5, up), -0.6, right)) };
}

function facesOf(
  field: FormedShape,
  triangles: Uint32Array,
  look: Look,
  depth: Float64Array,
  dark: ArrayLike<number> | undefined,
): Face[] {
  const near = largest(depth);
  const far = smallest(depth);
  const all = normals(field.formed, triangles);
  const faces: Face[] = [];
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const normal = all.subarray(t, t + 3);
    const facing = dot(look.back, normal) > 0;
    const lit = Math.abs(dot(look.light, normal));
    const middle = (depth[a]! + depth[b]! + depth[c]!) / 3;
    const light = dark === undefined ? 1 : 1 - (dark[a]! + dark[b]! + dark[c]!) / 3;
    const onBase = normal[2]! > 1 - 1e-9 && Math.abs(field.formed[3 * a + 2]!) < 1e-9;
    faces.push({
      nodes: facing ? [a, b, c] : [a, c, b],
      band: onBase ? -1 : Math.floor((BANDS * (middle - far)) / (near - far || 1)),
      // The inside is lighter than the outside, so that the two are told apart.
      grey: Math.round((facing ? lit : lit * 0.72) * light * (GREYS - 1)),
      facing,
    });
  }
  return faces;
}

/** The lines around faces that lie side by side: edges between two of them cancel. */
function borders(faces: readonly Face[], nodes: number): number[][] {
  const edges = new Set<number>();
  for (const { nodes: corners } of faces) {
    for (let k = 0; k < 3; k++) {
      const from = corners[k]!;
      const to = corners[(k + 1) % 3]!;
      if (!edges.delete(to * nodes + from)) edges.add(from * nodes + to);
    }
  }
  const next = new Map<number, number[]>();
  for (const edge of edges) {
    const from = Math.floor(edge / nodes);
    const list = next.get(from);
    if (list === undefined) next.set(from, [edge % nodes]);
    else list.push(edge % nodes);
  }
  const loops: number[][] = [];
  for (const start of next.keys()) {
    while ((next.get(start)?.length ?? 0) > 0) {
      const loop: number[] = [];
      let at = start;
      do {
        loop.push(at);
        at = next.get(at)!.pop()!;
      } while (at !== start);
      loops.push(loop);
    }
  }
  return loops;
}

function greyColour(step: number): string {
  const value = Math.round(DARKEST + ((BRIGHTEST - DARKEST) * step) / (GREYS - 1));
  return `#${value.toString(16).padStart(2, '0').repeat(3)}`;
}

const largest = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), -Infinity);
const smallest = (values: Float64Array): number => values.reduce((a, b) => Math.min(a, b), Infinity);
