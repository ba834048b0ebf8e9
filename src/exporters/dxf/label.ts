/** Where the name, the sheet, the size and the grain arrow stand on the drawing, and how large they are. */
import { pathBounds } from '../../geometry/measure.ts';
import type { Path, Point } from '../../geometry/path.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { degrees } from '../../units.ts';
import { english, type Words } from '../../words/english.ts';
import { type LabelBox, largestPlace, type Place } from '../freePlace.ts';
import { plainText } from './plainText.ts';
import { pathShape, type Shape } from './shape.ts';

/** All in heights of a capital. Common practice, no source. */
const LINE_PITCH = 1.7;
/** Readers' fonts are 0.7 to 1 wide with the gap (from memory); the larger keeps the text inside. */
const CHARACTER_WIDTH = 1;
const ARROW_LENGTH = 12;
const ARROW_HEAD = 1.6;
const ARROW_GAP = 0.8;

/** Heights of capitals in mm, and the share of the blank's longer side that decides between them. */
const SMALLEST_HEIGHT = 3;
const LARGEST_HEIGHT = 10;
const HEIGHT_SHARE = 1 / 60;

/** Small text may cross scribe lines only when that more than doubles it. */
const CROSSING_GAIN = 0.5;

/** Half angle of the arrow's heads, radians. */
const HEAD_ANGLE = Math.PI / 9;

export interface Label {
  readonly text: readonly Shape[];
  readonly arrow: readonly Shape[];
}

/**
 * The label of a pattern. The arrow always lies on the blank; the text above it (`inside`), below the
 * blank's lower edge (`outside`), or nowhere (`none`).
 *
 * Inside, the whole label keeps clear of the outline, the holes and the scribe lines, and shrinks where there
 * is little room; letters below 3 mm cross scribe lines when that more than doubles their size. The size in
 * the text is that of the cut outline, so that the cutting service can check the scale.
 *
 * The arrow has a head at both ends: rolling has a direction but no sense that matters to forming.
 *
 * @param pattern not changed
 */
export function label(
  pattern: FlatPattern,
  text: 'inside' | 'outside' | 'none',
  words: Words = english,
): Label {
  const bounds = pathBounds(pattern.outline);
  const longer = Math.max(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const wanted = Math.min(LARGEST_HEIGHT, Math.max(SMALLEST_HEIGHT, longer * HEIGHT_SHARE));

  const lines = labelLines(pattern, words);
  const grain = pattern.sheet.grain;
  const arrowWidth = ARROW_LENGTH * Math.abs(Math.cos(grain)) + ARROW_HEAD;
  const arrowHeight = ARROW_LENGTH * Math.abs(Math.sin(grain)) + ARROW_HEAD;
  const linesInside = text === 'inside' ? lines : [];
  const width = Math.max(arrowWidth, ...linesInside.map((line) => line.length * CHARACTER_WIDTH));
  const textHeight = linesInside.length * LINE_PITCH;
  const height = textHeight + ARROW_GAP + arrowHeight;

  const place = placeOf(pattern, { width, height }, wanted);
  const h = place.scale;
  const top = place.center.y + (height / 2) * h;
  const arrowCenter = { x: place.center.x, y: top - (textHeight + ARROW_GAP + arrowHeight / 2) * h };
  const arrow = grainArrow(arrowCenter, grain, ARROW_LENGTH * h, ARROW_HEAD * h);

  switch (text) {
    case 'none':
      return { text: [], arrow };
    case 'inside':
      return { text: textLines(lines, { x: place.center.x, y: top }, h, 'center'), arrow };
    case 'outside': {
      const corner = { x: bounds.minX, y: bounds.minY - LINE_PITCH * wanted };
      return { text: textLines(lines, corner, wanted, 'left'), arrow };
    }
  }
}

/** Name; sheet and its grain; size of the blank. ASCII. */
function labelLines(pattern: FlatPattern, { drawings }: Words): string[] {
  const { material, thickness, grain } = pattern.sheet;
  const { minX, minY, maxX, maxY } = pathBounds(pattern.outline);
  return [
    pattern.name,
    drawings.sheet(material.name, decimal(thickness, 3), decimal(degrees(grain), 1)),
    drawings.blank((maxX - minX).toFixed(1), (maxY - minY).toFixed(1)),
  ]
    .map(plainText)
    .filter((line) => line !== ''); // some readers refuse an empty text
}

function placeOf(pattern: FlatPattern, box: LabelBox, wanted: number): Place {
  const holes = pattern.holes.map((hole) => hole.path);
  const scribed = pattern.scribeLines.map((line) => line.path);
  const clear = largestPlace(box, wanted, pattern.outline, holes, scribed);
  if (clear !== null && clear.scale >= Math.min(wanted, SMALLEST_HEIGHT)) return clear;
  const crossing = largestPlace(box, wanted, pattern.outline, holes, []);
  if (clear !== null && clear.scale >= CROSSING_GAIN * (crossing?.scale ?? 0)) return clear;
  // Null only when the grid misses the material altogether: a sliver, where any place is as bad.
  const { minX, minY, maxX, maxY } = pathBounds(pattern.outline);
  return crossing ?? { center: { x: (minX + maxX) / 2, y: (minY + maxY) / 2 }, scale: wanted };
}

/** Lines of text downwards from `top`, which is the upper edge of the first. */
function textLines(lines: readonly string[], top: Point, height: number, align: 'left' | 'center'): Shape[] {
  return lines.map((text, row) => ({
    kind: 'text',
    at: { x: top.x, y: top.y - (row * LINE_PITCH + 1) * height },
    align,
    height,
    text,
  }));
}

/** A shaft and a head at each end. `angle` in radians from the x axis, counter-clockwise. */
function grainArrow(center: Point, angle: number, length: number, head: number): Shape[] {
  const from = (start: Point, direction: number, distance: number): Point => ({
    x: start.x + distance * Math.cos(direction),
    y: start.y + distance * Math.sin(direction),
  });
  const tip = from(center, angle, length / 2);
  const tail = from(center, angle + Math.PI, length / 2);
  const headAt = (end: Point, inwards: number): Path =>
    openPath([from(end, inwards - HEAD_ANGLE, head), end, from(end, inwards + HEAD_ANGLE, head)]);
  return [openPath([tail, tip]), headAt(tip, angle + Math.PI), headAt(tail, angle)].map(pathShape);
}

const openPath = (points: readonly Point[]): Path => ({
  vertices: points.map(({ x, y }) => ({ x, y, bulge: 0 })),
  closed: false,
});

/** A number with at most `places` decimals and no zeros at its end. */
const decimal = (value: number, places: number): string => String(Number(value.toFixed(places)));
