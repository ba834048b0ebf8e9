/** Trial corners that a page keeps, and what a tray takes from each. */
import { formingOf, type KeptTrial, otherSheet, readTrials, withTrial } from '../gather/keptTrials.ts';
import type { TraySpec } from '../tray/spec.ts';

export interface TrialForTray {
  readonly trial: KeptTrial;
  readonly forming: ReturnType<typeof formingOf>;
  /** Whether it was worked of another sheet than the tray's. */
  readonly otherSheet: boolean;
}

export const forTray = (trial: KeptTrial, spec: TraySpec): TrialForTray => ({
  trial,
  forming: formingOf(trial),
  otherSheet: otherSheet(trial, spec),
});

/**
 * @param kept as a file of trials has it
 * @param more trials that take the places of those of their names
 * @throws GatherpanError as `readTrials` and `withTrial`
 */
export const trialsKept = (spec: TraySpec, kept: unknown, more: unknown): readonly TrialForTray[] =>
  readTrials(more)
    .reduce(withTrial, readTrials(kept))
    .map((trial) => forTray(trial, spec));
