import type { SheetSpec } from '../../material/sheetSpec.ts';
import type { TraySpec } from '../../tray/spec.ts';

/** What the part's geometry does not say. */
export interface PartGiven {
  readonly name: string;
  readonly material: SheetSpec['material'];
  /** degrees */
  readonly grain: number;
  /** mm, for a part that is a surface; null to take it from the solid */
  readonly thickness: number | null;
  /** mm */
  readonly trim: number;
  readonly cut: TraySpec['cut'];
}
