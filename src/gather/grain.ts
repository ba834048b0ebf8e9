/**
 * The grain: how the corners differ by it, and which way the blank should lie on the sheet.
 *
 * A sheet's r depends on the direction, so the same corner gathers more easily one way than the other. The tray is
 * solved with the grain as given and turned by 90°, the two ways in which a rectangular sheet can be laid.
 */
import { isUnsolved } from '../errors.ts';
import { workUsed } from '../material/temper.ts';
import type { SolveOptions } from '../solve/solveTray.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { planVertices } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import { percentFromLogStrain } from '../units.ts';
import { type Statement, statement } from '../words/statement.ts';
import type { GatherZone } from './report.ts';
import { type SolvedTray, solveSpec } from './solvedTray.ts';
import { type Peaks, peaksOf } from './verdict.ts';

/** One way of laying the blank. */
export interface GrainCase {
  /** Rolling direction, degrees from the plan's x axis. */
  readonly grain: number;
  /** Largest thickening, shrink (positive) and stretch, per cent; largest equivalent strain, logarithmic. */
  readonly thickening: number;
  readonly shrink: number;
  readonly stretch: number;
  readonly strain: number;
}

export interface GrainAdvice {
  readonly asGiven: GrainCase;
  /** Null where no flat was found for it. */
  readonly turned: GrainCase | null;
  /** The better of the two, by the strain of the hardest-worked spot; null when they are as good as each other. */
  readonly better: number | null;
  readonly sentences: readonly Statement[];
}

/** Differences of strain below this share are within what the mesh leaves open: no reason to turn the blank. */
const WORTH_TURNING = 0.02;

/** Solves both ways, the one as given unless that is solved already. @throws GatherpanError NOT_SOLVED as given */
export function grainAdvice(
  spec: TraySpec,
  zones: readonly GatherZone[],
  options: Partial<SolveOptions> = {},
  given: SolvedTray = solveSpec(spec, options),
): GrainAdvice {
  const turnedGrain = (spec.sheet.grain + 90) % 180;
  const turned = given.solution.law.isotropicInPlane
    ? given
    : solvedOrNull({ ...spec, sheet: { ...spec.sheet, grain: turnedGrain } }, options);
  const asGiven = grainCase(spec.sheet.grain, given);
  if (turned === null) {
    const sentences = [statement('plan.grain.onlyAsGiven', String(asGiven.grain))];
    return { asGiven, turned: null, better: asGiven.grain, sentences };
  }
  const other = grainCase(turnedGrain, turned);
  const difference = (other.strain - asGiven.strain) / asGiven.strain;
  const better = Math.abs(difference) < WORTH_TURNING ? null : difference > 0 ? asGiven.grain : other.grain;
  const sentences: Statement[] = [];
  if (given.solution.law.isotropicInPlane) {
    sentences.push(statement('plan.grain.same'));
  } else {
    const figures = ({ grain, strain, thickening }: GrainCase): Statement =>
      statement(
        'plan.grain.figures',
        workUsed(given.sheet.material, strain).toFixed(0),
        String(grain),
        thickening.toFixed(1),
      );
    sentences.push(
      ...cornerStatement(zones, planVertices(spec.plan).length),
      better === null
        ? statement('plan.grain.either', figures(asGiven), figures(other))
        : statement('plan.grain.lay', String(better), figures(asGiven), figures(other)),
    );
  }
  return { asGiven, turned: other, better, sentences };
}

function solvedOrNull(spec: TraySpec, options: Partial<SolveOptions>): SolvedTray | null {
  try {
    return solveSpec(spec, options);
  } catch (error) {
    if (isUnsolved(error)) return null;
    throw error;
  }
}

function grainCase(grain: number, { strains, sheet }: SolvedTray): GrainCase {
  const peaks: Peaks = peaksOf(strains, sheet);
  return {
    grain,
    thickening: percentFromLogStrain(peaks.thickening),
    shrink: -percentFromLogStrain(-peaks.shrink),
    stretch: percentFromLogStrain(peaks.stretch),
    strain: peaks.equivalent,
  };
}

/** How the corners differ, from the gather zones of a plan of `count` corners. */
function cornerStatement(zones: readonly GatherZone[], count: number): Statement[] {
  const shrink = zones.filter((zone) => zone.kind === 'shrink' && zone.corners.length > 0);
  if (shrink.length < 2) return [];
  const percents = shrink.map((zone) => zone.peak.percent);
  const most = Math.max(...percents);
  const least = Math.min(...percents);
  if (most - least < 0.05)
    return [statement('plan.grain.zonesAlike', String(shrink.length), most.toFixed(1))];
  const list = shrink.map(({ corners, peak }) =>
    statement(
      'plan.grain.zone',
      corners.map((corner) =>
        statement(corner < count ? 'plan.grain.corner' : 'plan.grain.side', turnName(corner, count)),
      ),
      peak.percent.toFixed(1),
    ),
  );
  return [statement('plan.grain.zonesDiffer', list)];
}
