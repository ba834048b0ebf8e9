/**
 * The grain: how the corners differ by it, and which way the blank should lie on the sheet.
 *
 * A sheet's r depends on the direction, so the same corner gathers more easily one way than the other. The tray is
 * solved with the grain as given and turned by 90°, the two ways in which a rectangular sheet can be laid.
 */

import { ifSolved } from '../errors.ts';
import type { SheetMaterial } from '../material/sheet.ts';
import { workUsed } from '../material/temper.ts';
import { type SolveOptions, StructureCache } from '../solve/solveTray.ts';
import { nodalStrains } from '../solve/strains.ts';
import { turnName } from '../tray/cornerLetter.ts';
import { planVertices } from '../tray/planLoop.ts';
import type { TraySpec } from '../tray/spec.ts';
import { percentFromLogStrain } from '../units.ts';
import { type Statement, statement } from '../words/statement.ts';
import type { GatherZone, StrengthBand } from './report.ts';
import { type SolvedTray, solveSpec } from './solvedTray.ts';
import { BAND_SOLVE, netOf, solvedEquallyStrong, strengthBand, strengthsOpen } from './trimBand.ts';
import { type Peaks, peaksOf } from './verdict.ts';
import { workOf } from './work.ts';

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

/** What the r-values alone leave open of a tray's rim, and of how to lay it. */
export interface GrainBand extends StrengthBand {
  /** The better way to lay the blank if the sheet is as strong every way, degrees; null when both are as good. */
  readonly better: number | null;
}

export interface GrainAdvice {
  readonly asGiven: GrainCase;
  /** Null where no flat was found for it. */
  readonly turned: GrainCase | null;
  /** The better of the two, by the strain of the hardest-worked spot; null when they are as good as each other. */
  readonly better: number | null;
  /** Null where strengths are known, where no direction differs, and where that has no equilibrium. */
  readonly band: GrainBand | null;
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
    : ifSolved(() => solveSpec({ ...spec, sheet: { ...spec.sheet, grain: turnedGrain } }, options));
  const asGiven = grainCase(spec.sheet.grain, given, workOf(given).work);
  if (turned === null) {
    const sentences = [statement('plan.grain.onlyAsGiven', String(asGiven.grain))];
    return { asGiven, turned: null, better: asGiven.grain, band: null, sentences };
  }
  const other = grainCase(turnedGrain, turned, workOf(turned).work);
  const better = betterWay(asGiven, other);
  const band = grainBand(spec);
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
      ...(band === null ? [] : [bandStatement(band, given.sheet.material)]),
    );
  }
  return { asGiven, turned: other, better, band, sentences };
}

function betterWay(asGiven: GrainCase, turned: GrainCase): number | null {
  const difference = (turned.strain - asGiven.strain) / asGiven.strain;
  return Math.abs(difference) < WORTH_TURNING ? null : difference > 0 ? asGiven.grain : turned.grain;
}

/** The tray solved once more as if the r-values said nothing of its sheet's strength. On one coarse mesh, as the trim's band. */
function grainBand(spec: TraySpec): GrainBand | null {
  const options = { ...BAND_SOLVE, structures: new StructureCache(2) };
  const turnedGrain = (spec.sheet.grain + 90) % 180;
  const net = netOf(spec);
  const caseOf = (grain: number, { solution, sheet }: ReturnType<typeof solvedEquallyStrong>): GrainCase => {
    const { mesh, geometry, law, flat } = solution;
    return grainCase(grain, { sheet, strains: nodalStrains(mesh, geometry, law, flat) });
  };
  return ifSolved(() => {
    const own = solveSpec(net, options);
    if (!strengthsOpen(own.sheet, own.solution)) return null;
    const equal = solvedEquallyStrong(net, options);
    const turned = solvedEquallyStrong({ ...net, sheet: { ...net.sheet, grain: turnedGrain } }, options);
    return {
      ...strengthBand(own.solution, equal.solution),
      better: betterWay(caseOf(spec.sheet.grain, equal), caseOf(turnedGrain, turned)),
    };
  });
}

const bandStatement = ({ better }: GrainBand, { name }: SheetMaterial): Statement =>
  better === null
    ? statement('plan.grain.bandEither', name)
    : statement('plan.grain.bandLay', name, String(better));

/** @param work straight from the flat when left out */
function grainCase(
  grain: number,
  { strains, sheet }: Pick<SolvedTray, 'strains' | 'sheet'>,
  work?: number,
): GrainCase {
  const peaks: Peaks = peaksOf(strains, sheet, work);
  return {
    grain,
    thickening: percentFromLogStrain(peaks.thickening),
    shrink: -percentFromLogStrain(-peaks.shrink),
    stretch: percentFromLogStrain(peaks.stretch),
    strain: peaks.work,
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
