/** A tray file that takes its plan from a drawing: read from its own folder, whatever the folder one is in. */
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readRows } from '../../src/cli/batchRows.ts';
import type { Dependencies } from '../../src/cli/dependencies.ts';
import { planDrawing } from '../../src/cli/planDrawing.ts';
import { GatherpanError } from '../../src/errors.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { dxf, line } from '../support/drawnTags.ts';
import { orRefusal } from '../support/refusal.ts';
import { command, writeFiles } from './fakes.ts';

const samples = new URL('../../samples/', import.meta.url);
const tray = JSON.parse(await readFile(new URL('column-side-tray.json', samples), 'utf8')) as {
  plan: { dxf: string };
};
const drawing = await readFile(new URL('column-side-tray.dxf', samples));

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plan-drawing-'));
});
afterEach(() => rm(folder, { recursive: true }));

const sentence = async (file: unknown): Promise<string> => {
  const planDxf = await planDrawing(file, folder);
  const read = orRefusal(() => readTray(file, planDxf === undefined ? {} : { planDxf }));
  return read instanceof GatherpanError ? read.message : '';
};

describe('the drawing of a tray file', () => {
  test('is found from the folder of the file', async () => {
    await mkdir(join(folder, 'plans'));
    await writeFile(join(folder, 'plans', 'side.dxf'), drawing);
    const file = { ...tray, plan: { ...tray.plan, dxf: 'plans/side.dxf' } };
    const planDxf = await planDrawing(file, folder);
    const { plan } = readTray(file, { planDxf: planDxf! });
    expect('vertices' in plan && plan.vertices).toHaveLength(6);
  });

  test('may hold letters that are not UTF-8', async () => {
    const text = Buffer.concat([Buffer.from('999\nGr'), Buffer.from([0xfc]), Buffer.from('n\n'), drawing]);
    await writeFile(join(folder, tray.plan.dxf), text);
    expect(await sentence(tray)).toBe('');
  });

  test('that is not there, or is a folder, is told in a sentence with its name', async () => {
    expect(await sentence(tray)).toMatch(/^plan\.dxf is "column-side-tray\.dxf": [^\n]+\.$/);
    await mkdir(join(folder, tray.plan.dxf));
    expect(await sentence(tray)).toMatch(/^plan\.dxf is "column-side-tray\.dxf": [^\n]+\.$/);
  });

  test.each([[{}], [null], [{ plan: { dxf: 4 } }], [{ plan: { length: 300 } }]])(
    'is not looked for where none is named: %j',
    async (file) => {
      expect(await planDrawing(file, folder)).toBeUndefined();
    },
  );
});

describe('what a drawing leaves open, on the command line', () => {
  const plan = { dxf: 'plan.dxf', cornerRadius: 40 };
  const drip = (more: object = {}) => ({ ...tray, name: undefined, plan: { ...plan, ...more } });
  const square = (unit?: number) =>
    dxf([line(0, 0, 300, 0), line(300, 0, 300, 200), line(300, 200, 0, 200), line(0, 200, 0, 0)], unit);
  const check = async (files: Record<string, unknown>, ...argv: string[]) => {
    await writeFiles(folder, files);
    return command(folder, ['check', 'tray.json', ...argv]);
  };

  test('is said on standard error and in the JSON, which is nothing but JSON', async () => {
    const files = { 'tray.json': drip(), 'plan.dxf': square() };
    const note =
      'The drawing names no unit; it was taken to be in millimetres, which makes the plan 300 × 200 mm. If it is in inches, the plan is 7620 × 5080 mm: give the unit in plan.units, or with --units on the command line (mm, cm, dm, m, in, ft).';
    const ran = await check(files, '--json');
    expect(ran.error).toBe(`tray.json: ${note}\n`);
    expect(JSON.parse(ran.out)).toMatchObject({ exit: 0, trays: [{ ok: true, notes: [note] }] });
    const said = await check(files, '--json', '--units', 'mm');
    expect(said.error).toBe('');
    expect(JSON.parse(said.out).trays[0]).not.toHaveProperty('notes');
    // A tray that is refused may be so for the unit that was taken.
    const small = await check({ ...files, 'tray.json': drip({ cornerRadius: 400 }) });
    expect(small.exit).toBe(2);
    expect(small.error).toContain(note);
  });

  test.each([
    [
      ['--units', 'cm'],
      4,
      {},
      'plan.units (--units on the command line) is "cm", but the drawing itself is in millimetres',
    ],
    [
      ['--units', 'mm'],
      undefined,
      { units: 'in' },
      '--units is "mm", but plan.units of the tray file is "in"',
    ],
    [['--units', 'ell'], undefined, {}, '--units is "ell"; give one of mm, cm, dm, m, in, ft.'],
    [[], undefined, { units: 'ell' }, 'plan.units is "ell"; give "mm", "cm", "dm", "m", "in" or "ft"'],
    [[], undefined, { cornerRadius: undefined }, 'corners that are not round (4: x 0, y 0 mm;'],
  ] as const)('%s with unit %s and plan %s is refused in a sentence', async (argv, unit, more, sentence) => {
    const ran = await check({ 'tray.json': drip(more), 'plan.dxf': square(unit) }, ...argv);
    expect(ran.exit).toBe(2);
    expect(ran.error).toContain(sentence);
    expect(ran.out).toBe('');
  });

  test('--units is refused for a plan that is no drawing', async () => {
    const typed = { ...tray, plan: { length: 300, width: 200, cornerRadius: 40 } };
    const ran = await check({ 'tray.json': typed }, '--units', 'in');
    expect(ran.error).toContain('--units is the unit of a drawing');
    expect(ran.exit).toBe(2);
  });

  test('rows of a table tell once how the drawing of their base was read', async () => {
    await writeFiles(folder, {
      'base.json': drip(),
      'plan.dxf': square(),
      'rows.csv': 'name,section.height\na,30\nb,32\nc,34\n',
    });
    const told: string[] = [];
    const rows = await readRows('rows.csv', 'base.json', {
      folder,
      error: (text: string) => told.push(text),
    } as unknown as Dependencies);
    expect(rows).toHaveLength(3);
    expect(told).toEqual([expect.stringMatching(/^base\.json: The drawing names no unit; /)]);
  });
});
