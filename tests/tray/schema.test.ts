/** The published JSON Schema says the same of a file as the reader does, judged by a validator of its own. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { trayFileSchema, trayJsonSchema } from '../../src/tray/schema.ts';
import { changed, customMaterial, FIELDS, goodFile } from './trayFiles.ts';

const validate = new Ajv2020({ strict: true, strictTypes: false, strictRequired: false }).compile(
  trayJsonSchema(),
);

const schemas = { mm: trayFileSchema('mm'), in: trayFileSchema('in') };

const bySchema = (file: unknown): boolean => {
  const units = (file as { units?: unknown } | null)?.units === 'in' ? 'in' : 'mm';
  return schemas[units].safeParse(file).success;
};

const VALUES: readonly unknown[] = [
  undefined,
  null,
  true,
  0,
  -1,
  0.4,
  1,
  5,
  9,
  10,
  18,
  18.5,
  22,
  45,
  100,
  2000,
  2001,
  5000,
  5001,
  1e308,
  '',
  'x',
  'DC04',
  'mm',
  'in',
  'inside',
  'plain',
  [],
  [45],
  [45, 45, 45, 45],
  [45, 45, 45, 'x'],
  {},
  { kind: 'plain' },
  { kind: 'lip', direction: 'out', bendRadius: 5, width: 10 },
  { kind: 'lip', direction: 'up', bendRadius: 5, width: 10 },
  { kind: 'lip' },
  ['top', 2],
  'notch',
  ['notch', 'gather'],
  { top: 45, left: 100 },
  { dxf: 'plan.dxf', layer: 'PLAN', cornerRadius: 22 },
  {
    vertices: [
      { x: 0, y: 0, bulge: 1 },
      { x: 100, y: 0, radius: 0, bulge: -4 },
    ],
    openEdges: [1],
  },
  [{ shape: { kind: 'round', diameter: 9 }, place: { on: 'base', x: 0, y: 0 } }],
  [
    {
      name: 'drain',
      shape: { kind: 'slot', length: 9, width: 5 },
      place: { on: 'wall', edge: 'top', along: 0, height: 30 },
    },
  ],
  [{ shape: { kind: 'polygon', points: [{ x: 0, y: 0 }] }, place: { on: 'base', x: 0, y: 0 } }],
  [{ shape: { kind: 'round', diameter: 9, width: 4 }, place: { on: 'base', x: 0, y: 0 } }],
  { gauge: 18, system: 'SWG' },
  { gauge: 40, system: 'SWG' },
  { gauge: 18 },
  { vertices: [] },
  {
    vertices: [
      { x: 0, y: 0, radius: 9 },
      { x: 99, y: 0, radius: 9 },
      { x: 0, y: 99, radius: 9 },
    ],
  },
  customMaterial,
  { length: 100, width: 50, cornerRadius: 9, height: 3 },
];

const PATHS = ['$schema', ...FIELDS, 'section', 'sheet', 'cut.process', 'cut.compensate', 'colour'];

describe('JSON Schema', () => {
  test('accepts a sound file, and refuses one of which something is wrong', () => {
    expect(validate(goodFile())).toBe(true);
    expect(validate(changed({ 'plan.length': 1 }))).toBe(false);
    expect(validate(changed({ 'plan.lenght': 100 }))).toBe(false);
  });

  test('agrees with the reader on one bad value at a time', () => {
    let accepted = 0;
    for (const units of [undefined, 'mm', 'in']) {
      for (const field of PATHS) {
        for (const value of VALUES) {
          const file = changed({ units, [field]: value });
          expect(validate(file), `${units} ${field} = ${JSON.stringify(value)}`).toBe(bySchema(file));
          if (validate(file)) accepted++;
        }
      }
    }
    expect(accepted).toBeGreaterThan(100);
  });

  test('agrees with the reader on several values at once, and on anything at all', () => {
    const several = fc
      .dictionary(fc.constantFrom(...PATHS), fc.constantFrom(...VALUES), { maxKeys: 3 })
      // Longer paths first: a field is not put inside what has become a number.
      .map((changes) => changed(Object.fromEntries(Object.entries(changes).sort().reverse())));
    fc.assert(
      fc.property(fc.oneof(several, fc.jsonValue()), (file) => {
        expect(validate(file)).toBe(bySchema(file));
      }),
      { seed: 1, numRuns: 1000 },
    );
  });

  test('describes every field', () => {
    const undescribed: string[] = [];
    const walk = (node: unknown, path: string): void => {
      if (typeof node !== 'object' || node === null) return;
      const { properties, items, anyOf, oneOf } = node as {
        properties?: object;
        items?: unknown;
        anyOf?: unknown[];
        oneOf?: unknown[];
      };
      for (const [key, inner] of Object.entries(properties ?? {})) {
        if (!('description' in inner) && !('const' in inner)) undescribed.push(`${path}.${key}`);
        walk(inner, `${path}.${key}`);
      }
      walk(items, `${path}[]`);
      for (const each of [...(anyOf ?? []), ...(oneOf ?? [])]) walk(each, path);
    };
    const { then: inches, else: millimetres, ...top } = trayJsonSchema();
    for (const branch of [inches, millimetres, top]) walk(branch, '');
    expect(undescribed).toEqual([]);
  });

  test('is plain data that survives being written to a file', () => {
    const schema = trayJsonSchema();
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
    expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
  });
});
