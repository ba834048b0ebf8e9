/**
 * The text of a DXF file as records: a group code 0 and the groups that follow it.
 *
 * Read here and not by a package, because a stranger's drawing must neither print anything nor cost more than its
 * size: every line is looked at once, and no count that the file states is believed.
 *
 * Format: DXF Reference, tagged data (a line with a group code, a line with its value).
 */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

/** Size of a drawing, characters. */
export const MAXIMUM_DRAWING_SIZE = 8_000_000;

/** A group code and its value, without spaces around it. */
export type Group = readonly [code: number, value: string];

export interface DxfRecord {
  /** Value of group code 0: SECTION, LINE, … */
  readonly type: string;
  readonly groups: readonly Group[];
}

/** Group code of remarks, which may stand anywhere. */
const REMARK = 999;

/**
 * @throws GatherpanError TOO_LARGE, or BAD_INPUT when the text is not DXF; the sentence goes after the name of
 *   the drawing
 */
export function recordsOf(text: string): DxfRecord[] {
  if (text.length > MAXIMUM_DRAWING_SIZE) {
    throw new GatherpanError(
      'TOO_LARGE',
      words().messages.dxf.tooLarge((text.length / 1e6).toFixed(1), String(MAXIMUM_DRAWING_SIZE / 1e6)),
    );
  }
  const lines = text.split(/\r\n|\r|\n/);
  while (lines.at(-1)?.trim() === '') lines.pop();
  if (lines.length < 4 || lines.length % 2 !== 0) throw notDxf();
  const records: { type: string; groups: Group[] }[] = [];
  for (let i = 0; i < lines.length; i += 2) {
    const code = lines[i]!.trim();
    if (!/^-?\d{1,4}$/.test(code)) throw notDxf();
    const value = lines[i + 1]!.trim();
    if (Number(code) === REMARK) continue;
    if (Number(code) === 0) records.push({ type: value, groups: [] });
    else if (records.length === 0) throw notDxf();
    else records.at(-1)!.groups.push([Number(code), value]);
  }
  if (records[0]?.type !== 'SECTION' || records.at(-1)!.type !== 'EOF') throw notDxf();
  return records;
}

export const notDxf = (): GatherpanError => new GatherpanError('BAD_INPUT', words().messages.dxf.notDxf);

const unsound = (): GatherpanError => new GatherpanError('BAD_INPUT', words().messages.dxf.unsound);

/** The first value of a group code, or undefined. */
export const textOf = ({ groups }: DxfRecord, code: number): string | undefined =>
  groups.find((group) => group[0] === code)?.[1];

/** Farther out than this, in the drawing's units, a coordinate is no longer a place. */
const FARTHEST = 1e12;

/** @throws GatherpanError BAD_INPUT when the value is no number that can be reckoned with */
export function numberFrom(value: string): number {
  const number = Number(value);
  if (value === '' || !(Math.abs(number) <= FARTHEST)) throw unsound();
  return number;
}

/**
 * The first value of a group code as a number.
 *
 * @param otherwise where the group is left out; without it the group is needed
 * @throws GatherpanError BAD_INPUT when it is no number, or is needed and not there
 */
export function numberOf(record: DxfRecord, code: number, otherwise?: number): number {
  const value = textOf(record, code);
  if (value !== undefined) return numberFrom(value);
  if (otherwise === undefined) throw unsound();
  return otherwise;
}

/** Every value of a group code, in order. @throws GatherpanError BAD_INPUT when one is no number */
export const numbersOf = ({ groups }: DxfRecord, code: number): number[] =>
  groups.filter((group) => group[0] === code).map((group) => numberFrom(group[1]));

export { unsound };
