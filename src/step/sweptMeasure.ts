/**
 * Volume and area of plan loop × section by formula, to hold every solid against.
 *
 * A profile swept along a straight side has volume length × area; turned about a corner's axis, angle × first
 * moment (Pappus and Guldin's theorems). Exact, kernel-free.
 */
import type { CornerSegment, LoopSegment, PlanLoop } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Profile, ProfilePiece, ProfilePoint } from './profile.ts';
import { cutPieces, type SectionCut } from './sectionEdges.ts';
import { type FormedSheet, formedSheet, type Mitre, pointsAt, type Strip, stationAt } from './strips.ts';

/** mm³ and mm², without holes. */
export interface SweptMeasure {
  readonly volume: number;
  readonly area: number;
  /** The area of everything but the base's two sides. */
  readonly walls: number;
}

/** @param profile the section, where it is not quite the tray's own: another end at a rim of one height */
export function sweptMeasure(spec: TraySpec, profile?: Profile): SweptMeasure {
  const own = formedSheet(spec);
  const sheet = profile === undefined ? own : { ...own, profile };
  const base = loopArea({ segments: sheet.strips.flatMap(({ parts }) => parts) });
  let volume = base * sheet.thickness;
  let walls = 0;
  const add = (part: Swept): void => {
    volume += part.volume;
    walls += part.area;
  };
  for (const strip of sheet.strips) {
    for (const segment of strip.parts) {
      if (strip.wall) add(segmentMeasure(sheet, segment));
      else walls += segment.length * sheet.thickness;
    }
    if (!strip.wall) continue;
    add(endMeasure(sheet, strip, 'start'));
    add(endMeasure(sheet, strip, 'end'));
  }
  return { volume, area: walls + 2 * base, walls };
}

interface Swept {
  readonly volume: number;
  readonly area: number;
}

/** One segment of the loop between sections square to it. */
function segmentMeasure(sheet: FormedSheet, segment: LoopSegment): Swept {
  const { profile, thickness, wallDirection, extraAt } = sheet;
  const { area, moment, length, lengthMoment } = profileMoments(profile.points, profile.pieces);
  const [from, to] = [extraAt(segment.heightAtStart), extraAt(segment.heightAtEnd)];
  // Means of the straight wall's extra length and of its square, which grows linearly.
  const mean = (from + to) / 2;
  const square = (from * from + from * to + to * to) / 3;
  const [upper, lower] = rimRuns(profile);
  const middle = (upper + lower) / 2;
  if (segment.kind === 'side') {
    const rim = thickness * (Math.hypot(segment.length, to - from) - segment.length);
    return {
      volume: segment.length * (area + thickness * mean),
      area: segment.length * (length + 2 * mean) + rim,
    };
  }
  const angle = Math.abs(segment.sweep);
  const sign = Math.sign(segment.sweep);
  const lean = (sign * wallDirection.run * square) / 2;
  const strip = (run: number): number => angle * ((segment.radius + sign * run) * mean + lean);
  // The rim is a helicoid of slope (to − from) a sweep, square to the wall.
  const rim = rimArea(sheet, segment, from, to);
  const level = angle * thickness * (segment.radius + sign * middle);
  return {
    volume: angle * (segment.radius * area + sign * moment) + thickness * strip(middle),
    area:
      angle * (segment.radius * length + sign * lengthMoment) + strip(upper) + strip(lower) + (rim - level),
  };
}

/** Nodes and weights of Gauss and Legendre's rule of five points on −1 to 1. */
const INNER = [Math.sqrt(5 - 2 * Math.sqrt(10 / 7)) / 3, (322 + 13 * Math.sqrt(70)) / 900] as const;
const OUTER = [Math.sqrt(5 + 2 * Math.sqrt(10 / 7)) / 3, (322 - 13 * Math.sqrt(70)) / 900] as const;
const GAUSS: readonly (readonly [number, number])[] = [
  [0, 128 / 225],
  ...[INNER, OUTER].flatMap(([node, weight]) => [[-node, weight] as const, [node, weight] as const]),
];

/** Runs of the rim on the upper and the lower skin. */
const rimRuns = ({ points, rim }: Profile): [upper: number, lower: number] => [
  points[rim]!.run,
  points[rim + 1]!.run,
];

/**
 * Area of the rim over a corner.
 *
 * @param from extra length of the straight wall where the corner begins, mm
 * @param to   the same where it ends
 */
function rimArea(
  { profile, thickness, wallDirection }: FormedSheet,
  { radius, sweep }: CornerSegment,
  from: number,
  to: number,
): number {
  const [upper, lower] = rimRuns(profile);
  const [angle, sign] = [Math.abs(sweep), Math.sign(sweep)];
  let sum = 0;
  for (const [a, weight] of GAUSS) {
    const extra = (from + to) / 2 + (a * (to - from)) / 2;
    for (const [b, other] of GAUSS) {
      const run = (upper + lower) / 2 + (b * (lower - upper)) / 2 + extra * wallDirection.run;
      const along = angle * (radius + sign * run);
      sum += (weight * other * thickness * Math.hypot(along, to - from)) / 4;
    }
  }
  return sum;
}

/** What a mitre adds to its side, and the face at a strip's end. */
function endMeasure(sheet: FormedSheet, strip: Strip, which: 'start' | 'end'): Swept {
  const atEnd = which === 'end';
  const { mitre, meets } = strip[which];
  if (mitre === null && meets) return { volume: 0, area: 0 };
  const segment = atEnd ? strip.parts[strip.parts.length - 1]! : strip.parts[0];
  const points = pointsAt(sheet, atEnd ? segment.heightAtEnd : segment.heightAtStart);
  const { pieces } = sheet.profile;
  const whole = profileMoments(points, pieces);
  if (mitre === null) return { volume: 0, area: whole.area };
  const { slope, short, opens } = mitre;
  const near = slope - short / opens;
  const far = beyondKink({ station: stationAt(segment, 0), points, pieces, mitre, atEnd });
  const face = meets ? 0 : Math.hypot(1, near) * (whole.area - far.area) + Math.hypot(1, slope) * far.area;
  return {
    volume: near * whole.moment + short * (far.moment / opens - far.area),
    area: near * whole.lengthMoment + short * (far.lengthMoment / opens - far.length) + face,
  };
}

const NONE = { area: 0, moment: 0, length: 0, lengthMoment: 0 };

/** Moments of the part of a section beyond the kink of a weld gap. */
function beyondKink(cut: SectionCut & { mitre: Mitre }): ReturnType<typeof profileMoments> {
  if (!cut.mitre.kinked) return NONE;
  const walks = cut.pieces.flatMap((_, j) => cutPieces(cut, j)).filter(({ beyond }) => beyond);
  return walks
    .map(({ from, to, piece }) => profileMoments([from, to], [piece], true))
    .reduce(
      (sum, one) => ({
        area: sum.area + one.area,
        moment: sum.moment + one.moment,
        length: sum.length + one.length,
        lengthMoment: sum.lengthMoment + one.lengthMoment,
      }),
      NONE,
    );
}

/** Area inside the loop, mm². */
export function loopArea(loop: Pick<PlanLoop, 'segments'>): number {
  let twice = 0;
  for (const segment of loop.segments) {
    if (segment.kind === 'side') {
      twice += segment.x0 * segment.y1 - segment.x1 * segment.y0;
      continue;
    }
    const { centreX, centreY, radius, startAngle, sweep } = segment;
    const outward = Math.sign(sweep) * radius;
    const end = startAngle + sweep;
    // ∮ x dy − y dx over the arc
    twice +=
      outward *
      (centreX * (Math.sin(end) - Math.sin(startAngle)) -
        centreY * (Math.cos(end) - Math.cos(startAngle)) +
        outward * sweep);
  }
  return twice / 2;
}

/**
 * Area, its first moment about run = 0, length of both skins and rim, and that length's moment.
 *
 * @param signed of an open stretch of the section: area and moment under it, positive outwards along the upper skin
 */
function profileMoments(
  points: readonly ProfilePoint[],
  pieces: readonly ProfilePiece[],
  signed = false,
): {
  area: number;
  moment: number;
  length: number;
  lengthMoment: number;
} {
  let area = 0;
  let moment = 0;
  let length = 0;
  let lengthMoment = 0;
  // ∮ height d(run) and ∮ run·height d(run), clockwise positive; the base's end closes it along run = 0.
  for (const [j, piece] of pieces.entries()) {
    const a = points[j]!;
    const b = points[j + 1]!;
    const [da, dm] = underChord(a, b);
    area += da;
    moment += dm;
    const chord = Math.hypot(b.run - a.run, b.height - a.height);
    if (piece.kind === 'line') {
      length += chord;
      lengthMoment += (chord * (a.run + b.run)) / 2;
      continue;
    }
    const { centre, radius } = piece;
    const half = Math.asin(Math.min(1, chord / (2 * radius)));
    const cross =
      (a.run - centre.run) * (b.height - centre.height) - (a.height - centre.height) * (b.run - centre.run);
    const sign = Math.sign(cross); // counter-clockwise arcs bulge to the right of travel
    const segment = radius * radius * (half - Math.sin(half) * Math.cos(half));
    const toMiddle = {
      run: (a.run + b.run) / 2 - centre.run,
      height: (a.height + b.height) / 2 - centre.height,
    };
    const reach = Math.hypot(toMiddle.run, toMiddle.height);
    const direction = toMiddle.run / reach;
    // Centroid of a circular segment: 4 r sin³(half) / (3 (2 half − sin 2 half)) from the centre.
    const centroid = (2 * radius ** 3 * Math.sin(half) ** 3) / (3 * segment);
    area -= sign * segment;
    moment -= sign * segment * (centre.run + direction * centroid);
    length += 2 * half * radius;
    // Centroid of an arc: r sin(half) / half from the centre.
    lengthMoment += 2 * half * radius * (centre.run + (direction * radius * Math.sin(half)) / half);
  }
  if (signed) return { area, moment, length, lengthMoment };
  return { area: Math.abs(area), moment: Math.sign(area) * moment, length, lengthMoment };
}

/** Area between a chord and height 0, and its moment about run = 0, positive for travel outwards. */
function underChord(a: ProfilePoint, b: ProfilePoint): [number, number] {
  const width = b.run - a.run;
  const area = (width * (a.height + b.height)) / 2;
  const moment = (width * (a.run * (2 * a.height + b.height) + b.run * (a.height + 2 * b.height))) / 6;
  return [area, moment];
}
