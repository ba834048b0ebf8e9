/** What was in a folder before a batch stays in it. Nothing is solved here. */
import { readdirSync, writeFileSync } from 'node:fs';
import { link, mkdir, readdir, readFile, readlink, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Target } from '../../src/batch/runBatch.ts';
import { sha256 } from '../../src/jobs/manifest.ts';
import { inFolder } from '../cli/fakes.ts';
import { refusalOf } from '../support/refusal.ts';
import { family, instantEngine, type Run, run, stopAfter } from './batches.ts';

const folder = (path: string) => ({ kind: 'folder', path }) as const;
const archive = (path: string) => ({ kind: 'archive', path }) as const;
const TWELVE = family(3); // two chunks

const instant = (text: string, target: Target, options: Run = {}) =>
  run(text, target, { engine: instantEngine(), ...options });

describe('what was there before', () => {
  /** Everything below a folder, with its contents; of links, where they lead. */
  async function everything(at: string): Promise<Record<string, string>> {
    const found: Record<string, string> = {};
    for (const entry of await readdir(at, { recursive: true, withFileTypes: true })) {
      const path = join(entry.parentPath, entry.name);
      found[path] = entry.isSymbolicLink()
        ? `-> ${await readlink(path)}`
        : entry.isDirectory()
          ? 'folder'
          : await readFile(path, 'utf8');
    }
    return found;
  }

  it('stays beside an archive, whatever it is called: folders of parts, drafts, locks of others', () =>
    inFolder(async (at) => {
      for (const name of ['v.zip.parts', 'v.zip.parts-abcdef', '.v.zip.parts']) {
        await mkdir(join(at, name));
        await writeFile(join(at, name, 'tray-280x200.dxf'), 'mine');
        await writeFile(join(at, name, 'manifest.csv'), 'mine');
      }
      await writeFile(join(at, '.v.zip.0123456789ab.part'), 'mine');
      await writeFile(join(at, '.v.zip'), 'mine');
      const before = await everything(at);
      for (const resume of [false, true]) {
        await instant(family(1), archive(join(at, 'v.zip')), { resume });
        const after = await everything(at);
        delete after[join(at, 'v.zip')];
        expect(after).toEqual(before);
      }
    }));

  it('stays in our own folder of parts when somebody has put it there meanwhile', () =>
    inFolder(async (at) => {
      let parts = '';
      const progress = (done: number): void => {
        if (done !== 1) return;
        parts = readdirSync(at).find((name) => name.includes('.parts-'))!;
        writeFileSync(join(at, parts, 'notes.txt'), 'mine');
      };
      await instant(family(1), archive(join(at, 'v.zip')), { progress });
      expect(await readdir(join(at, parts))).toEqual(['notes.txt']);
    }));

  it.each(['link', 'folder', 'other file'])('a %s in the journal’s place is refused and left alone', (kind) =>
    inFolder(async (at) => {
      const out = join(at, 'out');
      await mkdir(out);
      await writeFile(join(at, 'diary.txt'), '{"key":"0123456789abcdef0123456789abcdef"}\n');
      const path = join(out, 'batch-journal.jsonl');
      if (kind === 'link') await symlink('../diary.txt', path);
      else if (kind === 'folder') await mkdir(path);
      else await writeFile(path, 'Dear diary\n');
      const before = await everything(at);
      for (const resume of [true, false]) {
        const { code, message } = await refusalOf(instant(family(1), folder(out), { resume }));
        expect(code).toBe('BAD_INPUT');
        expect(message).toContain(
          kind === 'other file' ? 'is not the journal of a batch' : 'is a link or a folder',
        );
      }
      expect(await everything(at)).toEqual(before);
    }),
  );

  it('a journal with a second name keeps what it says under that', () =>
    inFolder(async (at) => {
      await refusalOf(instant(TWELVE, folder(join(at, 'out')), stopAfter(3)));
      await link(join(at, 'out', 'batch-journal.jsonl'), join(at, 'second.jsonl'));
      const before = await readFile(join(at, 'second.jsonl'), 'utf8');
      expect((await instant(TWELVE, folder(join(at, 'out')), { resume: true })).resumed).toBe(3);
      expect(await readFile(join(at, 'second.jsonl'), 'utf8')).toBe(before);
    }));

  it('a journal of another program is not gone on from, and stays', () =>
    inFolder(async (at) => {
      await refusalOf(instant(TWELVE, folder(at), stopAfter(2)));
      const before = await everything(at);
      const { code, message } = await refusalOf(
        instant(TWELVE, folder(at), { resume: true, program: 'other' }),
      );
      expect([code, message]).toEqual(['BAD_INPUT', expect.stringContaining('another version of gatherpan')]);
      expect(await everything(at)).toEqual(before);
      // One of a version that did not say which it was.
      const [, ...lines] = before[join(at, 'batch-journal.jsonl')]!.split('\n');
      await writeFile(join(at, 'batch-journal.jsonl'), lines.join('\n'));
      expect((await refusalOf(instant(TWELVE, folder(at), { resume: true }))).message).toContain(
        'another version',
      );
      expect((await instant(TWELVE, folder(at))).resumed).toBe(0);
    }));

  it('lines of a journal that say what cannot be are not believed', () =>
    inFolder(async (at) => {
      const out = join(at, 'out');
      await instant(family(1), folder(out));
      const path = join(out, 'batch-journal.jsonl');
      const [head, ...lines] = (await readFile(path, 'utf8')).trimEnd().split('\n');
      await writeFile(join(at, 'outside.dxf'), 'outside');
      const outside = { name: '../outside.dxf', size: 7, sha256: sha256(Buffer.from('outside')) };
      const strange = [{ files: [outside] }, { files: [] }, { report: {} }, { outline: [{ x: '1' }] }].map(
        (change, i) => JSON.stringify({ ...JSON.parse(lines[i]!), ...change }),
      );
      await writeFile(path, `${[head, ...strange].join('\n')}\n`);
      expect((await instant(family(1), folder(out), { resume: true })).resumed).toBe(0);
      expect((await instant(family(1), folder(out), { resume: true })).resumed).toBe(4);
    }));

  it('a second run to one target says so at once and touches nothing', () =>
    inFolder(async (at) => {
      for (const target of [folder(join(at, 'out')), archive(join(at, 'v.zip'))]) {
        let second: Promise<Error> | undefined;
        const progress = (done: number): void => {
          if (done !== 2) return;
          second = refusalOf(instant(TWELVE, target, { resume: true }));
        };
        // The pause lets the second run come to its end while the first is at work.
        const engine = instantEngine();
        await instant(TWELVE, target, {
          progress,
          engine: {
            ...engine,
            async *solve(chunks, signal) {
              for await (const each of engine.solve(chunks, signal)) {
                yield each;
                await second;
              }
            },
          },
        });
        expect((await second)!.message).toMatch(
          /^Another run is writing to .*(out|v\.zip) \(process \d+ on /,
        );
      }
      expect((await readdir(at)).sort()).toEqual(['out', 'v.zip']);
      expect(await readdir(join(at, 'out'))).toHaveLength(12 + 5);
    }));
});
