/**
 * The group codes and values of a drawing: put into the order that the DXF Reference gives, and written out.
 *
 * A DXF file is a list of pairs, a group code and a value, each on a line of its own. A pair with code 0
 * begins a record (an entity, a table entry, a section mark).
 */

import type { Bounds } from '../../geometry/measure.ts';

/** A group code and its value. */
export interface Tag {
  readonly code: number;
  readonly value: number | string;
}

/** Group codes of the part every entity has (layer, line type, colour, line weight). */
const COMMON_CODES: ReadonlySet<number> = new Set([8, 6, 62, 370]);

/** Room left around the part when a reader first shows it. */
const VIEW_MARGIN = 1.1;

/**
 * Corrects the records of dxf-writer that the DXF Reference would have otherwise.
 *
 * @param lines code, value, code, value, … as the library holds them; not changed
 */
export function tidyTags(lines: readonly (number | string)[], extents: Bounds): Tag[] {
  return recordsOf(lines).flatMap((record) => {
    switch (record[0]!.value) {
      case 'LWPOLYLINE':
      case 'POLYLINE':
      case 'TEXT':
        return commonCodesFirst(record);
      case 'BLOCK':
      case 'ENDBLK':
        return insertAfter(record, (tag) => tag.value === 'AcDbEntity', [{ code: 8, value: '0' }]);
      case 'LAYER':
        // The library points to an object that is not a plot style; 0 is none.
        return record.map((tag) => (tag.code === 390 ? { code: 390, value: '0' } : tag));
      case 'VPORT':
        return showWhole(record, extents);
      default:
        return record;
    }
  });
}

/** Group codes that came after R12: subclass marks, owners, line weights, plot styles, elements of line types. */
const AFTER_R12: ReadonlySet<number> = new Set([100, 330, 370, 390, 74, 281, 280]);

/**
 * The tags of a drawing that only has what R12 (AC1009) knows: no handles, no CLASSES and OBJECTS, no
 * BLOCK_RECORDs, none of the blocks and line types that came later.
 *
 * @param tags with POLYLINEs in place of LWPOLYLINEs; not changed
 */
export function tagsOfR12(tags: readonly Tag[]): Tag[] {
  const kept: Tag[] = [];
  // What is left out runs to the record that ends it.
  let until: string | null = null;
  for (const record of recordsOf(tags.flatMap(({ code, value }) => [code, value]))) {
    const kind = String(record[0]!.value);
    const name = String(record.find(({ code }) => code === 2)?.value ?? '');
    if (until === null) {
      if (kind === 'SECTION' && (name === 'CLASSES' || name === 'OBJECTS')) until = 'ENDSEC';
      else if (kind === 'TABLE' && name === 'BLOCK_RECORD') until = 'ENDTAB';
      else if (kind === 'BLOCK' && name.startsWith('*')) until = 'ENDBLK';
      else if (kind !== 'LTYPE' || !/^By/.test(name))
        kept.push(...(kind === 'SECTION' ? header : plain)(record));
    } else if (kind === until) {
      until = null;
    }
  }
  return kept;
}

/** A record without what came after R12; group 5 is a handle, which R12 can do without. */
const plain = (record: readonly Tag[]): Tag[] =>
  record.filter(({ code }) => code !== 5 && !AFTER_R12.has(code));

/** The header's variables, of which one is the next handle. */
const header = (record: readonly Tag[]): readonly Tag[] =>
  record.filter(({ code, value }) => code !== 5 && value !== '$HANDSEED');

/** The file's text. Every line, also the last one, ends with a line feed. */
export function dxfText(tags: readonly Tag[]): string {
  return tags.map(({ code, value }) => `${code}\n${formatted(code, value)}\n`).join('');
}

function recordsOf(lines: readonly (number | string)[]): Tag[][] {
  const records: Tag[][] = [];
  for (let i = 0; i < lines.length; i += 2) {
    const tag = { code: Number(lines[i]), value: lines[i + 1]! };
    if (tag.code === 0) records.push([]);
    records.at(-1)!.push(tag);
  }
  return records;
}

/** Common groups belong to the subclass AcDbEntity, before the second subclass mark (group 100). */
function commonCodesFirst(record: readonly Tag[]): Tag[] {
  const common = record.filter((tag) => COMMON_CODES.has(tag.code));
  const rest = record.filter((tag) => !COMMON_CODES.has(tag.code));
  return insertAfter(rest, (tag) => tag.value === 'AcDbEntity', common);
}

/** The view of the whole part: height (40) and centre (12, 22). */
function showWhole(record: readonly Tag[], { minX, minY, maxX, maxY }: Bounds): Tag[] {
  const height = Math.max(maxX - minX, maxY - minY) * VIEW_MARGIN;
  return insertAfter(
    record.map((tag) => (tag.code === 40 ? { code: 40, value: height } : tag)),
    (tag) => tag.code === 40,
    [
      { code: 12, value: (minX + maxX) / 2 },
      { code: 22, value: (minY + maxY) / 2 },
    ],
  );
}

function insertAfter(record: readonly Tag[], isMark: (tag: Tag) => boolean, inserted: readonly Tag[]): Tag[] {
  const mark = record.findIndex(isMark);
  return [...record.slice(0, mark + 1), ...inserted, ...record.slice(mark + 1)];
}

/** Reals have a decimal point and never an exponent; everything else is written as it is. */
function formatted(code: number, value: number | string): string {
  if (!isReal(code) || typeof value === 'string') return String(value);
  // 1e-6 mm is a thousandth of what any machine resolves; a bulge acts on the whole chord and gets more.
  const text = value.toFixed(code < 40 ? 6 : 12).replace(/0+$/, '');
  const full = text.endsWith('.') ? `${text}0` : text;
  return full === '-0.0' ? '0.0' : full;
}

/** DXF Reference, group code value types: 10–59, 110–149, 210–239, 460–469, 1010–1059 are reals. */
const isReal = (code: number): boolean =>
  (code >= 10 && code <= 59) ||
  (code >= 110 && code <= 149) ||
  (code >= 210 && code <= 239) ||
  (code >= 460 && code <= 469) ||
  (code >= 1010 && code <= 1059);
