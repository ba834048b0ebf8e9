/** The options of a layout on stock sheets, which `layout` and `batch` share. */
import type { Command } from 'commander';
import { MOST_QUANTITY, type TrayRow } from '../batch/rows.ts';
import { GatherpanError } from '../errors.ts';
import { DXF_VERSIONS, SHEET_MARKS } from '../exporters/dxf/choices.ts';
import { listed } from '../exporters/parameters.ts';
import type { CostRates } from '../layout/cost.ts';
import { refuseBlocksInR12 } from '../layout/partDrawing.ts';
import type { SheetOrder } from '../layout/sheetFiles.ts';
import type { TraySpec } from '../tray/spec.ts';
import { lengthFrom } from '../tray/writtenSize.ts';
import { words } from '../words/language.ts';

/** As typed. */
export interface SheetOptions {
  readonly sheet?: string;
  readonly quantity?: readonly string[];
  readonly spacing?: string;
  readonly edge?: string;
  readonly grain?: string;
  readonly parts?: string;
  readonly marks?: string;
  readonly dxfVersion?: string;
  readonly effort?: string;
  readonly rateMetre?: string;
  readonly ratePierce?: string;
  readonly rateKg?: string;
}

/** Every option but the sheet itself: key and what is typed. */
const OTHERS = [
  ['quantity', '--quantity'],
  ['spacing', '--spacing'],
  ['edge', '--edge'],
  ['grain', '--grain'],
  ['parts', '--parts'],
  ['marks', '--marks'],
  ['dxfVersion', '--dxf-version'],
  ['effort', '--effort'],
  ['rateMetre', '--rate-metre'],
  ['ratePierce', '--rate-pierce'],
  ['rateKg', '--rate-kg'],
] as const;

/** Gathers an option that may be given more than once. */
export const collect = (value: string, previous: readonly string[] = []): readonly string[] => [
  ...previous,
  value,
];

/** Adds all of them but `--sheet`, which one command asks for and the other does not. */
export function addSheetOptions(command: Command): Command {
  const { options: said, values } = words().command.help;
  return command
    .option(`--quantity <${values.nameAndNumber}>`, said.quantity, collect)
    .option('--spacing <mm>', said.spacing)
    .option('--edge <mm>', said.edge)
    .option('--grain <along|free>', said.along)
    .option('--parts <copy|block>', said.parts)
    .option(`--marks <${values.list}>`, said.sheetMarks)
    .option(`--dxf-version <${DXF_VERSIONS.join('|')}>`, said.dxfVersion)
    .option(`--effort <${values.number}>`, said.effort)
    .option(`--rate-metre <${values.amount}>`, said.rateMetre)
    .option(`--rate-pierce <${values.amount}>`, said.ratePierce)
    .option(`--rate-kg <${values.amount}>`, said.rateKg);
}

/**
 * What is to be laid out how, or null when no sheet was given.
 *
 * @throws GatherpanError BAD_INPUT for a value that is none, and for an option that is of no use without a sheet
 */
export function sheetOrder(options: SheetOptions): SheetOrder | null {
  if (options.sheet === undefined) {
    const idle = OTHERS.find(([key]) => options[key] !== undefined);
    if (idle === undefined) return null;
    throw new GatherpanError('BAD_INPUT', words().messages.cli.withoutSheet(idle[1]));
  }
  const drawing = oneOf('--parts', options.parts ?? 'copy', ['copy', 'block']);
  const version = oneOf('--dxf-version', options.dxfVersion ?? DXF_VERSIONS[0], DXF_VERSIONS);
  refuseBlocksInR12(drawing, version);
  return {
    stock: {
      ...sizeOf(options.sheet),
      spacing: amount('--spacing', options.spacing ?? '5', 0, 1000),
      edge: amount('--edge', options.edge ?? '10', 0, 1000),
    },
    grain: oneOf('--grain', options.grain ?? 'along', ['along', 'free']),
    drawing,
    marks: listed(options.marks ?? '').map((mark) => oneOf('--marks', mark, SHEET_MARKS)),
    version,
    effort: amount('--effort', options.effort ?? '1', 0, 10),
    rates: ratesOf(options),
  };
}

/** Length, width and their unit. */
const SIZE = /^(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*(mm|in|ft)?$/i;

/** The unit in which a layout is told: that of its sheets. */
export function shownBySheet({ sheet = '' }: SheetOptions): Pick<TraySpec, 'shownIn'> {
  const [, , , unit = 'mm'] = SIZE.exec(sheet.trim()) ?? [];
  return unit.toLowerCase() === 'mm' ? {} : { shownIn: 'in' };
}

function sizeOf(sheet: string): { length: number; width: number } {
  const [, along = '', across = '', unit = ''] = SIZE.exec(sheet.trim()) ?? [];
  const inMillimetres = (size: string): number => lengthFrom(`${size} ${unit}`, 'mm') ?? Number.NaN;
  const [length, width] = [inMillimetres(along), inMillimetres(across)];
  if (length >= 50 && length <= 20_000 && width >= 50 && width <= 20_000) return { length, width };
  throw new GatherpanError('BAD_INPUT', words().messages.cli.sheetSize(JSON.stringify(sheet)));
}

function ratesOf({ rateMetre, ratePierce, rateKg }: SheetOptions): CostRates {
  return {
    ...(rateMetre === undefined ? {} : { metre: amount('--rate-metre', rateMetre, 0, 1e9) }),
    ...(ratePierce === undefined ? {} : { pierce: amount('--rate-pierce', ratePierce, 0, 1e9) }),
    ...(rateKg === undefined ? {} : { kg: amount('--rate-kg', rateKg, 0, 1e9) }),
  };
}

/**
 * The quantities of `--quantity` in place of those of the rows.
 *
 * @throws GatherpanError BAD_INPUT for a text that is no quantity, NOT_FOUND for a name that no tray has
 */
export function quantities(
  trays: readonly TrayRow[],
  texts: readonly string[] = [],
): (tray: TrayRow) => number {
  const given = new Map<string, number>();
  for (const text of texts) {
    const match = /^([^=]+)=(\d{1,6})$/.exec(text);
    const number = Number(match?.[2]);
    if (match === null || number < 1 || number > MOST_QUANTITY) {
      throw new GatherpanError(
        'BAD_INPUT',
        words().messages.cli.noQuantity(JSON.stringify(text), String(MOST_QUANTITY)),
      );
    }
    const name = match[1]!;
    if (!trays.some((tray) => tray.spec.name === name)) {
      throw new GatherpanError('NOT_FOUND', words().messages.cli.quantityOfNone(JSON.stringify(name)));
    }
    given.set(name, number);
  }
  return (tray) => given.get(tray.spec.name) ?? tray.quantity;
}

function amount(option: string, text: string, least: number, most: number): number {
  const value = /^(\d+\.?\d*|\.\d+)$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return value;
  throw new GatherpanError(
    'BAD_INPUT',
    words().messages.cli.number(option, JSON.stringify(text), String(least), String(most)),
  );
}

function oneOf<const T extends string>(option: string, text: string, values: readonly T[]): T {
  const found = values.find((value) => value === text);
  if (found !== undefined) return found;
  throw new GatherpanError(
    'BAD_INPUT',
    words().messages.cli.oneOf(option, JSON.stringify(text), values.join(', ')),
  );
}
