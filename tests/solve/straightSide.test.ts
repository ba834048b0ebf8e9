/** Where metal bends about one axis only: no strain, and the developed length of the handbooks. */
import { describe, expect, test } from 'vitest';
import { type LawParameters, plasticLaw } from '../../src/material/law.ts';
import { arcLengthFlat } from '../../src/mesh/quadraticMesh.ts';
import { NONE } from '../../src/solve/constitutive.ts';
import { elementGeometry } from '../../src/solve/elements.ts';
import { equilibrium } from '../../src/solve/equilibrium.ts';
import { newton } from '../../src/solve/newton.ts';
import { RESIDUAL_TOLERANCE } from '../../src/solve/solveTray.ts';
import { nodalStrains } from '../../src/solve/strains.ts';
import { solverStructure } from '../../src/solve/structure.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { flatPoint, formedPoint } from '../support/measures.ts';
import { EARING, planarIsotropic, rectangle, solveSpec } from '../support/trays.ts';
import { developedLength, type Trough, troughMesh } from '../support/troughMesh.ts';

/** Solves a hand-made mesh from the arc-length flat, bent out of shape by a share of its size. */
function relax(trough: Trough, sheet: LawParameters, across: number, share: number) {
  const mesh = troughMesh(trough, across, 4, 0.2);
  const law = plasticLaw(sheet, 0.4);
  const geometry = elementGeometry(mesh);
  const system = equilibrium(mesh, solverStructure(mesh), geometry);
  const exact = arcLengthFlat(mesh);
  const size = developedLength(trough);
  const start = exact.map(
    (value, i) => value + share * size * Math.sin((3 * exact[i ^ 1]!) / size + (i % 2)),
  );
  const options = { tolerance: RESIDUAL_TOLERANCE, maximumSteps: 60, growth: null };
  const result = newton(system, law, start, options);
  expect(result.converged).toBe(true);
  return { mesh, geometry, law, exact, ...result };
}

/** Largest change of a distance between nodes, which does not see how the flat lies. */
function largestChange(found: Float64Array, expected: Float64Array): number {
  let worst = 0;
  const count = found.length / 2;
  for (let i = 0; i < count; i++) {
    for (const j of [0, Math.floor(count / 2), count - 1]) {
      const is = Math.hypot(found[2 * i]! - found[2 * j]!, found[2 * i + 1]! - found[2 * j + 1]!);
      const was = Math.hypot(
        expected[2 * i]! - expected[2 * j]!,
        expected[2 * i + 1]! - expected[2 * j + 1]!,
      );
      worst = Math.max(worst, Math.abs(is - was));
    }
  }
  return worst;
}

describe('patch test', () => {
  // B. M. Irons and A. Razzaque, "Experience with the patch test" (1972), from memory: triangles of any shape must
  // hold an even strain in balance.
  const plate: Trough = { base: 60, length: 40, bendRadius: 0, wall: 0 };

  test.each([
    ['as it was', [1, 0, 0, 1]],
    ['shrunk one way', [1.25, 0, 0, 0.95]],
    ['sheared and turned', [1.1, 0.3, -0.2, 1.15]],
  ] as const)('a flat plate of odd triangles, evenly strained: %s', (_, [a, b, c, d]) => {
    for (const sheet of [planarIsotropic(1, 0.2), EARING]) {
      const mesh = troughMesh(plate, 4, 4, 0.2);
      const structure = solverStructure(mesh);
      const system = equilibrium(mesh, structure, elementGeometry(mesh));
      const flat = arcLengthFlat(mesh);
      for (let node = 0; node < mesh.nodeCount; node++) {
        const [x, y] = [flat[2 * node]!, flat[2 * node + 1]!];
        flat[2 * node] = a * x + b * y;
        flat[2 * node + 1] = c * x + d * y;
      }
      expect(system.assembler(system, plasticLaw(sheet, 0.4), flat, null, NONE)).toBe(true);
      const scale = Math.max(sheet.K, ...system.magnitude);
      let inner = 0;
      for (let node = 0; node < mesh.nodeCount; node++) {
        const [x, y] = formedPoint(mesh, node);
        const inside = x > 1e-9 && x < plate.base - 1e-9 && y > 1e-9 && y < plate.length - 1e-9;
        if (!inside) continue;
        for (const component of [0, 1]) {
          const unknown = structure.unknownOf[2 * node + component]!;
          if (unknown < 0) continue;
          inner++;
          closeTo(
            system.residual[unknown]! / scale,
            0,
            { why: 'rounding at the stiffness of rest', absolute: 1e-10 },
            `force at (${x}, ${y})`,
          );
        }
      }
      expect(inner).toBeGreaterThan(50);
      // The edges of a strained plate are not free of force: the check can fail.
      const most = Math.max(...system.residual.map(Math.abs)) / scale;
      if (a !== 1) expect(most).toBeGreaterThan(0.1);
    }
  });

  test('an unstrained plate is left where it is', () => {
    const { flat, exact, hold } = relax(plate, EARING, 4, 0);
    expect(largestChange(flat, exact)).toBeLessThan(1e-9);
    for (const value of hold) expect(Math.abs(value)).toBeLessThan(1e-9);
  });
});

describe('a trough without corners', () => {
  const trough: Trough = { base: 30, length: 40, bendRadius: 6, wall: 14 };

  test('is rolled up without strain, the better the finer', () => {
    const errors = [2, 4, 8].map((across) => {
      const { flat, exact } = relax(trough, planarIsotropic(1, 0.2), across, 0);
      return largestChange(flat, exact);
    });
    // Gradients of six-node triangles on an arc are right to second order in the angle they span.
    expect(errors[0]! / errors[1]!).toBeGreaterThan(3.5);
    expect(errors[1]! / errors[2]!).toBeGreaterThan(3.5);
    closeTo(errors[2]!, 0, { why: 'eight cells a bend', absolute: 0.003 }, 'largest change of length');
    const { flat, mesh, geometry, law } = relax(trough, planarIsotropic(1, 0.2), 8, 0);
    expect(Math.max(...nodalStrains(mesh, geometry, law, flat).equivalent)).toBeLessThan(1e-3);
  });

  test('comes back to that from another start', () => {
    const one = relax(trough, EARING, 4, 0);
    const other = relax(trough, EARING, 4, 0.01);
    expect(largestChange(other.flat, one.flat)).toBeLessThan(1e-5);
  });
});

describe('mid-side of a long tray', () => {
  // The handbooks' H + 0.57 r from the tangent line (exactly (H − r) + πr/2, the quarter circle laid out flat);
  // the coefficient from memory (drawn-shell tables), the exact form by geometry.
  test.each([
    [6, 20, 23.425],
    [6, 30, 33.425],
    [10, 25, 30.708],
  ] as const)('bottom radius %d, height %d: %d from the tangent', (bottomRadius, height, expected) => {
    closeTo(
      height - bottomRadius + (Math.PI / 2) * bottomRadius,
      expected,
      { why: 'printed with 3 decimals', absolute: 6e-4 },
      'formula',
    );
    closeTo(
      height + 0.57 * bottomRadius,
      expected,
      { why: '0.57 for 0.5708', absolute: 0.01 },
      'rounded rule',
    );
    const tray = rectangle(800, 700, 30, { bottomRadius, height });
    const solution = solveSpec(tray, planarIsotropic(1.6, 0.21));
    for (const [axis, half] of [
      [0, 400],
      [1, 350],
    ] as const) {
      const node = solution.mesh.rim.find((n) => Math.abs(formedPoint(solution.mesh, n)[1 - axis]!) < 1e-9)!;
      const developed = flatPoint(solution, node)[axis]! - (half - bottomRadius);
      closeTo(developed, expected, { why: 'corners reach this far', absolute: 0.05 }, `along axis ${axis}`);
    }
  });
});

describe('blank length over flats and bends', () => {
  // DIN 6935, correction v for a right angle (worked by hand from its formula): the flat length is the sum of the
  // outside lengths plus v for each bend.
  test.each([
    [1, 2.5, -2.406],
    [1.5, 2.5, -3.177],
    [2, 4, -4.459],
    [3, 10, -8.145],
    [1, 6, -3.79],
  ] as const)('sheet %d, inside radius %d: outside lengths %d each bend', (thickness, inside, v) => {
    const [length, width, height] = [900, 800, 40];
    const tray = rectangle(length, width, 40, {
      bottomRadius: inside + thickness,
      height,
      thickness,
      measured: 'outside',
    });
    const solution = solveSpec(tray, planarIsotropic(1.6, 0.21));
    const tolerance: Tolerance = { why: 'v to 3 decimals, and corners reach this far', absolute: 0.1 };
    for (const [axis, size] of [
      [0, length],
      [1, width],
    ] as const) {
      const node = solution.mesh.rim.find((n) => Math.abs(formedPoint(solution.mesh, n)[1 - axis]!) < 1e-9)!;
      closeTo(
        2 * flatPoint(solution, node)[axis]!,
        size + 2 * height + 2 * v,
        tolerance,
        `blank along axis ${axis}`,
      );
    }
  });
});

test('the default tolerance of a solve is no looser than stated', () => {
  expect(RESIDUAL_TOLERANCE).toBeLessThanOrEqual(1e-8);
});
