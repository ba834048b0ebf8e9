/** A closed chain of sampled edges in a plane as lines and arcs. */
import { followed } from '../../geometry/chain.ts';
import { EDGE_SAMPLES } from '../part.ts';

/** A straight piece or an arc, in the direction of travel; mm, radians, counter-clockwise positive. */
export type OutlinePiece =
  | { readonly kind: 'line'; readonly from: XY; readonly to: XY }
  | {
      readonly kind: 'arc';
      readonly from: XY;
      readonly to: XY;
      readonly centre: XY;
      readonly radius: number;
      readonly startAngle: number;
      readonly sweep: number;
    };

export type XY = readonly [number, number];

/** Arcs are cut so that none turns further: the tangents at its ends then meet at a vertex. */
const LARGEST_SWEEP = (150 * Math.PI) / 180;

/**
 * @param edges     samples of each edge, x y per sample
 * @param tolerance mm
 * @returns the pieces counter-clockwise, or null when an edge is neither line nor arc or the chain is broken
 */
export function outlineOf(edges: readonly Float64Array[], tolerance: number): OutlinePiece[] | null {
  const pieces = edges.map((samples) => pieceOf(samples, tolerance));
  if (!pieces.every((piece) => piece !== null)) return null;
  const [first, ...left] = pieces as [OutlinePiece, ...OutlinePiece[]];
  const meet = (a: XY, b: XY): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 10 * tolerance;
  const { links, end } = followed<OutlinePiece, XY>(
    left,
    { ends: ({ from, to }) => [from, to], meet },
    first.to,
  );
  if (left.length > 0 || !meet(end, first.from)) return null;
  const chain = [first, ...links.map(({ piece, forward }) => (forward ? piece : turned(piece)))];
  const oriented = outlineArea(chain) > 0 ? chain : chain.map(turned).reverse();
  return merged(oriented, tolerance).flatMap(cutArc);
}

/** Signed area, positive counter-clockwise, mm². */
export function outlineArea(pieces: readonly OutlinePiece[]): number {
  let twice = 0;
  for (const piece of pieces) {
    twice += piece.from[0] * piece.to[1] - piece.to[0] * piece.from[1];
    if (piece.kind === 'arc') twice += piece.radius ** 2 * (piece.sweep - Math.sin(piece.sweep));
  }
  return twice / 2;
}

/** Length of a closed outline, mm. */
export const outlineLength = (pieces: readonly OutlinePiece[]): number =>
  pieces.reduce(
    (sum, piece) =>
      sum +
      (piece.kind === 'arc'
        ? piece.radius * Math.abs(piece.sweep)
        : Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1])),
    0,
  );

/** Middle of a piece. */
export function pieceMiddle(piece: OutlinePiece): XY {
  if (piece.kind === 'line') return [(piece.from[0] + piece.to[0]) / 2, (piece.from[1] + piece.to[1]) / 2];
  const angle = piece.startAngle + piece.sweep / 2;
  return [piece.centre[0] + piece.radius * Math.cos(angle), piece.centre[1] + piece.radius * Math.sin(angle)];
}

/** Whether a point lies on a piece. */
export function isOnPiece(piece: OutlinePiece, [x, y]: XY, tolerance: number): boolean {
  const { from, to } = piece;
  if (piece.kind === 'line') {
    const ends = Math.hypot(x - from[0], y - from[1]) + Math.hypot(x - to[0], y - to[1]);
    return ends < Math.hypot(to[0] - from[0], to[1] - from[1]) + tolerance;
  }
  const { centre, radius, startAngle, sweep } = piece;
  if (Math.abs(Math.hypot(x - centre[0], y - centre[1]) - radius) > tolerance) return false;
  const slack = tolerance / radius;
  const past = Math.sign(sweep) * (Math.atan2(y - centre[1], x - centre[0]) - startAngle);
  return past - 2 * Math.PI * Math.floor((past + slack) / (2 * Math.PI)) < Math.abs(sweep) + slack;
}

/** A sampled edge (x y per sample) as a line or an arc; null when it is neither. */
export function pieceOf(samples: Float64Array, tolerance: number): OutlinePiece | null {
  const at = (i: number): XY => [samples[2 * i]!, samples[2 * i + 1]!];
  const last = EDGE_SAMPLES - 1;
  const from = at(0);
  const to = at(last);
  const closed = Math.hypot(from[0] - to[0], from[1] - to[1]) < tolerance;
  const third = closed ? Math.floor((2 * last) / 3) : last;
  const second = closed ? Math.floor(last / 3) : last / 2;
  const circle = circleThrough(from, at(second), at(third));
  const chord = Math.hypot(at(third)[0] - from[0], at(third)[1] - from[1]);
  const straight = (i: number): number =>
    Math.abs(
      (at(i)[0] - from[0]) * (at(third)[1] - from[1]) - (at(i)[1] - from[1]) * (at(third)[0] - from[0]),
    ) / chord;
  const indices = Array.from({ length: EDGE_SAMPLES }, (_, i) => i);
  if (!closed && indices.every((i) => straight(i) < tolerance)) return { kind: 'line', from, to };
  if (circle === null) return null;
  const [cx, cy, radius] = circle;
  if (indices.some((i) => Math.abs(Math.hypot(at(i)[0] - cx, at(i)[1] - cy) - radius) > tolerance))
    return null;
  const angle = (i: number): number => Math.atan2(at(i)[1] - cy, at(i)[0] - cx);
  let sweep = 0;
  for (let i = 0; i < last; i++) {
    const step = angle(i + 1) - angle(i);
    sweep += Math.atan2(Math.sin(step), Math.cos(step));
  }
  return { kind: 'arc', from, to, centre: [cx, cy], radius, startAngle: angle(0), sweep };
}

/** Centre and radius of the circle through three points; null when they lie on a line. */
export function circleThrough(a: XY, b: XY, c: XY): [number, number, number] | null {
  const [bx, by, cx, cy] = [b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]];
  const d = 2 * (bx * cy - by * cx);
  const size = Math.hypot(bx, by) * Math.hypot(cx, cy);
  if (!(Math.abs(d) > 1e-9 * size)) return null;
  const ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d;
  const uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d;
  return [a[0] + ux, a[1] + uy, Math.hypot(ux, uy)];
}

function turned(piece: OutlinePiece): OutlinePiece {
  if (piece.kind === 'line') return { kind: 'line', from: piece.to, to: piece.from };
  return {
    ...piece,
    from: piece.to,
    to: piece.from,
    startAngle: piece.startAngle + piece.sweep,
    sweep: -piece.sweep,
  };
}

/** An arc in equal pieces, each short enough for a corner; a whole circle in quarters from the x axis on. */
function cutArc(piece: OutlinePiece): OutlinePiece[] {
  if (piece.kind === 'line') return [piece];
  const { centre, radius } = piece;
  const whole = Math.abs(piece.sweep) > 2 * Math.PI - 1e-6;
  const count =
    Math.abs(piece.sweep) > LARGEST_SWEEP ? Math.ceil(Math.abs(piece.sweep) / (Math.PI / 2) - 1e-6) : 1;
  const startAngle = whole ? 0 : piece.startAngle;
  const sweep = piece.sweep / count;
  const at = (k: number): XY => {
    if (!whole && k === 0) return piece.from;
    if (!whole && k === count) return piece.to;
    const angle = startAngle + k * sweep;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  };
  return Array.from({ length: count }, (_, k) => ({
    ...piece,
    from: at(k),
    to: at(k + 1),
    startAngle: startAngle + k * sweep,
    sweep,
  }));
}

/** Joins lines that go on straight and arcs that go on round: where an edge was cut is no corner. */
function merged(pieces: readonly OutlinePiece[], tolerance: number): OutlinePiece[] {
  const out: OutlinePiece[] = [];
  for (const piece of pieces) {
    const before = out[out.length - 1];
    const whole = before === undefined ? null : joined(before, piece, tolerance);
    if (whole === null) out.push(piece);
    else out[out.length - 1] = whole;
  }
  const wrapped = out.length > 1 ? joined(out[out.length - 1]!, out[0]!, tolerance) : null;
  return wrapped === null ? out : [wrapped, ...out.slice(1, -1)];
}

function joined(a: OutlinePiece, b: OutlinePiece, tolerance: number): OutlinePiece | null {
  if (a.kind === 'arc' && b.kind === 'arc') {
    const apart = Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]);
    const same = apart < tolerance && Math.abs(a.radius - b.radius) < tolerance && a.sweep * b.sweep > 0;
    if (!same) return null;
    // The longer arc has the better centre.
    const { centre, radius } = Math.abs(a.sweep) < Math.abs(b.sweep) ? b : a;
    return { ...a, centre, radius, to: b.to, sweep: a.sweep + b.sweep };
  }
  if (a.kind !== 'line' || b.kind !== 'line') return null;
  const [x, y] = [b.to[0] - a.from[0], b.to[1] - a.from[1]];
  const off = Math.abs((a.to[0] - a.from[0]) * y - (a.to[1] - a.from[1]) * x) / Math.hypot(x, y);
  return off < tolerance ? { kind: 'line', from: a.from, to: b.to } : null;
}
