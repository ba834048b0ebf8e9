/** Every version of Node that the package is for builds it, runs its commands, and makes the same bytes. Long: each is fetched first. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LONG } from '../support/long.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const samples = join(root, 'samples');
const folder = mkdtempSync(join(tmpdir(), 'gatherpan-node-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const TRAYS = ['pot-saucer', 'propagator-drip-tray', 'splash-back-tray', 'seed-bench-drip-tray'];

/** What the first version made, by name of file. */
let first: Record<string, string> | undefined;

describe.runIf(LONG).each([20, 22, 24])('Node %d', (version) => {
  const place = join(folder, String(version));
  const copy = join(place, 'program');
  let node: string;
  const run = (...args: string[]): string =>
    execFileSync(node, args, { cwd: copy, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  const command = (...args: string[]): string => run('dist/command/gatherpan.js', ...args);

  beforeAll(() => {
    mkdirSync(copy, { recursive: true });
    // npm's own package of that name brings the program.
    execFileSync('npm', ['install', '--no-audit', '--no-fund', '--prefix', place, `node@${version}`]);
    node = join(place, 'node_modules/node/bin/node');
    for (const name of ['src', 'web', 'package.json', 'tsconfig.json'])
      cpSync(join(root, name), join(copy, name), { recursive: true });
    symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  });

  test('builds the package', () => {
    expect(run('--version')).toMatch(new RegExp(`^v${version}\\.`));
    run('node_modules/typescript/bin/tsc', '-p', 'tsconfig.json');
    run('dist/tools/writeSchema.js');
    run('dist/tools/bundle.js');
    expect(command('--version').trim()).toBe(
      JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version,
    );
  });

  test('makes the files of trays, byte for byte as the others', () => {
    const out = join(place, 'out');
    const files = TRAYS.map((name) => join(samples, `${name}.json`));
    command('make', ...files, '--out', out, '--format', 'dxf,json,svg,step', '--limit', '600');
    const made = Object.fromEntries(
      readdirSync(out).map((name) => [name, readFileSync(join(out, name), 'latin1')]),
    );
    expect(Object.keys(made)).toHaveLength(4 * TRAYS.length);
    first ??= made;
    for (const [name, bytes] of Object.entries(made)) expect(bytes === first[name], name).toBe(true);
  });

  test('runs every command', () => {
    const tray = join(samples, 'propagator-drip-tray.json');
    expect(command('check', tray, '--limit', '600')).toContain('verdict');
    expect(command('plan', tray, '--limit', '600')).toContain('stage');
    expect(command('sheets')).toContain('DC04');
    const table = join(samples, 'propagator-sizes.csv');
    const batch = join(place, 'batch');
    command(
      'batch',
      table,
      '--base',
      tray,
      '--out',
      batch,
      '--sheet',
      '2000x1000',
      '--jobs',
      '2',
      '--limit',
      '600',
    );
    expect(readdirSync(batch)).toEqual(expect.arrayContaining(['manifest.json', 'layout.json']));
    command('layout', tray, '--out', join(place, 'layout'), '--sheet', '2000x1000', '--limit', '600');
    command('make', tray, '--out', place, '--format', 'formed-step', '--limit', '600');
    const solid = readdirSync(place).find((name) => name.endsWith('.formed.step'))!;
    expect(command('recognise', join(place, solid), '--limit', '600')).toContain('"section"');
    for (const name of ['hand', 'worker', 'serve']) expect(command(name, '--help')).toContain(name);
  });
});
