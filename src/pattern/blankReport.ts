/** What is said of every blank, of a tray file or of a part solved as it is: sizes, thickness, notes. */
import { unevenStretch } from '../gather/verdict.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { pathArea, pathBounds, pathLength } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import { NOT_STATED } from '../material/families.ts';
import type { PlasticLaw } from '../material/law.ts';
import type { Sheet } from '../material/sheet.ts';
import { temperFor } from '../material/temper.ts';
import type { TraySpec } from '../tray/spec.ts';
import { percentFromLogStrain } from '../units.ts';
import { givenLength, type Statement, statement } from '../words/statement.ts';
import type { CornerReport, Hole, Report } from './flatPattern.ts';

/** @param holes clockwise, so that their areas are negative */
export function blankFigures(outline: Path, holes: readonly Hole[], sheet: Sheet): Report['blank'] {
  const bounds = pathBounds(outline);
  const area = holes.reduce((sum, hole) => sum + pathArea(hole.path), pathArea(outline));
  return {
    length: bounds.maxX - bounds.minX,
    width: bounds.maxY - bounds.minY,
    area,
    mass: area * sheet.thickness * sheet.material.density * 1e-6,
    cutLength: holes.reduce((sum, hole) => sum + pathLength(hole.path), pathLength(outline)),
    segments: outline.vertices.length,
  };
}

/** Finished thickness, mm. */
export const thicknessRange = (
  { thicknessStrain }: Pick<FlatField, 'thicknessStrain'>,
  sheet: Sheet,
): Report['thickness'] => ({
  min: sheet.thickness * Math.exp(thicknessStrain.reduce((low, value) => Math.min(low, value), Infinity)),
  max: sheet.thickness * Math.exp(thicknessStrain.reduce((high, value) => Math.max(high, value), -Infinity)),
});

/**
 * The classical answers of the corners when all corners are alike.
 *
 * @param alike largest difference of radii that are alike, mm
 */
export function sharedBounds(corners: readonly CornerReport[], alike: number): Report['bounds'] {
  const first = corners[0];
  const shared =
    first !== undefined &&
    corners.every(
      (corner) =>
        Math.abs(corner.arcLengthCornerRadius - first.arcLengthCornerRadius) < alike &&
        Math.abs(corner.equalAreaCornerRadius - first.equalAreaCornerRadius) < alike,
    );
  return {
    arcLengthCornerRadius: shared ? first.arcLengthCornerRadius : null,
    equalAreaCornerRadius: shared ? first.equalAreaCornerRadius : null,
  };
}

/** Whether the metal would have to stretch by more than it does evenly. */
export function stretchWarnings(field: FlatField, { material }: Sheet, work: number): Statement[] {
  const { majorStrain: major, thicknessStrain: thickness } = field;
  const found = unevenStretch({ major, thickness }, material, work);
  if (found === null) return [];
  const percent = (strain: number): string => percentFromLogStrain(strain).toFixed(0);
  return [statement('pattern.stretchesUnevenly', percent(found.stretch), found.name, percent(found.limit))];
}

/** What the tray file leaves open of the sheet, and what it means that a hard one is annealed first. */
export function sheetNotes({ material }: Sheet, work: number): Statement[] {
  const { name, family, coating, anneal } = material;
  const notes: Statement[] = [];
  const [metalOpen, coatingOpen] = [family === NOT_STATED, coating === NOT_STATED];
  if (metalOpen && coatingOpen) notes.push(statement('pattern.metalNotStated'));
  else if (metalOpen) notes.push(statement('pattern.familyNotStated'));
  else if (coatingOpen) notes.push(statement('pattern.coatingNotStated'));
  if (temperFor(material, work).annealedFirst) {
    const soft = anneal.soft?.name;
    notes.push(
      soft === undefined
        ? statement('pattern.solvedHard', name)
        : statement('pattern.solvedHardOf', name, soft),
    );
  }
  return notes;
}

/** That a hand makes a sheet with strengths one that no law has. */
export function lawNotes({ dual }: PlasticLaw, { material }: Sheet, hand: number): Statement[] {
  if (dual === null || dual.unevenness === 1) return [];
  return [
    statement('pattern.handUneven', material.name, hand.toFixed(2), (100 * dual.unevenness).toFixed(0)),
  ];
}

/** Whether kerf is allowed for already. */
export function cutNotes({ process, compensate, kerf }: TraySpec['cut']): Statement[] {
  if (process === 'hand') return [];
  return [
    compensate
      ? statement('pattern.kerfCompensated', givenLength(kerf / 2, 2))
      : statement('pattern.kerfLeft'),
  ];
}
