/** Whole runs with the embedded pool: bytes, order, resuming, stopping, archives. */
import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import JSZip from 'jszip';
import { describe, expect, it } from 'vitest';
import type { ManifestTray } from '../../src/jobs/manifest.ts';
import { sha256 } from '../../src/jobs/manifest.ts';
import { inFolder } from '../cli/fakes.ts';
import { refusalOf } from '../support/refusal.ts';
import { BASE, DXF, family, hashes, run, stopAfter } from './batches.ts';

const folder = (path: string) => ({ kind: 'folder', path }) as const;
const archive = (path: string) => ({ kind: 'archive', path }) as const;
const TWELVE = family(3); // two chunks

/** What a run on this machine, whose process is gone, leaves behind. */
const deadLock = (token: string): string =>
  JSON.stringify({ process: 2 ** 22 + 1, since: null, host: hostname(), token });

describe('a run', () => {
  it('gives the same bytes with one thread and with two, manifest, contact sheet and journal too', () =>
    inFolder(async (at) => {
      await run(TWELVE, folder(join(at, 'one')), { jobs: 1 });
      await run(TWELVE, folder(join(at, 'two')), { jobs: 2 });
      const one = await hashes(join(at, 'one'));
      expect(Object.keys(one)).toHaveLength(12 + 5);
      expect(await hashes(join(at, 'two'))).toEqual(one);
    }));

  it('tells of progress in row order', () =>
    inFolder(async (at) => {
      const seen: number[] = [];
      await run(TWELVE, folder(at), { progress: (done) => seen.push(done) });
      expect(seen).toEqual(Array.from({ length: 12 }, (_, i) => i + 1));
    }));

  it('goes on after a row that is refused and one that cannot be solved', () =>
    inFolder(async (at) => {
      const text = JSON.stringify({
        base: { ...BASE, plan: { width: 200, cornerRadius: 45 } },
        trays: [
          { name: 'a', 'plan.length': 300 },
          { name: 'bad', 'plan.length': 3 },
          { name: 'unknown-metal', 'plan.length': 300, 'sheet.material': 'unobtainium' },
          { name: 'b', 'plan.length': 310 },
        ],
      });
      const { trays } = await run(text, folder(at));
      expect(trays.map((tray) => [tray.name, tray.state])).toEqual([
        ['a', 'made'],
        ['bad', 'refused'],
        ['unknown-metal', 'failed'],
        ['b', 'made'],
      ]);
      expect(trays[2]!.error!.faults[0]!.message).toContain('unobtainium');
      expect((await readdir(at)).filter((name) => name.endsWith('.dxf')).sort()).toEqual(['a.dxf', 'b.dxf']);
    }));

  it('a report has no time in it', () =>
    inFolder(async (at) => {
      const formats = [{ id: 'json', extension: 'json', values: { compact: true } }];
      await run(family(1), folder(at), { formats });
      const report = JSON.parse(await readFile(join(at, 'tray-280x200.json'), 'utf8'));
      expect(report.solver.steps).toBeGreaterThan(0);
      expect(report.solver).not.toHaveProperty('milliseconds');
    }));

  it('refuses trays whose files would be one, and a tray named like the manifest, before it solves', () =>
    inFolder(async (at) => {
      const sizes = { 'plan.length': 300, 'plan.width': 200 };
      const two = JSON.stringify({ base: BASE, trays: ['x', 'x.other'].map((name) => ({ name, ...sizes })) });
      const twice = await refusalOf(run(two, folder(at), { formats: [...DXF, { ...DXF[0]!, id: 'other' }] }));
      expect(twice.message).toContain('would be written to x.other.dxf, as x (');
      const formats = [{ id: 'json', extension: 'json', values: { compact: true } }];
      const named = JSON.stringify({
        base: BASE,
        trays: [{ name: 'Manifest', ...sizes }],
      });
      expect((await refusalOf(run(named, folder(at), { formats }))).message).toContain("batch's own file");
      expect(await readdir(at)).toEqual([]);
    }));
});

describe('a stopped run', () => {
  it('leaves whole files only, and going on gives the bytes of a run that was never stopped', () =>
    inFolder(async (at) => {
      await run(TWELVE, folder(join(at, 'whole')));
      const whole = await hashes(join(at, 'whole'));
      const stopped = join(at, 'stopped');
      const error = await refusalOf(run(TWELVE, folder(stopped), stopAfter(5)));
      expect([error.code, error.message]).toEqual([
        'CANCELLED',
        'Stopped after 5 of 12 trays; the same command with --resume goes on from there.',
      ]);
      const left = await hashes(stopped);
      expect(Object.keys(left).filter((name) => name.endsWith('.dxf'))).toHaveLength(5);
      for (const [name, hash] of Object.entries(left)) {
        if (name.endsWith('.dxf')) expect(hash).toBe(whole[name]);
      }
      const { resumed } = await run(TWELVE, folder(stopped), { resume: true });
      expect(resumed).toBe(5);
      expect(await hashes(stopped)).toEqual(whole);
    }));

  it('believes neither a torn line, nor a changed file, nor a draft', () =>
    inFolder(async (at) => {
      await run(TWELVE, folder(at));
      const whole = await hashes(at);
      await writeFile(join(at, 'tray-290x210.dxf'), 'changed by hand');
      const journal = await readFile(join(at, 'batch-journal.jsonl'), 'utf8');
      await writeFile(join(at, 'batch-journal.jsonl'), journal.slice(0, -200));
      // A process that is no more has left its lock and a draft; another file only looks like a draft.
      await writeFile(join(at, '.gatherpan.lock'), deadLock('0123456789ab'));
      await writeFile(join(at, '.tray-300x200.dxf.0123456789ab.part'), 'half');
      await writeFile(join(at, '.tray-300x200.dxf.ba9876543210.part'), 'not ours');
      const { resumed } = await run(TWELVE, folder(at), { resume: true });
      expect(resumed).toBe(10);
      const { '.tray-300x200.dxf.ba9876543210.part': others, ...left } = await hashes(at);
      expect(others).toBe(sha256(Buffer.from('not ours')));
      expect(left).toEqual(whole);
    }));

  it('solves again what has changed, and no more', () =>
    inFolder(async (at) => {
      const four = family(1);
      await run(four, folder(at));
      const changed = four.replace('"thickness":1.2', '"thickness":1.5');
      expect((await run(changed, folder(at), { resume: true })).resumed).toBe(0);
      expect((await run(changed, folder(at), { resume: true })).resumed).toBe(4);
    }));

  it('without resuming begins anew', () =>
    inFolder(async (at) => {
      await refusalOf(run(TWELVE, folder(at), stopAfter(3)));
      expect((await run(TWELVE, folder(at))).resumed).toBe(0);
    }));
});

describe('an archive', () => {
  it('holds the folder’s files in row order, the same bytes every time, and nothing is left beside it', () =>
    inFolder(async (at) => {
      await mkdir(join(at, 'zips'));
      await run(TWELVE, folder(join(at, 'folder')));
      await run(TWELVE, archive(join(at, 'zips', 'one.zip')), { jobs: 1 });
      await run(TWELVE, archive(join(at, 'zips', 'two.zip')), { jobs: 2 });
      expect((await readdir(join(at, 'zips'))).sort()).toEqual(['one.zip', 'two.zip']);
      const one = await readFile(join(at, 'zips', 'one.zip'));
      expect(one.equals(await readFile(join(at, 'zips', 'two.zip')))).toBe(true);
      const zip = await JSZip.loadAsync(one);
      const names = Object.keys(zip.files);
      expect(names.slice(0, 5)).toEqual([
        'tray-280x200.dxf',
        'tray-280x210.dxf',
        'tray-280x220.dxf',
        'tray-280x230.dxf',
        'tray-290x200.dxf',
      ]);
      expect(names.slice(-4)).toEqual([
        'manifest.csv',
        'manifest.json',
        'contact-sheet.svg',
        'contact-sheet.pdf',
      ]);
      for (const name of names) {
        const packed = await zip.files[name]!.async('nodebuffer');
        expect(packed.equals(await readFile(join(at, 'folder', name))), name).toBe(true);
      }
    }));

  it('is not there when the run was stopped; going on completes it', () =>
    inFolder(async (at) => {
      const controller = new AbortController();
      const progress = (done: number): void => {
        if (done === 4) controller.abort();
      };
      const error = await refusalOf(
        run(TWELVE, archive(join(at, 'a.zip')), { signal: controller.signal, progress }),
      );
      const [parts, ...more] = await readdir(at);
      expect(error.message).toBe(
        `Stopped after 4 of 12 trays; their files lie in ${parts}. The same command with --resume goes on from there; delete the folder if you do not want to go on.`,
      );
      expect(parts).toMatch(/^a\.zip\.parts-[A-Za-z0-9]{6}$/);
      expect(more).toEqual([]);
      expect((await run(TWELVE, archive(join(at, 'a.zip')), { resume: true })).resumed).toBe(4);
      expect(await readdir(at)).toEqual(['a.zip']);
    }));

  it('leaves nothing behind when the run was stopped before its first tray', () =>
    inFolder(async (at) => {
      const controller = new AbortController();
      controller.abort();
      const error = await refusalOf(run(TWELVE, archive(join(at, 'a.zip')), { signal: controller.signal }));
      expect(error.message).toMatch(/^Stopped after 0 of 12 trays/);
      expect(await readdir(at)).toEqual([]);
    }));
});

describe('the manifest', () => {
  it('has the hashes of the files that are there', () =>
    inFolder(async (at) => {
      await run(family(1), folder(at));
      const there = await hashes(at);
      const { trays } = JSON.parse(await readFile(join(at, 'manifest.json'), 'utf8')) as {
        trays: ManifestTray[];
      };
      expect(trays).toHaveLength(4);
      for (const { files } of trays) for (const { name, sha256 } of files) expect(there[name]).toBe(sha256);
    }));
});
