/** The solids, read back by the kernel in a process that knows nothing of how they were written. Needs the build. */
import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { byQuadrature } from './byQuadrature.ts';
import { tray } from './trays.ts';

const NAMES = [
  'plan radius equals bottom radius: spheres',
  'walls of four heights: helicoids on the rim',
  'one side open',
  'notched corners with a weld gap',
  'holes in leaning walls',
];

/** Reads each file named, prints validity, volume and area. */
const SCRIPT = `
import { readFileSync } from 'node:fs';
const [instance, ...files] = process.argv.slice(1);
const { loadOcct } = await import(instance);
const k = await loadOcct();
for (const file of files) {
  k.FS.writeFile('/t.stp', readFileSync(file));
  const reader = new k.STEPControl_Reader_1();
  reader.ReadFile('t.stp');
  reader.TransferRoots();
  const shape = reader.OneShape();
  const [inside, skin] = [new k.GProp_GProps_1(), new k.GProp_GProps_1()];
  k.BRepGProp.VolumeProperties_1(shape, inside, false, false, false);
  k.BRepGProp.SurfaceProperties_1(shape, skin, false, false);
  console.log(JSON.stringify([new k.BRepCheck_Analyzer(shape, true).IsValid_2(), inside.Mass(), skin.Mass()]));
}
process.exit(0);
`;

it('are the same there, to 1e-6', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'formed-'));
  try {
    const files = await Promise.all(
      NAMES.map(async (name, i) => {
        const file = join(folder, `${i}.step`);
        await writeFile(file, writeFormedSolid(tray(name), 'tray', 'AP242'));
        return file;
      }),
    );
    const instance = new URL('../../dist/step/occt/instance.js', import.meta.url).href;
    const { stdout } = await promisify(execFile)(process.execPath, [
      '--input-type=module',
      '-e',
      SCRIPT,
      instance,
      ...files,
    ]);
    const lines = stdout.trim().split('\n');
    expect(lines.length).toBe(NAMES.length);
    for (const [i, name] of NAMES.entries()) {
      const [valid, volume, area] = JSON.parse(lines[i]!) as [boolean, number, number];
      const expected = byQuadrature(tray(name));
      expect(valid, name).toBe(true);
      expect(Math.abs(volume / expected.volume - 1), name).toBeLessThan(1e-6);
      expect(Math.abs(area / expected.area - 1), name).toBeLessThan(1e-6);
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}, 600_000);
