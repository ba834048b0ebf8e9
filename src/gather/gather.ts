/** Puts together what is said of a blank's gather: zones, verdict, tucks. */

import type { FlatField } from '../geometry/flatField.ts';
import type { Sheet } from '../material/sheet.ts';
import { annealsFound } from '../material/temper.ts';
import type { TraySpec } from '../tray/spec.ts';
import { handOf } from './hand.ts';
import type { Gather, TrimBand } from './report.ts';
import { type SolvedBlank, tuckPlans } from './tucks.ts';
import { peaksOf, type Strains, verdictOf } from './verdict.ts';
import { gatherZones, ZONE_THRESHOLD } from './zones.ts';

/** The nodal strains of a whole field, named as a verdict wants them. */
export const strainsOf = (field: Omit<FlatField, 'rimCorner'>): Strains => ({
  major: field.majorStrain,
  minor: field.minorStrain,
  thickness: field.thicknessStrain,
  equivalent: field.equivalentStrain,
});

/**
 * @param blank not changed
 * @param work  of the hardest-worked place on its way from the flat, logarithmic strain
 */
export function gatherOf(
  spec: TraySpec,
  sheet: Sheet,
  blank: SolvedBlank,
  work: number,
  trimBand: TrimBand | null,
): Gather {
  const { field, rim, freeWidth } = blank;
  const zones = gatherZones(field, rim, sheet.thickness);
  return {
    threshold: spec.forming.zoneThreshold ?? ZONE_THRESHOLD,
    hand: handOf(spec, sheet.material),
    spread: spec.forming.spread ?? 0,
    zones,
    work,
    anneals: annealsFound(sheet.material, work),
    verdict: verdictOf(peaksOf(strainsOf(field), sheet, work), sheet, freeWidth),
    tucks: tuckPlans(zones, blank, sheet, spec.forming.gathering ?? 'tucks'),
    trimBand,
  };
}
