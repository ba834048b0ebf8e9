/** A tray file in which sizes stand as a person wrote them, and its change from one unit to the other. */
import { type EverydayNames, sheetCalled } from '../material/alsoCalled.ts';
import type { Coating, Family } from '../material/families.ts';
import type { Units } from './fields.ts';
import { converted, gaugeFrom, gaugeSystemFor, lengthFrom, lengthsFrom, numberFrom } from './writtenSize.ts';

/** Fields that are lengths, by their paths. A test holds them against the schema. */
const LENGTH =
  /^(plan\.(length|width|cornerRadius|radius|cornerRadius\.\w+|vertices\.\d+\.(x|y|radius))|section\.(bottomRadius|height|heights\..+|runOut|rim\.(bendRadius|width))|holes\.\d+\.(shape\.(diameter|length|width|points\.\d+\.[xy])|place\.(x|y|along|height))|sheet\.thickness|forming\.(trim|weldGap|notchRelief)|cut\.kerf)$/;

/** Fields that are numbers of another kind. */
const NUMBER =
  /^(section\.draft|sheet\.grain|forming\.(hand|spread|zoneThreshold|stages\.\d+)|holes\.\d+\.shape\.angle|plan\.vertices\.\d+\.bulge)$/;

/** The corners of a hole, written as a text. */
const POINTS = /^holes\.\d+\.shape\.points$/;

export const isLengthPath = (path: string): boolean => LENGTH.test(path);

/** Plain data with every leaf put through `change`. */
function leaves(value: unknown, change: (leaf: unknown, path: string) => unknown, path = ''): unknown {
  const at = (key: string): string => (path === '' ? key : `${path}.${key}`);
  if (Array.isArray(value)) return value.map((each, i) => leaves(each, change, at(String(i))));
  if (typeof value !== 'object' || value === null) return change(value, path);
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, leaves(each, change, at(key))]));
}

export type TrayObject = Readonly<Record<string, unknown>>;

export const unitsOf = (tray: TrayObject): Units => (tray.units === 'in' ? 'in' : 'mm');

/** The same tray in another unit. A size that cannot be read stays as it is written. */
export function inUnits(tray: TrayObject, to: Units): TrayObject {
  const from = unitsOf(tray);
  if (from === to) return tray;
  // What is made of it is in the unit of the file again.
  const { units: _, shownIn: _shown, ...rest } = tray;
  const changed = leaves(rest, (leaf, path) => {
    if (typeof leaf === 'string' && POINTS.test(path)) {
      const place = (of: number): number => converted(of, from, to);
      return points(leaf, from)?.map(({ x, y }) => ({ x: place(x), y: place(y) })) ?? leaf;
    }
    if (typeof leaf === 'string' && path === 'plan.cornerRadius')
      return several(lengthsFrom(leaf, from)?.map((each) => converted(each, from, to)) ?? null) ?? leaf;
    if (!isLengthPath(path)) return leaf;
    const length = typeof leaf === 'string' ? lengthFrom(leaf, from) : leaf;
    return typeof length === 'number' ? converted(length, from, to) : leaf;
  }) as TrayObject;
  const { name, ...others } = changed;
  return to === 'mm' ? changed : { ...(name === undefined ? {} : { name }), units: to, ...others };
}

/** What a sheet is counted and found by. */
export interface KnownSheet {
  readonly name: string;
  readonly family: Family;
  readonly coating: Coating;
}

export interface ReadWritten {
  readonly tray: TrayObject;
  /** The sheet that was taken in the place of one that the table has not. */
  readonly near: string | null;
}

/**
 * A tray file, or a part of one, with numbers where sizes stand in words, and a gauge in the system of its metal. What cannot
 * be read stays as it is, for the reader of tray files to refuse.
 *
 * @param tray not changed
 * @param units of lengths that name none
 * @param isSize whether a text is looked at
 */
export function readSizes(
  tray: TrayObject,
  units: Units,
  metal: KnownSheet | undefined,
  isSize: (text: string) => boolean = () => true,
): TrayObject {
  return leaves(tray, (leaf, path) => {
    if (typeof leaf !== 'string' || !isSize(leaf)) return leaf;
    if (path === 'sheet.thickness') return gauge(leaf, metal) ?? lengthFrom(leaf, units) ?? leaf;
    if (path === 'plan.cornerRadius') return several(lengthsFrom(leaf, units)) ?? leaf;
    if (path === 'forming.stages') return numbers(leaf) ?? leaf;
    if (POINTS.test(path)) return points(leaf, units) ?? leaf;
    if (isLengthPath(path)) return lengthFrom(leaf, units) ?? leaf;
    return NUMBER.test(path) ? (numberFrom(leaf) ?? leaf) : leaf;
  }) as TrayObject;
}

/**
 * The tray file that a form means: its sizes read, and a sheet by the name of the table.
 *
 * @param tray its lengths without a unit are in its own units; not changed
 */
export function readWritten(
  tray: TrayObject,
  sheets: readonly KnownSheet[],
  everyday: EverydayNames,
): ReadWritten {
  const { sheet } = tray as { readonly sheet?: { readonly material?: unknown } };
  const called =
    typeof sheet?.material === 'string'
      ? sheetCalled(
          sheet.material,
          sheets.map(({ name }) => name),
          everyday,
        )
      : null;
  const metal = sheets.find(({ name }) => name === called?.name);
  const read = readSizes(tray, unitsOf(tray), metal);
  if (called === null) return { tray: read, near: null };
  const named = { ...read, sheet: { ...(read.sheet as object), material: called.name } };
  return { tray: named, near: called.near ? called.name : null };
}

/** Pairs of lengths, `-15 -10; 15 -10; …`; null where one of them is none. */
function points(text: string, units: Units): readonly { readonly x: number; readonly y: number }[] | null {
  const pairs = text
    .split(/[;\n]/)
    .filter((pair) => pair.trim() !== '')
    .map((pair) => lengthsFrom(pair, units));
  return pairs.length > 0 && pairs.every((pair) => pair?.length === 2)
    ? pairs.map((pair) => ({ x: pair![0]!, y: pair![1]! }))
    : null;
}

/** One value stands for itself. */
const several = (values: readonly number[] | null): number | readonly number[] | null =>
  values?.length === 1 ? values[0]! : values;

const numbers = (text: string): readonly number[] | null => lengthsFrom(text.replaceAll('°', ' '), 'mm');

function gauge(text: string, metal: KnownSheet | undefined): unknown {
  const found = gaugeFrom(text);
  const system = found?.system ?? (metal === undefined ? null : gaugeSystemFor(metal.family, metal.coating));
  return found === null || system === null ? null : { gauge: found.gauge, system };
}
