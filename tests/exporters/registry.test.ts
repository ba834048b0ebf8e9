/** The registry: what it refuses, and how it checks the settings of an exporter. */
import { describe, expect, it } from 'vitest';
import type { Exporter, Parameter } from '../../src/exporters/contract.ts';
import { dxfExporter } from '../../src/exporters/dxf/dxfExporter.ts';
import { jsonExporter } from '../../src/exporters/json/jsonExporter.ts';
import { valueFromText } from '../../src/exporters/parameters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { refusal } from '../support/refusal.ts';

const PARAMETERS: readonly Parameter[] = [
  { name: 'lines', type: 'boolean', default: true, help: 'draw the lines' },
  { name: 'pitch', type: 'number', default: 5, minimum: 1, maximum: 50, unit: 'mm', help: 'of the dots' },
  { name: 'side', type: 'choice', default: 'front', choices: ['front', 'back'], help: 'which side is up' },
];

const dots: Exporter = {
  contract: 2,
  id: 'dots',
  label: 'Dots for pricking through',
  extension: 'txt',
  mediaType: 'text/plain',
  parameters: PARAMETERS,
  write: async () => new Uint8Array(),
};

describe('createRegistry', () => {
  it('lists what it was given, in order', () => {
    const registry = createRegistry([dxfExporter, jsonExporter, dots]);
    expect(registry.list().map(({ id }) => id)).toEqual(['dxf', 'json', 'dots']);
    expect(registry.get('dots')).toBe(dots);
  });

  it('names the known formats and the nearest', () => {
    const error = refusal(() => createRegistry([dxfExporter, jsonExporter, dots]).get('dfx'));
    expect(error.code).toBe('NOT_FOUND');
    expect(error.message).toBe(
      'The format "dfx" is not known (the nearest is dxf); one of dxf, json, dots is accepted.',
    );
  });

  it('names no nearest where none is near', () => {
    const error = refusal(() => createRegistry([dots]).get('hologram'));
    expect(error.message).toBe('The format "hologram" is not known; one of dots is accepted.');
  });

  it('refuses two of one id', () => {
    const error = refusal(() => createRegistry([dots, dots]));
    expect(error.code).toBe('BAD_INPUT');
    expect(error.message).toContain('Two exporters have the id dots');
  });

  it.each<[string, unknown, string]>([
    ['no object', 7, 'Exporter 1 is 7; an exporter object is accepted.'],
    ['a list', [], 'Exporter 1 is a list; an exporter object is accepted.'],
    ['no id', { ...dots, id: undefined }, 'Exporter 1 has no id; lower-case letters'],
    ['the contract of 0.1', { ...dots, contract: undefined }, 'is written for version 1 of the exporters'],
    ['a later contract', { ...dots, contract: 3 }, 'is written for version 3 of the exporters'],
    ['capitals in the id', { ...dots, id: 'Dots' }, 'id is "Dots"'],
    ['an empty label', { ...dots, label: ' ' }, 'label is " "'],
    ['a dot before the extension', { ...dots, extension: '.txt' }, 'extension is ".txt"'],
    ['a way out of the folder', { ...dots, extension: 'x/../../y' }, 'extension is "x/../../y"'],
    ['a media type without a slash', { ...dots, mediaType: 'text' }, 'mediaType is "text"'],
    ['no list of parameters', { ...dots, parameters: {} }, 'parameters is of type object'],
    ['no write', { ...dots, write: 'yes' }, 'write is "yes"; a function is accepted'],
    ['a parameter that is none', { ...dots, parameters: ['a'] }, 'parameter 1 is "a"'],
    [
      'two parameters of one name',
      { ...dots, parameters: [PARAMETERS[0], PARAMETERS[0]] },
      'two parameters called "lines"',
    ],
    [
      'a parameter of an unknown type',
      { ...dots, parameters: [{ ...PARAMETERS[0], type: 'colour' }] },
      'type is "colour"; one of boolean, number, choice, list is accepted',
    ],
    [
      'a default out of range',
      { ...dots, parameters: [{ ...PARAMETERS[1], default: 0 }] },
      'default is 0; a value that the parameter itself accepts',
    ],
    [
      'a range without an end',
      { ...dots, parameters: [{ ...PARAMETERS[1], maximum: Number.POSITIVE_INFINITY }] },
      'maximum is Infinity',
    ],
    [
      'a choice named twice',
      { ...dots, parameters: [{ ...PARAMETERS[2], choices: ['front', 'front'] }] },
      'choices is a list',
    ],
    ['a parameter without help', { ...dots, parameters: [{ ...PARAMETERS[0], help: '' }] }, 'help is ""'],
  ])('refuses an exporter with %s', (_, exporter, words) => {
    const error = refusal(() => createRegistry([exporter as Exporter]));
    expect(error.code).toBe('BAD_INPUT');
    expect(error.message).toContain(words);
  });
});

describe('a list', () => {
  const holes: Exporter = {
    ...dots,
    id: 'holes',
    parameters: [
      { name: 'kinds', type: 'list', default: '', usual: 'round', choices: ['round', 'slot'], help: 'which' },
    ],
  };
  const registry = createRegistry([holes]);

  it('is any of its choices, in their order and each once', () => {
    for (const [kinds, value] of [
      ['', ''],
      [' , ', ''],
      ['slot', 'slot'],
      ['slot, round', 'round,slot'],
      ['slot,slot', 'slot'],
    ])
      expect(registry.values(holes, { kinds })).toEqual({ kinds: value });
  });

  it.each(['square', 'round square', 'Round', 'round;slot', 'round,,slot,x'])('refuses %j', (kinds) => {
    expect(refusal(() => registry.values(holes, { kinds })).message).toBe(
      `holes.kinds is ${JSON.stringify(kinds)}; a list, separated by commas, of round, slot is accepted.`,
    );
  });

  it('is refused with choices that a comma would take apart, or an usual value it does not take', () => {
    const [kinds] = holes.parameters;
    for (const changes of [{ choices: ['round, small'] }, { usual: 'square' }])
      expect(() =>
        createRegistry([{ ...holes, parameters: [{ ...kinds, ...changes } as Parameter] }]),
      ).toThrow(Object.keys(changes)[0]!);
  });
});

describe('values', () => {
  const registry = createRegistry([dots]);

  it('fills in the defaults', () => {
    expect(registry.values(dots, {})).toEqual({ lines: true, pitch: 5, side: 'front' });
    expect(registry.values(dots, { pitch: undefined })).toEqual({ lines: true, pitch: 5, side: 'front' });
  });

  it('takes what fits, the ends of a range included', () => {
    const given = { lines: false, pitch: 50, side: 'back' };
    expect(registry.values(dots, given)).toEqual(given);
    expect(registry.values(dots, { pitch: 1 }).pitch).toBe(1);
  });

  it.each([
    [{ lines: 1 }, 'dots.lines is 1; true or false is accepted.'],
    [{ pitch: 50.001 }, 'dots.pitch is 50.001; a number from 1 to 50 mm is accepted.'],
    [{ pitch: Number.NaN }, 'dots.pitch is NaN; a number from 1 to 50 mm is accepted.'],
    [{ pitch: '5' }, 'dots.pitch is "5"; a number from 1 to 50 mm is accepted.'],
    [{ side: 'top' }, 'dots.side is "top"; one of front, back is accepted.'],
    [{ side: null }, 'dots.side is null; one of front, back is accepted.'],
    [
      { ptch: 5 },
      'dots.ptch is not known (the nearest is pitch); the exporter dots accepts lines, pitch, side.',
    ],
    [{ toString: 5 }, 'dots.toString is not known; the exporter dots accepts lines, pitch, side.'],
  ])('refuses %j', (given, message) => {
    const error = refusal(() => registry.values(dots, given));
    expect(error.code).toBe('BAD_INPUT');
    expect(error.message).toBe(message);
  });

  it('says so when there is nothing to set', () => {
    const bare = { ...dots, parameters: [] };
    expect(refusal(() => createRegistry([bare]).values(bare, { a: 1 })).message).toBe(
      'dots.a is not known; the exporter dots has no parameters.',
    );
  });

  it('reports every fault with its path', () => {
    const error = refusal(() => registry.values(dots, { pitch: 0, side: 'top', other: 1 }));
    expect(error.faults.map(({ path }) => path)).toEqual(['dots.other', 'dots.pitch', 'dots.side']);
  });

  it('is not led astray by names of Object.prototype', () => {
    const odd = { ...dots, parameters: [{ ...PARAMETERS[0]!, name: 'constructor' }] } as Exporter;
    expect(createRegistry([odd]).values(odd, {}).constructor).toBe(true);
  });
});

describe('valueFromText', () => {
  it.each([
    ['lines', 'true', true],
    ['lines', 'false', false],
    ['lines', 'yes', 'yes'],
    ['pitch', '12.5', 12.5],
    ['pitch', '-1e3', -1000],
    ['pitch', '', ''],
    ['pitch', '0x10', '0x10'],
    ['pitch', 'Infinity', 'Infinity'],
    ['side', 'back', 'back'],
  ])('reads %s=%s as %j', (name, text, value) => {
    expect(valueFromText(PARAMETERS.find((parameter) => parameter.name === name)!, text)).toBe(value);
  });
});
