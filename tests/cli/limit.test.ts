/** `--limit`: a tray that takes longer is ended with one sentence. The clocks here are made up: nothing is timed. */
import { readdir } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { planChunks } from '../../src/batch/plan.ts';
import { readBatch, traysOf } from '../../src/batch/readBatch.ts';
import { solveChunk } from '../../src/batch/solveChunk.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { refuseLate, withinTimeLimit } from '../../src/solve/timeLimit.ts';
import { family, instantEngine, run, stopAfter } from '../batch/batches.ts';
import { refusalOf } from '../support/refusal.ts';
import { changed } from '../tray/trayFiles.ts';
import { command, inFolder, writeFiles } from './fakes.ts';

/** A clock on which every look takes a second. */
const hurried = (): (() => number) => {
  let looks = 0;
  return () => 1000 * looks++;
};

const SAID = 'The tray took longer than 3 s and was stopped; give it more time, or a simpler plan.';

describe('a tray beyond --limit', () => {
  it.each(['check', 'make', 'plan'])(
    'is ended by %s with one sentence and exit code 1, and others go on',
    (name) =>
      inFolder(async (at) => {
        await writeFiles(at, { 'a.json': changed({ name: 'a' }), 'b.json': changed({ name: 'b' }) });
        let at0 = hurried();
        let trays = 0;
        const { exit, error, faults } = await command(at, [name, 'a.json', 'b.json', '--limit', '3'], {
          developTray: (spec) => {
            // The first tray is slow, the second is not.
            if (trays++ > 0) at0 = () => 0;
            return developTray(spec) as never;
          },
          now: () => at0(),
        });
        expect(exit).toBe(1);
        expect(error).toContain(`a.json: ${SAID}\n`);
        expect(error).not.toContain('b.json');
        expect(faults).toEqual([]);
        expect((await readdir(at)).filter((each) => each.startsWith('a.') && each !== 'a.json')).toEqual([]);
      }),
  );

  it.each(['0', '-1', 'long', '1e3', '', '100000'])('is not known for --limit %j', (limit) =>
    inFolder(async (at) => {
      const { exit, error } = await command(at, ['check', 'a.json', '--limit', limit]);
      expect(exit).toBe(2);
      expect(error).toBe(`--limit is ${JSON.stringify(limit)}; a number from 0.001 to 86400 is accepted.\n`);
    }),
  );

  it('ends only what it was set for', async () => {
    const late = withinTimeLimit({ seconds: 3, now: hurried() }, async () => {
      for (let i = 0; i < 10; i++) refuseLate();
    });
    await expect(late).rejects.toThrow(SAID);
    refuseLate();
  });

  it('is not set for a second work beside the first, which goes on under its own', async () => {
    const limit = { seconds: 3, now: () => 0 };
    let end = (): void => {};
    const first = withinTimeLimit({ ...limit, now: hurried() }, async () => {
      await new Promise<void>((resolve) => {
        end = resolve;
      });
      for (let i = 0; i < 10; i++) refuseLate();
    });
    await expect(withinTimeLimit(limit, async () => {})).rejects.toThrow(/one piece of work/);
    end();
    await expect(first).rejects.toThrow(SAID);
    await withinTimeLimit(limit, async () => refuseLate());
  });
});

describe('a row of a batch beyond --limit', () => {
  const asked = { formats: [], program: 'test', limit: 3 };
  const [chunk] = planChunks(traysOf(readBatch(family(1), 'json', {}, 'tray')), asked);

  it('fails by itself, and those after it in the chunk are marked', async () => {
    let clock = hurried();
    let begun = 0;
    // The limit is set with one look at the start of each row.
    const now = (): number => clock();
    const registry = createRegistry([]);
    const slowSecond = {
      ...chunk!,
      rows: chunk!.rows.map((row) => ({
        ...row,
        get spec() {
          clock = ++begun === 2 ? hurried() : () => 0;
          return row.spec;
        },
      })),
    };
    const results = await solveChunk(slowSecond, registry, now);
    expect(results.map((result) => (result.ok ? (result.afterTimeout ?? false) : result.error.code))).toEqual(
      [false, 'TIMEOUT', true, true],
    );
  });

  it('makes --resume solve the rows after it again', () =>
    inFolder(async (path) => {
      const engine = instantEngine();
      const slow = {
        ...engine,
        async *solve(...given: Parameters<typeof engine.solve>) {
          for await (const { chunk: own, results } of engine.solve(...given))
            yield {
              chunk: own,
              results: results.map((result) =>
                result.ok && result.row > 2 ? { ...result, afterTimeout: true as const } : result,
              ),
            };
        },
      };
      const target = { kind: 'folder', path } as const;
      await refusalOf(run(family(1), target, { engine: slow, ...stopAfter(3) }));
      expect((await run(family(1), target, { engine, resume: true })).resumed).toBe(2);
      expect((await run(family(1), target, { engine, resume: true })).resumed).toBe(4);
    }));
});
