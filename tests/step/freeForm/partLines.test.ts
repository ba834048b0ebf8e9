import { describe, expect, it } from 'vitest';
import { pathArea, pathBounds, pathLength } from '../../../src/geometry/measure.ts';
import type { Path } from '../../../src/geometry/path.ts';
import { resolveSheet } from '../../../src/material/sheets.ts';
import { wholeFormed } from '../../../src/solve/wholeField.ts';
import { bendKinds } from '../../../src/step/freeForm/bendLines.ts';
import type { FilledHole } from '../../../src/step/freeForm/filledHoles.ts';
import { scribedLines, solvedHoles } from '../../../src/step/freeForm/partLines.ts';
import type { SolvedSkin } from '../../../src/step/freeForm/solvedSkin.ts';
import { type Meshed, meshed } from './meshed.ts';
import { bend, folded } from './patches.ts';

const SHEET = resolveSheet({ material: 'DC04', thickness: 1, grain: 0 });

/** A part as if it had been solved: its flat laid out by its lengths, with one strain everywhere. */
function solved(sheet: Meshed, filledHoles: readonly FilledHole[], strain = 0) {
  const part = sheet.mesh(5);
  const { mesh, start } = part;
  const solution = { mesh, flat: start } as unknown as SolvedSkin['solution'];
  const values = (value: number): Float64Array => new Float64Array(mesh.nodeCount).fill(value);
  const field = {
    flat: start,
    ...wholeFormed(mesh),
    majorStrain: values(strain / 2),
    minorStrain: values(-strain),
    thicknessStrain: values(strain / 2),
    equivalentStrain: values(strain),
    rimCorner: new Int32Array(mesh.rim.length).fill(-1),
  };
  return { own: { ...sheet, part, solution, filledHoles } as unknown as SolvedSkin, field, part, solution };
}

it('bends begin and end on lines across the blank, the base on their left', () => {
  const sheet = meshed(bend([20, 15], 8, 30));
  const { part, solution } = solved(sheet, []);
  const kinds = bendKinds(sheet.skin, sheet.flat, 0, sheet.jumps);
  const { scribeLines, warnings } = scribedLines(solution, part.borders, sheet.jumps, kinds);
  expect(warnings).toEqual([]);
  expect(scribeLines.map(({ kind }) => kind)).toEqual(['bend-begin', 'bend-end']);
  for (const [i, { path }] of scribeLines.entries()) {
    expect(path.closed).toBe(false);
    const [first, last] = [path.vertices[0]!, path.vertices.at(-1)!];
    const x = 20 + i * 4 * Math.PI;
    for (const vertex of path.vertices) expect(vertex.x).toBeCloseTo(x, 3);
    // The base is where x is less: on the left of what runs along y.
    expect([first.y, last.y].map((y) => Math.round(1e4 * y) / 1e4)).toEqual([0, 30]);
  }
});

it('a border that bounds no bend is not scribed', () => {
  const sheet = meshed(bend([20, 15], 8, 30));
  const { part, solution } = solved(sheet, []);
  expect(scribedLines(solution, part.borders, sheet.jumps, [null, null]).scribeLines).toEqual([]);
});

describe('holes of a plate', () => {
  const [plate] = folded([[60, 0]], 40, 6);
  const ring = (x: number, y: number, radius: number): FilledHole => ({
    loop: 2,
    points: Array.from({ length: 24 }, (_, i) => {
      const angle = (Math.PI * i) / 12;
      return [x + radius * Math.cos(angle), y + radius * Math.sin(angle), 0] as const;
    }),
    corners: [],
  });
  const SIDE = 5;
  /** Counter-clockwise, four points a side. */
  const square = (x: number, y: number): FilledHole => ({
    loop: 3,
    points: [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ].flatMap(([u, v], i, all) => {
      const [s, t] = all[(i + 1) % 4]! as [number, number];
      return [0, 0.25, 0.5, 0.75].map(
        (w) => [x + SIDE * (u! + w * (s - u!)), y + SIDE * (v! + w * (t - v!)), 0] as const,
      );
    }),
    corners: [0, 4, 8, 12],
  });
  // 20 × 13.3 mm in the mesh, and two that the sheet was solved without.
  const sheet = meshed([{ ...plate!, hole: { u: [1, 3], v: [3, 5] } }]);
  const holesOf = (inset: number, strain = 0, lines: Parameters<typeof solvedHoles>[2] = []) => {
    const { own, field } = solved(sheet, [square(40, 20), ring(45, 10, 4)], strain);
    return solvedHoles(own, field, lines, SHEET, inset);
  };

  it.each([0, 0.1])('are cut clockwise where they are, the largest first, moved inwards by %s', (inset) => {
    const { holes, warnings } = holesOf(inset);
    expect(warnings).toEqual([]);
    expect(holes.map(({ name }) => name)).toEqual(['1', '2', '3']);
    const bounds = holes.map(({ path }) => pathBounds(path));
    for (const [i, [minX, minY, maxX, maxY]] of [
      [10, 20, 30, 100 / 3],
      [41, 6, 49, 14],
      [40, 20, 45, 25],
    ].entries()) {
      const found = bounds[i]!;
      expect(found.minX).toBeCloseTo(minX! + inset, 3);
      expect(found.minY).toBeCloseTo(minY! + inset, 3);
      expect(found.maxX).toBeCloseTo(maxX! - inset, 3);
      expect(found.maxY).toBeCloseTo(maxY! - inset, 3);
    }
    for (const { path } of holes) expect(pathArea(path)).toBeLessThan(0);
    const [meshedOne, round, filled] = holes.map(({ path }) => path) as [Path, Path, Path];
    expect(round.vertices).toHaveLength(2);
    expect(pathLength(round)).toBeCloseTo(2 * Math.PI * (4 - inset), 3);
    expect(pathLength(filled)).toBeCloseTo(4 * (SIDE - 2 * inset), 3);
    expect(pathLength(meshedOne)).toBeCloseTo(2 * (20 + 40 / 3) - 8 * inset, 3);
  });

  it('are told when their edges strain', () => {
    expect(holesOf(0, 0.015).warnings).toEqual([]);
    expect(holesOf(0, 0.03).warnings.map(({ entry, figures }) => [entry, figures[0]])).toEqual(
      ['1', '2', '3'].map((name) => ['pattern.holeDistorts', name]),
    );
  });

  it('are told when they are near a bend, by the nearest point of their edge', () => {
    const at = (y: number): Parameters<typeof solvedHoles>[2] => [
      {
        kind: 'bend-end',
        path: {
          vertices: [
            { x: 35, y, bulge: 0 },
            { x: 60, y, bulge: 0 },
          ],
          closed: false,
        },
      },
    ];
    // The round one reaches up to 14, the square one down to 20; two thicknesses are 2 mm.
    expect(holesOf(0, 0, at(16.1)).warnings).toEqual([]);
    const { warnings } = holesOf(0, 0, at(15));
    expect(warnings).toHaveLength(1);
    expect(warnings[0]!.entry).toBe('pattern.holeNearBend');
    expect(warnings[0]!.figures[0]).toBe('2');
    expect((warnings[0]!.figures[1] as { mm: number }).mm).toBeCloseTo(1, 3);
  });
});
