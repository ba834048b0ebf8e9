/** The blank as items of a picture, in mm of the blank: shade, contours, lines; each paper takes what it needs. */

import { drawn, type Item } from '../drawing/picture.ts';
import { rampColour } from '../drawing/ramp.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { zoneContours } from '../gather/zones.ts';
import { fieldRegions, refined } from '../geometry/fieldRegions.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { containsPoint, distanceToPath, pathBounds, pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { percentFromLogStrain } from '../units.ts';

/** Distance a shade's or contour's line may be moved, mm on the paper: a tenth of a fine line. */
const TOLERANCE = 0.02;

/** Shrink in the plane of every node, engineering per cent, positive where the metal gathers. */
export const gatherField = (field: FlatField): Float64Array =>
  field.minorStrain.map((strain) => -percentFromLogStrain(strain));

/** The upper end of the scale of gather: the peak, up to the next ten, and 20 % at least. */
export function gatherScale(field: FlatField): number {
  const peak = gatherField(field).reduce((most, value) => Math.max(most, value), 0);
  return Math.max(20, Math.ceil(peak / 10 - 1e-9) * 10);
}

/** Step of the shade's bands: fine enough to look smooth, coarse enough to stay small. */
export const bandStep = (scale: number): number => (scale <= 30 ? 1 : 2);

/**
 * Bands of shade, from the lowest up, each painted over the one below.
 *
 * @param paperScale mm on the paper per mm
 */
export function gatherShade(field: FlatField, scale: number, paperScale: number): Item[] {
  const step = bandStep(scale);
  const levels = Array.from({ length: Math.round(scale / step) - 1 }, (_, i) => (i + 1) * step);
  const values = gatherField(field);
  return fieldRegions(refined({ ...field, values }), levels, TOLERANCE / paperScale)
    .filter((region) => region.loops.length > 0)
    .map(({ level, loops }) => ({
      kind: 'path',
      paths: loops,
      fill: rampColour((level + step / 2) / scale),
    }));
}

/** A line of equal gather, or of equal stretch where a concave corner or a lip has to get longer. */
export interface Contour {
  readonly kind: 'shrink' | 'stretch';
  /** per cent */
  readonly level: number;
  readonly path: Path;
}

/** Where along a contour its label is tried, the first that is free is taken. */
const LABEL_PLACES = [0.5, 0.36, 0.64, 0.26, 0.74, 0.16, 0.84];

/**
 * Contour lines and their labels; a line too short for a label, or without a free place, has none.
 *
 * @param marks lines the labels keep clear of
 */
export function contourItems(
  contours: readonly Contour[],
  paperScale: number,
  height: number,
  marks: readonly Path[] = [],
): Item[] {
  const labels: Item[] = [];
  const taken: Point[] = [];
  for (const { kind, level, path } of [...contours].sort((a, b) => b.level - a.level)) {
    // As on a strain gauge: a plus sign for longer.
    const words = kind === 'shrink' ? String(level) : `+${level}`;
    const clear = textWidth(words, height) / 2 + height;
    const length = pathLength(path);
    if (length * paperScale < 4 * clear) continue;
    for (const place of LABEL_PLACES) {
      const { x, y, tangent } = pointAlong(path, place * length);
      if (taken.some((other) => Math.hypot(other.x - x, other.y - y) * paperScale < 2 * clear)) continue;
      if (marks.some((mark) => distanceToPath({ x, y }, mark) * paperScale < clear)) continue;
      taken.push({ x, y });
      const angle = Math.cos(tangent) < -1e-9 ? tangent + Math.PI : tangent;
      const down = (height * 0.5) / paperScale;
      labels.push({
        kind: 'text',
        at: { x: x + down * Math.sin(angle), y: y - down * Math.cos(angle) },
        height,
        text: words,
        align: 'center',
        angle,
        halo: true,
      });
      break;
    }
  }
  return [
    drawn(
      contours.filter(({ kind }) => kind === 'shrink').map(({ path }) => path),
      LINES.contour,
    ),
    drawn(
      contours.filter(({ kind }) => kind === 'stretch').map(({ path }) => path),
      LINES.stretch,
    ),
    ...labels,
  ];
}

/** Everything that is cut: outline and holes. */
export const cutPaths = ({ outline, holes }: FlatPattern): Path[] => [
  outline,
  ...holes.map((hole) => hole.path),
];

/** Lines of the blank without shade, in the order they are drawn. */
export function blankLines(pattern: FlatPattern): { scribe: Item; rim: Item | null; cut: Item } {
  const trimmed = pattern.outline !== pattern.rim;
  return {
    // The net rim has a line of its own.
    scribe: drawn(
      pattern.scribeLines.filter(({ kind }) => kind !== 'net-rim').map((line) => line.path),
      LINES.scribe,
    ),
    rim: trimmed ? drawn([pattern.rim], LINES.rim) : null,
    cut: drawn(cutPaths(pattern), LINES.cut),
  };
}

/** The contours of a pattern, with what they are contours of. */
export const contoursOf = (pattern: FlatPattern): Contour[] =>
  zoneContours(pattern)
    .flat()
    .flatMap(({ kind, level, paths }) => paths.map((path) => ({ kind, level, path })));

/** True where some part of the blank has to get longer by more than the threshold. */
export const hasStretch = (pattern: FlatPattern): boolean =>
  pattern.gather.zones.some((zone) => zone.kind === 'stretch');

export const CONTOUR_TEXT = TEXT.small;

/** Marks of the tucks. */
export const tuckPaths = (pattern: FlatPattern): Path[] =>
  pattern.gather.tucks.flatMap((tuck) => [...tuck.marks]);

/** Candidate places along each direction of the blank's box. */
const GRID = 24;

/**
 * A place on the blank for a mark as large as a circle of radius `needed`, and the radius there is room for: the wanted
 * one when it is clear of all lines, otherwise the nearest clear one, otherwise the roomiest.
 *
 * @param needed mm of the blank
 * @param marks  closed paths round other marks
 */
export function clearPlace(
  pattern: FlatPattern,
  wanted: Point,
  needed: number,
  marks: readonly Path[],
): { readonly point: Point; readonly room: number } {
  const holes = [...pattern.holes.map((hole) => hole.path), ...marks];
  const lines = [pattern.outline, ...holes, ...pattern.scribeLines.map((line) => line.path)];
  const room = (point: Point): number =>
    containsPoint(pattern.outline, point) && !holes.some((hole) => containsPoint(hole, point))
      ? Math.min(...lines.map((line) => distanceToPath(point, line)))
      : -1;
  if (room(wanted) >= needed) return { point: wanted, room: needed };
  const { minX, minY, maxX, maxY } = pathBounds(pattern.outline);
  let best = { point: wanted, room: -1, off: Infinity };
  for (let row = 1; row < GRID; row++) {
    for (let column = 1; column < GRID; column++) {
      const point = {
        x: minX + ((maxX - minX) * column) / GRID,
        y: minY + ((maxY - minY) * row) / GRID,
      };
      const found = Math.min(room(point), needed);
      const off = Math.hypot(point.x - wanted.x, point.y - wanted.y);
      if (found > best.room + 1e-9 || (found > best.room - 1e-9 && off < best.off))
        best = { point, room: found, off };
    }
  }
  return best;
}
