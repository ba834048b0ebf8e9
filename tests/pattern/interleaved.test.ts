/**
 * No solve depends on those before it: random sequences of solves, plans and searches of different trays, some of which
 * fail, give the bytes that each tray gives alone in a program just started.
 */
import fc from 'fast-check';
import { beforeAll, expect, test, vi } from 'vitest';
import { LONG } from '../support/long.ts';

const SPECS = {
  symmetric: {
    plan: { length: 240, width: 160, cornerRadius: 40 },
    section: { bottomRadius: 15, height: 25 },
    sheet: { material: 'DC04', thickness: 1 },
  },
  'four corners': {
    plan: { length: 240, width: 170, cornerRadius: [45, 40, 50, 35] },
    section: { bottomRadius: 12, height: 22 },
    sheet: { material: '1050A-O', thickness: 1.5, grain: 30 },
  },
  notched: {
    plan: { length: 220, width: 150, cornerRadius: { C: 40, D: 40 } },
    section: { bottomRadius: 8, height: 24 },
    sheet: { material: 'DC01', thickness: 0.8 },
    forming: { corners: { A: 'notch', B: 'notch' }, weldGap: 0.5 },
  },
  'no flat': {
    plan: { length: 240, width: 160, cornerRadius: 8 },
    section: { bottomRadius: 8, height: 100 },
    sheet: { material: 'DC04', thickness: 1 },
  },
} as const;

type Name = keyof typeof SPECS;
const NAMES = Object.keys(SPECS) as Name[];

interface Made {
  readonly files: string;
  /** Null where none was asked for, or there is none. */
  readonly plan: string | null;
}

/** What a program that was just started has loaded. */
async function program() {
  vi.resetModules();
  const [
    { readTray },
    { developTray },
    { workingPlan },
    { createRegistry },
    { dxfExporter },
    { jsonExporter },
  ] = await Promise.all([
    import('../../src/tray/readTray.ts'),
    import('../../src/pattern/developTray.ts'),
    import('../../src/gather/workingPlan.ts'),
    import('../../src/exporters/registry.ts'),
    import('../../src/exporters/dxf/dxfExporter.ts'),
    import('../../src/exporters/json/jsonExporter.ts'),
  ]);
  const registry = createRegistry([dxfExporter, jsonExporter]);
  /** What is made of a tray, as text. */
  return async (name: Name, withPlan: boolean): Promise<Made> => {
    const pattern = developTray(readTray({ name, ...SPECS[name] }));
    if (pattern.kind === 'no flat') return { files: JSON.stringify(pattern), plan: null };
    const files = [];
    for (const exporter of registry.list())
      files.push(new TextDecoder().decode(await exporter.write(pattern, registry.values(exporter, {}))));
    return { files: files.join('\n'), plan: withPlan ? JSON.stringify(workingPlan(pattern)) : null };
  };
}

const alone = new Map<Name, Made>();
beforeAll(async () => {
  for (const name of NAMES) alone.set(name, await (await program())(name, true));
});

test('any order gives the bytes of each alone', async () => {
  const make = await program();
  const steps = fc.array(fc.record({ name: fc.constantFrom(...NAMES), withPlan: fc.boolean() }), {
    minLength: 2,
    maxLength: 6,
  });
  await fc.assert(
    fc.asyncProperty(steps, async (order) => {
      for (const { name, withPlan } of order)
        expect(await make(name, withPlan)).toEqual({
          ...alone.get(name),
          ...(withPlan ? {} : { plan: null }),
        });
    }),
    { seed: 1, numRuns: LONG ? 40 : 2 },
  );
});
