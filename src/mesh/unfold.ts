/** Copies a mesh across its mirror lines, so that neighbouring copies share the vertices on the line between. */
import { FLAT, IMAGE_OF_X, IMAGE_OF_Y, PLACED_SIZE, type Placed } from '../tray/neutralSurface.ts';
import type { MirrorLines } from './quadraticMesh.ts';
import { type Chart, ON_FIRST, ON_LAST, type Skeleton } from './skeleton.ts';

/** A turn or reflection of the plan about a centre: p → centre + Q (p − centre). */
export interface PlanMap {
  readonly centreX: number;
  readonly centreY: number;
  readonly q11: number;
  readonly q12: number;
  readonly q21: number;
  readonly q22: number;
  readonly mirrored: boolean;
}

/** Where each vertex of each copy goes. */
export interface Unfolding {
  readonly maps: readonly PlanMap[];
  /** New vertex number per copy and vertex. */
  readonly numbers: readonly Uint32Array[];
  readonly vertexCount: number;
  /** Bits `ON_FIRST`, `ON_LAST` of the new vertices (none when the whole tray is unfolded). */
  readonly mirror: Uint8Array;
}

/**
 * Numbers the vertices of `copies` copies of a mesh that fills the wedge between two mirror lines.
 *
 * @param mirror bits per vertex
 * @param lines  the mirror lines; the wedge runs from the first to the last
 * @param copies 1 to 2π over the wedge's angle; when it is all of them the result is the whole tray
 */
export function unfolding(mirror: Uint8Array, lines: MirrorLines, copies: number): Unfolding {
  const wedge = lines.lastAngle - lines.firstAngle;
  const all = Math.round((2 * Math.PI) / wedge);
  const whole = copies === all;
  const maps = Array.from({ length: copies }, (_, copy) => planMap(lines, wedge, copy));
  const oneLine = all === 2;
  const shared = new Map<string, number>();
  const newMirror: number[] = [];
  const numbers = maps.map((_, copy) => {
    const own = new Uint32Array(mirror.length);
    for (let vertex = 0; vertex < mirror.length; vertex++) {
      const bits = mirror[vertex]!;
      let key: string | null = null;
      let line = -1;
      if (bits === (ON_FIRST | ON_LAST)) {
        key = oneLine ? `line ${vertex}` : 'centre';
      } else if (bits !== 0) {
        // Copies alternate: an even one has its first line first, an odd one its last.
        line = copy + ((bits === ON_FIRST) === (copy % 2 === 0) ? 0 : 1);
        if (whole) line %= all;
        key = `${line} ${vertex}`;
      }
      const known = key === null ? undefined : shared.get(key);
      if (known !== undefined) {
        own[vertex] = known;
        continue;
      }
      let newBits = 0;
      if (!whole) {
        if (line === 0) newBits = ON_FIRST;
        else if (line === copies) newBits = ON_LAST;
        else if (bits === (ON_FIRST | ON_LAST)) newBits = bits;
      }
      own[vertex] = newMirror.push(newBits) - 1;
      if (key !== null) shared.set(key, own[vertex]!);
    }
    return own;
  });
  return { maps, numbers, vertexCount: newMirror.length, mirror: Uint8Array.from(newMirror) };
}

/** Copy 0 is the wedge itself, copy 1 its image in the last line, copy 2 the wedge turned, and so on. */
function planMap(lines: MirrorLines, wedge: number, copy: number): PlanMap {
  const mirrored = copy % 2 === 1;
  const turn = mirrored ? 2 * lines.firstAngle + (copy + 1) * wedge : copy * wedge;
  const c = cleanUnit(Math.cos(turn));
  const s = cleanUnit(Math.sin(turn));
  const { centreX, centreY } = lines;
  return mirrored
    ? { centreX, centreY, q11: c, q12: s, q21: s, q22: -c, mirrored }
    : { centreX, centreY, q11: c, q12: -s, q21: s, q22: c, mirrored };
}

/** Reflections in the axes must be exact, so that mirror images agree to the last bit. */
function cleanUnit(value: number): number {
  const nearest = Math.round(value);
  return Math.abs(value - nearest) < 1e-15 ? nearest : value;
}

/** Applies a plan map to a point (in place). */
export function mapPoint(map: PlanMap, xy: Float64Array, at: number): void {
  const x = xy[at]! - map.centreX;
  const y = xy[at + 1]! - map.centreY;
  xy[at] = map.centreX + map.q11 * x + map.q12 * y;
  xy[at + 1] = map.centreY + map.q21 * x + map.q22 * y;
}

/** Applies a plan map to a placed point: position, arc-length flat position and frame. */
function mapPlaced(map: PlanMap, placed: Placed): void {
  mapPoint(map, placed, 0);
  mapPoint(map, placed, FLAT);
  // The images of flat x and y: reflect the vectors, then recombine them for the reflected flat axes.
  const { q11, q12, q21, q22 } = map;
  const x1 = q11 * placed[IMAGE_OF_X]! + q12 * placed[IMAGE_OF_X + 1]!;
  const y1 = q21 * placed[IMAGE_OF_X]! + q22 * placed[IMAGE_OF_X + 1]!;
  const z1 = placed[IMAGE_OF_X + 2]!;
  const x2 = q11 * placed[IMAGE_OF_Y]! + q12 * placed[IMAGE_OF_Y + 1]!;
  const y2 = q21 * placed[IMAGE_OF_Y]! + q22 * placed[IMAGE_OF_Y + 1]!;
  const z2 = placed[IMAGE_OF_Y + 2]!;
  placed[IMAGE_OF_X] = q11 * x1 + q12 * x2;
  placed[IMAGE_OF_X + 1] = q11 * y1 + q12 * y2;
  placed[IMAGE_OF_X + 2] = q11 * z1 + q12 * z2;
  placed[IMAGE_OF_Y] = q21 * x1 + q22 * x2;
  placed[IMAGE_OF_Y + 1] = q21 * y1 + q22 * y2;
  placed[IMAGE_OF_Y + 2] = q21 * z1 + q22 * z2;
}

/** The skeleton of several copies of the wedge. */
export function unfoldSkeleton(skeleton: Skeleton, lines: MirrorLines, copies: number): Skeleton {
  const { maps, numbers, vertexCount, mirror } = unfolding(skeleton.mirror, lines, copies);
  const count = skeleton.triangles.length / 3;
  const placed = new Float64Array(PLACED_SIZE * vertexCount);
  const triangles = new Uint32Array(3 * count * copies);
  const chart = new Uint16Array(count * copies);
  const coordinates = new Float64Array(6 * count * copies);
  const charts: Chart[] = [];
  for (const [copy, map] of maps.entries()) {
    const own = numbers[copy]!;
    for (let vertex = skeleton.mirror.length - 1; vertex >= 0; vertex--) {
      const at = PLACED_SIZE * own[vertex]!;
      if (isPlaced(placed, at)) continue; // on a line shared with a copy before
      const point = skeleton.placed.slice(PLACED_SIZE * vertex, PLACED_SIZE * (vertex + 1));
      mapPlaced(map, point);
      placed.set(point, at);
    }
    const firstChart = charts.length;
    for (const original of skeleton.charts) {
      charts.push({
        planar: original.planar,
        place: (a, b, out) => {
          if (!original.planar) {
            original.place(a, b, out);
            mapPlaced(map, out);
            return;
          }
          // Coordinates of a planar chart are plan coordinates already mapped.
          original.place(a, b, out);
        },
        ...(original.width === undefined ? {} : { width: original.width }),
      });
    }
    for (let t = 0; t < count; t++) {
      const into = copy * count + t;
      chart[into] = firstChart + skeleton.chart[t]!;
      const planar = skeleton.charts[skeleton.chart[t]!]!.planar;
      for (let k = 0; k < 3; k++) {
        // A reflection turns triangles over: swap the last two corners back.
        const from = 3 * t + (map.mirrored && k > 0 ? 3 - k : k);
        triangles[3 * into + k] = own[skeleton.triangles[from]!]!;
        coordinates[6 * into + 2 * k] = skeleton.coordinates[2 * from]!;
        coordinates[6 * into + 2 * k + 1] = skeleton.coordinates[2 * from + 1]!;
        if (planar) mapPoint(map, coordinates, 6 * into + 2 * k);
      }
    }
  }
  return { charts, placed, mirror, triangles, chart, coordinates };
}

const isPlaced = (placed: Float64Array, at: number): boolean => {
  for (let k = IMAGE_OF_X; k < FLAT; k++) if (placed[at + k] !== 0) return true;
  return false;
};

/** The lines that bound an unfolded wedge, or null for the whole tray. */
export function unfoldedLines(lines: MirrorLines, copies: number): MirrorLines | null {
  const wedge = lines.lastAngle - lines.firstAngle;
  if (copies === Math.round((2 * Math.PI) / wedge)) return null;
  return { ...lines, lastAngle: lines.firstAngle + copies * wedge };
}
