/** Kept trials as a file: its schema, what is refused, and that nothing else than a name takes another's place. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import {
  areTrials,
  type KeptTrial,
  MOST_TRIALS,
  readTrials,
  trialsJsonSchema,
  withTrial,
} from '../../src/gather/keptTrials.ts';

const trial = (name: string, more: object = {}): KeptTrial => ({
  name,
  tray: 'seed-bench-drip-tray',
  sheet: { material: 'DC04', thickness: 1 },
  hand: { value: 0.5, low: 0.42, high: 0.58 },
  measurements: { rimHeight: { middle: 36 } },
  ...more,
});

describe('a file of trials', () => {
  const validate = new Ajv2020({ strict: false }).compile(trialsJsonSchema());

  it.each([
    ['none', []],
    ['two', [trial('a', { person: 'Ada', date: '2030-06-01', spread: 2 }), trial('b')]],
  ])('is read as its JSON Schema takes it: %s', (_, trials) => {
    expect(validate({ trials })).toBe(true);
    expect(readTrials({ trials })).toEqual(trials);
    expect(areTrials({ trials })).toBe(true);
  });

  it.each([
    ['a hand above 1', trial('a', { hand: { value: 1.2, low: 0, high: 1 } }), 'trials.0.hand.value is 1.2'],
    ['no name', trial(''), 'trials.0.name is ""'],
    ['a field that is none', trial('a', { shop: 'north' }), 'trials.0.shop is not known'],
  ])('is refused with the field: %s', (_, wrong, sentence) => {
    expect(validate({ trials: [wrong] })).toBe(false);
    expect(() => readTrials({ trials: [wrong] })).toThrow(sentence);
  });

  it('has each name once', () => {
    expect(() => readTrials({ trials: [trial('a'), trial('b'), trial('a')] })).toThrow('two of the name "a"');
  });

  it('takes a trial in the place of the one of its name, and up to a thousand', () => {
    const [first, again] = [trial('a'), trial('a', { person: 'Ada' })];
    expect(withTrial([first, trial('b')], again)).toEqual([trial('b'), again]);
    const many = Array.from({ length: MOST_TRIALS }, (_, i) => trial(String(i)));
    expect(withTrial(many, trial('7', { person: 'Ada' }))).toHaveLength(MOST_TRIALS);
    expect(() => withTrial(many, trial('new'))).toThrow('1000 trials already');
  });

  it('is not taken for measurements, nor measurements for it', () => {
    const measurements = JSON.parse(
      readFileSync(new URL('../../samples/trial/seed-bench-corner.json', import.meta.url), 'utf8'),
    );
    expect(areTrials(measurements)).toBe(false);
    expect(areTrials(null)).toBe(false);
  });
});
