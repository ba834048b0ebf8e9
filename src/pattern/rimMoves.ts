/** How far the cut line of one blank of a tray lies from that of another, at every corner and curved side. */
import { lastCrossing } from '../geometry/ray.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { loopPoint, planLoop } from '../tray/planLoop.ts';
import type { FlatPattern } from './flatPattern.ts';

export interface RimMove {
  readonly index: number;
  readonly letter: string;
  /** On the corner's middle line, mm; outwards positive. */
  readonly move: number;
}

export function rimMoves(
  from: Pick<FlatPattern, 'spec' | 'outline'>,
  to: Pick<FlatPattern, 'outline'>,
): RimMove[] {
  const { segments, vertexCount } = planLoop(from.spec);
  return segments.flatMap((segment): RimMove[] => {
    if (segment.kind !== 'corner' || !segment.wall) return [];
    const at = loopPoint(segment, 0.5, { x: 0, y: 0, normalX: 0, normalY: 0 });
    const out = { x: at.normalX, y: at.normalY };
    const [before, after] = [lastCrossing(from.outline, at, out), lastCrossing(to.outline, at, out)];
    if (before === null || after === null) return [];
    const { index } = segment;
    return [{ index, letter: turnName(index, vertexCount), move: after - before }];
  });
}
