/** What the computation needs to know of a sheet. Values and their sources: `sheets.ts`. */
import type { Statement } from '../words/statement.ts';
import type { Metal } from './families.ts';
import type { LawParameters } from './law.ts';

/** The material of a sheet. Stresses in N/mm², strains logarithmic unless named per cent. */
export interface SheetMaterial extends Metal, LawParameters {
  /** What a tray file calls it, for example `DC04`. */
  readonly name: string;
  /** kg/dm³, the same number as g/cm³. */
  readonly density: number;
  /** Young's modulus, N/mm². */
  readonly youngsModulus: number;
  /** Yield strength (Re or Rp0.2), N/mm². */
  readonly yieldStrength: number;
  /** Tensile strength Rm, N/mm². */
  readonly tensileStrength: number;
  /** Uniform elongation, engineering per cent. */
  readonly uniformElongation: number;
  readonly anneal: Anneal;
  /** Range of sheet thickness the material is usually sold in, mm. */
  readonly thicknessRange: readonly [number, number];
  /** Where each value comes from: keyed by property name. Published source, "common practice" or "from memory". */
  readonly sources: Readonly<Record<string, string>>;
}

/** How the sheet is softened again. */
export interface Anneal {
  /** °C, lowest and highest; null when the sheet must not be annealed in the workshop. */
  readonly temperature: readonly [number, number] | null;
  /** What the worker sees when the temperature is reached. */
  readonly cue: Statement;
  /** Equivalent (logarithmic) strain the sheet takes between anneals before it is likely to split. */
  readonly strainBudget: number;
  /** The same once it has been annealed: more than the above for a sheet that is sold hard. */
  readonly soft?: SoftTemper;
  /** What to do instead, when the sheet must not be annealed. */
  readonly instead?: Statement;
  /** °C at which it begins to melt, where that is known and no glow warns of it. */
  readonly solidus?: number;
}

/** What becomes of a hard sheet when it is annealed. */
export interface SoftTemper {
  /** Name of the soft sheet of the same alloy, where the table has it. */
  readonly name?: string;
  /** Equivalent (logarithmic) strain it then takes between anneals. */
  readonly strainBudget: number;
  /** Uniform elongation then, engineering per cent. */
  readonly uniformElongation: number;
}

/** A sheet as it lies on the bench: material, thickness, rolling direction. */
export interface Sheet {
  readonly material: SheetMaterial;
  /** mm */
  readonly thickness: number;
  /** Rolling direction, radians from the plan's x axis, counter-clockwise. */
  readonly grain: number;
}
