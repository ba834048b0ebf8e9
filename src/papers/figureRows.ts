/** The figures of a solved tray as rows of a name and a value: for the picture and the card alike. */
import type { CornerReport, FlatPattern } from '../pattern/flatPattern.ts';
import { type LengthUnit, lengthText, sizeText, withUnit } from './lengths.ts';
import type { Words } from './words.ts';

export type Row = readonly [name: string, value: string];

/** Tray, sheet and blank. */
export function mainRows({ spec, sheet, report }: FlatPattern, words: Words, unit: LengthUnit): Row[] {
  const { blank, developed } = report;
  const measured = spec.measured === 'outside' ? words.measuredOutside : words.measuredInside;
  const { section } = spec;
  const list: Row[] = [
    [words.plan, `${planText(spec, words, unit)}, ${measured}`],
    [
      words.section,
      words.sectionLine(
        withUnit(section.height, unit, trimmed(section.height)),
        withUnit(section.bottomRadius, unit, trimmed(section.bottomRadius)),
      ) + (section.draft === 0 ? '' : words.draft(short(section.draft))),
    ],
    [
      words.sheet,
      words.sheetLine(sheet.material.name, withUnit(sheet.thickness, unit, 2), short(report.sheet.grain)),
    ],
    [words.blank, sizeText(blank.length, blank.width, unit)],
    [words.mass, words.massLine(blank.mass.toFixed(blank.mass < 10 ? 2 : 1), (blank.area / 1e6).toFixed(3))],
    [words.cutLength, words.metres((blank.cutLength / 1000).toFixed(2))],
    [words.trim, words.trimLine(withUnit(spec.forming.trim, unit))],
  ];
  if (developed.alongLength !== null && developed.alongWidth !== null) {
    list.push([
      words.developed,
      words.developedLine(withUnit(developed.alongLength, unit), withUnit(developed.alongWidth, unit)),
    ]);
  }
  return list;
}

/** What there is to say of each corner; corners that are alike share a row. */
export function cornerRows({ report }: FlatPattern, words: Words, unit: LengthUnit): Row[] {
  const groups = new Map<string, number[]>();
  for (const corner of report.corners) {
    const key = cornerText(corner, words, unit);
    groups.set(key, [...(groups.get(key) ?? []), corner.index + 1]);
  }
  return [...groups].map(
    ([value, numbers]): Row => [
      groups.size === 1 && numbers.length > 1 ? words.eachCorner : words.corner(numbers.join(', ')),
      value,
    ],
  );
}

function cornerText(corner: CornerReport, words: Words, unit: LengthUnit): string {
  const lose = corner.rimToLose;
  return [
    lose >= 0 ? words.rimToLose(withUnit(lose, unit)) : words.rimToGain(withUnit(-lose, unit)),
    words.peaks(corner.peakGather.toFixed(0), corner.peakStretch.toFixed(0)),
    words.thicknessRange(lengthText(corner.thinnest, unit, 2), withUnit(corner.thickest, unit, 2)),
  ].join('; ');
}

function planText({ plan }: FlatPattern['spec'], words: Words, unit: LengthUnit): string {
  if ('vertices' in plan) {
    const x = plan.vertices.map((vertex) => vertex.x);
    const y = plan.vertices.map((vertex) => vertex.y);
    return words.planPolygon(
      String(plan.vertices.length),
      sizeText(Math.max(...x) - Math.min(...x), Math.max(...y) - Math.min(...y), unit),
    );
  }
  const radii = typeof plan.cornerRadius === 'number' ? [plan.cornerRadius] : [...plan.cornerRadius];
  const decimals = trimmed(plan.length, plan.width);
  return words.planRectangle(
    sizeText(plan.length, plan.width, unit, decimals),
    `${radii.map((radius) => lengthText(radius, unit, trimmed(radius))).join(', ')}${unit === 'mm' ? '\u00a0mm' : ''}`,
  );
}

/** 0 decimals for whole numbers, 1 otherwise. */
const trimmed = (...values: number[]): number => (values.every((value) => Number.isInteger(value)) ? 0 : 1);

/** A number with at most two decimals and no zeros at its end. */
export const short = (value: number): string => String(Number(value.toFixed(2)));
