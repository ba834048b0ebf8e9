/** The states that a search for arcs has reached with one number of arcs. */
import { endOf, type Piece, type Pose } from './biarc.ts';

/** Finished pieces, last one first. */
export interface Chain {
  readonly piece: Piece;
  readonly before: Chain | null;
}

/** Where a chain of pieces has got to: its end as a pose, and the rim point there. */
export interface State extends Pose {
  readonly index: number;
  /** The last piece; null right at the start. It may still be cut or run on. */
  readonly piece: Piece | null;
  /** The rim point where that piece begins. */
  readonly pieceIndex: number;
  readonly before: Chain | null;
}

/** The pieces up to the state, the last one included. */
export function chainOf(state: State): Chain | null {
  return state.piece ? { piece: state.piece, before: state.before } : null;
}

/**
 * Directions against the rim are told apart in steps of this many tolerances over the length of the arc. The
 * best chain breaks by c p² / 12 at its joints (see `arcChain.ts`), which is 10 tolerances over the length.
 */
const ANGLE_STEP = 3;
const ANGLES = 11;

/** Offsets left of the rim at a joint, in tolerances; the first is none. */
export const OFFSETS: readonly number[] = [0, 0.5, -0.5];

/** How many slots a frontier has. */
export const SLOTS = ANGLES * OFFSETS.length;

/** True for the slots of arcs that end on the rim itself. */
export const onRim = (slot: number): boolean => slot < ANGLES;

/**
 * The furthest arc for every direction and offset. Kept as bare numbers: most are soon overtaken, and only those
 * that stay become states.
 */
export class Frontier {
  private readonly tolerance: number;
  private readonly index = new Int32Array(SLOTS).fill(-1);
  private readonly curvature = new Float64Array(SLOTS);
  private readonly length = new Float64Array(SLOTS);
  private readonly origin: State[] = [];

  constructor(tolerance: number) {
    this.tolerance = tolerance;
  }

  /** The slot for an arc of this length that ends at an angle `off` against the rim, radians. */
  slot(off: number, length: number, offset: number): number {
    const half = (ANGLES - 1) / 2;
    const steps = Math.round((off * length) / (ANGLE_STEP * this.tolerance));
    return offset * ANGLES + half + Math.max(-half, Math.min(half, steps));
  }

  /** True when an arc that ends beside this rim point would be the furthest in its slot. */
  takes(slot: number, index: number): boolean {
    return this.index[slot]! < index;
  }

  /** Puts the arc of this curvature and length that leaves `origin`, and ends beside a rim point, into a slot. */
  put(slot: number, index: number, origin: State, curvature: number, length: number): void {
    this.index[slot] = index;
    this.curvature[slot] = curvature;
    this.length[slot] = length;
    this.origin[slot] = origin;
  }

  states(): State[] {
    const states: State[] = [];
    for (let slot = 0; slot < SLOTS; slot++) {
      const index = this.index[slot]!;
      if (index < 0) continue;
      const origin = this.origin[slot]!;
      const { x, y, angle } = origin;
      const piece = { x, y, angle, curvature: this.curvature[slot]!, length: this.length[slot]! };
      const end = endOf(piece);
      // Written out: a spread takes several times as long.
      states.push({
        x: end.x,
        y: end.y,
        angle: end.angle,
        index,
        piece,
        pieceIndex: origin.index,
        before: chainOf(origin),
      });
    }
    return states;
  }
}
