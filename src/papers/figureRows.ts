/** The figures of a solved tray as rows of a name and a value: for the picture and the card alike. */
import { pathArea, pathBounds } from '../geometry/measure.ts';
import type { Path } from '../geometry/path.ts';
import { joinedNames } from '../pattern/cornerName.ts';
import type { CornerReport, FlatPattern } from '../pattern/flatPattern.ts';
import { cornerLetter } from '../tray/cornerLetter.ts';
import { notchRelief, notchRoots, slotWidth } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';
import { KILOGRAMS_PER_POUND, MILLIMETRES_PER_FOOT } from '../units.ts';
import type { PaperWords } from '../words/english.ts';
import { zoneNames } from './cornerNames.ts';
import { type DataTable, groupedRows } from './dataTable.ts';
import { givenDecimals, type LengthUnit, lengthText, sizeText, withUnit } from './lengths.ts';

export type Row = readonly [name: string, value: string];

/** Tray, sheet and blank. */
export function mainRows({ spec, sheet, report }: FlatPattern, words: PaperWords, unit: LengthUnit): Row[] {
  const { blank, developed } = report;
  const measured = spec.measured === 'outside' ? words.measuredOutside : words.measuredInside;
  const list: Row[] = [
    [words.plan, `${planText(spec, words, unit)}, ${measured}`],
    [words.section, wallText(spec, words, unit)],
    ...rimRows(spec, words, unit),
    [
      words.sheet,
      words.sheetLine(sheet.material.name, withUnit(sheet.thickness, unit, 2), short(report.sheet.grain)),
    ],
    [words.blank, sizeText(blank.length, blank.width, unit)],
    [words.mass, massText(blank, words, unit)],
    [
      words.cutLength,
      unit === 'mm' ? words.metres((blank.cutLength / 1000).toFixed(2)) : withUnit(blank.cutLength, unit, 0),
    ],
    [words.trim, words.trimLine(withUnit(spec.forming.trim, unit))],
    ...notchRows(spec, words, unit),
  ];
  if (developed.alongLength !== null && developed.alongWidth !== null) {
    list.push([
      words.developed,
      words.developedLine(withUnit(developed.alongLength, unit), withUnit(developed.alongWidth, unit)),
    ]);
  }
  return list;
}

/** The hole at the root of notched corners, which the cut line shows. */
export function notchRows(spec: TraySpec, words: PaperWords, unit: LengthUnit): Row[] {
  const roots = notchRoots(spec);
  if (roots.length === 0) return [];
  const corners = words.corner(roots.map(({ corner }) => cornerLetter(corner)).join(', '));
  return [
    [
      words.notches,
      words.notchesLine(corners, withUnit(notchRelief(spec), unit), withUnit(slotWidth(spec), unit)),
    ],
  ];
}

/** What there is to say of each corner; corners that are alike share a row. */
export const cornerRows = (pattern: FlatPattern, words: PaperWords, unit: LengthUnit): Row[] =>
  cornerGroups(pattern, words, (corner, shared) => [cornerText(corner, shared, words, unit)]).map(
    ({ name, cells }): Row => [name, cells[0]!],
  );

/** The same as a table, for several kinds of corners: heads short, so that a corner takes one line. */
export function cornerTable(pattern: FlatPattern, words: PaperWords, unit: LengthUnit): DataTable {
  const { heads } = words.cornerTable;
  const rows = cornerGroups(pattern, words, (corner, shared) => [
    rimText(corner, words.cornerTable, shared, unit),
    words.percent(corner.peakGather.toFixed(0)),
    words.percent(corner.peakStretch.toFixed(0)),
    words.cornerTable.thickness(lengthText(corner.thinnest, unit, 2), lengthText(corner.thickest, unit, 2)),
  ]);
  // Inches carry their mark.
  const thickness = unit === 'mm' ? words.inMillimetres(heads.thickness) : heads.thickness;
  return { heads: [heads.rim, heads.gather, heads.stretch, thickness], rows };
}

/**
 * Rows of corners that are alike. Where corners share a zone, its rim to lose is that of all of them: the row's name says
 * so, or, where its corners differ in something else, `shared` does.
 */
function cornerGroups(
  pattern: FlatPattern,
  words: PaperWords,
  cellsOf: (corner: CornerReport, shared: string | null) => string[],
): DataTable['rows'] {
  const { corners } = pattern.report;
  const zoneOf = ({ index, rimToLoseCorners: zone }: CornerReport): readonly number[] =>
    zone.length > 1 ? zone : [index];
  const alike = (zone: readonly number[]): boolean =>
    new Set(zone.map((index) => cellsOf(corners.find((each) => each.index === index)!, null).join('|')))
      .size === 1;
  return groupedRows(
    corners.map((corner) => {
      const zone = zoneOf(corner);
      const own = zone.length > 1 && !alike(zone) ? [corner.index] : zone;
      const letters = joinedNames(pattern, zone);
      const named = zone.length === corners.length ? words.cornerTable.all : letters;
      const shared = own === zone ? null : named;
      return [cellsOf(corner, shared), own] as const;
    }),
    (zones) =>
      zoneNames(
        pattern,
        zones.filter((zone, i) => i === zones.findIndex((each) => each[0] === zone[0])),
        words,
      ),
  );
}

interface RimWords {
  readonly lose: (length: string) => string;
  readonly gain: (length: string) => string;
  readonly kept: string;
  readonly together: (what: string, corners: string) => string;
}

/** The rim to lose or gain between the marks. */
function rimText(
  { rimToLose }: CornerReport,
  said: RimWords,
  shared: string | null,
  unit: LengthUnit,
): string {
  if (rimToLose === null) return said.kept;
  const change =
    rimToLose >= 0 ? said.lose(withUnit(rimToLose, unit)) : said.gain(withUnit(-rimToLose, unit));
  return shared === null ? change : said.together(change, shared);
}

const cornerText = (
  corner: CornerReport,
  shared: string | null,
  words: PaperWords,
  unit: LengthUnit,
): string =>
  [
    rimText(corner, words.cornerLine, shared, unit),
    words.peaks(corner.peakGather.toFixed(0), corner.peakStretch.toFixed(0)),
    words.thicknessRange(lengthText(corner.thinnest, unit, 2), withUnit(corner.thickest, unit, 2)),
  ].join('; ');

/** A length of the tray file. */
const own = (mm: number, unit: LengthUnit): string => withUnit(mm, unit, givenDecimals(unit, mm));

function wallText({ section }: FlatPattern['spec'], words: PaperWords, unit: LengthUnit): string {
  const heights = section.heights ?? [section.height];
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const height =
    low === high
      ? own(high, unit)
      : words.range(lengthText(low, unit, givenDecimals(unit, low)), own(high, unit));
  const upright = words.sectionLine(height, own(section.bottomRadius, unit));
  return section.draft === 0 ? upright : words.leaning(upright, short(section.draft));
}

/** The lip, where there is one. */
function rimRows({ section: { rim } }: FlatPattern['spec'], words: PaperWords, unit: LengthUnit): Row[] {
  if (rim.kind === 'plain') return [];
  const said = rim.direction === 'out' ? words.lipOut : words.lipIn;
  return [[words.rim, said(own(rim.width, unit), own(rim.bendRadius, unit))]];
}

function planText({ plan }: FlatPattern['spec'], words: PaperWords, unit: LengthUnit): string {
  if ('vertices' in plan) {
    const path: Path = {
      vertices: plan.vertices.map(({ x, y, bulge = 0 }) => ({ x, y, bulge })),
      closed: true,
    };
    const box = pathBounds(path);
    const [length, width] = [box.maxX - box.minX, box.maxY - box.minY];
    const circle = (Math.PI / 4) * length * width;
    if (Math.abs(length - width) < 1e-6 * length && Math.abs(pathArea(path) - circle) < 1e-6 * circle)
      return words.planRound(own(length, unit));
    const radii = [...new Set(plan.vertices.map(({ radius }) => radius))].filter((radius) => radius > 0);
    const size = sizeText(length, width, unit, givenDecimals(unit, length, width));
    const corners = String(plan.vertices.filter(({ radius }) => radius > 0).length);
    return radii.length === 0 ? size : words.planPolygon(corners, size, list(radii, unit));
  }
  const radii = typeof plan.cornerRadius === 'number' ? [plan.cornerRadius] : [...plan.cornerRadius];
  const size = sizeText(plan.length, plan.width, unit, givenDecimals(unit, plan.length, plan.width));
  return words.planRectangle(size, list(radii, unit));
}

/** Lengths with the unit once. */
const list = (lengths: readonly number[], unit: LengthUnit): string =>
  `${lengths.map((length) => lengthText(length, unit, givenDecimals(unit, length))).join(', ')}${unit === 'mm' ? '\u00a0mm' : ''}`;

/** A number with at most two decimals and no zeros at its end. */
export const short = (value: number): string => String(Number(value.toFixed(2)));

function massText(
  { mass, area }: FlatPattern['report']['blank'],
  words: PaperWords,
  unit: LengthUnit,
): string {
  const short = (value: number): string => value.toFixed(value < 10 ? 2 : 1);
  if (unit === 'mm') return words.massLine(short(mass), (area / 1e6).toFixed(3));
  return words.massLineInches(
    short(mass / KILOGRAMS_PER_POUND),
    (area / MILLIMETRES_PER_FOOT ** 2).toFixed(2),
  );
}
