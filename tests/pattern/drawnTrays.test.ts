/** Trays as a person draws them: each gets a verdict, and what is said to help does. */
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { workingPlan } from '../../src/gather/workingPlan.ts';
import { searchChanges } from '../../src/pattern/changes.ts';
import { verdictOn } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { drawnTrays } from '../support/drawnTrays.ts';

const LONG = process.env.LONG === '1';
const SEED = 1306;
const [TRAYS, REFUSED] = LONG ? [3000, 500] : [10, 1];

/** The trim may be too wide for an inward corner: a fault of the input that is said as one. */
const isFaultOfTrim = (error: unknown): boolean =>
  error instanceof GatherpanError && error.path === 'forming.trim';

describe(`drawn trays, seed ${SEED}`, () => {
  test(`${TRAYS} of them end in a verdict`, () => {
    const words = new Map<string, number>();
    for (const spec of drawnTrays(TRAYS, SEED)) {
      try {
        const { word } = verdictOn(developTray(spec));
        words.set(word, (words.get(word) ?? 0) + 1);
      } catch (error) {
        expect(isFaultOfTrim(error), `${JSON.stringify(spec)}: ${String(error)}`).toBe(true);
      }
    }
    expect(words.size).toBeGreaterThan(1);
    if (LONG) process.stderr.write(`${JSON.stringify(Object.fromEntries(words))}\n`);
  }, 7_200_000);

  test(`what is offered to ${REFUSED} that cannot be made can be worked and planned`, () => {
    let left = REFUSED;
    let offered = 0;
    for (const spec of drawnTrays(Infinity, SEED + 1)) {
      if (left === 0) break;
      let word: string;
      try {
        ({ word } = verdictOn(developTray(spec)));
      } catch {
        continue;
      }
      if (word !== 'not in one piece') continue;
      left--;
      for (const change of searchChanges(spec, word).changes) {
        offered++;
        const changed = withChange(spec, change.path, change.to);
        const made = developTray(changed);
        expect(verdictOn(made).word, `${spec.name}, ${change.about}`).toBe(change.verdict);
        expect(change.verdict).not.toBe('not in one piece');
        if (made.kind !== 'no flat') workingPlan(made);
      }
    }
    expect(offered).toBeGreaterThan(0);
    if (LONG) process.stderr.write(`${offered} changes offered\n`);
  }, 14_400_000);
});

/** The tray with another value in a field, apart from the search's own way. */
function withChange(spec: TraySpec, path: string, to: number | string): TraySpec {
  const copy = structuredClone(spec) as unknown as Record<string, Record<string, unknown>>;
  const [part, field] = path.split('.') as [string, string];
  const old = copy[part]![field];
  const wider = (radius: number): number => (radius > 0 ? Math.max(radius, to as number) : radius);
  if (path === 'plan.vertices')
    copy[part]![field] = (old as { radius: number }[]).map((v) => ({ ...v, radius: wider(v.radius) }));
  else copy[part]![field] = Array.isArray(old) ? (old as number[]).map(wider) : to;
  return copy as unknown as TraySpec;
}
