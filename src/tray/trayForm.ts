/**
 * The fields of the form and the tray file they stand for. A field holds what a person typed, as it was typed; what the
 * form has no field for (corner points, holes) stays as it came.
 */
import { lengthsFrom } from './writtenSize.ts';
import { type TrayObject, unitsOf } from './writtenTray.ts';

/** What stands in a field: a text, or whether a box is ticked. */
export type FieldValue = string | boolean;

type Mutable = Record<string, unknown>;

const SIDES = ['top', 'left', 'bottom', 'right'];
/** Boxes with a name in common, each with its value: sides that are open. */
const OPEN = 'plan.open';
const ONE_CORNER = /^plan\.cornerRadius\.([0-3])$/;
const BOXES: readonly string[] = ['cut.compensate', OPEN];

/** Whether a field is a box, or one of several, that is posted only when it is ticked. */
export const isBox = (name: string): boolean => BOXES.includes(name);

const isObject = (value: unknown): value is Mutable =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const valueAt = (tray: TrayObject, path: string): unknown =>
  path
    .split('.')
    .reduce<unknown>((at, part) => (isObject(at) && Object.hasOwn(at, part) ? at[part] : undefined), tray);

function setAt(tray: Mutable, path: string, value: unknown): void {
  const parts = path.split('.');
  const last = parts.pop()!;
  let at = tray;
  for (const part of parts) {
    // What an object has by birth is no part of a tray.
    if (!Object.hasOwn(at, part) || !isObject(at[part])) at[part] = {};
    at = at[part] as Mutable;
  }
  if (value === undefined) delete at[last];
  else at[last] = value;
}

export const isRectangle = ({ plan }: TrayObject): boolean =>
  !isObject(plan) || Object.keys(plan).every((key) => !['vertices', 'dxf'].includes(key));

/** A figure as a person writes it. */
const figure = (value: number): string => String(Number(value.toFixed(4)));

const shown = (value: unknown): string =>
  typeof value === 'number' ? figure(value) : typeof value === 'string' ? value : '';

/** The radii of the four corners of a rectangle, as they are written. */
function radii(tray: TrayObject): readonly unknown[] {
  const given = valueAt(tray, 'plan.cornerRadius');
  if (Array.isArray(given)) return given;
  if (isObject(given)) return ['A', 'B', 'C', 'D'].map((letter) => given[letter] ?? 0);
  const read = typeof given === 'string' ? lengthsFrom(given, unitsOf(tray)) : null;
  return read?.length === 4 ? read : [given, given, given, given];
}

function heights(tray: TrayObject): Mutable {
  const given = valueAt(tray, 'section.heights');
  if (Array.isArray(given)) return Object.fromEntries(SIDES.map((side, i) => [side, given[i]]));
  return isObject(given) ? { ...given } : {};
}

const openSides = (tray: TrayObject): readonly unknown[] => {
  const open = valueAt(tray, 'plan.openEdges');
  return (Array.isArray(open) ? open : []).map((side) => (typeof side === 'number' ? SIDES[side] : side));
};

/** @param value of a box that shares its name with others */
export function fieldValue(tray: TrayObject, name: string, value = ''): FieldValue {
  if (name === OPEN) return openSides(tray).includes(value);
  const found = valueAt(tray, name);
  const corner = ONE_CORNER.exec(name)?.[1];
  if (corner !== undefined) return shown(radii(tray)[Number(corner)]);
  switch (name) {
    case 'plan.cornerRadius': {
      if (!Array.isArray(found) && !isObject(found)) return shown(found);
      const [first, ...others] = radii(tray).map(shown);
      return others.every((each) => each === first) ? first! : [first, ...others].join('; ');
    }
    case 'section.rim':
      return isObject(found) && found.kind === 'lip' ? String(found.direction ?? 'out') : 'plain';
    case 'forming.corners':
      return found === undefined ? 'gather' : typeof found === 'string' ? found : '';
    case 'cut.compensate':
      return found === true;
    case 'sheet.material':
      return isObject(found) ? String(found.name ?? '') : shown(found);
    case 'sheet.thickness':
      return isObject(found) ? `${shown(found.gauge)} ga` : shown(found);
  }
  return name.startsWith('section.heights.') ? shown(heights(tray)[name.split('.').at(-1)!]) : shown(found);
}

/** The tray with one field changed; an empty one leaves its value to the tray file's default. */
export function withField(tray: TrayObject, name: string, value: FieldValue, box = ''): TrayObject {
  const changed = structuredClone(tray) as Mutable;
  const text = typeof value === 'string' && value.trim() !== '' ? value.trim() : undefined;
  const corner = ONE_CORNER.exec(name)?.[1];
  if (name === OPEN) {
    const open = openSides(tray).filter((side) => side !== box);
    setAt(changed, 'plan.openEdges', value === true ? [...open, box] : open.length === 0 ? undefined : open);
  } else if (corner !== undefined) {
    setAt(
      changed,
      'plan.cornerRadius',
      radii(tray).map((radius, i) => (i === Number(corner) ? (text ?? 0) : (radius ?? 0))),
    );
  } else if (name === 'section.rim') {
    const { bendRadius, width } = (valueAt(tray, name) ?? {}) as Mutable;
    const lip = { kind: 'lip', direction: value, ...(bendRadius === undefined ? {} : { bendRadius }) };
    setAt(
      changed,
      name,
      value === 'plain' ? { kind: 'plain' } : { ...lip, ...(width === undefined ? {} : { width }) },
    );
  } else if (name.startsWith('section.heights.')) {
    const side = name.split('.').at(-1)!;
    const { [side]: _, ...others } = heights(tray);
    const all = text === undefined ? others : { ...others, [side]: text };
    setAt(changed, 'section.heights', Object.keys(all).length === 0 ? undefined : all);
  } else setAt(changed, name, typeof value === 'boolean' ? value : text);
  return changed;
}

/**
 * The tray that a form means as it is posted.
 *
 * @param base   the tray that stood in the form: a field that is as it was keeps its value
 */
export function postedTray(
  base: TrayObject,
  fields: readonly (readonly [name: string, value: string])[],
): TrayObject {
  let posted = base;
  for (const [name, value] of fields) {
    if (isBox(name) || value.trim() === fieldValue(base, name)) continue;
    // A lip's sizes mean nothing to a plain rim.
    if (name.startsWith('section.rim.') && fieldValue(posted, 'section.rim') === 'plain') continue;
    posted = withField(posted, name, value);
  }
  const ticked = (name: string, box: string): boolean =>
    fields.some(([each, value]) => each === name && value === box);
  for (const side of SIDES) posted = withField(posted, OPEN, ticked(OPEN, side), side);
  return withField(posted, 'cut.compensate', ticked('cut.compensate', 'true'));
}
