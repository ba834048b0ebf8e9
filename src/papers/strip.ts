/**
 * The strip that is welded on the rim for more height: its length, where it bends, and its parts.
 *
 * The strip stands upright on the net rim of the formed tray. Its length is that of its own neutral fibre (DIN
 * 6935, as in the bottom bend). In the corners the wall has grown thicker by gathering, the inside held by the
 * former, so a strip set to the middle or the outside of the wall runs on a larger radius there. mm, radians.
 */

import { rectangle } from '../drawing/picture.ts';
import { GatherpanError } from '../errors.ts';
import type { Path } from '../geometry/path.ts';
import { neutralFactor } from '../material/neutralFactor.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { type CornerSegment, type LoopSegment, planLoop } from '../tray/planLoop.ts';
import { english, type PaperWords } from '../words/english.ts';
import type { Row } from './figureRows.ts';
import { type LengthUnit, lengthText, withUnit } from './lengths.ts';
import { type Plate, placedText } from './plate.ts';
import { insideHeight, insideRunAt, isWhole } from './skins.ts';

export interface StripOptions {
  /** Height of the strip, mm. */
  readonly height: number;
  /** 0 for that of the tray's sheet, mm. */
  readonly thickness: number;
  /** Which faces of strip and wall are flush. */
  readonly flush: 'inside' | 'middle' | 'outside';
  readonly joint: 'butt' | 'overlap';
  /** Root gap of a butt joint, or length of an overlap, mm. */
  readonly allowance: number;
  /** Longest part, mm. */
  readonly stockLength: number;
}

/** One bend of the strip, positions along the whole strip from the seam. */
export interface StripBend {
  readonly begin: number;
  readonly end: number;
  /** On the hollow side of the bend. */
  readonly insideRadius: number;
  /** Positive towards the tray's inside. */
  readonly angle: number;
}

/** A part as it is cut from stock. */
export interface StripPart {
  /** Along the whole strip, where the part's first cut edge lies. */
  readonly from: number;
  readonly length: number;
}

export interface Strip {
  /** Inside radius of the ring for a round tray, which is rolled and has no bends; null otherwise. */
  readonly rolled: number | null;
  /** Once round the rim, from seam to seam without gap or overlap. */
  readonly around: number;
  readonly thickness: number;
  readonly bends: readonly StripBend[];
  readonly parts: readonly StripPart[];
}

/** A joint keeps this far from a bend, mm; common practice, no source. */
const CLEAR_OF_BENDS = 15;

/**
 * The strip of a solved tray.
 *
 * @throws GatherpanError NOT_MAKEABLE for a rim that is not plain, level and closed, for a seam that finds no
 *   straight side on a tray that is not round, and for stock too short to reach from one side to the next
 */
export function strip(
  pattern: FlatPattern,
  options: StripOptions,
  words: PaperWords = english.papers,
): Strip {
  const { spec, sheet } = pattern;
  const { segments, vertexCount } = planLoop(spec);
  const heights = new Set(segments.flatMap((segment) => [segment.heightAtStart, segment.heightAtEnd]));
  if (spec.section.rim.kind !== 'plain' || heights.size > 1 || !isWhole(segments)) {
    throw new GatherpanError('NOT_MAKEABLE', words.errors.stripRim(spec.name));
  }
  const thickness = options.thickness === 0 ? sheet.thickness : options.thickness;
  const run = insideRunAt(spec, insideHeight(spec));
  const bendOver = (segment: CornerSegment): ReturnType<typeof bendOf> => {
    const bend = bendOf(segment, run, meanThickness(pattern, segment.index), thickness, options.flush);
    if (bend.insideRadius > 0) return bend;
    const name = turnName(segment.index, vertexCount);
    throw new GatherpanError(
      'NOT_MAKEABLE',
      words.errors.stripCorner(name, String(thickness), bend.insideRadius.toFixed(1)),
    );
  };
  if (isRound(segments)) {
    const arcs = segments.map(bendOver);
    const around = arcs.reduce((sum, { length }) => sum + length, 0);
    const rolled = arcs.reduce((sum, { insideRadius }) => sum + insideRadius, 0) / arcs.length;
    return { around, thickness, rolled, bends: [], parts: partsOf(around, [], options, spec.name, words) };
  }
  const seam = longestSide(segments);
  if (seam < 0) {
    throw new GatherpanError('NOT_MAKEABLE', words.errors.stripSeam(spec.name));
  }
  const bends: StripBend[] = [];
  const ordered = [...segments.slice(seam), ...segments.slice(0, seam)];
  const half = segments[seam]!.length / 2;
  let at = -half;
  for (const segment of ordered) {
    if (segment.kind === 'side') {
      at += segment.length;
      continue;
    }
    const bend = bendOver(segment);
    bends.push({ begin: at, end: at + bend.length, insideRadius: bend.insideRadius, angle: segment.sweep });
    at += bend.length;
  }
  const around = at + half;
  return { around, thickness, rolled: null, bends, parts: partsOf(around, bends, options, spec.name, words) };
}

/** True where the plan is one circle. */
const isRound = (segments: readonly LoopSegment[]): segments is CornerSegment[] =>
  segments.every(
    (segment) =>
      segment.kind === 'corner' &&
      segment.sweep > 0 &&
      Math.abs(segment.radius - (segments[0] as CornerSegment).radius) < 1e-6,
  );

/** How the strip of a tray is bent and set on: round trays have a ring. */
export const stripHow = ({ spec }: FlatPattern, words: PaperWords): string =>
  isRound(planLoop(spec).segments) ? words.stripHowRound : words.stripHow;

/** Neutral length and hollow radius of the strip's bend over a corner; 0 or less where it is too tight for the strip. */
function bendOf(
  segment: CornerSegment,
  run: number,
  wall: number,
  thickness: number,
  flush: StripOptions['flush'],
): { length: number; insideRadius: number } {
  const shift = flush === 'inside' ? 0 : flush === 'outside' ? wall - thickness : (wall - thickness) / 2;
  // The hollow side of a convex corner is the tray's inside, that of a concave one its outside.
  const insideRadius =
    segment.sweep > 0 ? segment.radius + run + shift : segment.radius - run - shift - thickness;
  const neutral = insideRadius + (neutralFactor(insideRadius, thickness) * thickness) / 2;
  return { length: neutral * Math.abs(segment.sweep), insideRadius };
}

/** Mean thickness of the net rim, where the strip sits, over a corner's arc; that of the sheet where there is none. */
/** Of the wall at the net rim of a corner, mm. */
export const meanThickness = ({ report, sheet }: FlatPattern, corner: number): number =>
  report.corners.find(({ index }) => index === corner)?.netRimThickness ?? sheet.thickness;

function longestSide(segments: readonly LoopSegment[]): number {
  let best = -1;
  segments.forEach((segment, i) => {
    if (segment.kind === 'side' && (best < 0 || segment.length > segments[best]!.length + 1e-9)) best = i;
  });
  return best;
}

/**
 * Cuts the strip where stock ends, each joint as far along as the stock reaches but clear of the bends. A strip
 * that needs one part has one joint, the seam.
 */
function partsOf(
  around: number,
  bends: readonly StripBend[],
  options: StripOptions,
  name: string,
  words: PaperWords,
): StripPart[] {
  const { joint, allowance, stockLength } = options;
  const extra = joint === 'overlap' ? allowance : -allowance;
  const joints = [0];
  while (around - joints.at(-1)! + extra > stockLength + 1e-9) {
    const from = joints.at(-1)!;
    const reach = from + stockLength - extra;
    const to = lastClear(reach, bends);
    if (to <= from + 1e-9) {
      throw new GatherpanError('NOT_MAKEABLE', words.errors.stripStock(String(stockLength), name));
    }
    joints.push(to);
  }
  joints.push(around);
  const parts: StripPart[] = [];
  for (let i = 0; i + 1 < joints.length; i++) {
    const length = joints[i + 1]! - joints[i]! + extra;
    parts.push({ from: joint === 'overlap' ? joints[i]! : joints[i]! + allowance / 2, length });
  }
  return parts;
}

/** The farthest place up to `reach` that keeps clear of every bend. */
function lastClear(reach: number, bends: readonly StripBend[]): number {
  let at = reach;
  for (let moved = true; moved; ) {
    moved = false;
    for (const { begin, end } of bends) {
      if (at > begin - CLEAR_OF_BENDS + 1e-9 && at < end + CLEAR_OF_BENDS - 1e-9) {
        at = begin - CLEAR_OF_BENDS;
        moved = true;
      }
    }
  }
  return at;
}

/** The parts as plates, bends scribed, from the seam on. */
export function stripPlates(
  pattern: FlatPattern,
  options: StripOptions,
  unit: LengthUnit,
  words: PaperWords,
): Plate[] {
  const { height } = options;
  const { bends, parts, around, thickness, rolled } = strip(pattern, options, words);
  return parts.map(({ from, length }, i) => {
    const outline: Path = {
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: length, y: 0, bulge: 0 },
        { x: length, y: height, bulge: 0 },
        { x: 0, y: height, bulge: 0 },
      ],
      closed: true,
    };
    const scribe = bends
      .flatMap(({ begin, end }) => [begin, end])
      .map((at) => at - from)
      .filter((x) => x > 0 && x < length)
      .map(
        (x): Path => ({
          vertices: [
            { x, y: 0, bulge: 0 },
            { x, y: height, bulge: 0 },
          ],
          closed: false,
        }),
      );
    const lines = [
      `${pattern.name}: ${words.stripPart(String(i + 1), withUnit(length, unit))}`,
      words.stripLine(withUnit(around, unit), withUnit(height, unit), withUnit(thickness, unit, 2)),
      ...(rolled === null ? [] : [words.stripRolled(withUnit(rolled, unit))]),
    ];
    const text = placedText(clearOf(scribe, length, height), [], lines);
    return { id: `strip-${i + 1}`, outline, holes: [], scribe, text };
  });
}

/** Where the strip bends, from the seam; bends of one radius together. */
function bendLines(bends: readonly StripBend[], unit: LengthUnit, words: PaperWords): string[] {
  const byRadius = new Map<string, string[]>();
  for (const { begin, end, insideRadius } of bends) {
    const radius = withUnit(insideRadius, unit);
    const span = words.range(lengthText(begin, unit), withUnit(end, unit));
    byRadius.set(radius, [...(byRadius.get(radius) ?? []), span]);
  }
  return [...byRadius].map(([radius, spans]) => words.stripBendLine(spans.join(', '), radius));
}

/** The longest piece of the strip between two scribed lines: where letters cross none. */
function clearOf(scribe: readonly Path[], length: number, height: number): Path {
  const at = [0, ...scribe.map(({ vertices }) => vertices[0]!.x), length].sort((a, b) => a - b);
  let best = 1;
  for (let i = 1; i < at.length; i++) if (at[i]! - at[i - 1]! > at[best]! - at[best - 1]!) best = i;
  return rectangle({ x: at[best - 1]!, y: 0, width: at[best]! - at[best - 1]!, height });
}

/** The strip as rows of the card: size, parts, where it bends (from the seam), and how its ends meet. */
export function stripRows(
  pattern: FlatPattern,
  options: StripOptions,
  unit: LengthUnit,
  words: PaperWords,
): Row[] {
  const { bends, parts, around, thickness, rolled } = strip(pattern, options, words);
  const allowance = withUnit(options.allowance, unit);
  return [
    [
      words.blank,
      words.stripLine(withUnit(around, unit), withUnit(options.height, unit), withUnit(thickness, unit, 2)),
    ],
    [words.stripParts, parts.map((part) => withUnit(part.length, unit)).join(', ')],
    [
      words.stripBends,
      rolled === null ? bendLines(bends, unit, words).join('; ') : words.stripRolled(withUnit(rolled, unit)),
    ],
    [words.stripSeam, rolled === null ? words.stripSeamSide : words.stripSeamAnywhere],
    [words.stripJoint, options.joint === 'butt' ? words.stripGap(allowance) : words.stripOverlap(allowance)],
  ];
}
