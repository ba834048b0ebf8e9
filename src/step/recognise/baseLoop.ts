/** The base's edge as corners and sides, found in a part, and distances from it. */
import type { OutlinePiece, XY } from './planOutline.ts';

/** As in a tray's plan loop. */
export type FoundSegment =
  | {
      readonly kind: 'side';
      readonly from: XY;
      readonly to: XY;
      readonly normal: XY;
      readonly length: number;
    }
  | {
      readonly kind: 'corner';
      readonly centre: XY;
      /** 0 where the corner is a piece of sphere. */
      readonly radius: number;
      /** Direction of the outward normal at the start. */
      readonly startAngle: number;
      readonly sweep: number;
    };

/** The loop, with a corner of radius 0 wherever two sides meet; null when arcs and sides do not meet smoothly. */
export function baseLoop(pieces: readonly OutlinePiece[]): FoundSegment[] | null {
  const out: FoundSegment[] = [];
  for (const [i, piece] of pieces.entries()) {
    const before = pieces[(i + pieces.length - 1) % pieces.length]!;
    const from = directionAt(before, 'end');
    const to = directionAt(piece, 'start');
    const turn = Math.atan2(Math.sin(to - from), Math.cos(to - from));
    if (Math.abs(turn) > 1e-5) {
      // The wall of a concave corner without a base radius would cut itself.
      if (turn < 0) return null;
      if (before.kind === 'arc' || piece.kind === 'arc') return null;
      out.push({
        kind: 'corner',
        centre: piece.from,
        radius: 0,
        startAngle: from - Math.PI / 2,
        sweep: turn,
      });
    }
    if (piece.kind === 'line') {
      const [x, y] = [piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]];
      const length = Math.hypot(x, y);
      out.push({ kind: 'side', from: piece.from, to: piece.to, normal: [y / length, -x / length], length });
    } else {
      const outward = piece.sweep > 0 ? piece.startAngle : piece.startAngle + Math.PI;
      out.push({
        kind: 'corner',
        centre: piece.centre,
        radius: piece.radius,
        startAngle: outward,
        sweep: piece.sweep,
      });
    }
  }
  return out;
}

function directionAt(piece: OutlinePiece, end: 'start' | 'end'): number {
  if (piece.kind === 'line') return Math.atan2(piece.to[1] - piece.from[1], piece.to[0] - piece.from[0]);
  const angle = piece.startAngle + (end === 'end' ? piece.sweep : 0);
  return angle + (Math.sign(piece.sweep) * Math.PI) / 2;
}

/**
 * How far outwards of the loop a point lies, square to the nearest segment above whose length it stands;
 * negative inside, NaN when it stands above none.
 */
export function runFrom(loop: readonly FoundSegment[], x: number, y: number): number {
  let best = Number.NaN;
  const offer = (run: number): void => {
    if (Number.isNaN(best) || Math.abs(run) < Math.abs(best)) best = run;
  };
  for (const segment of loop) {
    if (segment.kind === 'side') {
      const [dx, dy] = [x - segment.from[0], y - segment.from[1]];
      const along = -segment.normal[1] * dx + segment.normal[0] * dy;
      if (along < -1e-6 || along > segment.length + 1e-6) continue;
      offer(segment.normal[0] * dx + segment.normal[1] * dy);
      continue;
    }
    const sign = Math.sign(segment.sweep);
    const [dx, dy] = [x - segment.centre[0], y - segment.centre[1]];
    const distance = Math.hypot(dx, dy);
    const slack = 1e-6 / Math.max(distance, 1e-3) + 1e-9;
    const past = sign * (Math.atan2(sign * dy, sign * dx) - segment.startAngle);
    const turned = past - 2 * Math.PI * Math.floor((past + slack) / (2 * Math.PI));
    if (distance > 1e-6 && turned > Math.abs(segment.sweep) + slack) continue;
    offer(sign * (distance - segment.radius));
  }
  return best;
}
