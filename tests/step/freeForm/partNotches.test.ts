import { describe, expect, it } from 'vitest';
import { distanceToPath, pathArea, pathBounds } from '../../../src/geometry/measure.ts';
import type { Path, Point } from '../../../src/geometry/path.ts';
import { partNotches } from '../../../src/step/freeForm/partNotches.ts';
import { sizesOnly } from '../../../src/step/freeForm/partReport.ts';
import { notchRelief, slotWidth } from '../../../src/tray/notches.ts';
import { GIVEN } from '../given.ts';

const [LENGTH, WIDTH] = [100, 80];
const [TRIM, KERF] = [3, 0.1];
const spec = sizesOnly(
  { ...GIVEN, trim: TRIM, cut: { process: 'laser', kerf: 2 * KERF, compensate: true } },
  1,
  [0, 0, 0],
  3,
);

const polygon = (points: readonly (readonly [number, number])[]): Path => ({
  vertices: points.map(([x, y]) => ({ x, y, bulge: 0 })),
  closed: true,
});

/** A rectangle, counter-clockwise, with what is said between the ends of its upper side. */
const rectangle = (...between: readonly (readonly [number, number])[]): Path =>
  polygon([[0, 0], [LENGTH, 0], [LENGTH, WIDTH], ...between, [0, WIDTH]]);

/** Edges of a notch that part by `half` mm at the rim, 40 mm above the root. */
const notch = (x: number, half: number): (readonly [number, number])[] => [
  [x + half, WIDTH],
  [x, WIDTH - 40],
  [x - half, WIDTH],
];

const ROOT: Point = { x: 50, y: WIDTH - 40 };
const notched = rectangle(...notch(50, 2));

describe('a rim without notches', () => {
  // It opens by 2 atan(half / 40) at its root: by 0.5 at half = 10.2.
  it.each([
    ['a plain one', rectangle()],
    ['a notch that opens wide', rectangle(...notch(50, 10.4))],
    ['a spike of the sheet', rectangle([52, WIDTH], [50, WIDTH + 40], [48, WIDTH])],
  ])('%s is cut as it is', (_, rim) => {
    const found = partNotches(rim, spec);
    expect(found.count).toBe(0);
    expect(found.rim).toBe(rim);
    expect(found.cutAt(0, 0)).toBe(rim);
  });

  it('is moved out by trim and kerf', () => {
    const { minX, minY, maxX, maxY } = pathBounds(partNotches(rectangle(), spec).cutAt(TRIM, KERF));
    for (const [found, wanted] of [
      [-minX, TRIM + KERF],
      [-minY, TRIM + KERF],
      [maxX - LENGTH, TRIM + KERF],
      [maxY - WIDTH, TRIM + KERF],
    ] as const)
      expect(found).toBeCloseTo(wanted, 9);
  });
});

describe('a notch', () => {
  it('is one up to the angle that makes it one', () => {
    expect(partNotches(rectangle(...notch(50, 10)), spec).count).toBe(1);
    expect(partNotches(rectangle(...notch(70, 2), ...notch(30, 3)), spec).count).toBe(2);
  });

  it('has a hole of the relief’s size about its root, and a slot from it', () => {
    const { rim } = partNotches(notched, spec);
    const radius = notchRelief(spec) / 2;
    expect(distanceToPath(ROOT, rim)).toBeCloseTo(radius, 9);
    const arcs = rim.vertices.filter(({ bulge }) => bulge !== 0);
    expect(arcs.length).toBeGreaterThan(0);
    for (const { x, y, bulge } of arcs) {
      expect(Math.hypot(x - ROOT.x, y - ROOT.y)).toBeCloseTo(radius, 9);
      // The sheet is on the left, so round a hole it goes clockwise.
      expect(bulge).toBeLessThan(0);
    }
    // The notch is as wide as the slot at this height; below it the slot's sides are upright.
    const height = (slotWidth(spec) / 2 / 2) * 40;
    expect(height).toBeGreaterThan(radius);
    const half = distanceToPath({ x: ROOT.x, y: ROOT.y + (radius + height) / 2 }, rim);
    expect(half).toBeCloseTo(slotWidth(spec) / 2, 9);
    expect(pathArea(rim)).toBeLessThan(pathArea(notched));
    expect(pathArea(rim)).toBeGreaterThan(
      pathArea(notched) - Math.PI * radius * radius - slotWidth(spec) * height,
    );
  });

  it('is cut without trim along its edges, up to the rim, and with it elsewhere', () => {
    // Of edges that bend a little on the way all belongs to the notch.
    const bent = rectangle(
      [52.5, WIDTH],
      [51, WIDTH - 20],
      [50, WIDTH - 40],
      [49, WIDTH - 20],
      [47.5, WIDTH],
    );
    for (const rim of [notched, bent]) {
      const found = partNotches(rim, spec);
      expect(found.cutAt(0, 0)).toBe(found.rim);
      const cut = found.cutAt(TRIM, KERF);
      const { vertices } = rim;
      const [first, last] = [3, vertices.length - 2];
      for (let i = 0; i < vertices.length; i++) {
        const [a, b] = [vertices[i]!, vertices[(i + 1) % vertices.length]!];
        const inNotch = i >= first && i < last;
        const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
        expect(distanceToPath(middle, cut), `piece ${i}`).toBeCloseTo(inNotch ? KERF : TRIM + KERF, 9);
      }
    }
  });
});
