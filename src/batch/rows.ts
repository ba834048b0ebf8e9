/** One row of a batch: a tray to make, or why there is none. */
import { GatherpanError } from '../errors.ts';
import { fileKey, fileStem } from '../fileName.ts';
import type { ReadTrayOptions } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';

/** A tray to be made. */
export interface TrayRow {
  /** Number among the rows that hold data, from 1. */
  readonly row: number;
  /** Where it stands, for a person: `line 7` or `row 3`. */
  readonly place: string;
  readonly spec: TraySpec;
  /** How many blanks of it are wanted; only the layout on sheets asks. */
  readonly quantity: number;
}

/** A row that no tray could be read from. */
export interface BadRow {
  readonly row: number;
  readonly place: string;
  /** As far as it is known. */
  readonly name: string | null;
  readonly error: GatherpanError;
}

export type BatchRow = TrayRow | BadRow;

export const isTray = (row: BatchRow): row is TrayRow => 'spec' in row;

/** What reads the drawing that a plan is taken from, and takes what is to know of it; see `readTray`. */
export type PlanDrawing = Pick<ReadTrayOptions, 'planDxf' | 'note'>;

/** Rows of one batch; more is more likely a slip in a range than an order. */
export const MOST_ROWS = 100_000;

/** Blanks of one tray. */
export const MOST_QUANTITY = 10_000;

/**
 * Refuses the whole batch when two rows have one name: their files would overwrite one another's. Capitals
 * make no difference, because some systems do not tell them apart in file names.
 *
 * @throws GatherpanError BAD_INPUT with one fault for every name that is there more than once
 */
export function refuseDuplicates(rows: readonly BatchRow[]): void {
  const owners = new Map<string, TrayRow[]>();
  for (const row of rows.filter(isTray)) {
    const key = fileKey(fileStem(row.spec.name));
    const others = owners.get(key);
    if (others === undefined) owners.set(key, [row]);
    else others.push(row);
  }
  const faults = [...owners.values()]
    .filter((same) => same.length > 1)
    .map((same) => ({
      path: 'name',
      message: words().messages.batch.nameTwice(JSON.stringify(same[0]!.spec.name), places(same)),
    }));
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults.slice(0, 20));
}

function places(rows: readonly TrayRow[]): string {
  const shown = rows.slice(0, 5).map((row) => row.place);
  const list = shown.join(', ');
  return rows.length > 5 ? words().messages.batch.andMore(list, String(rows.length - 5)) : list;
}
