/** A plate whose four sides lean: a skin in the plane z = 0 from above, and planes that go down from its edges. */
import { describe, expect, it } from 'vitest';
import type { Vector3 } from '../../../src/geometry/vector3.ts';
import { rimIsBroken } from '../../../src/step/freeForm/brokenRim.ts';
import { type Stitched, stitch } from '../../../src/step/freeForm/skinMesh.ts';
import { radians } from '../../../src/units.ts';
import { livePart, type Patch, plane } from './patches.ts';

/** @param leaning of each side from square, degrees, outwards: front (of the length), right, back, left */
function plate(length: number, width: number, leaning: readonly number[]): Stitched {
  const cells = [2, 2] as const;
  const top: Patch = {
    surface: plane([0, 0, 0], [1, 0, 0], [0, 1, 0]),
    u: [0, length],
    v: [0, width],
    cells,
  };
  const sides = (
    [
      [[0, 0, 0], [1, 0, 0], length],
      [[length, 0, 0], [0, 1, 0], width],
      [[length, width, 0], [-1, 0, 0], length],
      [[0, width, 0], [0, -1, 0], width],
    ] as const
  ).map(([corner, along, size], i): Patch => {
    const [s, c] = [Math.sin(radians(leaning[i]!)), Math.cos(radians(leaning[i]!))];
    const outDown: Vector3 = [along[1] * s, -along[0] * s, -c];
    return { surface: plane(corner, outDown, along), u: [0, 1], v: [0, size], cells };
  });
  return stitch(livePart([top, ...sides]).part, 1e-6);
}

const TOP = new Set([0]);
const NONE: ReadonlySet<number> = new Set();

describe('a skin whose edge of the sheet', () => {
  it.each([
    ['is square', [0, 0, 0, 0], false],
    ['leans by 19°, out or in', [19, -19, 19, -19], false],
    ['leans out by 21° on one side', [0, 21, 0, 0], true],
    ['leans in by 21° on one side', [-21, 0, 0, 0], true],
    ['is chamfered all round', [45, 45, 45, 45], true],
    ['is rounded, so that it begins without an angle', [90, 90, 90, 90], true],
  ])('%s', (_, leaning, broken) => {
    expect(rimIsBroken(plate(60, 40, leaning), TOP, NONE)).toBe(broken);
  });

  it('leans where it goes from skin to skin is known to its middle, and not broken', () => {
    const stitched = plate(60, 40, [45, 0, 45, 0]);
    expect(rimIsBroken(stitched, TOP, new Set([1, 3]))).toBe(false);
    expect(rimIsBroken(stitched, TOP, new Set([1]))).toBe(true);
  });

  it('leans on less than a hundredth of its length is not broken', () => {
    // One short side of four: width / 2 (length + width).
    expect(rimIsBroken(plate(100, 1.9, [0, 45, 0, 0]), TOP, NONE)).toBe(false);
    expect(rimIsBroken(plate(100, 2.2, [0, 45, 0, 0]), TOP, NONE)).toBe(true);
  });
});
