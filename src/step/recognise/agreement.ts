/** Holds a tray file that was found against the part it was found in. */
import { GatherpanError } from '../../errors.ts';
import { readTray } from '../../tray/readTray.ts';
import type { TraySpec } from '../../tray/spec.ts';
import type { Part } from '../part.ts';
import { sweptMeasure } from '../sweptMeasure.ts';
import type { FoundSection } from './foundProfile.ts';
import { type OutlinePiece, outlineArea, outlineLength } from './planOutline.ts';

/** Share by which volume and area may be off. The kernel's are 2e-7 off at worst, on B-splines that go all round. */
const WITHIN = 1e-6;

/** Whether the tray, built again by formula, with the part's rim and holes, has the part's volume and area. */
export function agrees(
  part: Part,
  section: FoundSection,
  holes: readonly (readonly OutlinePiece[])[],
  file: Record<string, unknown>,
): boolean {
  let spec: TraySpec;
  try {
    spec = readTray(file);
  } catch (error) {
    if (error instanceof GatherpanError) return false;
    throw error;
  }
  const tray = sweptMeasure(spec);
  const loss = rimLoss(spec, section);
  const { thickness } = spec.sheet;
  const pierced = holes.reduce((sum, outline) => sum + outlineArea(outline), 0);
  const sides = holes.reduce((sum, outline) => sum + outlineLength(outline), 0);
  const near = (value: number, expected: number): boolean => Math.abs(value - expected) < WITHIN * expected;
  return (
    near(part.volume, tray.volume - loss.volume - pierced * thickness) &&
    near(part.area, tray.area - loss.area - 2 * pierced + sides * thickness)
  );
}

/** What the part's rim takes away from a square one, mm³ and mm². */
function rimLoss(spec: TraySpec, { profile, actual }: FoundSection): { volume: number; area: number } {
  if (actual === profile) return { volume: 0, area: 0 };
  const [square, own] = [sweptMeasure(spec, profile), sweptMeasure(spec, actual)];
  return { volume: square.volume - own.volume, area: square.area - own.area };
}
