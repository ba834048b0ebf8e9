import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitClosedPath, fitPath, type OpenFitOptions } from '../../src/geometry/fit.ts';
import {
  arcOf,
  distanceToPath,
  pathArea,
  pathLength,
  pointAlong,
  reversePath,
  tangentBreaks,
} from '../../src/geometry/measure.ts';
import type { Path } from '../../src/geometry/path.ts';
import { refusal } from '../support/refusal.ts';
import {
  bellCorner,
  type Curve,
  clothoidCorner,
  curveOf,
  filletCorner,
  gradedPlaces,
  samplesOf,
} from './curves.ts';
import { finePolygon, roundedPolygon } from './shapes.ts';

// The same random cases every time.
fc.configureGlobal({ seed: 1 });

const TOLERANCE = 0.02;
const SHORTEST = 0.5;

/** Largest distance from the curve to the path, and from the path to the curve, by close sampling. */
function deviation(curve: Curve, path: Path): number {
  const n = 1000;
  const points = Array.from({ length: n + 1 }, (_, i) => curve.at((i * curve.length) / n));
  // Between the points the curve is as good as the arc that turns as much.
  const close: Path = {
    closed: false,
    vertices: points.map(({ x, y, angle }, i) => ({
      x,
      y,
      bulge: i < n ? Math.tan((points[i + 1]!.angle - angle) / 4) : 0,
    })),
  };
  let most = 0;
  for (const point of points) most = Math.max(most, distanceToPath(point, path));
  const total = pathLength(path);
  for (let i = 0; i <= 200; i++)
    most = Math.max(most, distanceToPath(pointAlong(path, (i * total) / 200), close));
  return most;
}

function lengths(path: Path): number[] {
  return path.vertices.slice(0, path.closed ? undefined : -1).map((v, i) => {
    const to = path.vertices[(i + 1) % path.vertices.length]!;
    const arc = arcOf(v, to);
    return arc ? Math.abs(arc.sweep) * arc.radius : Math.hypot(to.x - v.x, to.y - v.y);
  });
}

function expectGood(path: Path, shortest = SHORTEST): void {
  for (const turn of tangentBreaks(path)) expect(Math.abs(turn)).toBeLessThan(1e-9);
  for (const length of lengths(path)) expect(length).toBeGreaterThanOrEqual(shortest * (1 - 1e-9));
}

const corner = (options: Partial<OpenFitOptions> = {}): OpenFitOptions => ({
  tolerance: TOLERANCE,
  startTangent: 0,
  endTangent: Math.PI / 2,
  ...options,
});

/**
 * Least number of arcs for a curve whose curvature changes at the rate c: an arc of length p errs by
 * c p³ / 124.7. The offset e of an arc from the curve has e'' = -c s about the arc's middle; of all e that are
 * continuous with e' from arc to arc the periodic one is the smallest: c (p² s / 24 - s³ / 6), whose largest
 * value is c p³ / (36 √12). Derived here; a bound for steady curves, not for their ends.
 */
function leastArcs(curve: Curve): number {
  let sum = 0;
  const n = 4000;
  const h = curve.length / n;
  for (let i = 0; i < n; i++) {
    const rate = (curve.curvature((i + 1) * h) - curve.curvature(i * h)) / h;
    sum += h * Math.cbrt(Math.abs(rate) / (36 * Math.sqrt(12) * TOLERANCE));
  }
  return sum;
}

const smoothCorners: readonly { name: string; curve: Curve; half: number; finest: number }[] = [
  { name: 'clothoids, 60 mm each', curve: clothoidCorner(90, 60), half: 60, finest: 2 },
  { name: 'small bell', curve: bellCorner(6, 70, 0.03), half: 15, finest: 0.6 },
  { name: 'bell', curve: bellCorner(25, 260, 0.05), half: 60, finest: 2 },
  { name: 'bell of a long side', curve: bellCorner(25, 1400, 0.05), half: 60, finest: 2 },
  { name: 'large bell', curve: bellCorner(110, 1400, 0.03), half: 250, finest: 8 },
];

describe('smooth corners of known curvature', () => {
  for (const { name, curve, half, finest } of smoothCorners) {
    const places = gradedPlaces(curve.length, half, finest, 200);
    for (const noise of [0, 1e-3]) {
      it(`${name}, samples ${noise === 0 ? 'exact' : 'within 0.001 mm'}`, () => {
        const path = fitPath(samplesOf(curve, places, noise), corner());
        expectGood(path);
        expect(deviation(curve, path)).toBeLessThan(TOLERANCE);
        const pieces = path.vertices.length - 1;
        expect(pieces).toBeLessThanOrEqual(Math.ceil(leastArcs(curve)) + 4); // both ends and a symmetric finish
        // 60 round a rectangle is 4 · 16 - 4; more only where the bound itself says so
        if (leastArcs(curve) < 12) expect(pieces).toBeLessThanOrEqual(16);
        expect(pieces).toBeGreaterThanOrEqual(Math.floor(leastArcs(curve) * 0.9)); // or the bound is wrong
      });
    }
  }
});

describe('what is lines and arcs already', () => {
  for (const radius of [8, 40, 150]) {
    it(`line, arc of ${radius} mm, line: three pieces, exact`, () => {
      const curve = filletCorner(113, radius, 71);
      const samples = samplesOf(
        curve,
        gradedPlaces(curve.length, 1.2 * radius, radius / 20, 50, 113 + (radius * Math.PI) / 4),
      );
      const path = fitPath(samples, corner());
      expect(path.vertices).toHaveLength(4);
      const [a, b, c, d] = path.vertices;
      expect([a!.bulge, c!.bulge]).toEqual([0, 0]);
      const arc = arcOf(b!, c!)!;
      expect(Math.abs(arc.radius - radius)).toBeLessThan(1e-6 * radius);
      expect(Math.abs(arc.centre.x - 113)).toBeLessThan(1e-6 * radius);
      expect(Math.abs(arc.centre.y - radius)).toBeLessThan(1e-6 * radius);
      expect(arc.sweep).toBeCloseTo(Math.PI / 2, 9);
      expect(d!.x).toBeCloseTo(113 + radius, 2);
      expectGood(path);
    });
  }

  it('a straight row of samples is one line', () => {
    const path = fitPath(Float64Array.of(0, 0, 10, 5, 14, 7, 200, 100), { tolerance: TOLERANCE });
    expect(path.vertices).toEqual([
      { x: 0, y: 0, bulge: 0 },
      { x: expect.closeTo(200, 9), y: expect.closeTo(100, 9), bulge: 0 },
    ]);
  });

  it('a quarter circle is one arc', () => {
    const quarter = curveOf(() => 1 / 50, 25 * Math.PI);
    const samples = samplesOf(quarter, gradedPlaces(quarter.length, 100, 4, 4));
    const path = fitPath(samples, corner());
    expect(path.vertices).toHaveLength(2);
    expect(path.vertices[0]!.bulge).toBeCloseTo(Math.tan(Math.PI / 8), 9);
  });

  it('a long straight with few samples does not swing where the bend begins', () => {
    // 200 mm from sample to sample, then 2 mm: the line stays on y = 0 to the last bit.
    const curve = filletCorner(400, 60, 50);
    const arcPlaces = Array.from({ length: 48 }, (_, i) => 400 + (i * 60 * Math.PI) / 2 / 47);
    const samples = samplesOf(curve, [0, 200, ...arcPlaces, curve.length]);
    const path = fitPath(samples, corner());
    expect(path.vertices[0]!.bulge).toBe(0);
    expect(path.vertices[1]!.x).toBeGreaterThan(395);
    expect(Math.abs(path.vertices[1]!.y - path.vertices[0]!.y)).toBe(0);
    expect(deviation(curve, path)).toBeLessThan(TOLERANCE);
  });
});

describe('ends', () => {
  const { curve, half, finest } = smoothCorners[2]!;
  const samples = samplesOf(curve, gradedPlaces(curve.length, half, finest, 200), 1e-3);
  it('with a known direction have it, and slide only along the mirror line', () => {
    const { vertices } = fitPath(samples, corner());
    expect(vertices[0]!.x).toBe(0); // the mirror line is x = 0
    expect(Math.abs(vertices[0]!.y)).toBeLessThan(TOLERANCE);
    const last = vertices[vertices.length - 1]!;
    const end = curve.at(curve.length);
    expect(last.y).toBeCloseTo(end.y, 9);
    expect(Math.abs(last.x - end.x)).toBeLessThan(TOLERANCE);
    const start = pointAlong({ vertices, closed: false }, 0);
    expect(start.tangent).toBeCloseTo(0, 12);
    expect(pointAlong({ vertices, closed: false }, 1e9).tangent).toBeCloseTo(Math.PI / 2, 9);
  });
  it('without one are the first and the last sample', () => {
    const { vertices } = fitPath(samples, { tolerance: TOLERANCE });
    const end = curve.at(curve.length);
    expect(vertices[0]).toMatchObject({ x: 0, y: 0 });
    expect(vertices[vertices.length - 1]!.x).toBeCloseTo(end.x, 9);
    expect(vertices[vertices.length - 1]!.y).toBeCloseTo(end.y, 9);
    expect(deviation(curve, { vertices, closed: false })).toBeLessThan(TOLERANCE);
  });
});

describe('ends of what is nearly straight', () => {
  const ends = (path: Path) => [pointAlong(path, 0), pointAlong(path, 1e9)] as const;
  it('two known directions that differ are both kept', () => {
    const path = fitPath(Float64Array.of(0, 0, 100, 0), {
      tolerance: TOLERANCE,
      startTangent: 0.001,
      endTangent: 0,
    });
    const [start, end] = ends(path);
    expect(start.tangent).toBeCloseTo(0.001, 12);
    expect(end.tangent).toBeCloseTo(0, 12);
    expectGood(path);
  });
  it('a known direction at one end, the sample itself at the other', () => {
    const path = fitPath(Float64Array.of(0, 0, 40, 0.004, 100, 0.01), {
      tolerance: TOLERANCE,
      startTangent: 0,
    });
    expect(path.vertices).toHaveLength(2);
    expect(path.vertices[0]!.bulge).toBe(0);
    const [start, end] = ends(path);
    expect(start.tangent).toBe(0);
    expect(start.x).toBe(0);
    expect([end.x, end.y]).toEqual([100, 0.01]);
  });
  it('a rim shorter than the shortest piece is still one piece', () => {
    expect(fitPath(Float64Array.of(0, 0, 0.2, 0.1), { tolerance: TOLERANCE }).vertices).toHaveLength(2);
  });
});

describe('invariance', () => {
  const { curve, half, finest } = smoothCorners[2]!;
  const samples = samplesOf(curve, gradedPlaces(curve.length, half, finest, 200), 1e-3);
  const path = fitPath(samples, corner());

  it('the same samples give the same path', () => {
    expect(fitPath(samples.slice(), corner())).toEqual(path);
  });
  it('does not change the samples', () => {
    const copy = samples.slice();
    fitPath(copy, corner());
    expect(copy).toEqual(samples);
  });
  it('turned', () => {
    for (const turn of [0.3, 2, -2.5]) {
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      const turned = samples.map((_, i) =>
        i % 2 === 0 ? c * samples[i]! - s * samples[i + 1]! : s * samples[i - 1]! + c * samples[i]!,
      );
      const again = fitPath(turned, corner({ startTangent: turn, endTangent: turn + Math.PI / 2 }));
      expect(again.vertices).toHaveLength(path.vertices.length);
      for (const [i, { x, y, bulge }] of path.vertices.entries()) {
        expect(again.vertices[i]!.x).toBeCloseTo(c * x - s * y, 6);
        expect(again.vertices[i]!.y).toBeCloseTo(s * x + c * y, 6);
        expect(again.vertices[i]!.bulge).toBeCloseTo(bulge, 7);
      }
    }
  });
  it('mirrored, or run backward: as many pieces, within one, and as close', () => {
    const mirrored = samples.map((v, i) => (i % 2 === 0 ? v : -v));
    const again = fitPath(mirrored, corner({ endTangent: -Math.PI / 2 }));
    expect(Math.abs(again.vertices.length - path.vertices.length)).toBeLessThanOrEqual(1);
    const unmirrored = {
      ...again,
      vertices: again.vertices.map((v) => ({ x: v.x, y: -v.y, bulge: -v.bulge })),
    };
    expect(deviation(curve, unmirrored)).toBeLessThan(TOLERANCE);
    const n = samples.length / 2;
    const backward = samples.map((_, i) => samples[2 * (n - 1 - (i >> 1)) + (i % 2)]!);
    const back = fitPath(backward, corner({ startTangent: -Math.PI / 2, endTangent: Math.PI }));
    expect(Math.abs(back.vertices.length - path.vertices.length)).toBeLessThanOrEqual(1);
    expect(deviation(curve, reversePath(back))).toBeLessThan(TOLERANCE);
  });
  it('scaled, with the tolerance and the shortest piece', () => {
    for (const scale of [1e-3, 25.4, 1e3]) {
      const again = fitPath(
        samples.map((v) => scale * v),
        corner({ tolerance: scale * TOLERANCE, minimumLength: scale * SHORTEST }),
      );
      expect(again.vertices).toHaveLength(path.vertices.length);
      for (const [i, { x, y }] of path.vertices.entries()) {
        expect(again.vertices[i]!.x / scale).toBeCloseTo(x, 6);
        expect(again.vertices[i]!.y / scale).toBeCloseTo(y, 6);
      }
    }
  });
  it('on a clothoid the number of arcs is the least, within two, and goes with the cube root of the tolerance', () => {
    const spiral = curveOf((s) => 1 / 300 + s * 1e-4, 400);
    const places = Array.from({ length: 201 }, (_, i) => 2 * i);
    for (const tolerance of [0.04, 0.02, 0.01, 0.005, 0.0025]) {
      const path = fitPath(samplesOf(spiral, places), { tolerance });
      expect(deviation(spiral, path)).toBeLessThan(tolerance);
      const least = leastArcs(spiral) * (TOLERANCE / tolerance) ** (1 / 3);
      expect(path.vertices.length - 1).toBeGreaterThanOrEqual(Math.floor(least));
      // The fit leaves some of the tolerance for what lies between the samples: 0.85^(-1/3) = 1.06.
      expect(path.vertices.length - 1).toBeLessThanOrEqual(Math.ceil(1.06 * least) + 2);
    }
  });
});

describe('random corners', () => {
  it('are followed within the tolerance, smoothly, by pieces that are not too short', () => {
    const bump = fc.record({
      at: fc.double({ min: 0.2, max: 0.8, noNaN: true }),
      width: fc.double({ min: 0.04, max: 0.2, noNaN: true }),
      turn: fc.double({ min: -0.6, max: 1.2, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(bump, { minLength: 1, maxLength: 4 }),
        fc.double({ min: 60, max: 900, noNaN: true }),
        fc.boolean(),
        (bumps, length, known) => {
          const curve = curveOf(
            (s) =>
              bumps.reduce(
                (sum, { at, width, turn }) =>
                  sum +
                  (turn / (width * length * Math.sqrt(Math.PI))) *
                    Math.exp(-(((s / length - at) / width) ** 2)),
                0,
              ),
            length,
          );
          const places = Array.from({ length: 121 }, (_, i) => (i * length) / 120);
          const path = fitPath(
            samplesOf(curve, places),
            known
              ? { tolerance: TOLERANCE, startTangent: 0, endTangent: curve.at(length).angle }
              : { tolerance: TOLERANCE },
          );
          expectGood(path);
          expect(deviation(curve, path)).toBeLessThan(TOLERANCE);
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('quadratic element edges', () => {
  it('are followed as the parabolas they are', () => {
    const { curve } = smoothCorners[2]!;
    // Corner nodes and middle nodes that err in opposite ways, as those of a free edge do.
    const places = gradedPlaces(curve.length, 60, 8, 40);
    if (places.length % 2 === 0) places.splice(1, 1);
    const samples = samplesOf(curve, places);
    for (let i = 1; i < places.length - 1; i++) samples[2 * i + 1]! += i % 2 === 0 ? -0.005 : 0.005;
    const path = fitPath(samples, corner({ between: 'quadratic' }));
    expectGood(path);
    let most = 0;
    for (let i = 0; i + 2 < places.length; i += 2)
      for (let k = 0; k <= 40; k++) {
        // Lagrange's polynomials through -1, 0, 1
        const t = k / 20 - 1;
        const [a, m, b] = [(t * (t - 1)) / 2, 1 - t * t, (t * (t + 1)) / 2];
        const x = a * samples[2 * i]! + m * samples[2 * i + 2]! + b * samples[2 * i + 4]!;
        const y = a * samples[2 * i + 1]! + m * samples[2 * i + 3]! + b * samples[2 * i + 5]!;
        most = Math.max(most, distanceToPath({ x, y }, path));
      }
    expect(most).toBeLessThan(TOLERANCE);
    expect(most).toBeGreaterThan(0.005);
  });
});

describe('closed rims', () => {
  /** Samples of a loop of lines and arcs, about 2 mm apart. */
  const around = (loop: Path, apart: number): Float64Array => {
    const n = Math.round(pathLength(loop) / apart);
    return Float64Array.from(
      Array.from({ length: n }, (_, i) => pointAlong(loop, (i * pathLength(loop)) / n)).flatMap(
        ({ x, y }) => [x, y],
      ),
    );
  };

  it('a rounded four-sided plan: eight pieces, wherever the samples begin', () => {
    const plan = roundedPolygon(
      [
        { x: -220, y: -80 },
        { x: 240, y: -90 },
        { x: 200, y: 130 },
        { x: -150, y: 180 },
      ],
      [25, 40, 30, 60],
    );
    const samples = around(plan, 1.5);
    for (const begin of [0, 100, 333, 500]) {
      const rolled = Float64Array.from([...samples.slice(2 * begin), ...samples.slice(0, 2 * begin)]);
      const path = fitClosedPath(rolled, { tolerance: TOLERANCE });
      expectGood(path);
      expect(path.vertices).toHaveLength(8);
      expect(path.vertices.filter(({ bulge }) => bulge === 0)).toHaveLength(4);
      for (const point of finePolygon(plan, 4)) expect(distanceToPath(point, path)).toBeLessThan(TOLERANCE);
      expect(Math.abs(pathArea(path) - pathArea(plan))).toBeLessThan(TOLERANCE * pathLength(plan));
    }
  });

  it('a superellipse, which has no straight side', () => {
    const exponent = 2.5; // |x / 150|^2.5 + |y / 100|^2.5 = 1
    const point = (t: number) => ({
      x: 150 * Math.sign(Math.cos(t)) * Math.abs(Math.cos(t)) ** (2 / exponent),
      y: 100 * Math.sign(Math.sin(t)) * Math.abs(Math.sin(t)) ** (2 / exponent),
    });
    const samples = Float64Array.from(
      Array.from({ length: 400 }, (_, i) => point(0.3 + (i * 2 * Math.PI) / 400)).flatMap(({ x, y }) => [
        x,
        y,
      ]),
    );
    const path = fitClosedPath(samples, { tolerance: TOLERANCE });
    expectGood(path);
    for (let i = 0; i < 5000; i++) expect(distanceToPath(point(i), path)).toBeLessThan(TOLERANCE);
    expect(path.vertices.length).toBeLessThan(50);
    expect(pathArea(path)).toBeGreaterThan(0);
    // Dirichlet's integral: area of a superellipse = 4 a b Γ(1 + 1/n)² / Γ(1 + 2/n); Γ(1.4), Γ(1.8) from memory.
    const area = (4 * 150 * 100 * 0.8872638175 ** 2) / 0.931383771;
    expect(Math.abs(pathArea(path) - area) / pathLength(path)).toBeLessThan(TOLERANCE);
  });

  it('clockwise stays clockwise', () => {
    const samples = around(
      roundedPolygon(
        [
          { x: 0, y: 0 },
          { x: 90, y: 0 },
          { x: 40, y: 80 },
        ],
        [12, 9, 15],
      ),
      0.7,
    );
    const back = Float64Array.from(
      Array.from({ length: samples.length / 2 }, (_, i) => samples.length / 2 - 1 - i).flatMap((i) => [
        samples[2 * i]!,
        samples[2 * i + 1]!,
      ]),
    );
    const path = fitClosedPath(back, { tolerance: TOLERANCE });
    expect(pathArea(path)).toBeLessThan(0);
    expectGood(path);
  });

  it('a circle', () => {
    const samples = Float64Array.from(
      Array.from({ length: 60 }, (_, i) => (i * Math.PI) / 30).flatMap((t) => [
        40 * Math.cos(t),
        40 * Math.sin(t),
      ]),
    );
    const path = fitClosedPath(samples, { tolerance: TOLERANCE });
    expectGood(path);
    expect(path.vertices.length).toBeLessThanOrEqual(4);
    expect(Math.abs(pathArea(path) - Math.PI * 1600)).toBeLessThan(0.5);
  });

  it('real corners stay corners, exactly at their samples, and only there', () => {
    // A square of 60 mm with one side replaced by an arc; samples 5 mm apart.
    const loop: Path = {
      closed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 60, y: 0, bulge: 0.3 },
        { x: 60, y: 60, bulge: 0 },
        { x: 0, y: 60, bulge: 0 },
      ],
    };
    const corners: number[] = [];
    const xy: number[] = [];
    for (const [k, from] of loop.vertices.entries()) {
      corners.push(xy.length / 2);
      const side: Path = { closed: false, vertices: [from, { ...loop.vertices[(k + 1) % 4]!, bulge: 0 }] };
      for (let i = 0; i < 12; i++) {
        const { x, y } = pointAlong(side, (i * pathLength(side)) / 12);
        xy.push(x, y);
      }
    }
    const path = fitClosedPath(Float64Array.from(xy), { tolerance: TOLERANCE, corners });
    expect(path.vertices).toHaveLength(4);
    for (const [i, { x, y, bulge }] of loop.vertices.entries()) {
      expect(path.vertices[i]!.x).toBeCloseTo(x, 9);
      expect(path.vertices[i]!.y).toBeCloseTo(y, 9);
      expect(path.vertices[i]!.bulge).toBeCloseTo(bulge, 4);
    }
  });
});

describe('what cannot be fitted is refused in a sentence', () => {
  it('a corner that was not given as one', () => {
    const error = refusal(() =>
      fitPath(
        Float64Array.from(
          Array.from({ length: 61 }, (_, i) => [Math.min(i, 30) / 10, Math.max(i - 30, 0) / 10]).flat(),
        ),
        { tolerance: TOLERANCE },
      ),
    );
    expect(error.code).toBe('NOT_MAKEABLE');
    expect(error.message).toMatch(/turns too sharply near \(\d+\.\d+, -?\d+\.\d+\) mm/);
  });
  it('samples and options that make no sense', () => {
    const good = Float64Array.of(0, 0, 1, 0, 2, 0);
    const bad = (points: Float64Array, options: OpenFitOptions) => refusal(() => fitPath(points, options));
    expect(bad(Float64Array.of(0, 0), { tolerance: 0.02 }).message).toMatch(/at least 2 samples; found 1/);
    expect(bad(Float64Array.of(0, 0, 1, Number.NaN), { tolerance: 0.02 }).message).toMatch(/not a number/);
    expect(bad(Float64Array.of(0, 0, 1, 1, 1, 1), { tolerance: 0.02 }).message).toMatch(
      /Samples 1 and 2 are the same/,
    );
    for (const tolerance of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(bad(good, { tolerance }).code).toBe('BAD_INPUT');
    expect(bad(good, { tolerance: 0.02, startTangent: Number.NaN }).message).toMatch(/startTangent/);
    expect(bad(good, { tolerance: 0.02, minimumLength: 0 }).message).toMatch(/minimumLength/);
    expect(bad(Float64Array.of(0, 0, 1, 0), { tolerance: 0.02, between: 'quadratic' }).message).toMatch(
      /odd/,
    );
    expect(refusal(() => fitClosedPath(good, { tolerance: 0.02, corners: [7] })).message).toMatch(/Corner 7/);
    const square = Float64Array.of(0, 0, 5, 0, 9, 0, 9, 5, 9, 9, 0, 5);
    expect(
      refusal(() => fitClosedPath(square, { tolerance: 0.02, between: 'quadratic', corners: [0, 3] }))
        .message,
    ).toMatch(/Corner 3 is the middle/);
  });
});
