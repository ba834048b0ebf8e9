import { describe, expect, it } from 'vitest';
import { fitPath } from '../../src/geometry/fit.ts';
import { selfIntersections } from '../../src/geometry/intersect.ts';
import { pathArea, pathBounds, pathLength, tangentBreaks } from '../../src/geometry/measure.ts';
import { mirrorJoin } from '../../src/geometry/mirror.ts';
import { offsetPath } from '../../src/geometry/offset.ts';
import type { Path, Vertex } from '../../src/geometry/path.ts';
import { bellCorner, gradedPlaces, samplesOf } from './curves.ts';
import { QUARTER } from './shapes.ts';

const axes = (order: number, firstAngle = 0, centreX = 0, centreY = 0) => ({
  centreX,
  centreY,
  firstAngle,
  lastAngle: firstAngle + Math.PI / order,
});

/** A quarter of a rounded rectangle from the x axis to the y axis. */
const quarterRectangle = (a: number, b: number, r: number): Path => ({
  closed: false,
  vertices: [
    { x: a, y: 0, bulge: 0 },
    { x: a, y: b - r, bulge: QUARTER },
    { x: a - r, y: b, bulge: 0 },
    { x: 0, y: b, bulge: 0 },
  ],
});

/** The loop contains, for each vertex, its image: same coordinates, and the bulge of the piece before it. */
function expectSymmetric(
  loop: Path,
  image: (v: Vertex) => { x: number; y: number },
  digits: number | 'exact',
): void {
  const n = loop.vertices.length;
  for (const [i, vertex] of loop.vertices.entries()) {
    const { x, y } = image(vertex);
    const j = loop.vertices.findIndex((other) =>
      digits === 'exact'
        ? other.x === x && other.y === y
        : Math.hypot(other.x - x, other.y - y) < 10 ** -digits,
    );
    expect(j, `image of vertex ${i}`).toBeGreaterThanOrEqual(0);
    // Mirrored and run the other way: the piece that starts at i ends at j.
    expect(loop.vertices[(j + n - 1) % n]!.bulge).toBe(vertex.bulge);
  }
}

describe('two mirror lines', () => {
  it('rounded rectangle: eight vertices, none on an axis, symmetric to the last bit', () => {
    const loop = mirrorJoin(quarterRectangle(165.1, 115.3, 15.7), axes(2));
    expect(loop.closed).toBe(true);
    expect(loop.vertices).toHaveLength(8);
    for (const { x, y } of loop.vertices) expect(x * y).not.toBe(0);
    expectSymmetric(loop, ({ x, y }) => ({ x: -x, y }), 'exact');
    expectSymmetric(loop, ({ x, y }) => ({ x, y: -y }), 'exact');
    expect(pathArea(loop)).toBeCloseTo(330.2 * 230.6 - (4 - Math.PI) * 15.7 ** 2, 8);
    for (const turn of tangentBreaks(loop)) expect(Math.abs(turn)).toBeLessThan(1e-13);
  });

  it('a fitted quarter: 4 n - 4 pieces, smooth everywhere, symmetric to the last bit', () => {
    const curve = bellCorner(25, 260, 0.05);
    const samples = samplesOf(curve, gradedPlaces(curve.length, 60, 2, 200), 1e-3);
    // Laid so that it starts on the x axis going up and ends on the y axis going left.
    const end = curve.at(curve.length);
    const laid = samples.map((_, i) => (i % 2 === 0 ? end.y - samples[i + 1]! : samples[i - 1]!));
    const piece = fitPath(laid, { tolerance: 0.02, startTangent: Math.PI / 2, endTangent: Math.PI });
    const shifted: Path = {
      closed: false,
      vertices: piece.vertices.map((v) => ({ ...v, x: v.x - laid[laid.length - 2]! })),
    };
    const loop = mirrorJoin(shifted, axes(2));
    expect(loop.vertices).toHaveLength(4 * (piece.vertices.length - 1) - 4);
    expectSymmetric(loop, ({ x, y }) => ({ x: -x, y }), 'exact');
    expectSymmetric(loop, ({ x, y }) => ({ x, y: -y }), 'exact');
    for (const turn of tangentBreaks(loop)) expect(Math.abs(turn)).toBeLessThan(1e-9);
    expect(selfIntersections(loop)).toEqual([]);
    const outline = offsetPath(loop, 4.1);
    expectSymmetric(outline, ({ x, y }) => ({ x: -x, y }), 'exact');
    expectSymmetric(outline, ({ x, y }) => ({ x, y: -y }), 'exact');
    expect(pathLength(loop)).toBeCloseTo(4 * pathLength(shifted), 6);
  });

  it('ends a little off the axis are put on it', () => {
    const piece = quarterRectangle(50, 40, 10);
    const off = {
      ...piece,
      vertices: piece.vertices.map((v, i) =>
        i === 0 ? { ...v, y: 1e-13 } : i === 3 ? { ...v, x: -1e-13 } : v,
      ),
    };
    expect(mirrorJoin(off, axes(2))).toEqual(mirrorJoin(piece, axes(2)));
  });

  it('about another centre', () => {
    const moved = quarterRectangle(50, 40, 10).vertices.map((v) => ({ ...v, x: v.x + 7, y: v.y - 3 }));
    const box = pathBounds(mirrorJoin({ closed: false, vertices: moved }, axes(2, 0, 7, -3)));
    expect(box).toEqual({ minX: -43, maxX: 57, minY: -43, maxY: 37 });
  });

  it('a corner on the mirror line stays a vertex', () => {
    // A quarter of a rhombus.
    const rhombus = mirrorJoin(
      {
        closed: false,
        vertices: [
          { x: 30, y: 0, bulge: 0 },
          { x: 0, y: 20, bulge: 0 },
        ],
      },
      axes(2),
    );
    expect(rhombus.vertices.map(({ x, y }) => [x, y])).toEqual([
      [30, 0],
      [0, 20],
      [-30, 0],
      [0, -20],
    ]);
    expect(pathArea(rhombus)).toBeCloseTo(1200, 10);
  });
});

describe('one mirror line, and many', () => {
  it('one line at any angle: the half mirrored', () => {
    // Half a stadium, cut along its length: straight 60, radius 10.
    const half: Vertex[] = [
      { x: 40, y: 0, bulge: QUARTER },
      { x: 30, y: 10, bulge: 0 },
      { x: -30, y: 10, bulge: QUARTER },
      { x: -40, y: 0, bulge: 0 },
    ];
    for (const angle of [0, Math.PI / 2, 0.7, -2]) {
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const piece: Path = {
        closed: false,
        vertices: half.map(({ x, y, bulge }) => ({ x: c * x - s * y, y: s * x + c * y, bulge })),
      };
      const loop = mirrorJoin(piece, axes(1, angle));
      expect(loop.vertices).toHaveLength(4); // the quarter circles have become half circles
      for (const { bulge } of loop.vertices)
        expect(Math.min(Math.abs(bulge), Math.abs(bulge - 1))).toBeLessThan(1e-12);
      expect(pathArea(loop)).toBeCloseTo(60 * 20 + 100 * Math.PI, 8);
    }
  });

  it.each([3, 4, 5, 6, 8])('%i lines: a rounded regular polygon', (m) => {
    // From the middle of a side (apothem 50) to the bisector through a corner, rounded with 12 mm.
    const half = Math.PI / m;
    const along = 50 * Math.tan(half);
    const cut = 12 * Math.tan(half);
    const reach = 50 / Math.cos(half) - 12 / Math.cos(half) + 12;
    for (const firstAngle of [0, 0.4]) {
      const [c, s] = [Math.cos(firstAngle), Math.sin(firstAngle)];
      const turn = (x: number, y: number, bulge: number): Vertex => ({
        x: c * x - s * y,
        y: s * x + c * y,
        bulge,
      });
      const piece: Path = {
        closed: false,
        vertices: [
          turn(50, 0, 0),
          turn(50, along - cut, Math.tan(half / 4)),
          turn(reach * Math.cos(half), reach * Math.sin(half), 0),
        ],
      };
      const loop = mirrorJoin(piece, axes(m, firstAngle));
      expect(loop.vertices).toHaveLength(2 * m); // m lines, m arcs
      for (const v of tangentBreaks(loop)) expect(Math.abs(v)).toBeLessThan(1e-12);
      expect(pathArea(loop)).toBeCloseTo(m * 2500 * Math.tan(half) - 144 * (m * Math.tan(half) - Math.PI), 8);
      for (let k = 0; k < m; k++) {
        const angle = 2 * (firstAngle + k * half);
        expectSymmetric(
          loop,
          ({ x, y }) => ({
            x: Math.cos(angle) * x + Math.sin(angle) * y,
            y: Math.sin(angle) * x - Math.cos(angle) * y,
          }),
          11,
        );
      }
    }
  });

  it('the diagonals of a square mirror to the last bit too', () => {
    const tan = Math.tan(Math.PI / 16);
    const piece: Path = {
      closed: false,
      vertices: [
        { x: 50.3, y: 0, bulge: 0 },
        { x: 50.3, y: 38.1, bulge: tan },
        { x: 38.1 + 12.2 * Math.SQRT1_2, y: 38.1 + 12.2 * Math.SQRT1_2, bulge: 0 },
      ],
    };
    const loop = mirrorJoin(piece, axes(4));
    expect(loop.vertices).toHaveLength(8);
    expectSymmetric(loop, ({ x, y }) => ({ x: y, y: x }), 'exact');
    expectSymmetric(loop, ({ x, y }) => ({ x: -x, y }), 'exact');
  });

  it('a circle keeps as many vertices as it needs', () => {
    for (const m of [1, 2, 3, 4]) {
      const a = Math.PI / m;
      const piece: Path = {
        closed: false,
        vertices: [
          { x: 25, y: 0, bulge: Math.tan(a / 4) },
          { x: 25 * Math.cos(a), y: 25 * Math.sin(a), bulge: 0 },
        ],
      };
      const loop = mirrorJoin(piece, axes(m));
      expect(loop.vertices.length).toBeGreaterThanOrEqual(2);
      expect(pathArea(loop)).toBeCloseTo(625 * Math.PI, 9);
      expect(pathLength(loop)).toBeCloseTo(50 * Math.PI, 10);
    }
  });
});
