/** What the computation needs to know of a sheet. Values and their sources: `sheets.ts`. */
import type { Statement } from '../words/statement.ts';

/** The material of a sheet. Stresses in N/mm², strains logarithmic unless named per cent. */
export interface SheetMaterial {
  /** What a tray file calls it, for example `DC04`. */
  readonly name: string;
  readonly family: 'steel' | 'zinc-coated steel' | 'aluminium' | 'copper' | 'brass' | 'stainless' | 'other';
  /** Swift hardening: flow stress = K (ε0 + ε̄)^n. K in N/mm². */
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  /** Lankford coefficients along, at 45° to and across the rolling direction; all > 0. */
  readonly r0: number;
  readonly r45: number;
  readonly r90: number;
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
  /** The cautions that belong to it. */
  readonly cautions: readonly Statement[];
  /** Equivalent (logarithmic) strain the sheet takes between anneals before it is likely to split. */
  readonly strainBudget: number;
  /** What to do instead, when the sheet must not be annealed. */
  readonly instead?: Statement;
}

/** A sheet as it lies on the bench: material, thickness, rolling direction. */
export interface Sheet {
  readonly material: SheetMaterial;
  /** mm */
  readonly thickness: number;
  /** Rolling direction, radians from the plan's x axis, counter-clockwise. */
  readonly grain: number;
}
