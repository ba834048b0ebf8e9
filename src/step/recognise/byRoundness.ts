/** Which skin a tray was drawn for, judged by its numbers. */
import type { Profile } from '../profile.ts';
import type { FoundSegment } from './foundSegments.ts';

/** A draughtsman's numbers are round on the skin they were given for: that skin first. */
export function byRoundness(
  loop: readonly FoundSegment[],
  profile: Profile,
  thickness: number,
): ('outside' | 'inside')[] {
  const digits = (skin: 'outside' | 'inside'): number =>
    skinNumbers(loop, profile, thickness, skin).reduce((sum, value) => {
      let d = 0;
      while (d < 6 && Math.abs(value * 10 ** d - Math.round(value * 10 ** d)) > 1e-5 * 10 ** d) d++;
      return sum + d;
    }, 0);
  return digits('inside') < digits('outside') ? ['inside', 'outside'] : ['outside', 'inside'];
}

function skinNumbers(
  loop: readonly FoundSegment[],
  profile: Profile,
  thickness: number,
  skin: 'outside' | 'inside',
): number[] {
  const upper = skin === 'inside';
  const bend = profile.pieces[upper ? 0 : profile.pieces.length - 1]!;
  const end = profile.points[upper ? profile.rim : profile.rim + 1]!;
  const radius = bend.kind === 'arc' ? bend.radius : 0;
  const corners = loop.flatMap((segment) =>
    segment.kind === 'corner' ? [segment.radius + (segment.open ? 0 : radius)] : [],
  );
  return [radius, end.height - (upper ? thickness : 0), ...corners];
}
