/**
 * The formed tray seen from an angle: shaded, with its rim and its outline, as items of a picture.
 *
 * Parallel projection of the solved mesh on the neutral surface, far triangles painted first. It takes any
 * shape the solver takes. Shade is the cosine of the angle to a light that stands beside the eye (Lambert's law).
 */
import { drawn, type Item, openLine, polygon } from '../drawing/picture.ts';
import { LINES } from '../drawing/weights.ts';
import type { Path, Point } from '../outline/path.ts';
import type { FlatField } from '../solve/flatField.ts';
import { radians } from '../units.ts';

export interface ViewOptions {
  /** Room on the paper, mm. */
  readonly width: number;
  readonly height: number;
  /** Where the eye stands: degrees round from the −y side towards +x, and above the base's plane. */
  readonly around?: number;
  readonly above?: number;
}

/** Number of greys: few enough to gather triangles of one grey into one path. */
const GREYS = 14;
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
/** Steps by which a line is drawn in front of where it lies. */
const LINE_LIFT = 7;

/** The step a depth falls into, from 0 to BANDS. */
const bandOf = (depth: number, near: number, far: number): number =>
  Math.floor((BANDS * (depth - far)) / (near - far || 1));

/**
 * The view, its lower left corner at the origin.
 *
 * @param field not changed
 */
export function formedView(
  field: FlatField,
  options: ViewOptions,
): { items: Item[]; width: number; height: number } {
  const { around = 28, above = 34 } = options;
  const look = projection(radians(around), radians(above));
  const nodes = field.formed.length / 3;
  const x = new Float64Array(nodes);
  const y = new Float64Array(nodes);
  const depth = new Float64Array(nodes);
  for (let node = 0; node < nodes; node++) {
    const p = field.formed.subarray(3 * node, 3 * node + 3);
    x[node] = dot(look.right, p);
    y[node] = dot(look.up, p);
    depth[node] = dot(look.back, p);
  }
  const least = { x: smallest(x), y: smallest(y) };
  const most = { x: -smallest(x.map((value) => -value)), y: -smallest(y.map((value) => -value)) };
  const scale = Math.min(options.width / (most.x - least.x), options.height / (most.y - least.y));
  const at = (node: number): Point => ({ x: (x[node]! - least.x) * scale, y: (y[node]! - least.y) * scale });

  const faces = facesOf(field, look, depth);
  faces.sort((a, b) => a.band - b.band || Number(a.facing) - Number(b.facing) || a.grey - b.grey);
  // A line belongs a little in front of the faces it borders; what stands nearer still hides it.
  const near = -smallest(depth.map((value) => -value));
  const far = smallest(depth);
  const lines = new Map<number, { rim: Path[]; outline: Path[] }>();
  const place = (kind: 'rim' | 'outline', nodesOfLine: readonly [number, number, number]): void => {
    const band = bandOf(depth[nodesOfLine[1]]!, near, far) + LINE_LIFT;
    const known = lines.get(band) ?? { rim: [], outline: [] };
    known[kind].push(openLine(nodesOfLine.map(at)));
    lines.set(band, known);
  };
  for (const line of silhouette(field, look)) place('outline', line);
  const { rimNodes } = field;
  for (let i = 1; i < rimNodes.length; i += 2)
    place('rim', [rimNodes[i - 1]!, rimNodes[i]!, rimNodes[(i + 1) % rimNodes.length]!]);
  const shaded: Item[] = [];
  for (let band = -1, i = 0; band <= BANDS + LINE_LIFT; band++) {
    while (i < faces.length && faces[i]!.band === band) {
      const { grey, facing } = faces[i]!;
      const alike = (face: Face | undefined): boolean =>
        face !== undefined && face.band === band && face.grey === grey && face.facing === facing;
      const run: Face[] = [];
      while (alike(faces[i])) run.push(faces[i++]!);
      const colour = greyColour(grey);
      const paths = borders(run, nodes).map((loop) => polygon(loop.map(at)));
      shaded.push({ kind: 'path', paths, fill: colour, stroke: { weight: HAIR, colour }, overlapping: true });
    }
    const here = lines.get(band);
    if (here === undefined) continue;
    if (here.outline.length > 0) shaded.push(drawn(here.outline, LINES.frame));
    if (here.rim.length > 0) shaded.push(drawn(here.rim, LINES.edge));
  }
  const items: Item[] = [{ kind: 'group', at: { x: 0, y: 0 }, scale: 1, decimals: 2, items: shaded }];
  return { items, width: (most.x - least.x) * scale, height: (most.y - least.y) * scale };
}

type Vector = readonly [number, number, number];
interface Look {
  readonly right: Vector;
  readonly up: Vector;
  /** From the part to the eye. */
  readonly back: Vector;
  readonly light: Vector;
}

function projection(around: number, above: number): Look {
  const [ca, sa, ce, se] = [Math.cos(around), Math.sin(around), Math.cos(above), Math.sin(above)];
  const right: Vector = [ca, sa, 0];
  const back: Vector = [sa * ce, -ca * ce, se];
  const up: Vector = [-sa * se, ca * se, ce];
  const raw: Vector = [
    back[0] + 0.5 * up[0] - 0.6 * right[0],
    back[1] + 0.5 * up[1] - 0.6 * right[1],
    back[2] + 0.5 * up[2] - 0.6 * right[2],
  ];
  const length = Math.hypot(...raw);
  return { right, up, back, light: [raw[0] / length, raw[1] / length, raw[2] / length] };
}

/** Each six-node triangle as a flat one over its corners. */
function facesOf(field: FlatField, look: Look, depth: Float64Array): Face[] {
  const near = -smallest(depth.map((value) => -value));
  const far = smallest(depth);
  const faces: Face[] = [];
  for (let t = 0; t < field.triangles.length; t += 6) {
    const [a, b, c] = [field.triangles[t]!, field.triangles[t + 1]!, field.triangles[t + 2]!];
    const normal = faceNormal(field, t);
    const facing = dot(look.back, normal) > 0;
    const lit = Math.abs(dot(look.light, normal));
    const middle = (depth[a]! + depth[b]! + depth[c]!) / 3;
    const onBase = normal[2] > 1 - 1e-9 && field.formed[3 * a + 2]! < 1e-9;
    faces.push({
      nodes: facing ? [a, b, c] : [a, c, b],
      band: onBase ? -1 : bandOf(middle, near, far),
      // The inside is lighter than the outside, so that the two are told apart.
      grey: Math.round((facing ? lit : lit * 0.72) * (GREYS - 1)),
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

/** Unit normal of the triangle over the three corners, up out of the base. */
function faceNormal({ formed, triangles }: FlatField, t: number): Vector {
  const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
  const u = [0, 1, 2].map((k) => formed[b + k]! - formed[a + k]!) as unknown as Vector;
  const v = [0, 1, 2].map((k) => formed[c + k]! - formed[a + k]!) as unknown as Vector;
  const n: Vector = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const length = Math.hypot(...n) || 1;
  return [n[0] / length, n[1] / length, n[2] / length];
}

/** Edges between a face seen from inside and one seen from outside, and where the mesh ends below the rim. */
function silhouette(field: FlatField, look: Look): [number, number, number][] {
  const seen = new Map<string, { facing: boolean; nodes: [number, number, number] }>();
  const lines: [number, number, number][] = [];
  for (let t = 0; t < field.triangles.length; t += 6) {
    const facing = dot(look.back, faceNormal(field, t)) > 0;
    for (let k = 0; k < 3; k++) {
      const a = field.triangles[t + k]!;
      const b = field.triangles[t + ((k + 1) % 3)]!;
      const key = a < b ? `${a},${b}` : `${b},${a}`;
      const other = seen.get(key);
      if (other === undefined) seen.set(key, { facing, nodes: [a, field.triangles[t + 3 + k]!, b] });
      else if (other.facing !== facing) lines.push(other.nodes);
    }
  }
  return lines;
}

function greyColour(step: number): string {
  const value = Math.round(DARKEST + ((BRIGHTEST - DARKEST) * step) / (GREYS - 1));
  return `#${value.toString(16).padStart(2, '0').repeat(3)}`;
}

const dot = (a: Vector, b: ArrayLike<number>): number => a[0] * b[0]! + a[1] * b[1]! + a[2] * b[2]!;
const smallest = (values: Float64Array): number => values.reduce((a, b) => Math.min(a, b), Infinity);
