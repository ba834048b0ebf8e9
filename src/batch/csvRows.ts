/**
 * Rows of a CSV file: the header names dotted keys of the tray file, every further line is one tray.
 *
 * Separator comma, semicolon or tab, whichever the header uses; UTF-8 with or without byte order mark; quoted
 * cells by RFC 4180; blank lines and lines that begin with # are left out. Where the separator is not the comma,
 * a decimal comma is understood. An empty cell leaves the base tray's value, or the tray file's default.
 */
import { CsvError, type Info, parse } from 'csv-parse/sync';
import { type Fault, GatherpanError } from '../errors.ts';
import { readTray } from '../tray/readTray.ts';
import { type BatchRow, MOST_QUANTITY, MOST_ROWS, type PlanDrawing } from './rows.ts';
import { cellKinds, nearestKey } from './trayKeys.ts';
import { overlay, type PlainObject, setKey } from './trayObject.ts';

/** A column beside those of the tray file. */
const QUANTITY = 'quantity';

interface CsvRecord {
  readonly cells: readonly string[];
  /** Line on which the record begins, from 1. */
  readonly line: number;
}

interface Column {
  readonly key: string;
  /** From 1. */
  readonly number: number;
}

/**
 * @param text the whole file
 * @param base tray file with what the rows share, not yet checked; not changed
 * @param stem what trays without a name are called, followed by a hyphen and the number of their row
 * @param planDxf reads the drawing that a plan is taken from; drawings are refused without it
 * @throws GatherpanError BAD_INPUT when the file as a whole cannot be used: no header, an unknown or repeated
 *   column, no rows; TOO_LARGE
 */
export function csvRows(text: string, base: PlainObject, stem: string, planDxf?: PlanDrawing): BatchRow[] {
  const separator = separatorOf(text);
  const [header, ...records] = csvRecords(text, separator);
  if (header === undefined) {
    throw new GatherpanError(
      'BAD_INPUT',
      'The CSV file is empty; give a header with the names of tray fields.',
    );
  }
  const columns = columnsOf(header);
  if (records.length === 0) {
    throw new GatherpanError('BAD_INPUT', 'The CSV file has a header but no rows; give one tray a line.');
  }
  if (records.length > MOST_ROWS) {
    throw new GatherpanError(
      'TOO_LARGE',
      `The CSV file has ${records.length} rows; at most ${MOST_ROWS} are accepted.`,
    );
  }
  return records.map((record, position) =>
    rowOf(record, position + 1, columns, separator, base, stem, planDxf),
  );
}

/** The separator with which the header splits into the most cells. */
function separatorOf(text: string): string {
  const header = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .find((line) => line.trim() !== '' && !line.startsWith('#'));
  const unquoted = (header ?? '').replace(/"[^"]*"/g, '');
  const count = (separator: string): number => unquoted.split(separator).length;
  return [',', ';', '\t'].reduce((best, each) => (count(each) > count(best) ? each : best));
}

function csvRecords(text: string, separator: string): CsvRecord[] {
  try {
    const found = parse(text, {
      bom: true,
      delimiter: separator,
      comment: '#',
      comment_no_infix: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
      relax_column_count: true,
      info: true,
      trim: true,
    }) as unknown as { record: string[]; info: Info }[];
    // The parser tells the line on which a record ends; cells in quotation marks may hold line ends.
    return found.map(({ record, info }) => ({
      cells: record,
      line: info.lines - record.reduce((sum, cell) => sum + (cell.match(/\r\n|\n|\r/g)?.length ?? 0), 0),
    }));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? ` near line ${error.lines}` : '';
    const reason = error.code === 'CSV_QUOTE_NOT_CLOSED' ? 'a quotation mark is not closed' : error.message;
    throw new GatherpanError('BAD_INPUT', `The CSV file cannot be read${line}: ${reason}.`);
  }
}

function columnsOf({ cells, line }: CsvRecord): Column[] {
  const faults: Fault[] = [];
  const seen = new Map<string, number>();
  const columns = cells.map((cell, i): Column => ({ key: cell.trim(), number: i + 1 }));
  for (const { key, number } of columns) {
    const where = `Line ${line}, column ${number}`;
    if (key === '') {
      faults.push({ path: '', message: `${where}: the header has no name; give a dotted tray key.` });
    } else if (key !== QUANTITY && cellKinds(key).size === 0) {
      const near = nearestKey(key, [QUANTITY]);
      const hint = near === undefined ? '.' : `; did you mean ${JSON.stringify(near)}?`;
      faults.push({
        path: key,
        message: `${where}: ${JSON.stringify(key)} is not a field of the tray file${hint}`,
      });
    } else if (seen.has(key)) {
      faults.push({ path: key, message: `${where}: ${key} is also column ${seen.get(key)}; give it once.` });
    }
    seen.set(key, number);
  }
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults.slice(0, 20));
  return columns;
}

function rowOf(
  { cells, line }: CsvRecord,
  row: number,
  columns: readonly Column[],
  separator: string,
  base: PlainObject,
  stem: string,
  planDxf: PlanDrawing | undefined,
): BatchRow {
  const place = `line ${line}`;
  const over: PlainObject = {};
  const faults: Fault[] = [];
  let quantity = 1;
  const fault = (column: Column, message: string): void => {
    faults.push({ path: column.key, message: `Line ${line}, column ${column.number}: ${message}` });
  };
  if (cells.length > columns.length) {
    faults.push({
      path: '',
      message: `Line ${line}, column ${columns.length + 1}: the line has ${cells.length} cells and the header ${columns.length}; give as many, a cell with the separator in it in quotation marks.`,
    });
  }
  for (const column of columns) {
    const text = cells[column.number - 1]?.trim() ?? '';
    if (text === '') continue;
    if (column.key === QUANTITY) {
      quantity = Number(text);
      if (!/^\d+$/.test(text) || quantity < 1 || quantity > MOST_QUANTITY) {
        fault(column, `quantity is ${JSON.stringify(text)}; give a whole number from 1 to ${MOST_QUANTITY}.`);
      }
      continue;
    }
    setKey(over, column.key, cellValue(text, column.key, separator));
  }
  const fallback = `${stem}-${row}`;
  const given = typeof over.name === 'string' ? over.name : null;
  if (faults.length > 0) return { row, place, name: given, error: new GatherpanError('BAD_INPUT', faults) };
  try {
    const { name: _shared, ...shared } = base;
    const spec = readTray(overlay(shared, over), {
      name: fallback,
      ...(planDxf === undefined ? {} : { planDxf }),
    });
    return { row, place, spec, quantity };
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    return { row, place, name: given ?? fallback, error: atColumns(error, line, columns) };
  }
}

/** The cell as the tray file would have it; what does not read as a number stays text, for the reader to refuse. */
function cellValue(text: string, key: string, separator: string): unknown {
  const kinds = cellKinds(key);
  if (kinds.has('number')) {
    const point = separator === ',' ? text : text.replace(/^([+-]?\d*),(\d+)$/, '$1.$2');
    if (/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(point)) return Number(point);
  }
  if (kinds.has('boolean') && /^(true|false)$/i.test(text)) return text.toLowerCase() === 'true';
  return text;
}

/** Every fault led by its line, and by its column when the field stands in one. */
function atColumns(error: GatherpanError, line: number, columns: readonly Column[]): GatherpanError {
  return new GatherpanError(
    error.code,
    error.faults.map((fault) => {
      const column = columnFor(fault.path, columns);
      const where = column === undefined ? `Line ${line}` : `Line ${line}, column ${column.number}`;
      return { path: fault.path, message: `${where}: ${fault.message}` };
    }),
  );
}

/** The column of a field, of a list it lies in, or of its first part. */
function columnFor(path: string, columns: readonly Column[]): Column | undefined {
  return (
    columns.find(({ key }) => key === path) ??
    columns.find(({ key }) => path !== '' && (path.startsWith(`${key}.`) || key.startsWith(`${path}.`)))
  );
}
