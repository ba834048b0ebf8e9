/**
 * Round parts against the one-dimensional equilibrium, solved by an integrator that shares no code with the
 * elements: the strongest check of the solver there is.
 */
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import type { LawParameters } from '../../src/material/law.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
import { radians } from '../../src/units.ts';
import { closeTo, FINE_MESH, OUTLINE, type Tolerance } from '../support/closeTo.ts';
import { integrate } from '../support/integrator.ts';
import { some } from '../support/long.ts';
import { meanRimRadius, roundNodes } from '../support/measures.ts';
import {
  arc,
  findShell,
  type MeridianPiece,
  roundTray,
  type ShellLaw,
  type ShellSolution,
  solveShell,
} from '../support/shellOfRevolution.ts';
import { hemisphere, planarIsotropic, roundPan, shellLaw, solveCap, solveSpec } from '../support/trays.ts';

const FINE = { accuracy: 1e-3 };
const HALF_PERCENT: Tolerance = { why: 'strains extrapolated to nodes', relative: 5e-3 };

/** No smoothing to speak of and no prestrain: pure power-law hardening, as the tabled values assume. */
const powerLaw = (r: number, n: number): ShellLaw => ({ K: 520, epsilon0: 1e-7, n, r, smoothing: 1e-7 });

describe('the integrator', () => {
  test('follows exponentials and circles', () => {
    const [grown] = integrate((_, [y]) => [y!], 0, 3, [1])!;
    closeTo(grown!, Math.exp(3), { why: 'step tolerance', relative: 1e-9 }, 'e³');
    const [x, y] = integrate((_, [a, b]) => [-b!, a!], 0, 2 * Math.PI, [1, 0])!;
    closeTo(x!, 1, { why: 'step tolerance', absolute: 1e-9 }, 'x after a turn');
    closeTo(y!, 0, { why: 'step tolerance', absolute: 1e-9 }, 'y after a turn');
  });

  test('gives up where the solution ends', () => {
    expect(integrate((_, [y]) => [y! * y!], 0, 2, [1])).toBeNull(); // 1/(1 − x)
  });
});

/**
 * Flat radius, pole and rim thickness ratios worked out beforehand by two unlike methods (another shooting
 * program and constant-strain rings) to six digits.
 */
const TABLED: readonly (readonly [string, MeridianPiece[], number, number, number, number, number])[] = [
  ['hemisphere of 50', [arc(0, 50, 0, Math.PI / 2)], 1, 0.2, 72.933, 0.9101, 1.2077],
  ['hemisphere of 50', [arc(0, 50, 0, Math.PI / 2)], 1.8, 0.22, 72.273, 0.9475, 1.1406],
  ['60° cap of 50', [arc(0, 50, 0, Math.PI / 3)], 1, 0.2, 50.438, 0.9387, 1.0793],
  ['60° cap of 50', [arc(0, 50, 0, Math.PI / 3)], 1.8, 0.22, 50.326, 0.9635, 1.0552],
  ['bowl of 20 with a wall to 50', roundTray(0, 20, 50), 1, 0.2, 50.495, 0.9101, 1.589],
  ['bowl of 20 with a wall to 50', roundTray(0, 20, 50), 1.8, 0.22, 48.571, 0.9475, 1.373],
];

describe.each(TABLED)('%s', (name, pieces, r, n, flatRadius, pole, rim) => {
  test(`by shooting, r = ${r}, n = ${n}`, () => {
    const shell = solveShell(powerLaw(r, n), 0, pieces);
    closeTo(shell.flatRadius, flatRadius, { why: 'printed with 3 decimals', absolute: 6e-4 }, 'flat radius');
    closeTo(shell.poleThickness, pole, { why: 'printed with 4 decimals', absolute: 6e-5 }, 'pole t/t0');
    closeTo(shell.rimThickness, rim, { why: 'printed with 3 or 4 decimals', absolute: 6e-4 }, 'rim t/t0');
  });

  // Where a ring shrinks by more than 0.78 (r = 1.8, n = 0.22) the equilibrium stops being elliptic and finer
  // meshes find shear bands in the wall (characteristics of the linearised problem; derived). The last row is
  // past that and its elements may refuse.
  test.skipIf(rim === 1.373)(`by elements, r = ${r}, n = ${n}`, () => {
    const sheet = planarIsotropic(r, n);
    const solution = name.startsWith('hemisphere')
      ? solveSpec(hemisphere(50), sheet, FINE)
      : name.startsWith('60')
        ? solveCap(50, Math.PI / 3, sheet, FINE)
        : solveSpec(roundPan(40, { bottomRadius: 20, height: 50 }), sheet, FINE);
    closeTo(meanRimRadius(solution), flatRadius, FINE_MESH, 'flat radius');
    const nodes = roundNodes(solution);
    closeTo(nodes[0]!.thickness, pole, { why: 'mesh and prestrain', absolute: 2e-3 }, 'pole t/t0');
    closeTo(nodes[nodes.length - 1]!.thickness, rim, HALF_PERCENT, 'rim t/t0');
  });
});

test('rings of the hemisphere come from where shooting says', () => {
  // Rows of 30° on the coarsest mesh, so that nodes stand at 30° and 60°.
  const sheet = planarIsotropic(1, 0.2);
  const density = { angle: Math.PI / 6, size: 0.5, growth: 0.25 };
  const nodes = roundNodes(solveSpec(hemisphere(50), sheet, { ...FINE, density }));
  const step = Math.PI / 6;
  const pieces = [0, 1, 2].map((k) => arc(50 * Math.sin(k * step), 50, k * step, (k + 1) * step));
  const { flatRadii } = solveShell(shellLaw(sheet), 0, pieces);
  for (const k of [0, 1]) {
    const ring = nodes.filter((node) => Math.abs(node.formedRadius - 50 * Math.sin((k + 1) * step)) < 1e-6);
    expect(ring.length).toBeGreaterThan(3);
    for (const { flatRadius } of ring)
      closeTo(flatRadius, flatRadii[k]!, FINE_MESH, `ring at ${30 * (k + 1)}°`);
  }
});

test('the row of exact hemispheres of 25: K 520, ε0 0.004, n 0.22, δ 0.001', () => {
  for (const [r, flatRadius, rim] of [
    [1, 36.462, 0.1887],
    [0.001, 37.584, 0.4073],
    [0.5, 36.84, 0.2585],
    [2, 36.085, 0.1223],
  ] as const) {
    const sheet = planarIsotropic(r, 0.22);
    const shell = solveShell(shellLaw(sheet), 0, [arc(0, 25, 0, Math.PI / 2)]);
    closeTo(
      shell.flatRadius,
      flatRadius,
      { why: 'printed with 3 decimals', absolute: 6e-4 },
      `r = ${r}: flat radius`,
    );
    closeTo(
      Math.log(shell.rimThickness),
      rim,
      { why: 'printed with 4 decimals', absolute: 6e-5 },
      `r = ${r}: ln t/t0`,
    );
    const solution = solveSpec(hemisphere(25), sheet, FINE);
    closeTo(meanRimRadius(solution), flatRadius, FINE_MESH, `r = ${r}: flat radius by elements`);
  }
});

interface Round {
  readonly base: number;
  readonly bend: number;
  readonly height: number;
  readonly draft: number;
}

/** Flat radius by elements and by shooting. */
function both(
  shape: Round,
  sheet: LawParameters,
  options = FINE,
): { solution: TraySolution; shell: ShellSolution } {
  const { base, bend, height, draft } = shape;
  // With draft the plan is drawn where the planes of base and wall meet.
  const setback = bend * Math.tan((Math.PI / 2 - radians(draft)) / 2);
  const spec = roundPan(2 * (base + setback), { bottomRadius: bend, height, draft });
  return {
    solution: solveSpec(spec, sheet, options),
    shell: solveShell(shellLaw(sheet), base, roundTray(base, bend, height, radians(draft))),
  };
}

describe('elements against shooting, the same law to the last constant', () => {
  const shapes: readonly (readonly [string, Round])[] = [
    ['hemisphere', { base: 0, bend: 25, height: 25, draft: 0 }],
    ['bowl with a wall', { base: 0, bend: 25, height: 45, draft: 0 }],
    ['pan', { base: 60, bend: 20, height: 50, draft: 0 }],
    ['pan with 12° draft', { base: 60, bend: 20, height: 50, draft: 12 }],
    ['pan with 30° draft', { base: 60, bend: 20, height: 30, draft: 30 }],
  ];
  const sheets = [
    [0.001, 0.22],
    [0.5, 0.15],
    [1, 0.2],
    [1, 0.4],
    [2, 0.22],
    [4, 0.2],
  ] as const;
  describe.each(shapes)('%s', (_, shape) => {
    test.each(sheets)('r = %d, n = %d: rim within 0.05 %', (r, n) => {
      const { solution, shell } = both(shape, planarIsotropic(r, n));
      closeTo(meanRimRadius(solution), shell.flatRadius, FINE_MESH, 'flat radius');
      const nodes = roundNodes(solution);
      closeTo(nodes[nodes.length - 1]!.thickness, shell.rimThickness, HALF_PERCENT, 'rim t/t0');
      closeTo(nodes[0]!.thickness, shell.poleThickness, { why: 'mesh', absolute: 2e-3 }, 'pole t/t0');
      for (const node of solution.mesh.rim) {
        closeTo(
          Math.hypot(solution.flat[2 * node]!, solution.flat[2 * node + 1]!),
          shell.flatRadius,
          FINE_MESH,
          'flat radius of a rim node',
        );
      }
    });

    test('at default settings the rim is within 0.05 mm', () => {
      const { solution, shell } = both(shape, planarIsotropic(1.6, 0.2), { accuracy: 0.05 });
      closeTo(meanRimRadius(solution), shell.flatRadius, OUTLINE, 'flat radius');
    });
  });
});

describe('where the one-dimensional problem has no equilibrium', () => {
  // A bowl with 30° draft: the wall pulls on the pole, which necks before the rim is free.
  test.each([
    [0.5, 0.15],
    [1, 0.15],
  ] as const)('the elements refuse too: r = %d, n = %d', (r, n) => {
    const sheet = planarIsotropic(r, n);
    const [bend, height, draft] = [20, 40, 30];
    expect(findShell(shellLaw(sheet), 0, roundTray(0, bend, height, radians(draft)))).toBeNull();
    const spec = roundPan(2 * bend * Math.tan(radians(90 - draft) / 2), {
      bottomRadius: bend,
      height,
      draft,
    });
    expect(() => solveSpec(spec, sheet)).toThrow(GatherpanError);
  });
});

describe('sheets with strengths that are alike in all directions', () => {
  const bowl = { base: 0, bend: 25, height: 45, draft: 0 };
  const laws = [
    [6, 1.8, 0.22],
    [8, 0.7, 0.25],
    [6, 0.4, 0.2],
    [8, 3, 0.2],
  ] as const;
  test.each(some(laws, 1))(
    'a = %i, r = %d, n = %d: the rim that shooting with Hosford’s function finds',
    (a, r, n) => {
      const quadratic = planarIsotropic(r, n);
      const { solution, shell } = both(bowl, { ...quadratic, strengths: { exponent: a, at45: 1, at90: 1 } });
      closeTo(meanRimRadius(solution), shell.flatRadius, { why: 'mesh', absolute: 2e-3 }, 'flat radius');
      const nodes = roundNodes(solution);
      closeTo(nodes[nodes.length - 1]!.thickness, shell.rimThickness, HALF_PERCENT, 'rim t/t0');
      closeTo(nodes[0]!.thickness, shell.poleThickness, { why: 'mesh', absolute: 2e-3 }, 'pole t/t0');
      // The quadratic function with the same r is told apart, or the check is none.
      const other = solveShell(shellLaw(quadratic), 0, roundTray(0, 25, 45));
      expect(Math.abs(other.flatRadius - shell.flatRadius)).toBeGreaterThan(0.04);
    },
  );

  test.each([0.5, 1.8])('a = 2, r = %d: the rim of Hill’s law to a millionth', (r) => {
    const sheet = planarIsotropic(r, 0.22);
    const hill = both(bowl, sheet).solution;
    const dual = both(bowl, { ...sheet, strengths: { exponent: 2, at45: 1, at90: 1 } }).solution;
    closeTo(meanRimRadius(dual), meanRimRadius(hill), { why: 'the same law', relative: 1e-6 }, 'flat radius');
  });
});
