/** How a tray file names its sheet, after it has been read. */
import type { Crystal, StatedCoating, StatedFamily } from './families.ts';
import type { LawParameters, Strengths } from './law.ts';
import type { SheetMaterial } from './sheet.ts';

/** Strengths by direction, over that along the rolling direction. */
export interface StatedStrengths extends Omit<Strengths, 'exponent'> {
  /** How the metal's atoms lie; the family's when it is left out, where that is always the same. */
  readonly crystal?: Crystal;
}

/** A sheet given in full instead of by name: same properties as the table, without sources. */
export interface CustomMaterial
  extends Omit<LawParameters, 'strengths'>,
    Pick<
      SheetMaterial,
      'density' | 'youngsModulus' | 'yieldStrength' | 'tensileStrength' | 'uniformElongation'
    > {
  readonly name: string;
  /** What metal it is; cautions of every metal are given when it is left out. */
  readonly family?: StatedFamily;
  /** How it is coated; cautions of every coating are given when it is left out. */
  readonly coating?: StatedCoating;
  readonly strengths?: StatedStrengths;
  /** Equivalent strain between anneals; computed from uniformElongation when not given. */
  readonly strainBudget?: number;
  /** Equivalent strain between anneals once a sheet that is sold hard has been annealed. */
  readonly annealedStrainBudget?: number;
  /** °C */
  readonly annealTemperature?: readonly [number, number];
}

export interface SheetSpec {
  /** Name of a material in the table, or a material in full. */
  readonly material: string | CustomMaterial;
  /** mm; a gauge number has been turned into mm at the door. */
  readonly thickness: number;
  /** Rolling direction in degrees from the plan's x axis, counter-clockwise. */
  readonly grain: number;
}
