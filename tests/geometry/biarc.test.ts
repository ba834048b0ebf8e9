import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { biarc, endOf, leftOf, type Piece, type Pose, tangentArc } from '../../src/geometry/biarc.ts';

// The same random cases every time.
fc.configureGlobal({ seed: 1 });

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const pose = fc.record({ x: number(-100, 100), y: number(-100, 100), angle: number(-3, 3) });

/** The end of a piece by walking it in 2,000 straight steps: the midpoint rule for the direction. */
function walked({ x, y, angle, curvature, length }: Piece): Pose {
  const n = 2000;
  for (let i = 0; i < n; i++) {
    const direction = angle + (curvature * length * (i + 0.5)) / n;
    x += (Math.cos(direction) * length) / n;
    y += (Math.sin(direction) * length) / n;
  }
  return { x, y, angle: angle + curvature * length };
}

function expectSame(a: Pose, b: Pose, distance: number, angle: number): void {
  expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeLessThan(distance);
  expect(Math.abs(Math.sin((a.angle - b.angle) / 2))).toBeLessThan(angle);
}

/** Both pieces run forward, from pose to pose, without a break between them. */
function expectJoined([first, second]: readonly [Piece, Piece], from: Pose, to: Pose, size: number): void {
  expect(first.length).toBeGreaterThan(0);
  expect(second.length).toBeGreaterThan(0);
  expectSame(first, from, 1e-12, 1e-12);
  expectSame(endOf(first), second, 1e-8 * size, 1e-9);
  expectSame(endOf(second), to, 1e-8 * size, 1e-8);
}

describe('endOf', () => {
  it('is where a walk along the piece ends', () => {
    fc.assert(
      fc.property(pose, number(-0.05, 0.05), number(0.1, 60), (start, curvature, length) => {
        const piece = { ...start, curvature, length };
        expectSame(endOf(piece), walked(piece), 1e-3, 1e-12);
      }),
    );
  });
});

describe('leftOf', () => {
  it('is the distance from the circle, positive inside a left turn, and from a line', () => {
    const right = { x: 0, y: -5, angle: 0, curvature: 0.2 }; // circle of 5 mm about the origin
    expect(leftOf(right, 3, 0)).toBeCloseTo(2, 13);
    expect(leftOf(right, 0, 9)).toBeCloseTo(-4, 13);
    expect(leftOf({ x: 0, y: 5, angle: 0, curvature: -0.2 }, 3, 0)).toBeCloseTo(-2, 13);
    expect(leftOf({ x: 1, y: 1, angle: Math.PI / 4, curvature: 0 }, 0, 2)).toBeCloseTo(Math.SQRT2, 13);
  });
});

describe('biarc', () => {
  it('joins any two poses that look forward to each other', () => {
    fc.assert(
      fc.property(pose, pose, (from, to) => {
        const distance = Math.hypot(to.x - from.x, to.y - from.y);
        fc.pre(distance > 1);
        const pair = biarc(from, to);
        if (!pair) return;
        expectJoined(pair, from, to, distance);
        for (const { curvature, length } of pair) expect(Math.abs(curvature * length)).toBeLessThanOrEqual(3);
      }),
      { numRuns: 500 },
    );
  });
  it('is found whenever both directions are within 75° of the chord', () => {
    fc.assert(
      fc.property(number(-1.3, 1.3), number(-1.3, 1.3), number(1, 500), (a, b, distance) => {
        expect(biarc({ x: 0, y: 0, angle: a }, { x: distance, y: 0, angle: b })).not.toBeNull();
      }),
    );
  });
  it('on a circle is that circle', () => {
    const [first, second] = biarc({ x: 40, y: 0, angle: Math.PI / 2 }, { x: 0, y: 40, angle: Math.PI })!;
    expect(first.curvature).toBeCloseTo(1 / 40, 14);
    expect(second.curvature).toBeCloseTo(1 / 40, 14);
    expect(first.length + second.length).toBeCloseTo(20 * Math.PI, 11);
  });
  it('errs by c p³ / 40.5 on a curve whose curvature changes at the rate c', () => {
    // Clothoid from curvature 0, to third order: y = c x³ / 6, direction c x² / 2; p half the length.
    const c = 1e-6;
    const length = 20;
    const pair = biarc(
      { x: 0, y: 0, angle: 0 },
      { x: length, y: (c * length ** 3) / 6, angle: (c * length ** 2) / 2 },
    )!;
    let most = 0;
    for (let x = 0; x <= length; x += 0.01) {
      const piece = x < length / 2 ? pair[0] : pair[1];
      most = Math.max(most, Math.abs(leftOf(piece, x, (c * x ** 3) / 6)));
    }
    expect(most / ((c * (length / 2) ** 3) / 40.5)).toBeCloseTo(1, 3);
  });
});

describe('tangentArc', () => {
  it('runs on from a line or arc into one arc more, to the pose', () => {
    fc.assert(
      fc.property(pose, number(-0.03, 0.03), fc.boolean(), pose, (from, curvature, straight, to) => {
        const start = { ...from, curvature: straight ? 0 : curvature };
        fc.pre(straight || Math.abs(curvature) > 1e-6);
        const pair = tangentArc(start, to);
        if (!pair) return;
        expect(Math.abs(pair[0].curvature - start.curvature)).toBeLessThan(1e-12);
        const size = 200 + 1 / Math.max(1e-3, Math.abs(start.curvature));
        expectJoined(pair, from, to, size);
      }),
      { numRuns: 1000 },
    );
  });
  it('between two lines is the fillet', () => {
    // Along x, then up the line x = 30, which is joined at (30, 8): radius 8.
    const [line, arc] = tangentArc(
      { x: 0, y: 0, angle: 0, curvature: 0 },
      { x: 30, y: 8, angle: Math.PI / 2 },
    )!;
    expect(line.length).toBeCloseTo(22, 12);
    expect(1 / arc.curvature).toBeCloseTo(8, 12);
    expect(arc.length).toBeCloseTo(4 * Math.PI, 12);
  });
  it('finds the arc that a chain was made with', () => {
    fc.assert(
      fc.property(
        number(-0.02, 0.02),
        number(5, 50),
        number(-0.02, 0.02),
        number(5, 50),
        (k1, length1, k2, length2) => {
          fc.pre(Math.abs(k1 - k2) > 1e-3);
          const first = { x: 3, y: 4, angle: 0.5, curvature: k1, length: length1 };
          const second = { ...endOf(first), curvature: k2, length: length2 };
          const pair = tangentArc(first, endOf(second));
          expect(pair).not.toBeNull();
          expect(pair![0].length).toBeCloseTo(length1, 6);
          expect(pair![1].curvature).toBeCloseTo(k2, 8);
        },
      ),
    );
  });
});
