/**
 * The fields of the form and the tray file they stand for. A field holds what a person typed, as it was typed; what the
 * form has no field for (the points of a plan) stays as it came.
 */
import { cornerLetter, sideLetters, sideOf } from './cornerLetter.ts';
import type { Units } from './fields.ts';
import { lengthFrom, lengthsFrom } from './writtenSize.ts';
import { type TrayObject, unitsOf } from './writtenTray.ts';

/** What stands in a field: a text, or whether a box is ticked. */
export type FieldValue = string | boolean;

type Mutable = Record<string, unknown>;

/** Sides of a rectangle, as `planSchema` has them; that one would bring every rule of a tray file with it. */
const SIDES = ['top', 'left', 'bottom', 'right'];
/** Boxes with a name in common, each with its value: sides that are open. */
const OPEN = 'plan.openEdges';
const ONE_CORNER = /^plan\.cornerRadius\.([0-3])$/;
const ONE_VERTEX = /^plan\.vertices\.\d+\.radius$/;
const ONE_MAKING = /^forming\.corners\.(\d{1,3})$/;
const HOLE = /^holes\.(\d{1,3})\.(?:(shape\.kind)|(place\.on)|(shape\.points)|.*)$/;
const BOXES: readonly string[] = ['cut.compensate', OPEN];

/** Whether a field is a box, or one of several, that is posted only when it is ticked. */
export const isBox = (name: string): boolean => BOXES.includes(name);

const isObject = (value: unknown): value is Mutable =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const valueAt = (tray: TrayObject, path: string): unknown =>
  path
    .split('.')
    .reduce<unknown>(
      (at, part) =>
        (isObject(at) || Array.isArray(at)) && Object.hasOwn(at, part) ? (at as Mutable)[part] : undefined,
      tray,
    );

function setAt(tray: Mutable, path: string, value: unknown): void {
  const parts = path.split('.');
  const last = parts.pop()!;
  let at = tray;
  for (const part of parts) {
    // What an object has by birth is no part of a tray.
    if (!Object.hasOwn(at, part) || !(isObject(at[part]) || Array.isArray(at[part]))) at[part] = {};
    at = at[part] as Mutable;
  }
  if (value === undefined) delete at[last];
  else at[last] = value;
}

export const isRectangle = ({ plan }: TrayObject): boolean =>
  !isObject(plan) || Object.keys(plan).every((key) => !['vertices', 'dxf'].includes(key));

/** Corners of the plan; none where that is in another file. */
export function cornerCount(tray: TrayObject): number {
  if (isRectangle(tray)) return 4;
  const vertices = valueAt(tray, 'plan.vertices');
  return Array.isArray(vertices) ? vertices.length : 0;
}

/** What a side is called in the tray file: `top` of a rectangle, else by its letters. */
export const sideName = (tray: TrayObject, side: number): string =>
  isRectangle(tray) ? SIDES[side]! : sideLetters(side, cornerCount(tray));

/** The same for a side by number, name or letters; a side that the plan has not stays as it is. */
function sideNamed(tray: TrayObject, side: unknown): unknown {
  const number = typeof side === 'number' ? side : sideOf(String(side), cornerCount(tray));
  return number !== undefined && number < cornerCount(tray) ? sideName(tray, number) : side;
}

/** How a corner is made. */
export function makingOf(tray: TrayObject, corner: number): string {
  const given = valueAt(tray, 'forming.corners');
  const own = Array.isArray(given) ? given[corner] : isObject(given) ? given[cornerLetter(corner)] : given;
  return typeof own === 'string' ? own : 'gather';
}

/** The holes, each of which has fields of its own. */
export function holesOf(tray: TrayObject): readonly { readonly shape: Mutable; readonly place: Mutable }[] {
  const holes = valueAt(tray, 'holes');
  return (Array.isArray(holes) ? holes : []).map((hole) => ({
    shape: isObject(hole?.shape) ? hole.shape : {},
    place: isObject(hole?.place) ? hole.place : {},
  }));
}

/** What a hole is at first, so that there is something to change. */
const NEW_SHAPES: Readonly<Record<Units, Readonly<Record<string, Mutable>>>> = {
  mm: {
    round: { diameter: 10 },
    slot: { length: 30, width: 10, angle: 0 },
    polygon: { points: '-15 -10; 15 -10; 15 10; -15 10' },
  },
  in: {
    round: { diameter: '3/8' },
    slot: { length: '1 1/4', width: '3/8', angle: 0 },
    polygon: { points: '-0.6 -0.4; 0.6 -0.4; 0.6 0.4; -0.6 0.4' },
  },
};
/** What a lip is at first. */
const NEW_LIPS: Readonly<Record<Units, Mutable>> = {
  mm: { bendRadius: 5, width: 15 },
  in: { bendRadius: '3/16', width: '5/8' },
};

/** A new hole lies so far beside the one before, not in it. */
const ASIDE: Readonly<Record<Units, number>> = { mm: 40, in: 1.5 };

/** The middle of the straight part of the wall, where a hole in it is at first. */
function middleOfWall(tray: TrayObject): unknown {
  const [bend, rim] = ['section.bottomRadius', 'section.height'].map((name) =>
    lengthFrom(String(valueAt(tray, name)), unitsOf(tray)),
  );
  return typeof bend === 'number' && typeof rim === 'number' ? (bend + rim) / 2 : undefined;
}

/** A figure as a person writes it. */
const figure = (value: number): string => String(Number(value.toFixed(4)));

const shown = (value: unknown): string =>
  typeof value === 'number' ? figure(value) : typeof value === 'string' ? value : '';

/** Whether a corner of a rectangle has nothing to round: cut out, or beside an open side. */
const isSharp = (tray: TrayObject, corner: number): boolean =>
  makingOf(tray, corner) === 'notch' ||
  [corner, corner + 3].some((side) => openSides(tray).includes(sideName(tray, side % 4)));

/** The radii of the four corners of a rectangle one by one, as they are written; null where one is for all that are round. */
function listedRadii(tray: TrayObject): readonly unknown[] | null {
  const given = valueAt(tray, 'plan.cornerRadius');
  if (Array.isArray(given)) return given;
  if (isObject(given)) return ['A', 'B', 'C', 'D'].map((letter) => given[letter] ?? 0);
  const read = typeof given === 'string' ? lengthsFrom(given, unitsOf(tray)) : null;
  return read?.length === 4 ? read : null;
}

const radii = (tray: TrayObject): readonly unknown[] =>
  listedRadii(tray) ??
  [0, 1, 2, 3].map((corner) => (isSharp(tray, corner) ? 0 : valueAt(tray, 'plan.cornerRadius')));

/** One radius stands for all that are round. */
function setRadii(tray: Mutable, list: readonly unknown[]): void {
  const round = list.filter((_, corner) => !isSharp(tray, corner));
  const alike = round.length > 0 && round.every((radius) => shown(radius) === shown(round[0]));
  setAt(tray, 'plan.cornerRadius', alike ? round[0] : list);
}

/** A corner that is sharp now is written without a radius, and one that is round again has that of another one. */
function withRadii(before: TrayObject, tray: Mutable): Mutable {
  const given = isRectangle(tray) ? listedRadii(tray) : null;
  if (given === null) return tray;
  const round = given.find((radius) => Number(radius) !== 0) ?? 0;
  setRadii(
    tray,
    given.map((radius, corner) => (isSharp(tray, corner) ? 0 : isSharp(before, corner) ? round : radius)),
  );
  return tray;
}

function heights(tray: TrayObject): Mutable {
  const given = valueAt(tray, 'section.heights');
  if (!isObject(given) && !Array.isArray(given)) return {};
  return Object.fromEntries(
    Object.entries(given).map(([side, height]) => [
      String(sideNamed(tray, Array.isArray(given) ? Number(side) : side)),
      height,
    ]),
  );
}

const openSides = (tray: TrayObject): readonly unknown[] => {
  const open = valueAt(tray, 'plan.openEdges');
  return (Array.isArray(open) ? open : []).map((side) => sideNamed(tray, side));
};

/** Corners about a hole's place as a person writes them: `-15 -10; 15 -10; …`. */
const pointsText = (points: unknown): string =>
  Array.isArray(points)
    ? points.map((point) => `${shown(point?.x)} ${shown(point?.y)}`).join('; ')
    : shown(points);

/** @param value of a box that shares its name with others */
export function fieldValue(tray: TrayObject, name: string, value = ''): FieldValue {
  if (name === OPEN) return openSides(tray).includes(value);
  const found = valueAt(tray, name);
  const corner = ONE_CORNER.exec(name)?.[1];
  if (corner !== undefined) return shown(radii(tray)[Number(corner)]);
  const making = ONE_MAKING.exec(name)?.[1];
  if (making !== undefined) return makingOf(tray, Number(making));
  const [, hole, kind, on, points] = HOLE.exec(name) ?? [];
  if (kind !== undefined) return String(holesOf(tray)[Number(hole)]?.shape.kind ?? 'none');
  if (on !== undefined) {
    const { place } = holesOf(tray)[Number(hole)] ?? {};
    return place?.on === 'wall' ? String(sideNamed(tray, place.edge)) : 'base';
  }
  if (points !== undefined) return pointsText(found);
  if (ONE_VERTEX.test(name)) return shown(found ?? valueAt(tray, 'plan.cornerRadius'));
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
    case 'forming.gathering':
      return found === undefined ? 'tucks' : shown(found);
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
    setRadii(
      changed,
      radii(tray).map((radius, i) => (i === Number(corner) ? (text ?? 0) : (radius ?? 0))),
    );
  } else if (ONE_MAKING.test(name)) {
    const [, index] = ONE_MAKING.exec(name)!;
    const all = Array.from({ length: cornerCount(tray) }, (_, i) =>
      i === Number(index) ? (text ?? 'gather') : makingOf(tray, i),
    );
    const [first] = all;
    const alike = all.every((each) => each === first);
    setAt(changed, 'forming.corners', alike ? (first === 'gather' ? undefined : first) : all);
  } else if (HOLE.test(name)) {
    setHole(tray, changed, name, text);
  } else if (name === 'section.rim') {
    const before = valueAt(tray, name);
    const { kind: _, ...sizes } = isObject(before) ? before : {};
    const lip = { kind: 'lip', ...NEW_LIPS[unitsOf(tray)], ...sizes, direction: value };
    setAt(changed, name, value === 'plain' ? { kind: 'plain' } : lip);
  } else if (name.startsWith('section.heights.')) {
    const side = name.split('.').at(-1)!;
    const { [side]: _, ...others } = heights(tray);
    const all = text === undefined ? others : { ...others, [side]: text };
    setAt(changed, 'section.heights', Object.keys(all).length === 0 ? undefined : all);
  } else if (name !== 'forming.corners' || text !== undefined) {
    setAt(changed, name, typeof value === 'boolean' ? value : text);
  }
  return name === OPEN || name.startsWith('forming.corners') ? withRadii(tray, changed) : changed;
}

function setHole(tray: TrayObject, changed: Mutable, name: string, text: string | undefined): void {
  const [, index, kind, on] = HOLE.exec(name)!;
  const at = Number(index);
  const units = unitsOf(tray);
  const holes = structuredClone(valueAt(tray, 'holes') ?? []) as Mutable[];
  if (at > holes.length || !Array.isArray(holes)) return;
  if (kind !== undefined) {
    const shape = NEW_SHAPES[units][text ?? ''];
    if (shape === undefined) holes.splice(at, 1);
    else {
      const place = { on: 'base', x: at * ASIDE[units], y: 0 };
      holes[at] = { place, ...holes[at], shape: { kind: text, ...shape } };
    }
    setAt(changed, 'holes', holes.length === 0 ? undefined : holes);
  } else if (at < holes.length) {
    if (on === undefined) setAt(changed, name, text);
    else
      setAt(
        changed,
        `holes.${at}.place`,
        text === 'base'
          ? { on: 'base', x: 0, y: 0 }
          : { on: 'wall', edge: text, along: 0, height: middleOfWall(tray) },
      );
  }
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
  // The shapes of holes last, and the last hole first: one that goes takes its number with it.
  const isShape = ([name]: (typeof fields)[number]): boolean => HOLE.exec(name)?.[2] !== undefined;
  const others = fields.filter((field) => !isShape(field));
  for (const [name, value] of [...others, ...fields.filter(isShape).reverse()]) {
    if (isBox(name) || value.trim() === fieldValue(base, name)) continue;
    // A lip's sizes mean nothing to a plain rim.
    if (name.startsWith('section.rim.') && fieldValue(posted, 'section.rim') === 'plain') continue;
    posted = withField(posted, name, value);
  }
  const ticked = (name: string, box: string): boolean =>
    fields.some(([each, value]) => each === name && value === box);
  for (let i = 0; i < cornerCount(base); i++) {
    const side = sideName(base, i);
    if (ticked(OPEN, side) !== openSides(base).includes(side))
      posted = withField(posted, OPEN, ticked(OPEN, side), side);
  }
  return withField(posted, 'cut.compensate', ticked('cut.compensate', 'true'));
}
