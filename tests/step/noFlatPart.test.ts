/** A part that no blank can be cut for gets the verdict and its reason, as a tray does, wherever it is asked for. */
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { flatPatternOf, verdictOn } from '../../src/pattern/developed.ts';
import type { NoFlat } from '../../src/pattern/flatPattern.ts';
import { developPart } from '../../src/step/freeForm/developPart.ts';
import type { PartDensity } from '../../src/step/freeForm/meshSizes.ts';
import type { PartGiven } from '../../src/step/freeForm/partGiven.ts';
import type { Bound } from '../../src/step/occt/instance.ts';
import { english } from '../../src/words/english.ts';
import { written } from '../../src/words/statement.ts';
import { command as commandProcess } from '../batch/command.ts';
import { command as commandHere, inFolder } from '../cli/fakes.ts';
import { json, postFile, problem, service, type TestService } from '../server/service.ts';
import { LONG } from '../support/long.ts';
import { cut, cylinder, fused, rounded, shelledBox } from './foreignParts.ts';
import { COARSE, GIVEN } from './given.ts';
import { withLivePart } from './occt.ts';
import { degrees, type Piece, type Plan, solidPart, writtenPart } from './parts.ts';

/** A tray of two bottom radii, which no tray file says, with a high wall about sharp corners of the base. */
const section = (wall: number): readonly Piece[] => [
  { kind: 'arc', radius: 10, angle: degrees(40) },
  { kind: 'arc', radius: 14, angle: degrees(50) },
  { kind: 'line', length: wall },
];
const PLAN: Plan = { kind: 'rectangle', a: 40, b: 34 };

/** A tub whose base has a hole with a high wall round it. */
function ringTray(k: Bound): Bound {
  const [t, r, height] = [1.5, 20, 22];
  const level =
    (z: number, radius: number) =>
    (points: readonly (readonly number[])[]): boolean =>
      points.every(
        (p) => Math.abs(p[2]! - z) < 1e-6 && Math.abs(Math.hypot(p[0]! - 80, p[1]! - 55) - radius) < 1e-3,
      );
  const sharp = cut(
    k,
    fused(k, shelledBox(k, [160, 110, 40], 30, 12, t), cylinder(k, [80, 55, 0], [0, 0, 1], r, height)),
    cylinder(k, [80, 55, -5], [0, 0, 1], r - t, 40),
  );
  return rounded(k, rounded(k, sharp, 4, level(t, r)), 4 + t, level(0, r - t));
}

const noFlat = async (
  bytes: Uint8Array,
  given: Partial<PartGiven>,
  density?: PartDensity,
): Promise<NoFlat> => {
  const developed = await withLivePart(bytes, (live) => developPart(live, { ...GIVEN, ...given }, density));
  if (developed.kind !== 'no flat') throw new Error(`${developed.kind}: ${verdictOn(developed).word}`);
  return developed;
};

describe('a part without a flat is told as a tray without one', () => {
  test('that shrinks too far, with its own sizes', async () => {
    const found = await noFlat(await solidPart(section(60), PLAN, 1), { material: '1050A-H14' });
    expect(found).toMatchObject({ of: 'part', name: 'part', cause: 'shrinkage' });
    expect(found.verdict).toMatchObject({
      word: 'not in one piece',
      reasons: [{ about: 'flat', weight: 'refuse', unit: '%' }],
    });
    const [reason] = found.verdict.reasons;
    expect(reason!.value).toBeGreaterThan(reason!.limit!);
    // Run of both radii, to the outside of the sheet.
    const [low, high] = [degrees(40), degrees(90)];
    const run = 10 * Math.sin(low) + 14 * (Math.sin(high) - Math.sin(low));
    const height = 10 * (1 - Math.cos(low)) + 14 * Math.cos(low) + 60;
    expect(found.spec.plan).toMatchObject({ length: expect.closeTo(80 + 2 * run + 1, 1) });
    expect(found.spec.section.height).toBeCloseTo(height + 0.5, 1);
    expect(() => flatPatternOf(found)).toThrow(/gather by \d+ %/);
  });

  test('that finds no equilibrium, with what keeps it from one and where', async () => {
    const found = await noFlat(await writtenPart(ringTray), {}, COARSE);
    expect(found.cause).toBe('no equilibrium');
    const [reason] = found.verdict.reasons;
    expect(written(reason!.sentence, english)).toMatch(/with the hole at x 80, y 55, z \d+ in it/);
  });
});

/** By default without a process, which would load a kernel of its own. */
const command = LONG ? commandProcess : commandHere;

describe('everywhere', () => {
  let running: TestService;
  let part: Uint8Array<ArrayBuffer>;
  beforeAll(async () => {
    running = await service({ threads: 1 });
    part = Uint8Array.from(await solidPart(section(60), PLAN, 1));
  });
  afterAll(async () => {
    await running.stop();
    expect(running.faults).toEqual([]);
  });
  const base = { base: JSON.stringify({ sheet: { material: '1050A-H14' } }) };

  test('the command says the verdict where a tray has it, offers no change, writes nothing, and ends with 1', () =>
    inFolder(async (folder) => {
      await writeFile(join(folder, 'high.step'), part);
      for (const name of ['check', 'make']) {
        const args = [name, 'high.step', '--material', '1050A-H14'];
        if (LONG || name === 'check') {
          const plain = await command(folder, args);
          expect(plain).toMatchObject({ exit: 1, error: '' });
          expect(plain.out).toMatch(
            /^high\n {2}verdict {4}not in one piece\n {13}no: The metal would have to gather/,
          );
          expect(plain.out).not.toContain('change');
        }
        if (LONG || name === 'make') {
          const { exit, out } = await command(folder, [...args, '--json']);
          expect(exit).toBe(1);
          const { trays } = JSON.parse(out);
          expect(trays).toMatchObject([
            {
              name: 'high',
              ok: true,
              files: [],
              figures: null,
              gather: {
                verdict: { word: 'not in one piece', reasons: [{ about: 'flat', weight: 'refuse' }] },
              },
            },
          ]);
          expect(trays[0]).not.toHaveProperty('changes');
        }
      }
    }));

  test('the service shows it with the verdict, and has no file of it', async () => {
    const read = await json(postFile(`${running.url}/api/upload`, part, 'high.step', base));
    expect(read).toMatchObject({
      kind: 'part',
      preview: {
        kind: 'no flat',
        verdict: { word: 'not in one piece', reasons: [{ about: 'flat', weight: 'refuse' }] },
        figures: null,
        pictures: null,
      },
    });
    for (const path of ['part/files/dxf', 'part/archive']) {
      const refused = await problem(await postFile(`${running.url}/api/${path}`, part, 'high.step', base));
      expect(refused).toMatchObject({ status: 422, code: 'NO_FLAT' });
      expect(refused.detail).toContain(read.preview.verdict.reasons[0].sentence);
    }
  });
});
