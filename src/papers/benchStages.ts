/** What plan, card and bench view say of a stage beside what `stagesOf` found. */
import type { Stage, StageZone } from '../gather/stages.ts';
import type { Course } from '../gather/workingPlan.ts';
import { joinedNames } from '../pattern/cornerName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { insideLipRadius, lipAngle } from '../tray/section.ts';
import { degrees } from '../units.ts';
import { bottomBend, madeBend, stateOfWork } from './overbends.ts';

/** How the sides are bent in a stage, so that they are left as they shall be when they are let go. */
export interface StageBend {
  /** Of dolly, block or stake, mm. */
  readonly insideRadius: number;
  /** Degrees under the hammer, and let go. */
  readonly held: number;
  readonly left: number;
}

/** @param trialBend by how much a trial bend opened, degrees (`madeBend`); 0 where none was made */
export function stageBend(
  pattern: FlatPattern,
  { angle, lip }: Pick<Stage, 'angle' | 'lip'>,
  trialBend: number,
): StageBend {
  const { spec } = pattern;
  const { rim } = spec.section;
  const left =
    lip && rim.kind === 'lip'
      ? { insideRadius: insideLipRadius(spec, rim), angle: lipAngle(spec, rim) }
      : bottomBend(spec, angle);
  const made = madeBend(pattern, stateOfWork(pattern), left, trialBend);
  return { insideRadius: made.insideRadius, held: degrees(made.angle), left: degrees(left.angle) };
}

/** The stages with the bends of their sides: what `plan --json` gives. */
export const stagesWithBends = (
  pattern: FlatPattern,
  { stages }: Pick<Course, 'stages'>,
): (Stage & { readonly sides: StageBend })[] =>
  stages.map((stage) => ({ ...stage, sides: stageBend(pattern, stage, 0) }));

/** Rim that counts as none, mm: a tape does not show it. */
const LEAST_LEFT = 0.05;

/** What the rim still has to do in later stages: a lip may give back what the wall loses, or take back what it gains. */
export const leftToDo = ({ rimToCome }: StageZone): 'lose' | 'gain' | null =>
  Math.abs(rimToCome) < LEAST_LEFT ? null : rimToCome > 0 ? 'lose' : 'gain';

/** Of the work between anneals, what a stage uses up of it at a corner; per cent. */
export const usedPercent = ({ strainAdded }: StageZone, { anneals }: Pick<Course, 'anneals'>): string =>
  ((100 * strainAdded) / anneals.budget).toFixed(0);

/** The corners whose rims change in a stage, as they are worked: opposite ones in turn. Those that share a zone are one. */
export function workedInTurn(pattern: FlatPattern, { zones }: Pick<Stage, 'zones'>): string[] {
  const first = (zone: number): number => pattern.gather.zones[zone]!.corners[0]!;
  const worked = zones
    .map(({ zone }) => zone)
    .filter((zone) => {
      const { rim, corners } = pattern.gather.zones[zone]!;
      return rim !== null && corners.length > 0;
    })
    .sort((a, b) => first(a) - first(b));
  return oppositeInTurn(worked).map((zone) => zoneLetters(pattern, zone));
}

/** A zone by the letters of its corners. */
export const zoneLetters = (pattern: FlatPattern, zone: number): string =>
  joinedNames(pattern, pattern.gather.zones[zone]!.corners);

/** Each followed by the one across from it. */
export function oppositeInTurn<T>(all: readonly T[]): T[] {
  const half = Math.ceil(all.length / 2);
  return all.slice(0, half).flatMap((each, i) => [each, ...all.slice(i + half, i + half + 1)]);
}
