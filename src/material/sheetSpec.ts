/** How a tray file names its sheet, after it has been read. */

/** A sheet given in full instead of by name: same properties as the table, without sources. */
export interface CustomMaterial {
  readonly name: string;
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  readonly r0: number;
  readonly r45: number;
  readonly r90: number;
  readonly density: number;
  readonly youngsModulus: number;
  readonly yieldStrength: number;
  readonly tensileStrength: number;
  readonly uniformElongation: number;
  /** Equivalent strain between anneals; computed from uniformElongation when not given. */
  readonly strainBudget?: number;
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
