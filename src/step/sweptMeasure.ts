/**
 * Volume and area of plan loop × section by formula, to hold every solid against.
 *
 * A profile swept along a straight side has volume length × area; turned about a corner's axis, angle × first
 * moment (Pappus and Guldin's theorems). Exact, kernel-free.
 */
import type { PlanLoop } from '../tray/planLoop.ts';
import type { Profile, ProfilePoint } from './profile.ts';

/** mm³ and mm², without holes. */
export interface SweptMeasure {
  readonly volume: number;
  readonly area: number;
}

export function sweptMeasure(loop: PlanLoop, profile: Profile, thickness: number): SweptMeasure {
  const { area, moment, length, lengthMoment } = profileMoments(profile);
  const base = loopArea(loop);
  let volume = base * thickness;
  let surface = 2 * base;
  for (const segment of loop.segments) {
    if (segment.kind === 'side') {
      volume += segment.length * area;
      surface += segment.length * length;
      continue;
    }
    const angle = Math.abs(segment.sweep);
    const sign = Math.sign(segment.sweep);
    volume += angle * (segment.radius * area + sign * moment);
    surface += angle * (segment.radius * length + sign * lengthMoment);
  }
  return { volume, area: surface };
}

/** Area inside the loop, mm². */
export function loopArea(loop: PlanLoop): number {
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

/** Area, its first moment about run = 0, length of both skins and rim, and that length's moment. */
function profileMoments({ points, pieces }: Profile): {
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
  return { area: Math.abs(area), moment: Math.sign(area) * moment, length, lengthMoment };
}

/** Area between a chord and height 0, and its moment about run = 0, positive for travel outwards. */
function underChord(a: ProfilePoint, b: ProfilePoint): [number, number] {
  const width = b.run - a.run;
  const area = (width * (a.height + b.height)) / 2;
  const moment = (width * (a.run * (2 * a.height + b.height) + b.run * (a.height + 2 * b.height))) / 6;
  return [area, moment];
}
