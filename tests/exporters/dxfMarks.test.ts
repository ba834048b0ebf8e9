/** What no program may take for a contour: marks of the demo trays and of random ones, as other readers see them. */
import { readdirSync, readFileSync } from 'node:fs';
import { parseString } from 'dxf';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { DXF_VERSIONS, MARKS, type Mark } from '../../src/exporters/dxf/choices.ts';
import { dxfExporter } from '../../src/exporters/dxf/dxfExporter.ts';
import { openMarks } from '../../src/exporters/dxf/openMarks.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { distanceToPath, pathArea, pathLength } from '../../src/geometry/measure.ts';
import type { Path } from '../../src/geometry/path.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { parseTray, readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { LONG, some } from '../support/long.ts';
import { anyPolygon, anyRectangle } from '../support/randomTrays.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';
import { type Line, linesOf, rings } from './chains.ts';
import { readWithDxf, readWithDxfParser } from './readers/dxfReaders.ts';
import { concavePattern, roundedRectangle, roundHole, samplePattern } from './samplePattern.ts';

/** What programs join at most by themselves, mm: common practice, no source. */
const TOLERANCE = 0.1;

const registry = createRegistry([dxfExporter]);
const write = (pattern: FlatPattern, given: Readonly<Record<string, string>> = {}) =>
  dxfExporter.write(pattern, registry.values(dxfExporter, given));

const SAMPLES = new URL('../../samples/', import.meta.url);
const textOf = (name: string): string => readFileSync(new URL(name, SAMPLES), 'utf8');
const samples = readdirSync(SAMPLES).filter((name) => name.endsWith('.json'));

/** A random tray in a sheet that there is, perhaps with an open side or notched corners. */
function realTray(spec: TraySpec, kind: 'closed' | 'open' | 'notched'): TraySpec {
  return {
    ...spec,
    plan: kind === 'open' ? { ...spec.plan, openEdges: [0] } : spec.plan,
    sheet: { material: 'DC04', thickness: 1, grain: spec.sheet.grain },
    forming: { trim: 4, ...(kind === 'notched' ? { corners: 'notch', weldGap: 1 } : {}) },
  };
}

/** Everything that must be true of a pattern's drawings; the same file holds for both versions and both readers. */
async function expectNothingButTheCutClosed(
  pattern: FlatPattern,
  mixtures: readonly string[],
): Promise<void> {
  for (const version of DXF_VERSIONS) {
    const plain = await write(pattern, { version });
    const cut = parseString(new TextDecoder().decode(plain)).entities;
    expect(cut).toHaveLength(1 + pattern.holes.length);
    expect(cut.every(({ layer, closed }) => layer === 'CUT' && closed === true)).toBe(true);
    for (const marks of mixtures) {
      const bytes = await write(pattern, { version, marks });
      for (const read of [readWithDxf, readWithDxfParser]) expect(read(bytes)).toEqual(read(plain));
      const others = parseString(new TextDecoder().decode(bytes)).entities.filter(
        ({ layer }) => layer !== 'CUT',
      );
      expect(rings(linesOf(others), TOLERANCE), `${pattern.name}: ${marks}`).toBe(0);
    }
  }
}

describe('the drawing of every demo tray', () => {
  it.each(some(samples, 4))('has nothing closed but what is cut: %s', async (file) => {
    const pattern = flatPatternOf(developTray(readTray(parseTray(textOf(file)), { planDxf: textOf })));
    const whole = MARKS.join(',');
    await expectNothingButTheCutClosed(pattern, [whole, 'scribe', 'gather']);
    const layers = parseString(new TextDecoder().decode(await write(pattern, { marks: whole }))).entities.map(
      ({ layer }) => layer,
    );
    expect([...new Set(layers)]).toEqual(
      expect.arrayContaining(['CUT', 'SCRIBE', 'GATHER', 'GRAIN', 'TEXT']),
    );
  });
});

describe('the drawing of any tray', () => {
  it('has nothing closed but what is cut, whatever the mixture of marks', async () => {
    let drawn = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(anyRectangle, anyPolygon),
        fc.subarray([...MARKS], { minLength: 1 }),
        // Lines that end at an edge: sides left open, corners cut out for the weld.
        fc.constantFrom('closed', 'closed', 'open', 'notched'),
        async (spec, marks: Mark[], kind) => {
          let pattern: FlatPattern;
          try {
            pattern = flatPatternOf(developTray(realTray(spec, kind), OUTLINE_ONLY));
          } catch (error) {
            if (error instanceof GatherpanError) return; // no flat, or refused for its sizes
            throw error;
          }
          drawn++;
          await expectNothingButTheCutClosed(pattern, [marks.join(',')]);
        },
      ),
      { seed: 411, numRuns: LONG ? 400 : 5 },
    );
    expect(drawn).toBeGreaterThan(LONG ? 300 : 4);
  });
});

describe('lines that are opened', () => {
  const lines = (paths: readonly Path[]): Line[] =>
    paths.map(({ vertices }) => {
      const [first, last] = [vertices[0]!, vertices.at(-1)!];
      return { from: [first.x, first.y], to: [last.x, last.y] };
    });
  const open = (...points: readonly (readonly [number, number])[]): Path => ({
    vertices: points.map(([x, y]) => ({ x, y, bulge: 0 })),
    closed: false,
  });

  it('have a gap of 4 mm in the middle of each side of a rectangle, and keep the rest', () => {
    const line = roundedRectangle(330, 210, 24);
    const [pieces] = openMarks([[line]], []);
    expect(pieces).toHaveLength(4);
    const total = pieces!.reduce((sum, piece) => sum + pathLength(piece), 0);
    expect(total).toBeCloseTo(pathLength(line) - 4 * 4, 6);
    for (const [x, y] of [
      [165, 0],
      [-165, 0],
      [0, 105],
      [0, -105],
    ] as const)
      expect(Math.min(...pieces!.map((piece) => distanceToPath({ x, y }, piece)))).toBeCloseTo(2, 6);
  });

  it('are on the line they come from, with gaps that no program joins, whatever the line', () => {
    const anyLoop = fc
      .record({
        count: fc.integer({ min: 2, max: 9 }),
        size: fc.integer({ min: 0, max: 1000 }).map((k) => 3 * 400 ** (k / 1000)),
        shares: fc.array(fc.integer({ min: 30, max: 100 }), { minLength: 9, maxLength: 9 }),
        bulges: fc.array(fc.constantFrom(0, 0, 0.01, 0.2, -0.1), { minLength: 9, maxLength: 9 }),
      })
      .map(
        ({ count, size, shares, bulges }): Path => ({
          vertices: Array.from({ length: count }, (_, i) => ({
            x: (size * shares[i]! * Math.cos((2 * Math.PI * i) / count)) / 100,
            y: (size * shares[i]! * Math.sin((2 * Math.PI * i) / count)) / 100,
            bulge: count === 2 ? 1 : bulges[i]!,
          })),
          closed: true,
        }),
      );
    fc.assert(
      fc.property(fc.array(anyLoop, { minLength: 1, maxLength: 4 }), (loops) => {
        const [pieces] = openMarks([loops], []);
        expect(pieces!.length).toBeGreaterThanOrEqual(loops.length);
        expect(pieces!.every(({ closed }) => !closed)).toBe(true);
        expect(rings(lines(pieces!), TOLERANCE)).toBe(0);
        for (const { vertices } of pieces!)
          for (const vertex of vertices)
            expect(Math.min(...loops.map((loop) => distanceToPath(vertex, loop)))).toBeLessThan(1e-6);
        const before = loops.reduce((sum, loop) => sum + pathLength(loop), 0);
        const after = pieces!.reduce((sum, piece) => sum + pathLength(piece), 0);
        expect(after / before).toBeGreaterThan(0.49);
        expect(after).toBeLessThan(before);
      }),
      { seed: 4, numRuns: LONG ? 20_000 : 500 },
    );
  });

  it('do not run round in a ring with others that begin where they end', () => {
    const sides = [
      open([0, 0], [100, 0]),
      open([100, 0.05], [100, 60]),
      open([100, 60], [0, 60]),
      open([0, 60], [0, 0.05]),
    ];
    expect(rings(lines(sides), TOLERANCE)).toBe(1);
    // On two layers: a program may join over layers too.
    const [some, others] = openMarks([sides.slice(0, 2), sides.slice(2)], []);
    expect(rings(lines([...some!, ...others!]), TOLERANCE)).toBe(0);
    expect([...some!, ...others!]).toHaveLength(5);
  });

  it('stop 1 mm short of what is cut, and nothing else is shortened', () => {
    const outline = roundedRectangle(200, 100, 20);
    const hole = roundHole({ x: 0, y: 0 }, 20);
    const [pieces] = openMarks([[open([-100, 0], [-10, 0]), open([-50, 20], [50, 20])]], [outline, hole]);
    const ends = pieces!.map(({ vertices }) => vertices.map(({ x }) => x));
    expect(ends[0]![0]).toBeCloseTo(-99, 9);
    expect(ends[0]![1]).toBeCloseTo(-11, 9);
    expect(ends[1]).toEqual([-50, 50]);
  });
});

describe('the test itself', () => {
  it('finds the base line of a drawing whose marks are closed', () => {
    const loop = samplePattern().scribeLines[0]!.path;
    const [first] = loop.vertices;
    const closed = { ...loop, vertices: [...loop.vertices, first!], closed: false };
    expect(pathArea(loop)).toBeGreaterThan(1000);
    expect(rings([{ from: [first!.x, first!.y], to: [first!.x, first!.y] }], TOLERANCE)).toBe(1);
    expect(() =>
      linesOf([{ type: 'LWPOLYLINE', layer: 'SCRIBE', closed: true, vertices: closed.vertices }]),
    ).toThrow('a closed line on the layer SCRIBE');
  });

  it('reads the hand-made patterns alike', async () => {
    for (const pattern of [samplePattern(), concavePattern()])
      await expectNothingButTheCutClosed(pattern, MARKS);
  });
});
