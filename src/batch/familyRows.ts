/**
 * Rows of a JSON batch file: a list of trays, or a family given by ranges.
 *
 * ```json
 * {
 *   "base": { "section": { "bottomRadius": 22, "height": 40 }, "sheet": { "material": "DC04", "thickness": 1.2 } },
 *   "name": "drip-tray-{plan.length}x{plan.width}",
 *   "ranges": {
 *     "plan.length": { "from": 300, "to": 600, "step": 50 },
 *     "plan.width": [200, 240],
 *     "plan.cornerRadius": [45]
 *   },
 *   "trays": [{ "name": "odd-one", "plan": { "length": 333, "width": 222, "cornerRadius": 45 }, "quantity": 2 }]
 * }
 * ```
 *
 * `trays` come first, then every combination of the ranges, the last range running fastest. A tray's fields may
 * be nested as in a tray file or written as dotted keys.
 */
import * as z from 'zod';
import { type Fault, GatherpanError } from '../errors.ts';
import { numberWanted } from '../tray/fields.ts';
import { jsonFault } from '../tray/jsonFault.ts';
import { readTray } from '../tray/readTray.ts';
import { faultsFromIssues, shown } from '../tray/sentences.ts';
import { words } from '../words/language.ts';
import { type BatchRow, MOST_QUANTITY, MOST_ROWS, type PlanDrawing } from './rows.ts';
import { cellKinds, faultPath, nearestKey } from './trayKeys.ts';
import { isPlainObject, overlay, type PlainObject, setKey } from './trayObject.ts';

const accepted = () => words().messages.batch.family.accepted;

const finite = z.number({ error: numberWanted(() => accepted().number) });

const steps = z.union(
  [
    z.strictObject({
      from: finite,
      to: finite,
      step: finite.positive({ error: () => accepted().numberAboveZero }),
    }),
    z.strictObject({
      from: finite,
      to: finite,
      count: z
        .int({ error: numberWanted(() => accepted().wholeNumber) })
        .min(2, { error: () => accepted().atLeastTwo }),
    }),
    z.array(z.union([z.number(), z.string(), z.boolean()])).min(1, { error: () => accepted().fullList }),
  ],
  { error: () => accepted().steps },
);

const aQuantity = () => accepted().quantity(String(MOST_QUANTITY));
const quantity = z
  .int({ error: numberWanted(aQuantity) })
  .min(1, { error: aQuantity })
  .max(MOST_QUANTITY, { error: aQuantity });

const anObject = z.record(z.string(), z.unknown(), { error: () => accepted().tray });

const familySchema = z.strictObject(
  {
    base: anObject.optional(),
    name: z.string({ error: () => accepted().name }).optional(),
    quantity: quantity.optional(),
    ranges: z.record(z.string(), steps, { error: () => accepted().ranges }).optional(),
    trays: z.array(anObject, { error: () => accepted().trays }).optional(),
  },
  { error: () => accepted().family },
);

type Steps = z.output<typeof steps>;

/**
 * @param text the whole file
 * @param base tray file with what the rows share, laid under the file's own base; not changed
 * @param stem what trays without a name are called, followed by a hyphen and the number of their row
 * @param drawing reads the drawing that a plan is taken from; drawings are refused without it
 * @throws GatherpanError BAD_INPUT when the file as a whole cannot be used; TOO_LARGE
 */
export function familyRows(
  text: string,
  base: PlainObject,
  stem: string,
  drawing: PlanDrawing = {},
): BatchRow[] {
  const said = words().messages.batch;
  const value = parsedJson(text);
  const parsed = familySchema.safeParse(value);
  if (!parsed.success) {
    throw new GatherpanError(
      'BAD_INPUT',
      faultsFromIssues(parsed.error.issues, value, familySchema, said.family.file),
    );
  }
  const file = parsed.data;
  const shared = overlay(base, file.base ?? {}) as PlainObject;
  const combinations = combinationsOf(file.ranges ?? {});
  const listed = file.trays ?? [];
  if (listed.length + combinations.length === 0) {
    throw new GatherpanError('BAD_INPUT', said.family.noTrays);
  }
  if (listed.length + combinations.length > MOST_ROWS) throw tooManyRows(listed.length + combinations.length);
  const template = file.name ?? `${stem}-{row}`;
  return [
    ...listed.map((tray, i) =>
      rowOf(flattened(tray), i + 1, said.row(String(i + 1)), (message) => said.atRow(String(i + 1), message)),
    ),
    ...combinations.map((values, i) => {
      const row = listed.length + i + 1;
      const listing = [...values].map(([key, each]) => `${key} ${String(each)}`).join(', ');
      return rowOf(values, row, said.rowWith(String(row), listing), (message) =>
        said.atRowWith(String(row), listing, message),
      );
    }),
  ];

  /** @param at puts the place before a sentence */
  function rowOf(
    fields: ReadonlyMap<string, unknown>,
    row: number,
    place: string,
    at: (sentence: string) => string,
  ): BatchRow {
    const over: PlainObject = {};
    let wanted: unknown = file.quantity ?? 1;
    for (const [key, each] of fields) {
      if (key === 'quantity') wanted = each;
      else setKey(over, key, each);
    }
    const name = typeof over.name === 'string' ? over.name : named(template, fields, row);
    const count = quantity.safeParse(wanted);
    try {
      if (!count.success) {
        throw new GatherpanError('BAD_INPUT', {
          path: 'quantity',
          message: said.quantity(shown(wanted), String(MOST_QUANTITY)),
        });
      }
      const { name: _shared, ...rest } = shared;
      const spec = readTray(overlay(rest, over), {
        name,
        ...drawing,
      });
      return { row, place, spec, quantity: count.data };
    } catch (error) {
      if (!(error instanceof GatherpanError)) throw error;
      return { row, place, name, error: atPlace(error, at) };
    }
  }
}

function parsedJson(text: string): unknown {
  const json = text.replace(/^\uFEFF/, '');
  try {
    return JSON.parse(json);
  } catch {
    throw new GatherpanError('BAD_INPUT', words().messages.batch.family.notJson(jsonFault(json)));
  }
}

const tooManyRows = (count: number): GatherpanError =>
  new GatherpanError(
    'TOO_LARGE',
    words().messages.batch.family.tooManyTrays(String(count), String(MOST_ROWS)),
  );

const atPlace = (error: GatherpanError, at: (sentence: string) => string): GatherpanError =>
  new GatherpanError(
    error.code,
    error.faults.map(({ path, message }) => ({ path, message: at(message) })),
  );

/** A tray's fields with dotted keys at the top, whatever of them was nested; lists stay whole. */
function flattened(tray: PlainObject): Map<string, unknown> {
  const fields = new Map<string, unknown>();
  const visit = (value: PlainObject, path: string): void => {
    for (const [key, each] of Object.entries(value)) {
      const full = path === '' ? key : `${path}.${key}`;
      if (isPlainObject(each)) visit(each, full);
      else fields.set(full, each);
    }
  };
  visit(tray, '');
  return fields;
}

/** The template with the values of the keys in braces. */
const named = (template: string, fields: ReadonlyMap<string, unknown>, row: number): string =>
  template.replace(/\{([^{}]*)\}/g, (whole, key: string) => {
    const value = key === 'row' ? row : fields.get(key);
    return value === undefined ? whole : String(value);
  });

function combinationsOf(ranges: Readonly<Record<string, Steps>>): ReadonlyMap<string, unknown>[] {
  const said = words().messages.batch.family;
  const faults: Fault[] = [];
  for (const key of Object.keys(ranges)) {
    if (key === 'quantity' || cellKinds(key).size > 0) continue;
    const near = nearestKey(key);
    faults.push({
      path: `ranges.${faultPath(key)}`,
      message: near === undefined ? said.unknown(shown(key)) : said.unknownNear(shown(key), shown(near)),
    });
  }
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults.slice(0, 20));
  const entries = Object.entries(ranges);
  if (entries.length === 0) return [];
  const lists = entries.map(([key, range]) => [key, valuesOf(key, range)] as const);
  const count = lists.reduce((product, [, values]) => product * values.length, 1);
  if (count > MOST_ROWS) throw tooManyRows(count);
  const combinations: Map<string, unknown>[] = [];
  for (let number = 0; number < count; number++) {
    const values = new Map<string, unknown>();
    let rest = number;
    for (const [key, list] of [...lists].reverse()) {
      values.set(key, list[rest % list.length]);
      rest = Math.floor(rest / list.length);
    }
    combinations.push(new Map([...values].reverse()));
  }
  return combinations;
}

function valuesOf(key: string, range: Steps): readonly unknown[] {
  if (Array.isArray(range)) return range;
  const { from, to } = range as { from: number; to: number };
  const span = to - from;
  const step = 'step' in range ? range.step : span / (range.count - 1);
  if (span < 0 && 'step' in range) {
    throw new GatherpanError('BAD_INPUT', {
      path: `ranges.${key}`,
      message: words().messages.batch.family.downwards(key, String(from), String(to)),
    });
  }
  const count = 'step' in range ? Math.floor(span / step + 1e-9) + 1 : range.count;
  if (count > MOST_ROWS) throw tooManyRows(count);
  // 0.1 + 2 · 0.1 is not 0.3: to nine decimals it is, and that is far below what anybody can make.
  return Array.from({ length: count }, (_, i) => Number((from + i * step).toFixed(9)));
}
