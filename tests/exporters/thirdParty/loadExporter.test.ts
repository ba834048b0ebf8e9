/** Exporters of third parties: loaded by path and by package name, in this process and in a bare Node. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { GatherpanError } from '../../../src/errors.ts';
import { loadExporter } from '../../../src/exporters/loadExporter.ts';
import { nodeExporters } from '../../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../../src/exporters/registry.ts';
import { samplePattern } from '../samplePattern.ts';
import { readStations } from './readStations.ts';

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, '../../..');

/** A person's folder with a few modules and packages in it. */
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'gatherpan-exporters-'));
  const write = (name: string, text: string): void => {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), text);
  };
  const exporter = (id: string): string =>
    `{ contract: 2, id: '${id}', label: 'Blank page', extension: 'txt', mediaType: 'text/plain', parameters: [], write: async () => new Uint8Array(1) }`;
  write('package.json', '{ "type": "module" }');
  write('default.js', `export default ${exporter('one')};`);
  write('named.js', `export const exporter = ${exporter('two')};`);
  write('list.js', `export default [${exporter('three')}, ${exporter('four')}];`);
  write('common.cjs', `module.exports = ${exporter('five')};`);
  write('nothing.js', 'export const other = 1;');
  write('empty.js', 'export default [];');
  write('bad.js', `export default { ...${exporter('BAD')}, extension: '../up' };`);
  write('throws.js', "throw new Error('no licence for the drawing table');");
  write('syntax.js', 'export default {;');
  for (const [name, exports] of [
    ['plain-package', '"./main.js"'],
    ['import-only', '{ "types": "./main.d.ts", "import": "./main.js" }'],
    ['@bench/nested', '{ ".": { "import": { "node": "./main.js" } } }'],
  ]) {
    write(`node_modules/${name}/package.json`, `{ "type": "module", "exports": ${exports} }`);
    write(`node_modules/${name}/main.js`, `export default ${exporter('six')};`);
  }
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('loadExporter', () => {
  it.each([
    ['./default.js', ['one']],
    ['./named.js', ['two']],
    ['./list.js', ['three', 'four']],
    ['./common.cjs', ['five']],
    ['plain-package', ['six']],
    ['import-only', ['six']],
    ['@bench/nested', ['six']],
  ])('takes %s', async (name, ids) => {
    expect((await loadExporter(name, folder)).map(({ id }) => id)).toEqual(ids);
  });

  it('takes absolute paths and file addresses', async () => {
    const path = join(folder, 'default.js');
    for (const name of [path, pathToFileURL(path).href]) {
      expect((await loadExporter(name, '/'))[0]!.id).toBe('one');
    }
  });

  it.each([
    ['./missing.js', 'NOT_FOUND', 'was not found'],
    ['missing-package', 'NOT_FOUND', 'is not installed'],
    ['default.js', 'NOT_FOUND', 'for the file in this folder write ./default.js'],
    ['./nothing.js', 'BAD_INPUT', 'exports no exporter'],
    ['./empty.js', 'BAD_INPUT', 'empty list'],
    ['./bad.js', 'BAD_INPUT', 'id is "BAD"'],
    ['./bad.js', 'BAD_INPUT', 'extension is "../up"'],
    ['./throws.js', 'BAD_INPUT', 'no licence for the drawing table'],
    ['./syntax.js', 'BAD_INPUT', 'could not be run'],
  ])('refuses %s in one sentence (%s)', async (name, code, words) => {
    const error = await loadExporter(name, folder).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(GatherpanError);
    expect(error).toMatchObject({ code, message: expect.stringContaining(words) });
    for (const { message } of (error as GatherpanError).faults) expect(message).not.toMatch(/\n/);
  });
});

describe('an exporter written against the published package', () => {
  it('joins the built-in ones in a registry and writes', async () => {
    const loaded = await loadExporter(join(here, 'stations.ts'));
    const registry = createRegistry([...nodeExporters, ...loaded]);
    const stations = registry.get('stations');
    const bytes = await stations.write(samplePattern(), registry.values(stations, {}));
    const { loops } = readStations(bytes);
    expect(loops.map(({ vertices }) => vertices)).toEqual([
      samplePattern().outline.vertices,
      samplePattern().holes[0]!.path.vertices,
    ]);
  });

  it('is refused beside another of the same id', async () => {
    const [stations] = await loadExporter(join(here, 'stations.ts'));
    expect(() => createRegistry([stations!, { ...stations!, label: 'Another list' }])).toThrow(
      'Two exporters have the id stations',
    );
  });

  // `npm test` builds first; a bare `vitest` run in a fresh clone has nothing to install.
  it.skipIf(!existsSync(join(root, 'dist/index.js')))(
    'compiles and runs with nothing but the built package installed',
    () => {
      const out = join(folder, 'node_modules/bench-stations');
      mkdirSync(out, { recursive: true });
      symlinkSync(root, join(folder, 'node_modules/gatherpan'));
      writeFileSync(
        join(out, 'package.json'),
        '{ "name": "bench-stations", "version": "1.0.0", "type": "module", "exports": "./stations.js" }',
      );
      const tsc = join(root, 'node_modules/typescript/bin/tsc');
      execFileSync(process.execPath, [tsc, '-p', join(here, 'tsconfig.json'), '--outDir', out]);

      const script = `
        import { loadExporter } from ${JSON.stringify(pathToFileURL(join(root, 'dist/exporters/loadExporter.js')).href)};
        const [exporter] = await loadExporter('bench-stations');
        const path = { closed: true, vertices: [{ x: 1, y: 2, bulge: 0 }, { x: 3, y: 4, bulge: 1 }] };
        const bytes = await exporter.write({ outline: path, holes: [] }, { separator: 'semicolon' });
        process.stdout.write(bytes);
      `;
      const written = execFileSync(process.execPath, ['--input-type=module', '--eval', script], {
        cwd: folder,
        encoding: 'utf8',
      });
      expect(written).toBe('# outline, mm, closed\n1;2;0\n3;4;1\n');
    },
  );
});
