/** The kernel in its thread: answers, limits, and what is left after a fault. Runs the built thread (npm run build). */
import { afterAll, describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { writeFlatSolid } from '../../src/step/flatSolid.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { type OcctOptions, occtThread } from '../../src/step/occt/occtThread.ts';
import { productName, readStepTray } from '../../src/step/readStepTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { samplePattern } from '../exporters/samplePattern.ts';
import { some } from '../support/long.ts';
import { byQuadrature } from './byQuadrature.ts';
import { tray } from './trays.ts';

const TIME = 600_000;
const occt = occtThread({ timeLimit: TIME });
afterAll(() => occt.close());

const spec = tray('plan radius larger: tori');
const formed = writeFormedSolid(spec, 'drip-tray', 'AP214');

describe('a kernel in its thread', () => {
  it(
    'reads a solid in another thread with the same volume and area',
    async () => {
      const answer = await occt.run({ kind: 'read', bytes: formed });
      if (answer.kind !== 'read') throw new Error(answer.kind);
      const expected = byQuadrature(spec);
      expect(Math.abs(answer.part.volume / expected.volume - 1)).toBeLessThan(1e-6);
      expect(Math.abs(answer.part.area / expected.area - 1)).toBeLessThan(1e-6);
    },
    TIME,
  );

  it(
    'recognises a tray, named after the product',
    async () => {
      const found = await readStepTray(formed, { trim: 4 }, occt);
      if (found.kind !== 'tray') throw new Error(found.kind);
      expect(found.spec).toEqual({ ...spec, forming: { ...spec.forming, trim: 4 } });
      expect(productName(formed)).toBe('drip-tray');
    },
    TIME,
  );

  it(
    'refuses a flat blank as no tray, and stays',
    async () => {
      const before = occt.started;
      const flat = writeFlatSolid(samplePattern(), { protocol: 'AP214', scribeLines: false });
      await expect(readStepTray(flat, { path: 'recognise' }, occt)).rejects.toThrow(/no tray file says it/);
      expect(occt.started).toBe(before);
    },
    TIME,
  );

  it(
    'is replaced after a number of tasks',
    async () => {
      const few = occtThread({ taskLimit: 1 });
      await few.run({ kind: 'warm' });
      await few.run({ kind: 'warm' });
      expect(few.started).toBe(2);
      await few.close();
    },
    TIME,
  );

  it(
    'is replaced when its memory has grown past a bound',
    async () => {
      const small = occtThread({ memoryLimit: 1e6 });
      await small.run({ kind: 'warm' });
      // The load itself is past this bound.
      await small.run({ kind: 'warm' });
      expect(small.started).toBe(2);
      await small.close();
    },
    TIME,
  );

  it.each(
    some<[string, OcctOptions]>(
      [
        ['its thread', { threadMemory: 32 }],
        ['the kernel in it', { occtMemory: 64 }],
      ],
      1,
    ),
  )(
    'ends with one sentence when %s needs more memory than it may have, and no other notices',
    async (_, limits) => {
      const small = occtThread(limits);
      const outcome = (bytes: Uint8Array): Promise<unknown> =>
        small.run({ kind: 'read', bytes }).then(
          () => 'read',
          (error: unknown) => error,
        );
      // Each point takes some hundreds of bytes in the kernel.
      const large = new TextDecoder()
        .decode(formed)
        .replace(
          /(?<=DATA;\n)/,
          Array.from(
            { length: 250_000 },
            (_, i) => `#${500_000 + i}=CARTESIAN_POINT('',(0.,0.,${i}.));\n`,
          ).join(''),
        );
      const [found, beside] = await Promise.all([
        outcome(new TextEncoder().encode(large)),
        occt.run({ kind: 'read', bytes: formed }),
      ]);
      expect(found).toBeInstanceOf(GatherpanError);
      expect(found).toMatchObject({
        code: 'OUT_OF_MEMORY',
        message: expect.stringMatching(/^The STEP file needs more memory than \d+ MB; [^\n]*\.$/),
      });
      expect(beside.kind).toBe('read');
      // A new thread begins afresh, with the same limits.
      const again = await outcome(formed);
      if ('occtMemory' in limits) expect(again).toBe('read');
      else expect(again).toMatchObject({ code: 'OUT_OF_MEMORY' });
      expect(small.started).toBe(2);
      await small.close();
    },
    TIME,
  );

  it(
    'is replaced when it takes too long, and after anything that throws inside it, and the next file is read',
    async () => {
      const own = occtThread({ timeLimit: 1 });
      const late = await own.run({ kind: 'read', bytes: formed }).catch((reason: unknown) => reason);
      expect(late).toBeInstanceOf(GatherpanError);
      expect((late as GatherpanError).code).toBe('TIMEOUT');
      expect(own.started).toBe(1);
      // No file can be this wrong; it stands for a fault of the kernel, which cannot be had at will.
      const fault = own.run({ kind: 'tray', bytes: formed, given: null, path: 'either' } as never, TIME);
      const error = await fault.catch((reason: unknown) => reason);
      expect(error).toBeInstanceOf(GatherpanError);
      expect((error as GatherpanError).code).toBe('BAD_INPUT');
      expect((error as GatherpanError).message).toMatch(/^[A-Z][^\n]*\.$/);
      expect(own.started).toBe(2);
      const answer = await own.run({ kind: 'read', bytes: formed }, TIME);
      expect(answer.kind).toBe('read');
      expect(own.started).toBe(3);
      await own.close();
    },
    TIME,
  );

  const claims: readonly (readonly [string, RegExp])[] = [
    ['a degree', /(B_SPLINE_SURFACE_WITH_KNOTS\('',)\d+/],
    ['a degree of a curve', /(B_SPLINE_CURVE_WITH_KNOTS\('',)\d+/],
    [
      'a knot so many times',
      /(B_SPLINE_SURFACE_WITH_KNOTS\([^;]*?\),\.RULED_SURF\.,\.F\.,\.F\.,\.F\.,\()\d+/,
    ],
  ];
  it.each(some(claims, 1))(
    'asks for no memory that a few letters claim: %s of 900,000,000',
    async (_, what) => {
      const helicoids = writeFormedSolid(
        tray('walls of four heights: helicoids on the rim'),
        'tray',
        'AP214',
      );
      const sound = new TextDecoder().decode(helicoids);
      expect(sound).toMatch(what);
      const bomb = new TextEncoder().encode(sound.replace(what, (_, before: string) => `${before}900000000`));
      const before = process.memoryUsage().rss;
      const error = await readStepTray(bomb, {}, occt).catch((reason: unknown) => reason);
      expect(error).toBeInstanceOf(GatherpanError);
      expect((error as GatherpanError).message).toMatch(/^[A-Z][^\n]*\.$/);
      expect(process.memoryUsage().rss - before).toBeLessThan(2e9);
      expect((await occt.run({ kind: 'read', bytes: formed })).kind).toBe('read');
    },
    TIME,
  );

  it(
    'does tasks asked for at once one after the other, also behind one that fails',
    async () => {
      const results = await Promise.allSettled([
        occt.run({ kind: 'read', bytes: formed }),
        occt.run({ kind: 'read', bytes: formed.slice(0, 3000) }),
        occt.run({ kind: 'read', bytes: formed }),
      ]);
      expect(results.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
    },
    TIME,
  );

  it(
    'solves a part as it is in its thread, the same as in this one',
    async () => {
      const small = writeFormedSolid(
        readTray({
          name: 'small',
          plan: { length: 90, width: 70, cornerRadius: 22 },
          section: { bottomRadius: 10, height: 13 },
          sheet: { material: 'DC04', thickness: 1.2 },
        }),
        'small',
        'AP214',
      );
      const found = await readStepTray(small, { path: 'as it is', name: 'part' }, occt);
      if (found.kind !== 'pattern') throw new Error(found.kind);
      const again = await readStepTray(small, { path: 'as it is', name: 'part' }, occt);
      if (again.kind !== 'pattern') throw new Error(again.kind);
      const [first, second] = [found, again].map(({ pattern }) => flatPatternOf(pattern));
      // Two runs give the same to the last bit.
      expect(second!.rim).toEqual(first!.rim);
      expect(second!.scribeLines).toEqual(first!.scribeLines);
      expect(first!.report.corners).toHaveLength(4);
    },
    TIME,
  );
});
