/** What a layout on sheets draws and reckons with. Plain data, small enough to send and to keep by thousands. */
import type { SheetMaterial } from '../material/sheet.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';

export interface Blank extends Pick<FlatPattern, 'name' | 'outline' | 'holes' | 'scribeLines'> {
  readonly sheet: {
    readonly material: Pick<SheetMaterial, 'name' | 'density'>;
    /** mm */
    readonly thickness: number;
    /** Rolling direction, radians from the plan's x axis, counter-clockwise. */
    readonly grain: number;
  };
}

export function blankOf({ name, outline, holes, scribeLines, sheet }: FlatPattern): Blank {
  const { material, thickness, grain } = sheet;
  const { name: called, density } = material;
  return {
    name,
    outline,
    holes,
    scribeLines,
    sheet: { material: { name: called, density }, thickness, grain },
  };
}
