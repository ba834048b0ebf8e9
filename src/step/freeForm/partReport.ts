/** What is said of a part that was solved as it is and of no other blank: its outer sizes, warnings, notes. */
import { cutNotes } from '../../pattern/blankReport.ts';
import { notchRelief } from '../../tray/notches.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { givenLength, type Statement, statement } from '../../words/statement.ts';
import type { PartGiven } from './partGiven.ts';
import type { Skin } from './skin.ts';

const tidy = (value: number): number => Math.round(value * 1e4) / 1e4;

export const sheetOf = (given: PartGiven, thickness: number): TraySpec['sheet'] => ({
  material: given.material,
  thickness: tidy(thickness),
  grain: given.grain,
});

/**
 * A tray of the part's outer sizes, for the report's headings.
 *
 * @param points numbers of points in the middle of the sheet, x y z in the tray's frame first
 * @param size   numbers a point has
 */
export function sizesOnly(
  given: PartGiven,
  thickness: number,
  points: ArrayLike<number>,
  size: number,
): TraySpec {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let at = 0; at < points.length; at += size) {
    for (let i = 0; i < 3; i++) {
      low[i] = Math.min(low[i]!, points[at + i]!);
      high[i] = Math.max(high[i]!, points[at + i]!);
    }
  }
  return {
    name: given.name,
    measured: 'outside',
    plan: {
      length: tidy(high[0]! - low[0]! + thickness),
      width: tidy(high[1]! - low[1]! + thickness),
      cornerRadius: 0,
    },
    section: {
      bottomRadius: 0,
      height: tidy(high[2]! - low[2]! + thickness / 2),
      draft: 0,
      rim: { kind: 'plain' },
    },
    sheet: sheetOf(given, thickness),
    forming: { trim: given.trim },
    cut: given.cut,
  };
}

export const rimWarnings = ({ rimBroken }: Skin): Statement[] =>
  rimBroken ? [statement('parts.rimBroken')] : [];

/** @param count of notches that end in a point */
export const notchNotes = (count: number, spec: TraySpec): Statement[] =>
  count === 0 ? [] : [statement('parts.reliefAdded', givenLength(notchRelief(spec), 1))];

export function partNotes(given: PartGiven, isSurface: boolean): Statement[] {
  return [
    statement('parts.sizesOnly'),
    ...(isSurface ? [statement('parts.middleOfSheet')] : []),
    ...(given.trim > 0 ? [statement('parts.trimLaidOn', givenLength(given.trim, 1))] : []),
    ...cutNotes(given.cut),
  ];
}
