/** What the bench view tells of a trial corner: the hand in words, how the cut line moves, and the trial to be kept. */
import { fitHand } from '../gather/handFit.ts';
import { formingFrom, keptTrial } from '../gather/keptTrials.ts';
import { readMeasurements } from '../gather/measurements.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import { developTray } from '../pattern/developTray.ts';
import { type RimMove, rimMoves } from '../pattern/rimMoves.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';
import { forTray, type TrialForTray } from './trialsKept.ts';

export interface HandFound {
  readonly sentences: readonly string[];
  readonly moves: readonly RimMove[];
  /** Under a name that is still to be given. */
  readonly found: TrialForTray;
}

/**
 * @param measured as in a measurements file
 * @throws GatherpanError as `readMeasurements` and `fitHand`, and NO_FLAT where there is no blank for that hand
 */
export function handFound(spec: TraySpec, measured: unknown, name: string, words: Words): HandFound {
  const fit = fitHand(spec, readMeasurements(measured));
  const trial = keptTrial(spec, fit, { name }, measured);
  const corrected = { ...spec, forming: { ...spec.forming, ...formingFrom(fit) } };
  const [before, after] = [spec, corrected].map((each) => flatPatternOf(developTray(each)));
  return {
    sentences: sentences(fit.sentences, words),
    moves: rimMoves(before!, after!),
    found: forTray(trial, spec),
  };
}
