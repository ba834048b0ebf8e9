/**
 * What is wrong with a value that wants to be an exporter.
 *
 * A third party's module is plain JavaScript by the time we see it, so the types of `contract.ts` prove
 * nothing about it.
 */
import type { Fault } from '../errors.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { CONTRACT_VERSION, type Parameter } from './contract.ts';
import { fits, shown } from './parameters.ts';

type Contract = Words['messages']['exporters']['contract'];

/** A property that has a rule. */
type Property = keyof Contract['accepted'];

/** A rule for one property; what is accepted, the table of words says. */
interface Rule {
  readonly property: Property;
  readonly holds: (value: unknown) => boolean;
}

/** What is looked at: the path for the fault, and what a sentence about it begins with. */
interface Place {
  readonly path: string;
  readonly said: string;
}

const matches =
  (pattern: RegExp) =>
  (value: unknown): boolean =>
    typeof value === 'string' && pattern.test(value);

const isFunctionOrAbsent = (value: unknown): boolean => value === undefined || typeof value === 'function';

/** It becomes part of a file name: nothing in it may lead to another folder. */
const isExtension = matches(/^[a-z0-9]+(\.[a-z0-9]+)*$/);

/** Whether an answer of `extensionFor` is one: an ending that ends with the exporter's own. */
export const isExtensionOf = (answer: unknown, extension: string): boolean =>
  matches(/^[a-z0-9-]+(\.[a-z0-9-]+)*$/)(answer) && `.${answer}`.endsWith(`.${extension}`);

const EXPORTER_RULES: readonly Rule[] = [
  { property: 'id', holds: matches(/^[a-z][a-z0-9-]*$/) },
  { property: 'label', holds: matches(/\S/) },
  { property: 'extension', holds: isExtension },
  {
    // type "/" subtype, both restricted-name: RFC 6838, section 4.2.
    property: 'mediaType',
    holds: matches(/^[a-z0-9][a-z0-9!#$&^_.+-]*\/[a-z0-9][a-z0-9!#$&^_.+-]*(; ?charset=[a-z0-9-]+)?$/i),
  },
  { property: 'parameters', holds: Array.isArray },
  { property: 'write', holds: (value) => typeof value === 'function' },
  { property: 'extensionFor', holds: isFunctionOrAbsent },
  { property: 'leadsTo', holds: isFunctionOrAbsent },
  {
    property: 'earlier',
    holds: (value) =>
      value === undefined ||
      (isRecord(value) && Array.isArray(value.parameters) && typeof value.instead === 'function'),
  },
];

const NAME_RULE: Rule = { property: 'name', holds: matches(/^[a-zA-Z][a-zA-Z0-9]*$/) };

const say = (): Contract => words().messages.exporters.contract;

/**
 * One fault for every rule of the contract that `value` breaks; empty for a sound exporter.
 *
 * @param position what to call it while its id is unknown: its number in the list, from 1
 */
export function exporterFaults(value: unknown, position: number): Fault[] {
  const known = isRecord(value) && typeof value.id === 'string' && value.id !== '';
  const called = known ? (value.id as string) : String(position);
  const place = { path: `exporter ${called}`, said: say().exporter(called) };
  if (!isRecord(value)) return [{ path: place.path, message: say().notExporter(place.said, shown(value)) }];
  const { contract = 1 } = value;
  if (contract !== CONTRACT_VERSION) {
    const message = say().otherVersion(place.said, shown(contract), String(CONTRACT_VERSION));
    return [{ path: place.path, message }];
  }
  const faults = broken(EXPORTER_RULES, value, place);
  const earlier = isRecord(value.earlier) ? value.earlier.parameters : undefined;
  const parameters = [value.parameters, earlier].flatMap((list) => (Array.isArray(list) ? list : []));
  const seen = new Set<unknown>();
  parameters.forEach((parameter: unknown, index: number) => {
    const number = String(index + 1);
    faults.push(
      ...parameterFaults(parameter, {
        path: `${place.path}: parameter ${number}`,
        said: say().parameter(place.said, number),
      }),
    );
    const name = isRecord(parameter) ? parameter.name : undefined;
    if (name !== undefined && seen.has(name)) {
      faults.push({ path: place.path, message: say().sameParameter(place.said, shown(name)) });
    }
    seen.add(name);
  });
  return faults;
}

function parameterFaults(value: unknown, place: Place): Fault[] {
  if (!isRecord(value)) return [{ path: place.path, message: say().notParameter(place.said, shown(value)) }];
  const faults = broken([NAME_RULE], value, place);
  const fault = (property: Property): void => {
    faults.push(refusal(place, property, value[property]));
  };
  if (typeof value.help !== 'string' || value.help === '') fault('help');
  switch (value.type) {
    case 'boolean':
      break;
    case 'number': {
      const { minimum, maximum } = value;
      if (!Number.isFinite(minimum)) fault('minimum');
      if (!Number.isFinite(maximum)) fault('maximum');
      if (typeof value.unit !== 'string') fault('unit');
      break;
    }
    case 'choice':
    case 'list': {
      const { choices } = value;
      const sound =
        Array.isArray(choices) &&
        choices.length > 0 &&
        choices.every((choice) => typeof choice === 'string' && choice !== '') &&
        (value.type === 'choice' || choices.every((choice) => !/[,\s]/.test(choice))) &&
        new Set(choices).size === choices.length;
      if (!sound) fault('choices');
      break;
    }
    default:
      fault('type');
  }
  // Only when the parameter is otherwise sound does its own test of a value mean anything.
  if (faults.length > 0) return faults;
  if (!fits(value as unknown as Parameter, value.default)) fault('default');
  if (value.type === 'list' && !fits(value as unknown as Parameter, value.usual)) fault('usual');
  return faults;
}

const broken = (rules: readonly Rule[], value: Readonly<Record<string, unknown>>, place: Place): Fault[] =>
  rules
    .filter((rule) => !rule.holds(value[rule.property]))
    .map((rule) => refusal(place, rule.property, value[rule.property]));

function refusal({ path, said }: Place, property: Property, value: unknown): Fault {
  const { absent, refused, accepted } = say();
  return {
    path,
    message:
      value === undefined
        ? absent(said, property, accepted[property])
        : refused(said, property, shown(value), accepted[property]),
  };
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
