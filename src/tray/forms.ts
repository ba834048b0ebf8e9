/** The forms that a schema lets a value take, field by field: a union has several. */
import type { z } from 'zod';

export type Path = readonly PropertyKey[];

/** What a schema is made of, as far as it is asked here. */
interface Made {
  readonly type: string;
  readonly shape?: Readonly<Record<PropertyKey, z.core.$ZodType>>;
  readonly element?: z.core.$ZodType;
  readonly innerType?: z.core.$ZodType;
  readonly options?: readonly z.core.$ZodType[];
  /** Of an enumeration, and of a literal. */
  readonly entries?: Readonly<Record<string, unknown>>;
  readonly values?: readonly unknown[];
}

const madeOf = (schema: z.core.$ZodType): Made => schema._zod.def as Made;

/** A place in a list; no list has more. */
const PLACE = /^(?:0|[1-9]\d{0,3})$/;

/** The forms a value at `path` may take, unions spread out. */
export function formsAt(schema: z.core.$ZodType, path: Path): z.core.$ZodType[] {
  let forms = spread(schema);
  for (const key of path) {
    forms = forms.flatMap((form) => {
      const { shape, element } = madeOf(form);
      if (element !== undefined) return PLACE.test(String(key)) ? spread(element) : [];
      return shape !== undefined && Object.hasOwn(shape, key) ? spread(shape[key]!) : [];
    });
  }
  return forms;
}

function spread(schema: z.core.$ZodType): z.core.$ZodType[] {
  const { innerType, options } = madeOf(schema);
  if (innerType !== undefined) return spread(innerType);
  return options === undefined ? [schema] : options.flatMap(spread);
}

export function keysOf(form: z.core.$ZodType | undefined): readonly string[] {
  const shape = form === undefined ? undefined : madeOf(form).shape;
  return shape === undefined ? [] : Object.keys(shape);
}

/** Kinds of value that a cell or a word can hold. */
export type ValueKind = 'number' | 'boolean' | 'string';

/** The kinds of value that a form takes; none for an object or a list. */
export function kindsOf(form: z.core.$ZodType): ValueKind[] {
  const { type, entries, values = Object.values(entries ?? {}) } = madeOf(form);
  return [type, ...values.map((value) => typeof value)].filter(
    (kind): kind is ValueKind => kind === 'number' || kind === 'boolean' || kind === 'string',
  );
}

/** Dotted path of every field the schema knows. @param place stands for a place in a list; left out when empty */
export function allFields(
  schema: z.core.$ZodType,
  place: string,
  prefix = '',
): { readonly path: string; readonly form: z.core.$ZodType }[] {
  const deeper = (key: string): string => (prefix === '' || key === '' ? prefix + key : `${prefix}.${key}`);
  return spread(schema).flatMap((form) => {
    const { shape = {}, element } = madeOf(form);
    return [
      ...(prefix === '' ? [] : [{ path: prefix, form }]),
      ...(element === undefined ? [] : allFields(element, place, deeper(place))),
      ...Object.entries(shape).flatMap(([key, inner]) => allFields(inner, place, deeper(key))),
    ];
  });
}
