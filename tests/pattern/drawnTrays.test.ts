/** Trays as a person draws them: each gets a verdict, and what is said to help does. */
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { workingPlan } from '../../src/gather/workingPlan.ts';
import { searchChanges } from '../../src/pattern/changes.ts';
import { verdictOn } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { drawnTrays, wingedTrays } from '../support/drawnTrays.ts';
import { LONG } from '../support/long.ts';

/** `CASES=200 SEED=7` asks for so many, and for others. */
const cases = (long: number, short: number): number => Number(process.env.CASES ?? (LONG ? long : short));
const SEED = Number(process.env.SEED ?? 1306);
const [TRAYS, REFUSED] = [cases(3000, 3), cases(500, 0)];

/** The trim may be too wide for an inward corner: a fault of the input that is said as one. */
const isFaultOfTrim = (error: unknown): boolean =>
  error instanceof GatherpanError && error.path === 'forming.trim';

/** Tells how far a long run has come, so that one that is stopped is worth what it has done. */
const told = (text: string): void => {
  if (LONG) process.stderr.write(`${text}\n`);
};

describe('drawn trays', () => {
  test(`${TRAYS} of them, seed ${SEED}, end in a verdict`, () => {
    const words = new Map<string, number>();
    const faults: string[] = [];
    let done = 0;
    const count = (word: string): void => {
      words.set(word, (words.get(word) ?? 0) + 1);
    };
    for (const spec of drawnTrays(TRAYS, SEED)) {
      try {
        count(verdictOn(developTray(spec)).word);
      } catch (error) {
        if (isFaultOfTrim(error)) count('trim');
        else {
          faults.push(`${spec.name}: ${String(error)}`);
          told(faults.at(-1)!);
        }
      }
      if (++done % 50 === 0) told(`${done} trays: ${JSON.stringify(Object.fromEntries(words))}`);
    }
    expect(faults).toEqual([]);
    expect(words.size).toBeGreaterThan(1);
  }, 14_400_000);

  test.runIf(REFUSED > 0)(
    `what is offered to ${REFUSED} that cannot be made, seed ${SEED + 1}, can be worked and planned`,
    () => {
      let done = 0;
      let offered = 0;
      const faults: string[] = [];
      for (const spec of drawnTrays(Infinity, SEED + 1)) {
        if (done === REFUSED) break;
        let word: string;
        try {
          ({ word } = verdictOn(developTray(spec)));
        } catch {
          continue;
        }
        if (word !== 'not in one piece') continue;
        done++;
        for (const change of searchChanges(spec, word).changes) {
          offered++;
          const made = developTray(withChange(spec, change.path, change.to));
          const found = verdictOn(made).word;
          const wrong = found !== change.verdict || found === 'not in one piece';
          const planned = wrong || made.kind === 'no flat' ? undefined : faultOf(() => workingPlan(made));
          if (wrong || planned !== undefined) {
            faults.push(`${spec.name}, ${change.about} ${change.to}: ${change.verdict}, ${found} ${planned}`);
            told(faults.at(-1)!);
          }
        }
        if (done % 10 === 0) told(`${done} refused trays, ${offered} changes offered`);
      }
      expect(faults).toEqual([]);
      expect(offered).toBeGreaterThan(0);
    },
    14_400_000,
  );
});

function faultOf(work: () => unknown): string | undefined {
  try {
    work();
    return undefined;
  } catch (error) {
    return String(error);
  }
}

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

describe('trays of several wings with lips, on the coarsest mesh, as while a person types', () => {
  const coarse = { band: false, solve: { minimumRefinements: 0, maximumRefinements: 0 } } as const;
  const verdictOf = (file: unknown): string => verdictOn(developTray(readTray(file), coarse)).word;

  test('one whose rim folds at its inward corner has no flat', () => {
    const corner = (x: number, y: number, radius = 15): object => ({ x, y, radius });
    const inward = corner(250, 120, 30);
    const outer = [corner(0, 0), corner(500, 0), corner(500, 120)];
    const file = {
      name: 'fold',
      plan: { vertices: [...outer, inward, corner(250, 240), corner(0, 240)] },
      section: { bottomRadius: 12, height: 25, draft: 10 },
      sheet: { material: '1050A-H14', thickness: 2 },
      forming: { trim: 4 },
    };
    expect(verdictOf(file)).toBe('not in one piece');
  });

  const count = cases(600, 8);
  test(`${count} of them, seed ${SEED + 2}, end in a verdict`, () => {
    const faults: string[] = [];
    const words = new Map<string, number>();
    for (const file of wingedTrays(count, SEED + 2)) {
      try {
        const word = verdictOf(file);
        words.set(word, (words.get(word) ?? 0) + 1);
      } catch (error) {
        if (!isFaultOfTrim(error)) faults.push(`${JSON.stringify(file)}: ${String(error)}`);
      }
    }
    told(JSON.stringify(Object.fromEntries(words)));
    expect(faults).toEqual([]);
    expect(words.size).toBeGreaterThan(0);
  }, 14_400_000);
});
