/**
 * Rows of a CSV file: the header names dotted keys of the tray file, every further line is one tray.
 *
 * Separator comma, semicolon or tab, whichever the header uses; UTF-8 with or without byte order mark; quoted
 * cells by RFC 4180; blank lines and lines that begin with # are left out. Where the separator is not the comma,
 * a decimal comma is understood. A size may name its unit (`12 in`, `1 1/4"`, `18 ga`). An empty cell leaves the base tray's value, or the tray file's default.
 */
import { CsvError, type Info, parse } from 'csv-parse/sync';
import { type Fault, GatherpanError } from '../errors.ts';
import { listSheets } from '../material/sheets.ts';
import { readTray } from '../tray/readTray.ts';
import { MOST_FAULTS, shown } from '../tray/sentences.ts';
import type { TraySpec } from '../tray/spec.ts';
import { readSizes, type TrayObject, unitsOf } from '../tray/writtenTray.ts';
import { words } from '../words/language.ts';
import { type BadRow, type BatchRow, MOST_QUANTITY, MOST_ROWS, type PlanDrawing } from './rows.ts';
import { cellKinds, faultPath, nearestKey } from './trayKeys.ts';
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

/** A row as its cells say, not yet read as a tray. Plain data. */
export interface RowSource {
  /** As in `BatchRow`. */
  readonly row: number;
  readonly place: string;
  readonly line: number;
  /** What the cells say, in the shape of a tray file. */
  readonly cells: PlainObject;
  /** The name for a row that gives none. */
  readonly fallback: string;
  readonly quantity: number;
  readonly columns: readonly Column[];
}

/**
 * @param text the whole file
 * @param base tray file with what the rows share, not yet checked; not changed
 * @param stem what trays without a name are called, followed by a hyphen and the number of their row
 * @param drawing reads the drawing that a plan is taken from; drawings are refused without it
 * @throws GatherpanError BAD_INPUT when the file as a whole cannot be used: no header, an unknown or repeated
 *   column, no rows; TOO_LARGE
 */
export function csvRows(
  text: string,
  base: PlainObject,
  stem: string,
  drawing: PlanDrawing = {},
): BatchRow[] {
  return csvSources(text, stem).map((source) => ('cells' in source ? rowOf(source, base, drawing) : source));
}

/**
 * The rows of a file as their cells say, and those of which cells cannot be read.
 *
 * @param most rows that are accepted: counted before any is read
 * @throws GatherpanError as `csvRows`
 */
export function csvSources(text: string, stem: string, most: number = MOST_ROWS): (RowSource | BadRow)[] {
  const separator = separatorOf(text);
  const [header, ...records] = csvRecords(text, separator);
  if (header === undefined) {
    throw new GatherpanError('BAD_INPUT', words().messages.batch.csv.empty);
  }
  const columns = columnsOf(header);
  if (records.length === 0) {
    throw new GatherpanError('BAD_INPUT', words().messages.batch.csv.noRows);
  }
  if (records.length > most) {
    throw new GatherpanError(
      'TOO_LARGE',
      words().messages.batch.csv.tooManyRows(String(records.length), String(most)),
    );
  }
  return records.map((record, position) => sourceOf(record, position + 1, columns, separator, stem));
}

/**
 * The tray that cells say, laid over what the rows share.
 *
 * @throws GatherpanError as `readTray`
 */
export function trayOfCells(
  { cells, fallback }: Pick<RowSource, 'cells' | 'fallback'>,
  base: PlainObject,
  drawing: PlanDrawing = {},
): TraySpec {
  const { name: _shared, ...shared } = base;
  const whole = overlay(shared, cells) as { readonly sheet?: { readonly material?: unknown } };
  const metal = listSheets().find(({ name }) => name === whole.sheet?.material);
  const read = readSizes(cells, unitsOf(whole as TrayObject), metal, (text) => WRITTEN.test(text));
  return readTray(overlay(shared, read), { name: fallback, ...drawing });
}

/** A row's tray, or why there is none, in terms of its line and columns. */
export function rowOf(source: RowSource, base: PlainObject, drawing: PlanDrawing = {}): BatchRow {
  const { row, place, line, cells, fallback, quantity, columns } = source;
  try {
    return { row, place, spec: trayOfCells(source, base, drawing), quantity };
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    const name = typeof cells.name === 'string' ? cells.name : fallback;
    return { row, place, name, error: atColumns(error, line, columns) };
  }
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
    const said = words().messages.batch.csv;
    const reason = quoteFault(error.code) ?? words().messages.batch.otherReason(error.code);
    throw new GatherpanError(
      'BAD_INPUT',
      typeof error.lines === 'number'
        ? said.unreadableNear(String(error.lines), reason)
        : said.unreadable(reason),
    );
  }
}

/** The parser's own sentences quote cells whole, and are in English only. */
function quoteFault(code: string): string | undefined {
  const said = words().messages.batch.csv;
  switch (code) {
    case 'CSV_QUOTE_NOT_CLOSED':
      return said.quoteNotClosed;
    case 'INVALID_OPENING_QUOTE':
      return said.quoteWithin;
    case 'CSV_INVALID_CLOSING_QUOTE':
    case 'CSV_NON_TRIMABLE_CHAR_AFTER_CLOSING_QUOTE':
      return said.behindQuote;
    default:
      return undefined;
  }
}

function columnsOf({ cells, line }: CsvRecord): Column[] {
  const { csv: said, atCell } = words().messages.batch;
  const faults: Fault[] = [];
  const seen = new Map<string, number>();
  const columns = cells.map((cell, i): Column => ({ key: cell.trim(), number: i + 1 }));
  for (const { key, number } of columns) {
    if (faults.length >= MOST_FAULTS) break;
    const fault = (path: string, sentence: string): void => {
      faults.push({ path, message: atCell(String(line), String(number), sentence) });
    };
    if (key === '') {
      fault('', said.noName);
    } else if (key !== QUANTITY && cellKinds(key).size === 0) {
      const near = nearestKey(key, [QUANTITY]);
      fault(
        faultPath(key),
        near === undefined ? said.unknown(shown(key)) : said.unknownNear(shown(key), shown(near)),
      );
    } else if (seen.has(key)) {
      fault(key, said.twice(key, String(seen.get(key))));
    }
    seen.set(key, number);
  }
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);
  return columns;
}

function sourceOf(
  { cells, line }: CsvRecord,
  row: number,
  columns: readonly Column[],
  separator: string,
  stem: string,
): RowSource | BadRow {
  const said = words().messages.batch;
  const place = said.line(String(line));
  const over: PlainObject = {};
  const faults: Fault[] = [];
  let quantity = 1;
  const fault = (column: Column, message: string): void => {
    faults.push({ path: column.key, message: said.atCell(String(line), String(column.number), message) });
  };
  if (cells.length > columns.length) {
    faults.push({
      path: '',
      message: said.atCell(
        String(line),
        String(columns.length + 1),
        said.csv.tooManyCells(String(cells.length), String(columns.length)),
      ),
    });
  }
  for (const column of columns) {
    const text = cells[column.number - 1]?.trim() ?? '';
    if (text === '') continue;
    if (column.key === QUANTITY) {
      quantity = Number(text);
      if (!/^\d+$/.test(text) || quantity < 1 || quantity > MOST_QUANTITY) {
        fault(column, said.quantity(shown(text), String(MOST_QUANTITY)));
      }
      continue;
    }
    setKey(over, column.key, cellValue(text, column.key, separator));
  }
  if (faults.length > 0) {
    const name = typeof over.name === 'string' ? over.name : null;
    return { row, place, name, error: new GatherpanError('BAD_INPUT', faults) };
  }
  return { row, place, line, cells: over, fallback: `${stem}-${row}`, quantity, columns };
}

/** A size with its unit or a fraction. Where commas separate, figures with a comma alone are refused: they may be thousands. */
const WRITTEN = /[^\d.,+\-\s]/;

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
  const said = words().messages.batch;
  return new GatherpanError(
    error.code,
    error.faults.map(({ path, message }) => {
      const column = columnFor(path, columns);
      return {
        path,
        message:
          column === undefined
            ? said.atLine(String(line), message)
            : said.atCell(String(line), String(column.number), message),
      };
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
