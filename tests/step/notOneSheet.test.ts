/**
 * What is not one sheet is never cut as if it were: recognised or unfolded as it is, a part with something on its
 * sheet, or cut half way into it, is refused with what that is and where.
 */
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { work } from '../../src/step/occt/work.ts';
import { sheetFaces } from '../../src/step/sheet/sheetFaces.ts';
import { randomNumbers } from '../support/drawnTrays.ts';
import { LONG } from '../support/long.ts';
import { GIVEN } from './given.ts';
import { goodParts, type OddPart, oddParts } from './notOneSheet.ts';
import { occt, withLivePart } from './occt.ts';
import { writtenPart } from './parts.ts';

/** All of them in the long form; in the short one some, always the same. */
function some<T>(all: readonly T[], count: number): readonly T[] {
  if (LONG) return all;
  const random = randomNumbers(41);
  const keyed = all.map((one) => ({ one, key: random() }));
  return keyed
    .sort((a, b) => a.key - b.key)
    .slice(0, count)
    .map(({ one }) => one);
}

/** Of those that have to be called the same, the one in the middle. */
function oneOfEachKind(all: readonly OddPart[]): readonly OddPart[] {
  const kinds = [...new Set(all.map(({ called }) => called))];
  return kinds.map((kind) => {
    const parts = all.filter(({ called }) => called === kind);
    return parts[parts.length >> 1]!;
  });
}

async function refusal(bytes: Uint8Array, path: 'recognise' | 'either'): Promise<string> {
  const k = await occt();
  try {
    work(k, { kind: 'tray', bytes, path, given: GIVEN, surfaceOnly: false });
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    expect(error.code).toBe('NOT_MAKEABLE');
    return error.message;
  }
  return 'accepted';
}

/** The place a sentence tells. */
function placeIn(sentence: string): number[] | null {
  const match =
    /x (-?\d+), y (-?\d+), z (-?\d+)/.exec(sentence) ?? /\((-?\d+), (-?\d+), (-?\d+)\)/.exec(sentence);
  return match === null ? null : match.slice(1).map(Number);
}

function expectRefused(sentence: string, { called, at: [x, y, z, within] }: OddPart): void {
  expect(sentence).toMatch(called);
  expect(sentence).toMatch(/^[A-Z][^\n]*\.$/);
  const place = placeIn(sentence);
  expect(place, sentence).not.toBeNull();
  const away = Math.hypot(place![0]! - x, place![1]! - y, place![2]! - z);
  // Half a millimetre each way is the rounding of the sentence.
  expect(away, sentence).toBeLessThan(within + 0.9);
}

describe('a part that is not one sheet, or one that is not supported, is refused with its name and place', () => {
  const named = (LONG ? oddParts : oneOfEachKind(oddParts)).map((part) => [part.name, part] as const);
  it.each(named)('%s', async (_, part) => {
    expectRefused(await refusal(await writtenPart(part.make), 'recognise'), part);
  });

  it('and not only recognised, but unfolded as well', async () => {
    for (const part of some(oddParts, 3)) {
      expectRefused(await refusal(await writtenPart(part.make), 'either'), part);
    }
  });
});

it('there are parts enough of both kinds', () => {
  expect(oddParts.length).toBeGreaterThanOrEqual(40);
  expect(goodParts.length).toBeGreaterThanOrEqual(15);
});

describe('a part that is one sheet has its thickness, and every face accounted for', () => {
  it.each(some(goodParts, 5).map((part) => [part.name, part] as const))(
    '%s',
    async (_, { make, thickness }) => {
      await withLivePart(await writtenPart(make), (live) => {
        const sheet = sheetFaces(live);
        expect(Math.abs(sheet.thickness - thickness)).toBeLessThan(1e-2 * thickness);
        expect([...sheet.inner].filter((face) => sheet.outer.has(face))).toEqual([]);
      });
    },
  );
});
