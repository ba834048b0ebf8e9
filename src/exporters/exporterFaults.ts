/**
 * What is wrong with a value that wants to be an exporter.
 *
 * A third party's module is plain JavaScript by the time we see it, so the types of `contract.ts` prove
 * nothing about it.
 */
import type { Fault } from '../errors.ts';
import type { Parameter } from './contract.ts';
import { fits, shown } from './parameters.ts';

/** A rule for one property: what is accepted, and the test of it. */
interface Rule {
  readonly property: string;
  readonly accepts: string;
  readonly holds: (value: unknown) => boolean;
}

const matches =
  (pattern: RegExp) =>
  (value: unknown): boolean =>
    typeof value === 'string' && pattern.test(value);

const EXPORTER_RULES: readonly Rule[] = [
  {
    property: 'id',
    accepts: 'lower-case letters, digits and hyphens, a letter first',
    holds: matches(/^[a-z][a-z0-9-]*$/),
  },
  { property: 'label', accepts: 'a text that is not empty', holds: matches(/\S/) },
  {
    // It becomes part of a file name: nothing in it may lead to another folder.
    property: 'extension',
    accepts: 'lower-case letters, digits and single dots between them, without the leading dot,',
    holds: matches(/^[a-z0-9]+(\.[a-z0-9]+)*$/),
  },
  {
    // type "/" subtype, both restricted-name: RFC 6838, section 4.2.
    property: 'mediaType',
    accepts: 'a media type such as text/plain',
    holds: matches(/^[a-z0-9][a-z0-9!#$&^_.+-]*\/[a-z0-9][a-z0-9!#$&^_.+-]*(; ?charset=[a-z0-9-]+)?$/i),
  },
  { property: 'parameters', accepts: 'a list, which may be empty,', holds: Array.isArray },
  { property: 'write', accepts: 'a function', holds: (value) => typeof value === 'function' },
];

const NAME_RULE: Rule = {
  property: 'name',
  accepts: 'letters and digits, a letter first',
  holds: matches(/^[a-zA-Z][a-zA-Z0-9]*$/),
};

/**
 * One fault for every rule of the contract that `value` breaks; empty for a sound exporter.
 *
 * @param where what to call it in the sentence while its id is unknown, for example `exporter 3`
 */
export function exporterFaults(value: unknown, where: string): Fault[] {
  if (!isRecord(value)) {
    return [
      { path: where, message: `${capital(where)} is ${shown(value)}; an exporter object is accepted.` },
    ];
  }
  const called = typeof value.id === 'string' && value.id !== '' ? `exporter ${value.id}` : where;
  const faults = broken(EXPORTER_RULES, value, called);
  if (Array.isArray(value.parameters)) {
    const seen = new Set<unknown>();
    value.parameters.forEach((parameter: unknown, position: number) => {
      faults.push(...parameterFaults(parameter, `${called}: parameter ${position + 1}`));
      const name = isRecord(parameter) ? parameter.name : undefined;
      if (name !== undefined && seen.has(name)) {
        faults.push({
          path: called,
          message: `${capital(called)} has two parameters called ${shown(name)}; every parameter needs a name of its own.`,
        });
      }
      seen.add(name);
    });
  }
  return faults;
}

function parameterFaults(value: unknown, where: string): Fault[] {
  if (!isRecord(value)) {
    return [
      { path: where, message: `${capital(where)} is ${shown(value)}; a parameter object is accepted.` },
    ];
  }
  const faults = broken([NAME_RULE], value, where);
  const fault = (property: string, accepts: string): void => {
    faults.push({ path: where, message: sentence(where, property, value[property], accepts) });
  };
  if (typeof value.help !== 'string' || value.help === '') fault('help', 'a text that is not empty');
  switch (value.type) {
    case 'boolean':
      break;
    case 'number': {
      const { minimum, maximum } = value;
      if (!Number.isFinite(minimum)) fault('minimum', 'a finite number');
      if (!Number.isFinite(maximum)) fault('maximum', 'a finite number');
      if (typeof value.unit !== 'string') fault('unit', 'a text, which may be empty,');
      break;
    }
    case 'choice': {
      const { choices } = value;
      const sound =
        Array.isArray(choices) &&
        choices.length > 0 &&
        choices.every((choice) => typeof choice === 'string' && choice !== '') &&
        new Set(choices).size === choices.length;
      if (!sound) fault('choices', 'a list of different texts, none of them empty,');
      break;
    }
    default:
      fault('type', 'one of boolean, number, choice');
  }
  // Only when the parameter is otherwise sound does its own test of a value mean anything.
  if (faults.length === 0 && !fits(value as unknown as Parameter, value.default)) {
    fault('default', 'a value that the parameter itself accepts');
  }
  return faults;
}

function broken(rules: readonly Rule[], value: Readonly<Record<string, unknown>>, where: string): Fault[] {
  return rules
    .filter((rule) => !rule.holds(value[rule.property]))
    .map((rule) => ({
      path: where,
      message: sentence(where, rule.property, value[rule.property], rule.accepts),
    }));
}

const sentence = (where: string, property: string, value: unknown, accepts: string): string =>
  value === undefined
    ? `${capital(where)} has no ${property}; ${accepts} is accepted.`
    : `${capital(where)}: ${property} is ${shown(value)}; ${accepts} is accepted.`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
