/**
 * The coarsest mesh of a tray: rows of triangles up the wall above every segment of the plan loop, finest
 * where straight meets curved, and a graded triangulation of the flat base.
 */

import { pow } from '../elementary.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { type NeutralSurface, PLACED_SIZE, placeOnBase, placeOnWall } from '../tray/neutralSurface.ts';
import { type CornerSegment, type LoopSegment, loopPoint } from '../tray/planLoop.ts';
import { refineAt } from './refineAt.ts';
import { type Chart, ON_FIRST, ON_LAST, type Skeleton } from './skeleton.ts';
import { gradedFractions } from './spacing.ts';
import type { Symmetry } from './symmetry.ts';
import { triangulatePolygon } from './triangulation.ts';

/** How fine the coarsest mesh is. */
export interface Density {
  /** Largest angle a triangle may span along a corner or up a bend, radians. */
  readonly angle: number;
  /** Triangle size near a corner over the developed height of the wall. */
  readonly size: number;
  /** Growth of triangle size per distance from a corner, along the sides. */
  readonly growth: number;
  /**
   * How often triangles are halved in size where the rim breaks upwards. The sheet has a hollow corner there, at which
   * strains rise without limit: even spacing would leave ten times the error there that it leaves elsewhere. Not at all
   * when left out.
   */
  readonly finerAtBreaks?: number;
}

/**
 * For a wall of `REFERENCE_HEIGHT` developed. Chosen by measuring rims against a mesh sixteen times as fine: the
 * error sits along the sides next to a corner, so the spacing there decides; finer rows up the wall or in the
 * base buy nothing.
 */
export const COARSE: Density = { angle: Math.PI / 6, size: 0.32, growth: 0.22, finerAtBreaks: 2 };
const REFERENCE_HEIGHT = 68;
/** For what is only compared with another solve on the same mesh, at a tenth of the time. */
export const ROUGH: Density = { angle: Math.PI / 5, size: 0.5, growth: 0.5 };

/**
 * The density at which trays of all sizes have about the same error in mm. Errors in proportion to the wall go
 * with the 2.7th power of the spacing (measured), so spacing over height goes with the height to the −1/2.7.
 * Lower walls than the reference would do with wider spacing for their outline, but not for their strains; along the
 * sides, where strains change slowly, they have it.
 */
export function densityFor(surface: NeutralSurface): Density {
  const ease = pow(REFERENCE_HEIGHT / surface.section.developed, 1 / 2.7);
  const scale = (widest: number): number => Math.max(0.55, Math.min(widest, ease));
  return {
    ...COARSE,
    angle: COARSE.angle * scale(1),
    size: COARSE.size * scale(1),
    growth: COARSE.growth * scale(1.5),
  };
}

/** The same grading with all spacings times a factor. */
export const scaledDensity = (density: Density, factor: number): Density => ({
  ...density,
  angle: density.angle * factor,
  size: density.size * factor,
  growth: density.growth * factor,
});

/** Vertices of the base's edge nearer than this, in mm, are one. */
const SAME = 2e-4;
/** A base narrower than this, in mm, is none. */
const NARROW = 0.015;

/** A stretch of one loop segment that belongs to the part that is meshed. */
interface Stretch {
  readonly segment: LoopSegment;
  readonly from: number;
  readonly to: number;
  /** True where nothing changes at the end: on a mirror line, or where the wall stops. */
  readonly plainStart: boolean;
  readonly plainEnd: boolean;
}

/** Meshes the whole tray, or the piece between two neighbouring mirror lines. */
export function traySkeleton(
  surface: NeutralSurface,
  symmetry: Symmetry | null,
  density: Density = densityFor(surface),
): Skeleton {
  const builder = new SkeletonBuilder();
  const stretches = loopStretches(surface, symmetry);
  const upCoordinates = upwardCoordinates(surface, density);
  const boundary = meshWall(builder, surface, stretches, upCoordinates, density, symmetry === null);
  if (symmetry !== null) {
    builder.mark(boundary[0]!.column, ON_FIRST);
    builder.mark(boundary[boundary.length - 1]!.column, ON_LAST);
  }
  meshBase(builder, boundary, symmetry, density);
  return refineAt(
    builder.skeleton(),
    risingBreaks(builder, boundary, symmetry === null),
    density.finerAtBreaks ?? 0,
  );
}

/** Rise over run by which a rim breaks upwards. A smaller break hardly shows. */
const LEAST_BREAK = 0.1;

/** Vertices of the rim at which it goes on more steeply than it came: where a lower side begins to rise to a higher one. */
function risingBreaks(builder: SkeletonBuilder, stations: readonly Station[], closed: boolean): number[] {
  const tops = stations.map(({ column }) => column[column.length - 1]!);
  const count = tops.length;
  const slope = (from: number, to: number): number =>
    (builder.z(to) - builder.z(from)) /
    hypotenuse(builder.x(to) - builder.x(from), builder.y(to) - builder.y(from));
  return tops.filter((top, i) => {
    if (!closed && (i === 0 || i === count - 1)) return false;
    const [before, after] = [(i + count - 1) % count, (i + 1) % count];
    // Only between stations of walls: an end of a wall is no break.
    if ([before, i, after].some((k) => stations[k]!.column.length === 1)) return false;
    return slope(top, tops[after]!) - slope(tops[before]!, top) > LEAST_BREAK;
  });
}

/** Collects vertices and triangles. */
class SkeletonBuilder {
  readonly charts: Chart[] = [];
  private readonly placed: number[] = [];
  private readonly mirror: number[] = [];
  private readonly triangles: number[] = [];
  private readonly chart: number[] = [];
  private readonly coordinates: number[] = [];
  private readonly point = new Float64Array(PLACED_SIZE);
  private readonly edgeVertices: number[] = [];

  addVertex(chart: Chart, a: number, b: number): number {
    chart.place(a, b, this.point);
    for (let k = 0; k < PLACED_SIZE; k++) this.placed.push(this.point[k]!);
    return this.mirror.push(0) - 1;
  }

  /**
   * A vertex on the base's edge; one that already stands there is taken again, so that corners without a
   * base arc, and trays without a flat base, stay in one piece.
   */
  addEdgeVertex(chart: Chart, a: number, b: number): number {
    chart.place(a, b, this.point);
    const x = this.point[0]!;
    const y = this.point[1]!;
    for (const vertex of this.edgeVertices) {
      if (Math.abs(this.x(vertex) - x) < SAME && Math.abs(this.y(vertex) - y) < SAME) return vertex;
    }
    const vertex = this.addVertex(chart, a, b);
    this.edgeVertices.push(vertex);
    return vertex;
  }

  mark(vertices: readonly number[], bit: number): void {
    for (const vertex of vertices) this.mirror[vertex] = this.mirror[vertex]! | bit;
  }

  x(vertex: number): number {
    return this.placed[PLACED_SIZE * vertex]!;
  }

  y(vertex: number): number {
    return this.placed[PLACED_SIZE * vertex + 1]!;
  }

  z(vertex: number): number {
    return this.placed[PLACED_SIZE * vertex + 2]!;
  }

  /** corners: vertex, a, b three times. */
  addTriangle(chart: number, corners: readonly (readonly [number, number, number])[]): void {
    this.chart.push(chart);
    for (const [vertex, a, b] of corners) {
      this.triangles.push(vertex);
      this.coordinates.push(a, b);
    }
  }

  skeleton(): Skeleton {
    return {
      charts: this.charts,
      placed: Float64Array.from(this.placed),
      mirror: Uint8Array.from(this.mirror),
      triangles: Uint32Array.from(this.triangles),
      chart: Uint16Array.from(this.chart),
      coordinates: Float64Array.from(this.coordinates),
    };
  }
}

function loopStretches(surface: NeutralSurface, symmetry: Symmetry | null): Stretch[] {
  const { segments } = surface.loop;
  const parts: Pick<Stretch, 'segment' | 'from' | 'to'>[] = [];
  if (symmetry === null) {
    for (const segment of segments) parts.push({ segment, from: 0, to: 1 });
  } else {
    const { start, end } = symmetry;
    for (let at = start.segment, first = true; ; at = (at + 1) % segments.length, first = false) {
      const last = at === end.segment && !(first && end.fraction <= start.fraction);
      const from = first ? start.fraction : 0;
      const to = last ? end.fraction : 1;
      if (to > from) parts.push({ segment: segments[at]!, from, to });
      if (last) break;
    }
  }
  const count = parts.length;
  return parts.map((part, i) => {
    const before = symmetry !== null && i === 0 ? null : parts[(i + count - 1) % count]!;
    const after = symmetry !== null && i === count - 1 ? null : parts[(i + 1) % count]!;
    return {
      ...part,
      plainStart: before === null || !isSmooth(before, part),
      plainEnd: after === null || !isSmooth(part, after),
    };
  });
}

/** Section coordinates of the rows of vertices: piece number + fraction. */
function upwardCoordinates(surface: NeutralSurface, density: Density): { piece: number; fraction: number }[] {
  const { pieces, developed } = surface.section;
  const rows = [{ piece: 0, fraction: 0 }];
  for (const [index, piece] of pieces.entries()) {
    const byAngle = piece.kind === 'bend' ? piece.length / Math.abs(piece.radius) / density.angle : 0;
    const count = Math.max(1, Math.ceil(Math.max(byAngle, piece.length / (density.size * developed)) - 0.01));
    for (let k = 1; k <= count; k++) rows.push({ piece: index, fraction: k / count });
  }
  return rows;
}

/** A station of the loop: its vertices from the base's edge up to the rim. */
interface Station {
  readonly column: readonly number[];
}

/** Fractions at which a stretch is divided. */
function stretchFractions(stretch: Stretch, surface: NeutralSurface, density: Density): number[] {
  const { segment, from, to } = stretch;
  const { developed } = surface.section;
  const size = density.size * developed;
  let length: number;
  let longest: number;
  if (segment.kind === 'side') {
    length = segment.length * (to - from);
    longest = Infinity;
  } else {
    // Measured where the wall is, about half-way out in the flat.
    const sign = Math.sign(segment.sweep);
    const radius = Math.max(segment.radius + (sign * developed) / 2, segment.radius / 2);
    length = radius * Math.abs(segment.sweep) * (to - from);
    longest = radius * density.angle;
  }
  const end = Math.min(size, longest);
  const grading = {
    atStart: stretch.plainStart ? Infinity : end,
    atEnd: stretch.plainEnd ? Infinity : end,
    longest: Number.isFinite(longest) ? longest : Math.max(length, size),
    growth: density.growth,
  };
  return gradedFractions(length, grading).map((fraction) => from + fraction * (to - from));
}

/** Meshes the wall; returns the stations in order (closed: without repeating the first). */
function meshWall(
  builder: SkeletonBuilder,
  surface: NeutralSurface,
  stretches: readonly Stretch[],
  rows: readonly { piece: number; fraction: number }[],
  density: Density,
  closed: boolean,
): Station[] {
  const pieceCount = surface.section.pieces.length;
  // Chart 0 is the base.
  builder.charts.push({ planar: true, place: placeOnBase });
  const stations: Station[] = [];
  const closesUp = closed && isSmooth(stretches[stretches.length - 1]!, stretches[0]!);
  for (const [index, stretch] of stretches.entries()) {
    const { segment } = stretch;
    const chartNumber = builder.charts.length;
    const place: Chart['place'] = (a, b, out) => {
      const piece = Math.min(pieceCount - 1, Math.floor(b));
      placeOnWall(surface, segment, a, piece, b - piece, out);
    };
    const chart: Chart = {
      planar: false,
      place,
      ...(segment.kind === 'corner' ? { width: radiusAbout(segment, place) } : {}),
    };
    builder.charts.push(chart);
    const levels = segment.wall ? rows : rows.slice(0, 1);
    const fractions = stretchFractions(stretch, surface, density);
    const continues = index > 0 && isSmooth(stretches[index - 1]!, stretch);
    const own: Station[] = continues ? [stations[stations.length - 1]!] : [];
    for (let k = own.length; k < fractions.length; k++) {
      if (closesUp && index === stretches.length - 1 && k === fractions.length - 1) {
        own.push(stations[0]!);
        break;
      }
      const station = {
        column: levels.map((row, level) =>
          level === 0
            ? builder.addEdgeVertex(chart, fractions[k]!, 0)
            : builder.addVertex(chart, fractions[k]!, row.piece + row.fraction),
        ),
      };
      own.push(station);
      stations.push(station);
    }
    const pole = segment.kind === 'corner' && segment.radius === 0;
    for (let k = 0; k + 1 < own.length; k++) {
      const [left, right] = [own[k]!.column, own[k + 1]!.column];
      meshColumn(builder, chartNumber, left, right, fractions[k]!, fractions[k + 1]!, levels, pole, k);
    }
  }
  return stations;
}

/** Distance in plan from the centre of a corner, mm. */
function radiusAbout({ centreX, centreY }: CornerSegment, place: Chart['place']): Required<Chart>['width'] {
  const point = new Float64Array(PLACED_SIZE);
  return (a, b) => {
    place(a, b, point);
    return hypotenuse(point[0]! - centreX, point[1]! - centreY);
  };
}

/** True where the wall goes on from one stretch to the next in one tangent plane. */
function isSmooth(
  before: Pick<Stretch, 'segment' | 'to'>,
  after: Pick<Stretch, 'segment' | 'from'>,
): boolean {
  const [a, b] = [before.segment, after.segment];
  if (!a.wall || !b.wall) return false;
  if (a.kind === 'side' && a.mitreAtEnd !== 0 && before.to === 1) return false;
  const end = loopPoint(a, before.to, { x: 0, y: 0, normalX: 0, normalY: 0 });
  const start = loopPoint(b, after.from, { x: 0, y: 0, normalX: 0, normalY: 0 });
  return end.normalX * start.normalX + end.normalY * start.normalY > 1 - 1e-9;
}

/** One column of cells between two stations, each cell two triangles with diagonals in turn. */
function meshColumn(
  builder: SkeletonBuilder,
  chart: number,
  left: readonly number[],
  right: readonly number[],
  a0: number,
  a1: number,
  rows: readonly { piece: number; fraction: number }[],
  pole: boolean,
  parity: number,
): void {
  for (let level = 0; level + 1 < rows.length; level++) {
    const b0 = rows[level]!.piece + rows[level]!.fraction;
    const b1 = rows[level + 1]!.piece + rows[level + 1]!.fraction;
    // Outwards is to the right of the direction of travel, so a cell runs left, up, right counter-clockwise
    // as: (left, b0), (left, b1), (right, b1), (right, b0).
    const p = [left[level]!, a0, b0] as const;
    const q = [left[level + 1]!, a0, b1] as const;
    const r = [right[level + 1]!, a1, b1] as const;
    const s = [right[level]!, a1, b0] as const;
    if (pole && level === 0) {
      builder.addTriangle(chart, [p, q, r]);
    } else if ((level + parity) % 2 === 0) {
      builder.addTriangle(chart, [p, q, r]);
      builder.addTriangle(chart, [p, r, s]);
    } else {
      builder.addTriangle(chart, [p, q, s]);
      builder.addTriangle(chart, [q, r, s]);
    }
  }
}

function meshBase(
  builder: SkeletonBuilder,
  stations: readonly Station[],
  symmetry: Symmetry | null,
  density: Density,
): void {
  const chart = builder.charts[0]!;
  const ring: number[] = [];
  for (const { column } of stations) {
    if (ring[ring.length - 1] !== column[0]) ring.push(column[0]!);
  }
  if (!hasFlat(builder, ring, symmetry)) {
    if (symmetry !== null) markOnMirrorLines(builder, ring, symmetry);
    return;
  }
  if (symmetry === null) {
    if (ring[0] === ring[ring.length - 1]) ring.pop();
  } else {
    ring.push(...mirrorVertices(builder, chart, ring, symmetry, density));
  }
  const boundary = new Float64Array(2 * ring.length);
  for (const [i, vertex] of ring.entries()) {
    boundary[2 * i] = builder.x(vertex);
    boundary[2 * i + 1] = builder.y(vertex);
  }
  const { points, triangles } = triangulatePolygon(boundary);
  const numbers = [...ring];
  for (let i = ring.length; i < points.length / 2; i++) {
    numbers.push(builder.addVertex(chart, points[2 * i]!, points[2 * i + 1]!));
  }
  for (let t = 0; t < triangles.length; t += 3) {
    builder.addTriangle(
      0,
      [0, 1, 2].map((k) => {
        const vertex = numbers[triangles[t + k]!]!;
        return [vertex, builder.x(vertex), builder.y(vertex)] as const;
      }),
    );
  }
}

/** Vertices along the mirror lines, from the loop's last station through the centre to its first. */
function mirrorVertices(
  builder: SkeletonBuilder,
  chart: Chart,
  ring: readonly number[],
  symmetry: Symmetry,
  density: Density,
): number[] {
  const { centreX, centreY, order } = symmetry;
  const first = ring[0]!;
  const last = ring[ring.length - 1]!;
  const spacingAt = (vertex: number, neighbour: number): number =>
    hypotenuse(builder.x(vertex) - builder.x(neighbour), builder.y(vertex) - builder.y(neighbour));
  const lastSpacing = spacingAt(last, ring[ring.length - 2]!);
  const firstSpacing = spacingAt(first, ring[1]!);
  const between = (
    x0: number,
    y0: number,
    x1: number,
    y1: number,
    atStart: number,
    atEnd: number,
    bit: number,
  ): number[] => {
    const length = hypotenuse(x1 - x0, y1 - y0);
    const fractions = gradedFractions(length, {
      atStart,
      atEnd,
      longest: length,
      growth: density.growth,
    }).slice(1, -1);
    const vertices = fractions.map((fraction) =>
      builder.addVertex(chart, x0 + fraction * (x1 - x0), y0 + fraction * (y1 - y0)),
    );
    builder.mark(vertices, bit);
    return vertices;
  };
  if (order === 1) {
    builder.mark([first, last], ON_FIRST | ON_LAST);
    return between(
      builder.x(last),
      builder.y(last),
      builder.x(first),
      builder.y(first),
      lastSpacing,
      firstSpacing,
      ON_FIRST | ON_LAST,
    );
  }
  const inward = between(builder.x(last), builder.y(last), centreX, centreY, lastSpacing, Infinity, ON_LAST);
  const centre = builder.addVertex(chart, centreX, centreY);
  builder.mark([centre], ON_FIRST | ON_LAST);
  const outward = between(
    centreX,
    centreY,
    builder.x(first),
    builder.y(first),
    Infinity,
    firstSpacing,
    ON_FIRST,
  );
  return [...inward, centre, ...outward];
}

/** False for a tray whose bend takes the whole half-width, a bowl or a trough with a round bottom. */
function hasFlat(builder: SkeletonBuilder, ring: readonly number[], symmetry: Symmetry | null): boolean {
  const corners = ring.map((vertex) => [builder.x(vertex), builder.y(vertex)] as const);
  // Between two mirror lines the base reaches to the centre; the ring alone may well be straight.
  if (symmetry !== null && symmetry.order > 1) corners.push([symmetry.centreX, symmetry.centreY]);
  const [firstX, firstY] = corners[0]!;
  let size = 0;
  let span = 0;
  for (const [x, y] of corners) {
    span = Math.max(span, hypotenuse(x - firstX, y - firstY));
    for (const [otherX, otherY] of corners) {
      size = Math.max(size, Math.abs((x - firstX) * (otherY - firstY) - (y - firstY) * (otherX - firstX)));
    }
  }
  return size > NARROW * span;
}

/** Without a flat base the mirror lines run along the base's edge itself. */
function markOnMirrorLines(builder: SkeletonBuilder, ring: readonly number[], symmetry: Symmetry): void {
  for (const vertex of ring) {
    const x = builder.x(vertex) - symmetry.centreX;
    const y = builder.y(vertex) - symmetry.centreY;
    for (const [angle, bit] of [
      [symmetry.startAngle, ON_FIRST],
      [symmetry.endAngle, ON_LAST],
    ] as const) {
      if (Math.abs(x * Math.sin(angle) - y * Math.cos(angle)) < NARROW) builder.mark([vertex], bit);
    }
  }
}
