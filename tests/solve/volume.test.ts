/** Metal is neither made nor lost: area times thickness is the same in the flat and in the tray. */
import { describe, expect, test } from 'vitest';
import { POINT_SIZE, POINTS_PER_TRIANGLE } from '../../src/solve/elements.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
import { flatGradient, nodalStrains } from '../../src/solve/strains.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { eachPlace, flatAreaByOutline, wholeRim } from '../support/measures.ts';
import {
  EARING,
  hemisphere,
  planarIsotropic,
  polygon,
  rectangle,
  roundPan,
  solveSpec,
} from '../support/trays.ts';

const SUMS: Tolerance = { why: 'order of summation', relative: 1e-11 };

const TRAYS: readonly (readonly [string, TraySpec])[] = [
  ['rectangle', rectangle(300, 200, 40, { bottomRadius: 20, height: 60 })],
  ['square, corners of the bottom radius', rectangle(150, 150, 25, { bottomRadius: 25, height: 25 })],
  [
    'four different corners',
    rectangle(200, 160, [50, 40, 30, 20], { bottomRadius: 20, height: 25, grain: 25 }),
  ],
  ['drafted', rectangle(300, 200, 50, { bottomRadius: 18, height: 40, draft: 12 })],
  ['hemisphere', hemisphere(25)],
  ['round pan', roundPan(120, { bottomRadius: 20, height: 40 })],
  [
    'hexagon',
    polygon(
      Array.from({ length: 6 }, (_, k) => ({
        x: 150 * Math.cos((k * Math.PI) / 3),
        y: 150 * Math.sin((k * Math.PI) / 3),
        radius: 30,
      })),
      { bottomRadius: 20, height: 40 },
    ),
  ],
];

/** Formed area times formed over flat thickness, at the solver's own points and gradients. */
function sumOfThickness(solution: TraySolution): number {
  const { mesh, geometry, flat } = solution;
  let sum = 0;
  for (let t = 0; t < mesh.triangles.length / 6; t++) {
    for (let point = 0; point < POINTS_PER_TRIANGLE; point++) {
      const area = geometry.points[(t * POINTS_PER_TRIANGLE + point) * POINT_SIZE]!;
      const [g11, g12, g21, g22] = flatGradient(mesh, geometry, flat, t, point);
      sum += area * (g11 * g22 - g12 * g21);
    }
  }
  return sum;
}

/** Area inside a closed chain of parabolas. */
function areaInside(rim: readonly (readonly [number, number])[]): number {
  let twice = 0;
  for (let i = 0; i < rim.length; i += 2) {
    const [ax, ay] = rim[i]!;
    const [mx, my] = rim[i + 1]!;
    const [bx, by] = rim[(i + 2) % rim.length]!;
    twice += ax * by - bx * ay + (4 / 3) * ((mx - ax) * (by - ay) - (my - ay) * (bx - ax));
  }
  return twice / 2;
}

describe.each(TRAYS)('%s', (_, spec) => {
  const solution = solveSpec(spec, spec.sheet.grain === 0 ? planarIsotropic(1.4, 0.22) : EARING);

  test('Σ area × thickness of the tray is the blank’s, by its outline and triangle by triangle', () => {
    const byOutline = flatAreaByOutline(solution);
    let byTriangles = 0;
    let smallest = Infinity;
    eachPlace(solution, ({ flatArea }) => {
      smallest = Math.min(smallest, flatArea);
      byTriangles += flatArea;
    });
    expect(smallest).toBeGreaterThan(0);
    closeTo(byTriangles, byOutline, { ...SUMS, relative: 1e-10 }, 'flat area by triangles');
    closeTo(sumOfThickness(solution), byOutline, SUMS, 'formed area × thickness');
  });

  test('the whole rim encloses that area as many times as the tray has pieces', () => {
    const lines = solution.mesh.mirrorLines;
    const pieces = lines === null ? 1 : Math.round((2 * Math.PI) / (lines.lastAngle - lines.firstAngle));
    closeTo(
      areaInside(wholeRim(solution)),
      pieces * flatAreaByOutline(solution),
      { ...SUMS, relative: 1e-9 },
      'area',
    );
  });

  test('∫ formed thickness over the formed surface, from the reported strains, is the blank’s area', () => {
    // Nodal strains, interpolated as they would be for a contour, over areas worked out apart from the solver.
    const { thickness } = nodalStrains(solution.mesh, solution.geometry, solution.law, solution.flat);
    let volume = 0;
    eachPlace(solution, ({ triangle, formedArea, shape }) => {
      let strain = 0;
      shape.forEach((weight, k) => {
        strain += weight * thickness[solution.mesh.triangles[6 * triangle + k]!]!;
      });
      volume += formedArea * Math.exp(strain);
    });
    closeTo(
      volume,
      flatAreaByOutline(solution),
      { why: 'strains smoothed to nodes', relative: 2e-3 },
      'volume',
    );
  });
});
