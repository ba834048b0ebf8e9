/** A tray's flat pattern while its figures are still being typed: soon, and nearly right. */
import { Cancelled } from '../solve/newton.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { StartCache } from '../solve/startCache.ts';
import { isUneven, neutralSurface } from '../tray/neutralSurface.ts';
import type { TraySpec } from '../tray/spec.ts';
import { givenLength, statement } from '../words/statement.ts';
import { developTray } from './developTray.ts';
import { SCRIBE_TOLERANCE } from './fittedLines.ts';
import type { Developed } from './flatPattern.ts';

/**
 * How far a live outline may be off, mm. In random trays it was within 0.27 mm of meshes refined three times more, half of
 * them within 0.07 mm.
 */
export const LIVE_ACCURACY = 0.3;

/** What is shown until `developTray` has the full answer. */
export interface Live {
  readonly kind: 'live';
  /** The tray that this is the answer for, as it was given: another one's answer is stale. */
  readonly spec: TraySpec;
  /** How far the outline may be off, mm. */
  readonly accuracy: number;
  /**
   * With outline, zones and verdict; a pattern says in a note that it is live. Its band of hands is left out, and anneals are
   * counted for the straight way.
   */
  readonly developed: Developed;
}

/** What the next answer starts from. */
interface Left {
  readonly structures: StructureCache;
  readonly starts: StartCache;
}

const leftBy = new WeakMap<Live, Left>();

/**
 * Solves a tray on its coarsest mesh alone, or where its heights differ on the next one, starting from the answer before
 * where the meshes correspond. Only the way to the answer gets shorter by that: it is the same within 0.01 mm.
 *
 * @param previous  the answer before, for other figures of the same tray
 * @param cancelled asked between the steps of the solve: whether this answer is not wanted any more
 * @returns null when it was cancelled
 * @throws GatherpanError as `developTray`
 */
export function developLive(
  spec: TraySpec,
  previous: Live | null = null,
  cancelled: () => boolean = () => false,
): Live | null {
  const left: Left = (previous === null ? undefined : leftBy.get(previous)) ?? {
    structures: new StructureCache(),
    starts: new StartCache(),
  };
  const solve: Partial<SolveOptions> = {
    ...left,
    cancelled,
    accuracy: LIVE_ACCURACY,
    tolerance: 1e-3,
    largestMove: LIVE_ACCURACY / 3,
    minimumRefinements: 0,
    maximumRefinements: isUneven(neutralSurface(spec)) ? 1 : 0,
  };
  try {
    const developed = developTray(spec, {
      solve,
      outlineTolerance: SCRIBE_TOLERANCE,
      band: false,
      way: false,
    });
    const live: Live = { kind: 'live', spec, accuracy: LIVE_ACCURACY, developed: noted(developed) };
    leftBy.set(live, left);
    return live;
  } catch (error) {
    if (error instanceof Cancelled) return null;
    throw error;
  }
}

const noted = (developed: Developed): Developed =>
  developed.kind === 'no flat'
    ? developed
    : {
        ...developed,
        notes: [statement('pattern.live', givenLength(LIVE_ACCURACY, 1)), ...developed.notes],
      };
