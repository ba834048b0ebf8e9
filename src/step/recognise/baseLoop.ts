/** Makes the loop of corners and sides from the outline of the flat base. Lengths mm, angles radians. */
import type { FoundSegment } from './foundSegments.ts';
import type { OutlinePiece, XY } from './planOutline.ts';

/** What stands around the base's outline and is not said by it. */
export interface Surroundings {
  /** Whether the sheet ends along a piece. */
  isOpen(piece: OutlinePiece): boolean;
  /** Whether the walls of two sides with these normals meet at a mitre. */
  isMitre(at: XY, before: XY, after: XY): boolean;
}

/** Less turn than this, in radians, is none. */
const SMOOTH = 1e-5;

/** Largest turn of an edge of the plan: a bulge of 4 is 304 degrees. */
const LARGEST_EDGE = (300 * Math.PI) / 180;

/** What a piece of the outline begins with. */
interface Start {
  readonly kind: 'smooth' | 'sharp' | 'sphere' | 'mitre';
  readonly turn: number;
}

/** A piece of the outline with what is known of it. */
interface Known {
  readonly piece: OutlinePiece;
  readonly start: Start;
  readonly open: boolean;
  /** Whether it is an edge of the plan by itself. */
  readonly isEdge: boolean;
}

/** The loop, or null when a wall goes round a corner that is neither rounded nor mitred nor a sphere. */
export function baseLoop(pieces: readonly OutlinePiece[], around: Surroundings): FoundSegment[] | null {
  const open = pieces.map((piece) => around.isOpen(piece));
  const starts = pieces.map((_, i) => startOf(pieces, open, around, i));
  if (starts.some((start) => start === null)) return null;
  const isEdge = edgesOfPlan(pieces, open, starts as Start[]);
  const cut = pieces.map((piece, i): Known => {
    return { piece, start: starts[i]!, open: open[i]!, isEdge: isEdge[i]! };
  });
  const whole = inOneArc(cut);
  // A plan has three edges at least, unless it is two arcs.
  const known = whole.length < 3 ? cut : whole;
  return known.flatMap((one, i) => {
    const { length } = known;
    return segmentsOf(one, known[(i + length - 1) % length]!, known[(i + 1) % length]!);
  });
}

/** A piece as a segment, with the joint or the sphere it begins with. */
function segmentsOf({ piece, start, open, isEdge }: Known, before: Known, after: Known): FoundSegment[] {
  const at = piece.from;
  const out: FoundSegment[] = [];
  if (start.kind === 'sphere') {
    const startAngle = directionAt(before.piece, 'end') - Math.PI / 2;
    const sphere = { centre: at, radius: 0, startAngle, sweep: start.turn };
    out.push({ kind: 'corner', ...sphere, open: false, isEdge: false });
  } else if (start.kind !== 'smooth' || isEdge || before.isEdge) {
    out.push({ kind: 'joint', at, sweep: start.turn, mitre: start.kind === 'mitre' });
  }
  if (piece.kind === 'arc') {
    const { centre, radius, sweep } = piece;
    const startAngle = sweep > 0 ? piece.startAngle : piece.startAngle + Math.PI;
    out.push({ kind: 'corner', centre, radius, startAngle, sweep, open, isEdge });
    return out;
  }
  const { from, to } = piece;
  const mitre = ({ kind, turn }: Start): number => (kind === 'mitre' ? Math.tan(turn / 2) : 0);
  out.push({
    kind: 'side',
    from,
    to,
    normal: normalOf(piece),
    length: Math.hypot(to[0] - from[0], to[1] - from[1]),
    open,
    mitreAtStart: mitre(start),
    mitreAtEnd: mitre(after.start),
  });
  return out;
}

/** How a piece is joined to the one before it; null when a wall cannot go round there. */
function startOf(
  pieces: readonly OutlinePiece[],
  open: readonly boolean[],
  around: Surroundings,
  i: number,
): Start | null {
  const previous = (i + pieces.length - 1) % pieces.length;
  const [before, piece] = [pieces[previous]!, pieces[i]!];
  const difference = directionAt(piece, 'start') - directionAt(before, 'end');
  const turn = Math.atan2(Math.sin(difference), Math.cos(difference));
  if (Math.abs(turn) <= SMOOTH) {
    // A wall that ends on a smooth edge stands beside it in the plan, and no plan says that.
    return open[previous] === open[i] ? { kind: 'smooth', turn: 0 } : null;
  }
  if (open[previous] || open[i]) return { kind: 'sharp', turn };
  if (before.kind === 'arc' || piece.kind === 'arc') return null;
  if (around.isMitre(piece.from, normalOf(before), normalOf(piece))) return { kind: 'mitre', turn };
  // The wall of a concave corner without a base radius would cut itself.
  return turn > 0 ? { kind: 'sphere', turn } : null;
}

/**
 * Which arcs are edges of the plan: open ones, those on which a wall ends, and those that go on smoothly in such
 * an arc.
 */
function edgesOfPlan(
  pieces: readonly OutlinePiece[],
  open: readonly boolean[],
  starts: readonly Start[],
): boolean[] {
  const count = pieces.length;
  const isArc = (i: number): boolean => pieces[i]!.kind === 'arc';
  const isEdge = pieces.map(
    (_, i) =>
      isArc(i) && (open[i]! || starts[i]!.kind === 'sharp' || starts[(i + 1) % count]!.kind === 'sharp'),
  );
  for (let changed = true; changed; ) {
    changed = false;
    for (let i = 0; i < count; i++) {
      const next = (i + 1) % count;
      if (isEdge[i] === isEdge[next] || !isArc(i) || !isArc(next)) continue;
      if (starts[next]!.kind !== 'smooth') continue;
      isEdge[i] = true;
      isEdge[next] = true;
      changed = true;
    }
  }
  return isEdge;
}

/** Arcs were cut to be short enough for corners; as edges of the plan they are whole again. */
function inOneArc(all: readonly Known[]): Known[] {
  // A whole circle has no joint and no edge; any other chain of arcs begins where something else ends.
  const first = all.findIndex((one, i) => !goOn(all[(i + all.length - 1) % all.length]!, one));
  const out: Known[] = [];
  for (const one of [...all.slice(first), ...all.slice(0, first)]) {
    const before = out[out.length - 1];
    if (before === undefined || !goOn(before, one)) {
      out.push(one);
      continue;
    }
    const [a, b] = [before.piece, one.piece] as (OutlinePiece & { kind: 'arc' })[];
    out[out.length - 1] = { ...before, piece: { ...a!, to: b!.to, sweep: a!.sweep + b!.sweep } };
  }
  return out;
}

/** Whether a piece goes on round in the next one, and both together are one edge. */
function goOn({ piece: a, isEdge }: Known, { piece: b, start, isEdge: too }: Known): boolean {
  return (
    isEdge &&
    too &&
    start.kind === 'smooth' &&
    a.kind === 'arc' &&
    b.kind === 'arc' &&
    Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]) < SMOOTH &&
    Math.abs(a.radius - b.radius) < SMOOTH &&
    Math.abs(a.sweep + b.sweep) < LARGEST_EDGE
  );
}

function normalOf({ from, to }: OutlinePiece): XY {
  const [x, y] = [to[0] - from[0], to[1] - from[1]];
  const length = Math.hypot(x, y);
  return [y / length, -x / length];
}

/** Direction of travel, radians from the x axis. */
function directionAt(piece: OutlinePiece, end: 'start' | 'end'): number {
  if (piece.kind === 'line') return Math.atan2(piece.to[1] - piece.from[1], piece.to[0] - piece.from[0]);
  const angle = piece.startAngle + (end === 'end' ? piece.sweep : 0);
  return angle + (Math.sign(piece.sweep) * Math.PI) / 2;
}
