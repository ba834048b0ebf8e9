/** What the command loads: of all there is, only what it needs. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'gatherpan-start-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The modules that a run of the command loads, those in its bundle by their own names. */
function loaded(...args: string[]): { bundled: string[]; others: string[] } {
  const coverage = mkdtempSync(join(folder, 'coverage-'));
  execFileSync(process.execPath, [join(root, 'dist/command/gatherpan.js'), ...args], {
    env: { ...process.env, NODE_V8_COVERAGE: coverage },
  });
  const files = readdirSync(coverage).flatMap((file) => {
    const { result } = JSON.parse(readFileSync(join(coverage, file), 'utf8')) as {
      result: { url: string }[];
    };
    return result.map(({ url }) => url).filter((url) => url.startsWith('file:'));
  });
  const isBundled = (url: string): boolean => url.includes('/dist/command/');
  return {
    bundled: files
      .filter(isBundled)
      .flatMap((url) =>
        [
          ...readFileSync(fileURLToPath(url), 'utf8').matchAll(
            /^\/\/(?:#region)? ?(?:dist|node_modules)\/(.*)$/gm,
          ),
        ].map(([, name]) => name!),
      ),
    others: files.filter((url) => !isBundled(url)),
  };
}

test('a tray to DXF loads neither PDF nor queue nor STEP nor service', () => {
  const { bundled, others } = loaded(
    'make',
    join(root, 'samples/propagator-drip-tray.json'),
    '--out',
    folder,
    '--format',
    'dxf',
  );
  expect(bundled).toEqual(
    expect.arrayContaining([
      'cli/commands/make.js',
      'pattern/developTray.js',
      'exporters/dxf/dxfExporter.js',
    ]),
  );
  expect(others, 'no package that is not in the bundle').toEqual([]);
  const unwanted =
    /^(server|jobs\/exporter|batch\/(queue|pool)|layout\/(?!partDrawing)|papers\/(shopCard|template\.|gauges))|^drawing\/(pdf|png|svg)/;
  expect(bundled.filter((name) => unwanted.test(name))).toEqual([]);
  // What is known of a part without reading one.
  expect(bundled.filter((name) => name.startsWith('step/'))).toEqual(['step/partPattern.js']);
});
