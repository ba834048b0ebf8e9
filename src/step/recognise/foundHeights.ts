/** How high the wall stands above each side and corner of a found loop, read off the upper skin's rim. */
import type { Part } from '../part.ts';
import type { Profile } from '../profile.ts';
import { type BasePair, inFrame } from './basePair.ts';
import type { FoundSection } from './foundProfile.ts';
import { alongSide, type FoundCorner, type FoundSegment, runFromSegment } from './foundSegments.ts';
import type { HoledFace } from './foundWallHoles.ts';

/** Length of the straight wall on the upper skin, mm, at a distance along a segment (a corner: along its arc). */
interface Stop {
  readonly along: number;
  readonly wall: number;
}

/** The wall above one segment. */
export interface FoundWall {
  /** Where the rim is level; at a corner, at its end. */
  readonly wall: number;
  /** Lengths at either end over which the rim of a side slopes; 0 where it is level. */
  readonly slopes: readonly [number, number];
}

/** By segment; none for a segment without a face of its own. */
export function foundHeights(
  part: Part,
  base: BasePair,
  { profile, walls }: FoundSection,
  holed: readonly HoledFace[],
  tolerance: number,
): Map<FoundSegment, FoundWall> {
  const stops = new Map<FoundSegment, Stop[]>();
  const [start, end] = [profile.points[1]!, profile.points[2]!];
  for (const { face, segment } of walls) {
    if (segment === null || segment.kind === 'joint') continue;
    const own = stops.get(segment) ?? [];
    stops.set(segment, own);
    const outer = holed.find((other) => other.face === face)?.outer;
    const { wires } = part.faces[face]!;
    for (const edge of outer === undefined ? wires.flat() : wires[outer]!) {
      const { samples } = part.edges[edge]!;
      for (const at of [0, samples.length - 3]) {
        const [x, y, height] = inFrame(base.frame, samples, at);
        const run = runFromSegment(segment, x, y);
        const wall = Math.hypot(run - start.run, height - start.height);
        const across =
          (run - start.run) * (end.height - start.height) - (height - start.height) * (end.run - start.run);
        if (wall < 10 * tolerance || Math.abs(across) > tolerance * lengthOf(profile)) continue;
        const along = segment.kind === 'side' ? alongSide(segment, x, y) : angleAlong(segment, x, y);
        own.push({ along, wall });
      }
    }
  }
  const out = new Map<FoundSegment, FoundWall>();
  for (const [segment, own] of stops) {
    if (own.length > 0)
      out.set(segment, wallOf(atRim(own, segment, tolerance), segment.kind === 'side', tolerance));
  }
  return out;
}

const lengthOf = ({ points }: Profile): number =>
  Math.hypot(points[2]!.run - points[1]!.run, points[2]!.height - points[1]!.height);

function angleAlong(corner: FoundCorner, x: number, y: number): number {
  const sign = Math.sign(corner.sweep);
  const angle = Math.atan2(sign * (y - corner.centre[1]), sign * (x - corner.centre[0]));
  const past = sign * (angle - corner.startAngle);
  return past - 2 * Math.PI * Math.floor((past + 1e-6) / (2 * Math.PI));
}

/** Without the kinks of a weld gap, which lie below the rim: next to a mitre the rim is level. */
function atRim(own: readonly Stop[], segment: FoundSegment, tolerance: number): Stop[] {
  if (segment.kind !== 'side') return [...own];
  let kept = [...own];
  for (const [mitre, isNear] of [
    [segment.mitreAtStart, (stop: Stop): boolean => stop.along < segment.length / 2],
    [segment.mitreAtEnd, (stop: Stop): boolean => stop.along > segment.length / 2],
  ] as const) {
    if (mitre === 0) continue;
    const top = Math.max(...kept.filter(isNear).map(({ wall }) => wall));
    kept = kept.filter((stop) => !isNear(stop) || stop.wall > top - 10 * tolerance);
  }
  return kept;
}

function wallOf(all: readonly Stop[], side: boolean, tolerance: number): FoundWall {
  // Where a wall is in several faces, one on the other, the highest stop is the rim's.
  const own = [...all]
    .sort((a, b) => a.along - b.along)
    .reduce<Stop[]>((kept, stop) => {
      const last = kept[kept.length - 1];
      if (last === undefined || stop.along - last.along > 10 * tolerance) kept.push(stop);
      else if (stop.wall > last.wall) kept[kept.length - 1] = stop;
      return kept;
    }, []);
  const first = own[0]!;
  const last = own[own.length - 1]!;
  if (!side) return { wall: last.wall, slopes: [0, 0] };
  // The longest level stretch; where the slopes meet in the middle there is none but a point.
  const peak = own[own.length >> 1]!;
  let level: readonly [Stop, Stop] = [peak, peak];
  for (const [i, b] of own.entries()) {
    const a = own[i - 1];
    if (a === undefined || Math.abs(a.wall - b.wall) > 10 * tolerance) continue;
    if (b.along - a.along > level[1].along - level[0].along) level = [a, b];
  }
  return { wall: level[0].wall, slopes: [level[0].along - first.along, last.along - level[1].along] };
}
