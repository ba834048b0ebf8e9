/**
 * The two assemblies, in TypeScript and in WebAssembly, give the same numbers to rounding. The formulas themselves
 * are checked against finite differences and closed forms in membraneForce.test.ts.
 */
import { describe, expect, it } from 'vitest';
import { type PlasticLaw, plasticLaw } from '../../src/material/law.ts';
import { arcLengthFlat, quadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import { midpoints } from '../../src/mesh/skeleton.ts';
import { traySkeleton } from '../../src/mesh/traySkeleton.ts';
import { type Derivatives, EASED, EXACT, NONE } from '../../src/solve/constitutive.ts';
import { elementGeometry } from '../../src/solve/elements.ts';
import { equilibrium, plainSystem } from '../../src/solve/equilibrium.ts';
import { kernelSystem } from '../../src/solve/kernel/kernelSystem.ts';
import { solverStructure } from '../../src/solve/structure.ts';
import type { Equilibrium } from '../../src/solve/system.ts';
import { neutralSurface } from '../../src/tray/neutralSurface.ts';
import { EARING, planarIsotropic, rectangle } from '../support/trays.ts';
import { AA6016 } from '../support/yieldLaws.ts';

// Four unlike corners: no symmetry, so that pinned equations are there too.
const surface = neutralSurface(
  rectangle(300, 200, [45, 40, 35, 30], { bottomRadius: 22, height: 40, draft: 5 }),
);
const skeleton = traySkeleton(surface, null);
const mesh = quadraticMesh(skeleton, midpoints(skeleton), null);
const structure = solverStructure(mesh);
const geometry = elementGeometry(mesh);
const law = plasticLaw(EARING, 0.3);
const withStrengths = plasticLaw(AA6016, 0.3);
const laws: [string, PlasticLaw][] = [
  ['Hill’s', law],
  ['of exponent 8', withStrengths],
  ['of exponent 6', plasticLaw({ ...EARING, strengths: { exponent: 6, at45: 1.03, at90: 0.98 } }, -0.8)],
  [
    'of exponent 2',
    plasticLaw({ ...planarIsotropic(2, 0.2), strengths: { exponent: 2, at45: 1, at90: 1 } }, 0),
  ],
  ['on the way from an easier one', { ...withStrengths, dual: { ...withStrengths.dual!, share: 0.3 } }],
];

/** Waves of the size of the strains that occur. */
const flat = arcLengthFlat(mesh).map((value, i) => value + 0.05 * Math.sin(1.7 * i));

/** Largest difference over the largest number. */
function difference(a: Float64Array, b: Float64Array): number {
  const largest = b.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0) / largest;
}

describe('assembly in WebAssembly', () => {
  const kernel = kernelSystem(structure, geometry)!;
  const inKernel = equilibrium(mesh, structure, geometry, kernel);
  const plain = equilibrium(mesh, structure, geometry, plainSystem(structure));
  const growths: [string, Float64Array | null][] = [
    ['as it comes', null],
    ['grown by the hand', new Float64Array(3 * mesh.base.length).fill(0.01)],
  ];
  const wanted: [string, Derivatives][] = [
    ['no derivatives', NONE],
    ['eased derivatives', EASED],
    ['exact derivatives', EXACT],
  ];

  it.each(
    laws.flatMap(([kind, law]) =>
      growths.flatMap(([sheet, growth]) =>
        wanted.map(([name, derivatives]) => ({ kind, law, sheet, growth, name, derivatives })),
      ),
    ),
  )(
    '$name, sheet $sheet, law $kind: the same to rounding as in TypeScript',
    ({ law, growth, derivatives }) => {
      const run = (system: Equilibrium): boolean => system.assembler(system, law, flat, growth, derivatives);
      expect(run(plain)).toBe(true);
      expect(run(inKernel)).toBe(true);
      expect(difference(inKernel.residual, plain.residual)).toBeLessThan(1e-13);
      expect(difference(inKernel.pinnedResidual, plain.pinnedResidual)).toBeLessThan(1e-12);
      expect(difference(inKernel.magnitude, plain.magnitude)).toBeLessThan(1e-13);
      if (derivatives === NONE) return;
      expect(difference(inKernel.factors.store, plain.factors.store)).toBeLessThan(1e-13);
      for (const [p, row] of inKernel.pinnedRows.entries()) {
        expect(difference(row, plain.pinnedRows[p]!)).toBeLessThan(1e-12);
      }
    },
  );

  it('refuses a triangle that is turned over, as TypeScript does', () => {
    const turned = flat.map((value, i) => (i % 2 === 0 ? -value : value));
    for (const system of [plain, inKernel]) {
      expect(system.assembler(system, law, turned, null, NONE)).toBe(false);
    }
  });
});
