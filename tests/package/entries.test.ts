/** What a user of the package gets: its entries, for Node and for a bundler, its types and its files. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { builtinModules, createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { DEMO_TRAY } from '../../src/server/demoTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { VERSION } from '../../src/version.ts';
import { LONG } from '../support/long.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const own = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

test('the version in the program is that of the package', () => {
  expect(VERSION).toBe(own.version);
});

/** A page of somebody else's, which imports the package by its name. */
const PAGE = `
import { builtInExporters, createRegistry, developTray, flatPatternOf, readTray } from 'gatherpan';
export async function filesOf(tray, formats) {
  const pattern = flatPatternOf(developTray(readTray(tray)));
  const registry = createRegistry(builtInExporters);
  const files = {};
  for (const id of formats) {
    const exporter = registry.get(id);
    files[id] = new TextDecoder().decode(await exporter.write(pattern, registry.values(exporter, {})));
  }
  return files;
}
export const formats = builtInExporters.map(({ id }) => id);
`;

interface Bundle {
  readonly files: readonly { readonly name: string; readonly text: string }[];
  readonly warnings: readonly string[];
}

async function byEsbuild(): Promise<Bundle> {
  const { outputFiles, warnings } = await build({
    stdin: { contents: PAGE, resolveDir: root, sourcefile: 'page.js' },
    bundle: true,
    splitting: true,
    format: 'esm',
    minify: true,
    outdir: root,
    write: false,
    logLevel: 'silent',
  });
  return {
    files: outputFiles.map(({ path, text }) => ({ name: path.slice(root.length), text })),
    warnings: warnings.map(({ text }) => text),
  };
}

async function byRolldown(): Promise<Bundle> {
  const page = join(root, 'stdin.js');
  const warnings: string[] = [];
  const bundle = await rolldown({
    input: page,
    platform: 'browser',
    onLog: (_level, { code, message }) => {
      warnings.push(`${code}: ${message}`);
    },
    plugins: [
      {
        name: 'page',
        resolveId: (id) => (id === page ? id : null),
        load: (id) => (id === page ? PAGE : null),
      },
    ],
  });
  const { output } = await bundle.generate({ format: 'esm', minify: true });
  await bundle.close();
  return {
    files: output.flatMap((file) =>
      file.type === 'chunk' ? [{ name: file.fileName, text: file.code }] : [],
    ),
    warnings,
  };
}

const FORMATS = ['dxf', 'json', 'svg', 'step', 'formed-step', 'card-svg', 'gauges-dxf'];

/** Kinds of files that are packed. */
const KINDS = [
  'LICENSE',
  'README.md',
  'dist/**/*.d.ts',
  'dist/**/*.js',
  'dist/command/licences.txt',
  'dist/measurements.schema.json',
  'dist/page/*.css',
  'dist/page/*.html',
  'dist/page/*.svg',
  'dist/page/fonts/*.ttf',
  'dist/page/licences.txt',
  'dist/tray.schema.json',
  'dist/trials.schema.json',
  'package.json',
  'samples/**/*.csv',
  'samples/**/*.dxf',
  'samples/**/*.json',
  'samples/**/*.svg',
  'web/**/*.html',
];

/** The second one also makes the page that is served, see tests/web/solver.test.ts. */
const BUNDLERS = [
  ['esbuild', byEsbuild],
  ['rolldown', byRolldown],
] as const;

describe.each(LONG ? BUNDLERS : BUNDLERS.slice(0, 1))('bundled for a browser by %s', (_name, bundled) => {
  let bundle: Bundle;
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-bundle-'));
  beforeAll(async () => {
    bundle = await bundled();
    for (const { name, text } of bundle.files) writeFileSync(join(folder, name), text);
    writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('nothing of Node is left in it, and no file of native code', () => {
    expect(bundle.warnings).toEqual([]);
    for (const { name, text } of bundle.files) {
      const named = [...text.matchAll(/(?:\bfrom|\bimport|\brequire)\s*\(?\s*["']([^"'./][^"']*)["']/g)];
      expect(
        named
          .map(([, module]) => module!)
          .filter((module) => module.startsWith('node:') || builtinModules.includes(module)),
        name,
      ).toEqual([]);
    }
    expect(bundle.files.some(({ name }) => name.endsWith('.node'))).toBe(false);
  });

  test('it makes the bytes that the sources make', async () => {
    const page = bundle.files.find(({ name }) => /^stdin/.test(name))!;
    const { filesOf, formats } = (await import(join(folder, page.name))) as {
      filesOf(tray: unknown, formats: readonly string[]): Promise<Record<string, string>>;
      formats: readonly string[];
    };
    expect(formats).toEqual(expect.arrayContaining(FORMATS));
    const made = await filesOf(DEMO_TRAY, FORMATS);
    const pattern = flatPatternOf(developTray(readTray(DEMO_TRAY)));
    const registry = createRegistry(nodeExporters);
    for (const id of FORMATS) {
      const exporter = registry.get(id);
      const bytes = await exporter.write(pattern, registry.values(exporter, {}));
      expect(made[id], id).toBe(new TextDecoder().decode(bytes));
    }
  });
});

describe('the packed package', () => {
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-pack-'));
  let paths: string[];
  beforeAll(() => {
    const said = execFileSync('npm', ['pack', '--ignore-scripts', '--json', '--pack-destination', folder], {
      cwd: root,
      encoding: 'utf8',
    });
    paths = JSON.parse(said)[0].files.map(({ path }: { path: string }) => path);
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('holds what is used and nothing else', () => {
    const kind = (path: string): string =>
      path
        .replace(/^dist\/(?:[\w-]+\/)*[\w.-]+?(\.d)?\.ts$/, 'dist/**/*.d.ts')
        .replace(/^dist\/(?:[\w-]+\/)*[\w.-]+\.js$/, 'dist/**/*.js')
        .replace(/^dist\/page\/[\w-]+\.(css|html|svg)$/, 'dist/page/*.$1')
        .replace(/fonts\/[\w-]+\.ttf$/, 'fonts/*.ttf')
        .replace(/^(web|samples)\/.*\.(\w+)$/, '$1/**/*.$2');
    expect([...new Set(paths.map(kind))].sort()).toEqual(KINDS);
    expect(paths.filter((path) => /^dist\/(browser|cli|server|tools)\/|test|\.map$/.test(path))).toEqual([]);
  });

  test('every entry has its module and its types in it', () => {
    const targets = Object.values(own.exports as Record<string, string | Record<string, string>>).flatMap(
      (entry) => (typeof entry === 'string' ? [entry] : Object.values(entry)),
    );
    for (const target of [...targets, ...Object.values(own.bin as Record<string, string>)]) {
      expect(paths).toContain(target.replace(/^\.\//, ''));
    }
  });

  test('publint has nothing to say', async () => {
    const tarball = new Uint8Array(readFileSync(join(folder, `gatherpan-${VERSION}.tgz`))).buffer;
    const { messages } = await publint({ strict: true, pack: { tarball } });
    expect(messages.map((message) => formatMessage(message, own))).toEqual([]);
  });

  test('its types are those of its modules (attw)', () => {
    const bin = createRequire(import.meta.url).resolve('@arethetypeswrong/cli/package.json');
    const tgz = join(folder, `gatherpan-${VERSION}.tgz`);
    const run = (): string =>
      execFileSync(
        process.execPath,
        [join(bin, '../dist/index.js'), tgz, '--profile', 'esm-only', '--format', 'ascii', '--no-emoji'],
        { encoding: 'utf8', stdio: 'pipe' },
      );
    // It ends with an exit code, and so throws, where it finds something.
    const said = run();
    for (const entry of ['gatherpan', 'gatherpan/node', 'gatherpan/batch'])
      expect(said).toContain(`"${entry}"`);
  });
});
