/**
 * The built command as a process of its own: what only a process has, such as exit code, pipes and the
 * package's version. Needs `npm run build` first, which `npm test` does.
 */
import { spawn } from 'node:child_process';
import { closeSync, existsSync, openSync, readFileSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { goodFile } from '../tray/trayFiles.ts';
import { inFolder, writeFiles } from './fakes.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const main = join(root, 'dist/command/gatherpan.js');

interface Ended {
  readonly exit: number | null;
  readonly out: string;
  readonly error: string;
}

function gatherpan(
  argv: readonly string[],
  options: { stdin?: string; folder?: string; environment?: Record<string, string> } = {},
): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [main, ...argv], {
      cwd: options.folder ?? root,
      env: { ...process.env, ...options.environment },
    });
    let out = '';
    let error = '';
    child.stdout.on('data', (chunk) => {
      out += chunk;
    });
    child.stderr.on('data', (chunk) => {
      error += chunk;
    });
    child.on('error', reject);
    child.on('close', (exit) => resolve({ exit, out, error }));
    // A command that refuses its input early closes the pipe: that is not what is tested here.
    child.stdin.on('error', () => {});
    child.stdin.end(options.stdin ?? '');
  });
}

beforeAll(() => {
  if (!existsSync(main)) throw new Error('dist is missing: run `npm run build` before these tests');
});

describe('the built command', () => {
  test('knows the version of the package', async () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(await gatherpan(['--version'])).toEqual({ exit: 0, out: `${version}\n`, error: '' });
  });

  test('prints help', async () => {
    const ended = await gatherpan(['--help']);
    expect(ended).toMatchObject({ exit: 0, error: '' });
    expect(ended.out).toContain('Usage: gatherpan');
  });

  test('dates a card by the clock, or as SOURCE_DATE_EPOCH says', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'tray.json': goodFile() });
      const argv = ['make', 'tray.json', '--format', 'card-svg', '--set', 'card-svg.plan=false'];
      const card = async (environment: Record<string, string>): Promise<string> => {
        expect((await gatherpan(argv, { folder, environment })).exit).toBe(0);
        return readFileSync(join(folder, 'bench-drip-tray.card.svg'), 'utf8');
      };
      // 86,400 seconds a day: the eleventh day of 1970.
      expect(await card({ SOURCE_DATE_EPOCH: '864000' })).toContain('Date 1970-01-11');
      const before = new Date();
      const text = await card({ SOURCE_DATE_EPOCH: '' });
      const days = [before, new Date()].map(
        (day) =>
          `Date ${day.getFullYear()}-${String(day.getMonth() + 1).padStart(2, '0')}-${String(day.getDate()).padStart(2, '0')}`,
      );
      expect(days.some((day) => text.includes(day))).toBe(true);
    }));

  test('ends with 2 and one sentence on bad input, without a stack', async () => {
    const ended = await gatherpan(['check', '-'], { stdin: '{"name": 5}' });
    expect(ended.exit).toBe(2);
    expect(ended.out).toBe('');
    expect(ended.error.split('\n')[0]).toMatch(/^standard input: name is 5; give a name/);
    expect(ended.error).not.toMatch(/\n\s+at /);
  });

  test('ends with 2 on a wrong word', async () => {
    expect((await gatherpan(['bake'])).exit).toBe(2);
  });

  test('refuses a large file on standard input and ends', async () => {
    const ended = await gatherpan(['check', '-'], { stdin: ' '.repeat(3_000_000) });
    expect(ended).toMatchObject({ exit: 2, out: '' });
    expect(ended.error).toContain('larger than 1 MB');
  });

  test('solves a tray from standard input into real files', () =>
    inFolder(async (folder) => {
      const ended = await gatherpan(['make', '-', '--out', 'out', '--format', 'dxf,json'], {
        stdin: JSON.stringify(goodFile()),
        folder,
      });
      expect(ended).toMatchObject({ exit: 0, error: '' });
      expect(readFileSync(join(folder, 'out/bench-drip-tray.dxf'), 'latin1')).toContain('EOF');
      const report = JSON.parse(readFileSync(join(folder, 'out/bench-drip-tray.json'), 'utf8'));
      // Wall to wall and up both sides, less what the bends save: more than base and walls without them.
      expect(report.blank.length).toBeGreaterThan(420 + 60);
      expect(report.blank.length).toBeLessThan(420 + 2 * 60 + 2 * 4);
      expect(ended.out).toContain(`wrote      ${join('out', 'bench-drip-tray.dxf')}`);
    }));

  test('refuses a material nobody knows with 2 and the nearest name', () =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'a.json': { ...goodFile(), sheet: { material: 'DC4', thickness: 1 } } });
      const ended = await gatherpan(['check', 'a.json'], { folder });
      expect(ended.exit).toBe(2);
      expect(ended.error).toMatch(/^a\.json: [^\n]*DC4[^\n]*DC04[^\n]*\n$/);
    }));

  test('wrote the JSON Schema beside itself', () => {
    const schema = JSON.parse(readFileSync(join(root, 'dist/tray.schema.json'), 'utf8'));
    expect(schema.title).toBe('Tray file');
  });

  test.skipIf(!existsSync('/dev/full'))(
    'tells in one sentence that its output finds no room, and writes its files',
    () =>
      inFolder(async (folder) => {
        await writeFiles(folder, {
          'a.json': { ...goodFile(), name: 'a' },
          'b.json': { ...goodFile(), name: 'b' },
        });
        const full = openSync('/dev/full', 'w');
        const child = spawn(process.execPath, [main, 'make', 'a.json', 'b.json'], {
          cwd: folder,
          stdio: ['ignore', full, 'pipe'],
        });
        closeSync(full);
        let error = '';
        child.stderr!.on('data', (chunk) => {
          error += chunk;
        });
        const exit = await new Promise((resolve) => child.on('close', resolve));
        expect([exit, error]).toEqual([2, 'Standard output cannot be written: the disk is full.\n']);
        expect((await readdir(folder)).sort()).toEqual(['a.dxf', 'a.json', 'b.dxf', 'b.json']);
      }),
  );

  test('takes it calmly when its reader stops reading', () =>
    new Promise<void>((resolve, reject) => {
      const child = spawn(process.execPath, [main, 'sheets']);
      let error = '';
      child.stderr.on('data', (chunk) => {
        error += chunk;
      });
      child.stdout.destroy();
      child.on('error', reject);
      child.on('close', () => {
        try {
          expect(error).toBe('');
          resolve();
        } catch (fault) {
          reject(fault);
        }
      });
    }));
});
