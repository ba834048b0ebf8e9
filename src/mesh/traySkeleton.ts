/**
 * The coarsest mesh of a tray: rows of triangles up the wall above every segment of the plan loop, finest
 * where straight meets curved, and a graded triangulation of the flat base.
 */

import { pow } from '../elementary.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import { type NeutralSurface, PLACED_SIZE, placeOnBase, placeOnWall } from '../tray/neutralSurface.ts';
import { type CornerSegment, type LoopSegment, loopPoint } from '../tray/planLoop.ts';
import { gradedFractions } from './gradedSpacing.ts';
import { meshBase } from './meshBase.ts';
import { refineAt } from './refineAt.ts';
import { type Chart, ON_FIRST, ON_LAST, type Skeleton } from './skeleton.ts';
import { type Column, type Corner, SkeletonBuilder } from './skeletonBuilder.ts';
import type { Symmetry } from './symmetry.ts';

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
  const closed = symmetry === null;
  const columns = meshWall(builder, surface, stretches, density, closed);
  if (!closed) {
    builder.mark(columns[0]!, ON_FIRST);
    builder.mark(columns[columns.length - 1]!, ON_LAST);
  }
  meshBase(builder, columns, symmetry, density.growth);
  return refineAt(builder.skeleton(), risingBreaks(builder, columns, closed), density.finerAtBreaks ?? 0);
}

/** Rise over run by which a rim breaks upwards. A smaller break hardly shows. */
const LEAST_BREAK = 0.1;

/** Vertices of the rim at which it goes on more steeply than it came: where a lower side begins to rise to a higher one. */
function risingBreaks(builder: SkeletonBuilder, columns: readonly Column[], closed: boolean): number[] {
  const tops = columns.map((column) => column[column.length - 1]!);
  const count = tops.length;
  const slope = (from: number, to: number): number =>
    (builder.z(to) - builder.z(from)) /
    hypotenuse(builder.x(to) - builder.x(from), builder.y(to) - builder.y(from));
  return tops.filter((top, i) => {
    if (!closed && (i === 0 || i === count - 1)) return false;
    const [before, after] = [(i + count - 1) % count, (i + 1) % count];
    // Only within a wall: its end is no break.
    if ([before, i, after].some((k) => columns[k]!.length === 1)) return false;
    return slope(top, tops[after]!) - slope(tops[before]!, top) > LEAST_BREAK;
  });
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
function upwardCoordinates(surface: NeutralSurface, density: Density): number[] {
  const { pieces, developed } = surface.section;
  const rows = [0];
  for (const [index, piece] of pieces.entries()) {
    const byAngle = piece.kind === 'bend' ? piece.length / Math.abs(piece.radius) / density.angle : 0;
    const count = Math.max(1, Math.ceil(Math.max(byAngle, piece.length / (density.size * developed)) - 0.01));
    for (let k = 1; k <= count; k++) rows.push(index + k / count);
  }
  return rows;
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

/** Meshes the wall; returns its columns in order (closed: without repeating the first). */
function meshWall(
  builder: SkeletonBuilder,
  surface: NeutralSurface,
  stretches: readonly Stretch[],
  density: Density,
  closed: boolean,
): Column[] {
  const rows = upwardCoordinates(surface, density);
  const lastPiece = surface.section.pieces.length - 1;
  // Chart 0 is the base.
  builder.charts.push({ planar: true, place: placeOnBase });
  const columns: Column[] = [];
  const closesUp = closed && isSmooth(stretches[stretches.length - 1]!, stretches[0]!);
  for (const [index, stretch] of stretches.entries()) {
    const { segment } = stretch;
    const place: Chart['place'] = (a, b, out) => {
      const piece = Math.min(lastPiece, Math.floor(b));
      placeOnWall(surface, segment, a, piece, b - piece, out);
    };
    const chart: Chart = {
      planar: false,
      place,
      ...(segment.kind === 'corner' ? { width: radiusAbout(segment, place) } : {}),
    };
    const chartNumber = builder.charts.push(chart) - 1;
    const levels = segment.wall ? rows : rows.slice(0, 1);
    const fractions = stretchFractions(stretch, surface, density);
    const continues = index > 0 && isSmooth(stretches[index - 1]!, stretch);
    const own: Column[] = continues ? [columns[columns.length - 1]!] : [];
    for (let k = own.length; k < fractions.length; k++) {
      if (closesUp && index === stretches.length - 1 && k === fractions.length - 1) {
        own.push(columns[0]!);
        break;
      }
      const a = fractions[k]!;
      const column = levels.map((b, level) =>
        level === 0 ? builder.addEdgeVertex(chart, a, b) : builder.addVertex(chart, a, b),
      );
      own.push(column);
      columns.push(column);
    }
    const corners = own.map((column, k) =>
      column.map((vertex, level): Corner => [vertex, fractions[k]!, levels[level]!]),
    );
    for (let k = 0; k + 1 < own.length; k++) {
      meshCells(builder, chartNumber, corners[k]!, corners[k + 1]!, k);
    }
  }
  return columns;
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

/**
 * The cells between two columns, each two triangles with diagonals in turn; only one where the cell begins in a point.
 *
 * @param parity of the first diagonal
 */
function meshCells(
  builder: SkeletonBuilder,
  chart: number,
  left: readonly Corner[],
  right: readonly Corner[],
  parity: number,
): void {
  for (let level = 0; level + 1 < left.length; level++) {
    // Outwards is to the right of the direction of travel, so a cell runs left, up, right counter-clockwise.
    const [p, q, r, s] = [left[level]!, left[level + 1]!, right[level + 1]!, right[level]!];
    if (p[0] === s[0]) {
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
