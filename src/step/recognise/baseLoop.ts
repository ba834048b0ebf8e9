/** The base's edge as corners and sides, found in a part, and distances from it. */
import type { OutlinePiece, XY } from './planOutline.ts';

/** As in a tray's plan loop, with the joints at which neither a fillet nor a sphere stands. */
export type FoundSegment = FoundSide | FoundCorner | FoundJoint;

export interface FoundSide {
  readonly kind: 'side';
  readonly from: XY;
  readonly to: XY;
  readonly normal: XY;
  readonly length: number;
  /** Without a wall. */
  readonly open: boolean;
  /** How much further the wall reaches beyond the side's ends, at most, per run; 0 where it ends square. */
  readonly mitreAtStart: number;
  readonly mitreAtEnd: number;
}

export interface FoundCorner {
  readonly kind: 'corner';
  readonly centre: XY;
  /** 0 where the corner is a piece of sphere. */
  readonly radius: number;
  /** Direction of the outward normal at the start. */
  readonly startAngle: number;
  readonly sweep: number;
}

/** Where two straight sides meet at a mitre, or one of them is open. */
export interface FoundJoint {
  readonly kind: 'joint';
  readonly at: XY;
  readonly sweep: number;
  readonly mitre: boolean;
}

/** What the outline of the base by itself does not say. */
export interface Surroundings {
  /** Whether the sheet ends along a piece. */
  isOpen(piece: OutlinePiece): boolean;
  /** Whether the walls of two sides with these normals meet at a mitre. */
  isMitre(at: XY, before: XY, after: XY): boolean;
}

/** The loop, or null when arcs and sides do not meet smoothly or an arc has no wall. */
export function baseLoop(pieces: readonly OutlinePiece[], around: Surroundings): FoundSegment[] | null {
  const out: FoundSegment[] = [];
  const mitres = pieces.map(() => ({ start: 0, end: 0 }));
  for (const [i, piece] of pieces.entries()) {
    const previous = (i + pieces.length - 1) % pieces.length;
    const before = pieces[previous]!;
    const from = directionAt(before, 'end');
    const to = directionAt(piece, 'start');
    const turn = Math.atan2(Math.sin(to - from), Math.cos(to - from));
    if (Math.abs(turn) <= 1e-5) continue;
    if (before.kind === 'arc' || piece.kind === 'arc') return null;
    const open = around.isOpen(before) || around.isOpen(piece);
    if (!open && around.isMitre(piece.from, normalOf(before), normalOf(piece))) {
      mitres[previous]!.end = Math.tan(turn / 2);
      mitres[i]!.start = Math.tan(turn / 2);
      continue;
    }
    // The wall of a concave corner without a base radius would cut itself.
    if (!open && turn < 0) return null;
  }
  for (const [i, piece] of pieces.entries()) {
    const before = pieces[(i + pieces.length - 1) % pieces.length]!;
    const from = directionAt(before, 'end');
    const to = directionAt(piece, 'start');
    const turn = Math.atan2(Math.sin(to - from), Math.cos(to - from));
    const mitre = mitres[i]!.start !== 0;
    if (Math.abs(turn) > 1e-5) {
      if (mitre || around.isOpen(before) || around.isOpen(piece)) {
        out.push({ kind: 'joint', at: piece.from, sweep: turn, mitre });
      } else {
        const startAngle = from - Math.PI / 2;
        out.push({ kind: 'corner', centre: piece.from, radius: 0, startAngle, sweep: turn });
      }
    }
    if (piece.kind === 'line') {
      const { start: mitreAtStart, end: mitreAtEnd } = mitres[i]!;
      const length = Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]);
      const open = around.isOpen(piece);
      const { from: start, to: end } = piece;
      out.push({
        kind: 'side',
        from: start,
        to: end,
        normal: normalOf(piece),
        length,
        open,
        mitreAtStart,
        mitreAtEnd,
      });
      continue;
    }
    if (around.isOpen(piece)) return null;
    out.push({
      kind: 'corner',
      centre: piece.centre,
      radius: piece.radius,
      startAngle: piece.sweep > 0 ? piece.startAngle : piece.startAngle + Math.PI,
      sweep: piece.sweep,
    });
  }
  return out;
}

function normalOf({ from, to }: OutlinePiece): XY {
  const [x, y] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(x, y);
  return [y / length, -x / length];
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
  for (const segment of loop) {
    const run = runFromSegment(segment, x, y);
    if (Number.isNaN(best) || Math.abs(run) < Math.abs(best)) best = run;
  }
  return best;
}

/** The same of one segment, NaN when the point does not stand above it or it has no wall. */
export function runFromSegment(segment: FoundSegment, x: number, y: number): number {
  if (segment.kind === 'joint') return Number.NaN;
  if (segment.kind === 'side') {
    if (segment.open) return Number.NaN;
    const run = segment.normal[0] * (x - segment.from[0]) + segment.normal[1] * (y - segment.from[1]);
    const along = alongSide(segment, x, y);
    if (along < -1e-6 - Math.max(0, segment.mitreAtStart * run)) return Number.NaN;
    return along > segment.length + 1e-6 + Math.max(0, segment.mitreAtEnd * run) ? Number.NaN : run;
  }
  const sign = Math.sign(segment.sweep);
  const [dx, dy] = [x - segment.centre[0], y - segment.centre[1]];
  const distance = Math.hypot(dx, dy);
  const slack = 1e-6 / Math.max(distance, 1e-3) + 1e-9;
  const past = sign * (Math.atan2(sign * dy, sign * dx) - segment.startAngle);
  const turned = past - 2 * Math.PI * Math.floor((past + slack) / (2 * Math.PI));
  if (distance > 1e-6 && turned > Math.abs(segment.sweep) + slack) return Number.NaN;
  return sign * (distance - segment.radius);
}

/** Distance along a side, from its start. */
export const alongSide = ({ from, normal }: FoundSide, x: number, y: number): number =>
  -normal[1] * (x - from[0]) + normal[0] * (y - from[1]);
