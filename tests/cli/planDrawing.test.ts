/** A tray file that takes its plan from a drawing: read from its own folder, whatever the folder one is in. */
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { planDrawing } from '../../src/cli/planDrawing.ts';
import { GatherpanError } from '../../src/errors.ts';
import { readTray } from '../../src/tray/readTray.ts';

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
  try {
    readTray(file, planDxf === undefined ? {} : { planDxf });
  } catch (error) {
    expect(error).toBeInstanceOf(GatherpanError);
    return (error as GatherpanError).message;
  }
  return '';
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
