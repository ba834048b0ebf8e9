/** A tray on its way: the wall turned up to an angle only, and the lip not turned yet. */
import type { NeutralSurface } from '../tray/neutralSurface.ts';
import { type SectionPiece, sectionPoint } from '../tray/section.ts';
import { radians } from '../units.ts';

/** Whether the rim is turned into a lip. */
export const hasLip = ({ section }: NeutralSurface): boolean =>
  section.pieces.some(({ kind }, number) => number > 0 && kind === 'bend');

/** The neutral surface with the wall turned up to an angle only, degrees, and no lip turned yet. */
export function stageSurface(surface: NeutralSurface, angle: number): NeutralSurface {
  const { section } = surface;
  const bend = section.pieces[0]!;
  const length = Math.min(bend.length, bend.radius * radians(angle));
  if (length === bend.length && !hasLip(surface)) return surface;
  const first: SectionPiece = { ...bend, length };
  const at = sectionPoint(first, 1, { run: 0, height: 0, angle: 0, developed: 0 });
  const wall: SectionPiece = { kind: 'straight', length: section.developed - length, radius: 0, ...at };
  return {
    ...surface,
    section: { ...section, pieces: [first, wall], wallPiece: section.wallPiece < 0 ? -1 : 1 },
  };
}
