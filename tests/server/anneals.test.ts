/** What the page and the manifest say of anneals. */
import { describe, expect, it } from 'vitest';
import { findSheet, listSheets } from '../../src/material/sheets.ts';
import { annealsFound } from '../../src/material/temper.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { anneals } from '../../src/server/anneals.ts';
import { english } from '../../src/words/english.ts';
import { written } from '../../src/words/statement.ts';

/** As much of a pattern as the anneals are read from. */
const worked = (name: string, share: number): FlatPattern => {
  const material = findSheet(name);
  const work = share * material.anneal.strainBudget;
  const gather = { work, anneals: annealsFound(material, work) };
  return { sheet: { material, thickness: 1 }, gather } as unknown as FlatPattern;
};

describe('the anneals of a sheet that must not be heated', () => {
  const unheated = listSheets()
    .filter(({ anneal }) => anneal.temperature === null)
    .map(({ name }) => name);

  it('is some of the table', () => expect(unheated.length).toBeGreaterThan(1));

  it.each(unheated)('%s: none needed within its budget, and what to do instead beyond it', (name) => {
    for (const share of [0, 0.5, 0.99])
      expect(anneals(worked(name, share))).toEqual({ count: 0, notes: [english.service.noAnneal] });
    const instead = written(findSheet(name).anneal.instead!, english);
    for (const share of [1.01, 2, 5])
      expect(anneals(worked(name, share))).toEqual({ count: null, notes: [instead] });
  });
});
