/**
 * Other names of the sheets: grade numbers here, everyday names in the table of words. Some mean the very sheet; others
 * mean one that is like it, and whoever takes that says so.
 *
 * Grades that are put beside each other: from memory, as suppliers' lists of equivalents have them.
 */

/** Numbers and short names of the same sheet, by its name; of one alloy that the table has in one temper, the bare number. */
const SAME: Readonly<Record<string, readonly string[]>> = {
  DC01: ['1.0330', 'St12', 'FeP01'],
  DC04: ['1.0338', 'St14', 'FeP04'],
  DC06: ['1.0873', 'FeP06'],
  'DX51D+Z': ['DX51D', '1.0226'],
  '1.4301': ['304', 'AISI 304', 'UNS S30400', 'S30400', 'X5CrNi18-10', 'SUS304'],
  '1050A-O': ['1050A', 'A91050'],
  '1050A-H14': ['1050A H14', '1050 H14'],
  '3003-O': ['3003', 'UNS A93003', 'A93003', 'AlMn1Cu'],
  '5052-O': ['5052', 'UNS A95052', 'A95052', 'AlMg2.5'],
  '5754-O': ['5754', '5754-H111', 'UNS A95754', 'A95754', 'AlMg3'],
  '6061-O': ['6061', 'UNS A96061', 'A96061'],
  'Cu-ETP-R220': ['Cu-ETP', 'Cu-ETP soft', 'CW004A', 'C110', 'C11000', 'UNS C11000'],
  'CuZn37-R300': ['CuZn37', 'CuZn37 soft', 'CW508L'],
};

/** Sheets that are not in the table, by the one that comes nearest: another grade, or the same one harder. */
const NEAR: Readonly<Record<string, readonly string[]>> = {
  DC01: ['1008', '1010', 'AISI 1008', 'AISI 1010', 'UNS G10080', 'A1008', 'A1008 CS', 'SPCC', 'CR4', 'DC02'],
  DC04: ['DC03', 'DC05', 'A1008 DS', 'A1008 DDS', 'SPCD', 'SPCE', 'CR1', 'CR2'],
  DC06: ['DC07', 'A1008 EDDS', 'SPCG'],
  'DX51D+Z': ['DX52D', 'DX52D+Z', 'DX53D+Z', 'A653', 'G60', 'G90', 'SGCC'],
  '1.4301': ['304L', '1.4307', '316', '316L', '1.4401', '1.4404', '18/8', '18/10', '321', '1.4541', 'A2'],
  '1050A-O': ['1050', 'AA1050', '1100', '1100-O', '1200', '1060', 'A91100'],
  '1050A-H14': ['1100-H14', '1050A-H24', '1200-H14'],
  '3003-O': ['3003-H14', '3003-H12', '3103', '3004'],
  '5052-O': ['5052-H32', '5052-H34', '5251', '5251-H22', '5005', '5005-H34'],
  '5754-O': ['5754-H22', '5754-H24', '5083', '5083-O', '5154'],
  '6061-O': ['6061-T6', '6061-T4', '6082', '6082-T6'],
  'Cu-ETP-R220': ['Cu-ETP-R240', 'Cu-ETP-R250', 'Cu-DHP', 'CW024A', 'C122', 'C12200', 'CW008A'],
  'CuZn37-R300': [
    'CuZn30',
    'CuZn36',
    'CuZn33',
    'CW505L',
    'CW507L',
    'C260',
    'C26000',
    'C272',
    'C27200',
    'C268',
    '260',
  ],
};

/** Everyday names by the sheet's name, of a language, with commas between them. */
export type EverydayNames = Readonly<Record<string, string>>;

/** A sheet that is meant by a name. */
export interface Called {
  readonly name: string;
  /** Not the same sheet: the nearest that there is. */
  readonly near: boolean;
}

/** Capitals, spaces, hyphens, dots and a leading "EN AW-" or "AA" do not matter. */
export const sheetKey = (name: string): string =>
  name
    .toUpperCase()
    .replace(/[^\p{L}\p{N}]/gu, '')
    .replace(/^(ENAW|EN|AW|AA)(?=\d)/, '')
    .replace(/^(DX51DZ)\d+.*$/, '$1'); // DX51D+Z275: the mass of zinc does not change the steel

/** Longest name that is looked up. */
const LONGEST = 160;

/** @returns the sheet of the table that the name means, or null */
export function sheetCalled(name: string, names: readonly string[], everyday: EverydayNames): Called | null {
  const wanted = sheetKey(name.slice(0, LONGEST));
  if (wanted === '') return null;
  const by = (others: (name: string) => readonly string[] | undefined): string | undefined =>
    names.find((each) => others(each)?.some((other) => sheetKey(other) === wanted));
  const exact = names.find((each) => sheetKey(each) === wanted) ?? by((each) => SAME[each]);
  if (exact !== undefined) return { name: exact, near: false };
  const near = by((each) => NEAR[each]) ?? by((each) => everyday[each]?.split(','));
  return near === undefined ? null : { name: near, near: true };
}
