/**
 * The blank on the page, drawn with the parts that pictures on paper are made of: same lines, same shades.
 *
 * Its shade has one band for each contour, because the page draws it anew at every key.
 */

import { drawn, filled, type Item, rectangle } from '../drawing/picture.ts';
import { rampColour } from '../drawing/ramp.ts';
import { svgText } from '../drawing/svg.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import { fieldRegions } from '../geometry/fieldRegions.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Point } from '../geometry/path.ts';
import {
  blankLines,
  contourItems,
  contoursOf,
  cutPaths,
  gatherField,
  gatherScale,
} from '../papers/blankItems.ts';
import { cornerMarks, textBoxes } from '../papers/cornerNames.ts';
import { type LengthUnit, withUnit } from '../papers/lengths.ts';
import { grainArrow, scaleBar, text } from '../papers/marks.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { radians } from '../units.ts';
import { english, type Words } from '../words/english.ts';

/** Sizes on the paper, mm; the page scales the whole to the room it has. */
const BLANK = { width: 112, height: 110 };
const EDGE = 2;
const LEGEND = 15;
/** Largest move of a band's edge where points are left out, mm on the paper. */
const TOLERANCE = 0.03;

/** Per cent at which a band of shade begins; the contours of the gather report lie on them. */
const bands = (most: number): number[] => [
  2,
  ...Array.from({ length: Math.ceil(most / 5) - 1 }, (_, i) => 5 * (i + 1)),
];

/** Size of the picture of the blank, and where the blank's origin lies on it, mm on the paper from the lower left corner. */
export function blankPlace({ outline }: Pick<FlatPattern, 'outline'>): {
  readonly width: number;
  readonly height: number;
  readonly at: Point;
  readonly scale: number;
} {
  const { minX, minY, maxX, maxY } = pathBounds(outline);
  const scale = Math.min(BLANK.width / (maxX - minX), BLANK.height / (maxY - minY));
  const [own, height] = [(maxX - minX) * scale, (maxY - minY) * scale];
  const width = Math.max(own, BLANK.width);
  return {
    width: width + 2 * EDGE,
    height: height + 2 * EDGE + LEGEND,
    at: { x: EDGE + (width - own) / 2 - minX * scale, y: EDGE + LEGEND - minY * scale },
    scale,
  };
}

/** The blank with its gather, true to scale. */
export function blankSvg(pattern: FlatPattern, words: Words = english, unit: LengthUnit = 'mm'): string {
  const { width: whole, height: high, at, scale } = blankPlace(pattern);
  const [width, height] = [whole - 2 * EDGE, high - 2 * EDGE - LEGEND];
  const most = gatherScale(pattern.field);
  const shade = shadeItems(pattern, most, scale);
  const { scribe, rim, cut } = blankLines(pattern);
  const corners = cornerMarks(pattern, scale, TEXT.normal);
  const contours = contourItems(contoursOf(pattern), scale, TEXT.small, textBoxes(corners, scale));
  const blank: Item = {
    kind: 'group',
    at,
    scale,
    items: [
      filled(cutPaths(pattern), rampColour(0)),
      ...shade,
      scribe,
      ...(rim === null ? [] : [rim]),
      ...contours,
      cut,
      ...corners,
    ],
  };
  return svgText(
    {
      width: whole,
      height: high,
      title: words.service.pictures.blank(pattern.name),
      items: [
        blank,
        ...grainArrow(
          { x: EDGE + width / 2, y: EDGE + LEGEND + height / 2 },
          radians(pattern.spec.sheet.grain),
          Math.min(22, height / 4),
        ),
        ...legend(most, width, words),
        ...scaleBar({ x: EDGE + 62, y: EDGE + 5 }, scale, 34, (mm) => withUnit(mm, unit, 0), unit !== 'mm'),
      ],
    },
    { paper: false },
  );
}

function shadeItems(pattern: FlatPattern, most: number, scale: number): Item[] {
  const levels = bands(most);
  const field = { ...pattern.field, values: gatherField(pattern.field) };
  return fieldRegions(field, levels, TOLERANCE / scale)
    .filter(({ loops }) => loops.length > 0)
    .map(({ level, loops }) => filled(loops, rampColour(middle(level, levels, most) / most)));
}

const middle = (level: number, levels: readonly number[], most: number): number =>
  (level + (levels[levels.indexOf(level) + 1] ?? most)) / 2;

/** Which shade means how much gather. */
function legend(most: number, width: number, { service }: Words): Item[] {
  const levels = bands(most);
  const step = Math.min(50, width / 2) / (levels.length + 1);
  // Figures of narrow bands would run into each other.
  const every = step < 6 ? 2 : 1;
  const y = EDGE + 5;
  const bar = rectangle({ x: EDGE, y, width: step * (levels.length + 1), height: 3 });
  return [
    text({ x: EDGE, y: y + 4.5 }, TEXT.normal, service.pictures.gather),
    ...[0, ...levels].flatMap((level, i) => [
      filled(
        [rectangle({ x: EDGE + i * step, y, width: step, height: 3 })],
        level === 0 ? rampColour(0) : rampColour(middle(level, levels, most) / most),
      ),
      ...(i % every === 0 ? [text({ x: EDGE + i * step, y: y - 3.4 }, TEXT.normal, String(level))] : []),
    ]),
    drawn([bar], LINES.thin),
  ];
}
