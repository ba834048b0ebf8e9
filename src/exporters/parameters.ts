/** Checks and completes the settings given to an exporter against the parameters it declares. */
import { type Fault, GatherpanError } from '../errors.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import { nearest } from '../spelling.ts';
import { words } from '../words/language.ts';
import type { Exporter, Parameter, ParameterValues } from './contract.ts';

/**
 * A value for every parameter of `exporter`: the given one where there is one, otherwise the default; and for
 * each parameter of an earlier version that was given.
 *
 * @param given values by parameter name, of the parameter's own type; `undefined` counts as not given; not
 *   changed. Text from a command line goes through `valueFromText` first.
 * @param note takes the sentence on what to set instead of parameters of an earlier version
 * @throws GatherpanError BAD_INPUT with one fault for every unknown name and every value that does not fit;
 *   the path of a fault is `exporter.parameter`
 */
export function completeValues(
  exporter: Exporter,
  given: Readonly<Record<string, unknown>>,
  note: (sentence: string) => void = () => {},
): ParameterValues {
  const faults: Fault[] = [];
  for (const name of Object.keys(given)) {
    if (parameterOf(exporter, name) === undefined) {
      faults.push({ path: `${exporter.id}.${name}`, message: unknownParameter(exporter, name) });
    }
  }
  const earlier = exporter.earlier?.parameters ?? [];
  const values: Record<string, boolean | number | string> = {};
  for (const parameter of [...exporter.parameters, ...earlier]) {
    const value = Object.hasOwn(given, parameter.name) ? given[parameter.name] : undefined;
    if (value === undefined) {
      if (!earlier.includes(parameter)) values[parameter.name] = parameter.default;
    } else if (fits(parameter, value)) {
      values[parameter.name] = parameter.type === 'list' ? inOrder(parameter, value as string) : value;
    } else {
      const path = `${exporter.id}.${parameter.name}`;
      const { settingRefused } = words().messages.exporters;
      faults.push({ path, message: settingRefused(path, shown(value), accepted(parameter)) });
    }
  }
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);
  if (earlier.some(({ name }) => name in values)) note(exporter.earlier!.instead(values));
  return values;
}

/** The parameter of this name, one of this version or of an earlier one. */
export const parameterOf = (exporter: Exporter, name: string): Parameter | undefined =>
  [...exporter.parameters, ...(exporter.earlier?.parameters ?? [])].find(
    (parameter) => parameter.name === name,
  );

/** Ending of the file that is written with these values, without the dot. */
export const extensionOf = (exporter: Exporter, values: ParameterValues): string =>
  exporter.extensionFor?.(values) ?? exporter.extension;

/** The entries of a list's value. */
export const listed = (value: string): string[] =>
  value
    .split(',')
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '');

const inOrder = ({ choices }: Extract<Parameter, { type: 'list' }>, value: string): string => {
  const wanted = listed(value);
  return choices.filter((choice) => wanted.includes(choice)).join(',');
};

/**
 * The value a person wrote as text, as on a command line: `true` and `false`, a decimal number, a choice, a list.
 *
 * Text that does not read as the parameter's type is returned as it is, for `completeValues` to refuse.
 */
export function valueFromText(parameter: Parameter, text: string): boolean | number | string {
  switch (parameter.type) {
    case 'boolean':
      return text === 'true' ? true : text === 'false' ? false : text;
    case 'number':
      // Number('') is 0, and Number() also takes 0x10 and Infinity: none of them is what a person means.
      return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text.trim()) ? Number(text) : text;
    case 'choice':
    case 'list':
      return text;
  }
}

/** Whether `value` is of the parameter's type and within what it accepts. */
export function fits(parameter: Parameter, value: unknown): value is boolean | number | string {
  switch (parameter.type) {
    case 'boolean':
      return typeof value === 'boolean';
    case 'number':
      // Written so that NaN does not pass.
      return typeof value === 'number' && value >= parameter.minimum && value <= parameter.maximum;
    case 'choice':
      return typeof value === 'string' && parameter.choices.includes(value);
    case 'list':
      return typeof value === 'string' && listed(value).every((entry) => parameter.choices.includes(entry));
  }
}

/** What a parameter accepts, as a noun phrase. */
function accepted(parameter: Parameter): string {
  const say = words().messages.exporters.accepted;
  switch (parameter.type) {
    case 'boolean':
      return say.trueOrFalse;
    case 'number': {
      const [least, most] = [String(parameter.minimum), String(parameter.maximum)];
      return parameter.unit === '' ? say.range(least, most) : say.rangeOf(least, most, parameter.unit);
    }
    case 'choice':
      return say.oneOf(parameter.choices.join(', '));
    case 'list':
      return say.anyOf(parameter.choices.join(', '));
  }
}

function unknownParameter(exporter: Exporter, name: string): string {
  const say = words().messages.exporters;
  const field = `${exporter.id}.${name}`;
  const known = exporter.parameters.map((parameter) => parameter.name);
  if (known.length === 0) return say.settingsNone(field, exporter.id);
  const near = nearest(name, known);
  return near === undefined
    ? say.settingUnknown(field, exporter.id, known.join(', '))
    : say.settingNear(field, near, exporter.id, known.join(', '));
}

/** A value as it may stand in a sentence: quoted when it is text, cut short when it is long. */
export function shown(value: unknown): string {
  if (typeof value === 'number' || typeof value === 'boolean' || value === null) return String(value);
  if (typeof value === 'string')
    return JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}...` : value);
  const { found } = words().messages.exporters;
  return Array.isArray(value) ? found.list : found[typeof value as Exclude<keyof typeof found, 'list'>];
}

/** The unit, where a format lets it be chosen. */
export const inUnit = ({ parameters }: Exporter, unit: LengthUnit): Readonly<Record<string, string>> =>
  parameters.some((each) => each.type === 'choice' && each.name === 'unit' && each.choices.includes(unit))
    ? { unit }
    : {};
