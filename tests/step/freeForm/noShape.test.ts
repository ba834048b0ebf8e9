import { expect, it } from 'vitest';
import { GatherpanError } from '../../../src/errors.ts';
import { isUnsettled, NoShape } from '../../../src/step/freeForm/noShape.ts';
import { words } from '../../../src/words/language.ts';
import { statement, written } from '../../../src/words/statement.ts';

const sentence = statement('parts.noFlat.notSettled', '0.2', '10', '-20', '30');

it('is refused as a part without a flat, in the sentence it was given', () => {
  const error = new NoShape('overlaps', sentence);
  expect(error).toBeInstanceOf(GatherpanError);
  expect([error.code, error.why, error.sentence]).toEqual(['NO_FLAT', 'overlaps', sentence]);
  expect(error.message).toBe(written(sentence, words()));
  for (const figure of sentence.figures) expect(error.message).toContain(figure);
});

it('only a part without an equilibrium is tried another way', () => {
  expect(isUnsettled(new NoShape('no equilibrium', sentence))).toBe(true);
  expect(isUnsettled(new NoShape('overlaps', sentence))).toBe(false);
  expect(isUnsettled(new GatherpanError('NO_FLAT', 'no equilibrium'))).toBe(false);
  expect(isUnsettled(null)).toBe(false);
});
