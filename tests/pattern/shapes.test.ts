/** Round, nearly round and inward-curved plans against published blank rules and one-dimensional equilibrium. */
import { describe, expect, test } from 'vitest';
import type { LawParameters } from '../../src/material/law.ts';
import type { TraySolution } from '../../src/solve/solveTray.ts';
import type { Plan, Rim, TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';
import { closeTo, OUTLINE } from '../support/closeTo.ts';
import { some } from '../support/long.ts';
import { meanRimRadius, type RimEdge, rimEdges, wholeRim } from '../support/measures.ts';
import { arc, type MeridianPiece, roundTray, solveShell, straight } from '../support/shellOfRevolution.ts';
import { stretchFlange } from '../support/stretchFlange.ts';
import {
  planarIsotropic,
  polygon,
  roundPan,
  shellLaw,
  solveSpec,
  type TraySizes,
  trayWithPlan,
} from '../support/trays.ts';

const STEEL = planarIsotropic(1.4, 0.22);
const FINE = { accuracy: 0.01 };

/** A round plan drawn as two half circles. */
const twoArcs = (diameter: number): Plan => ({
  vertices: [
    { x: diameter / 2, y: 0, radius: 0, bulge: 1 },
    { x: -diameter / 2, y: 0, radius: 0, bulge: 1 },
  ],
});

const withRim = (spec: TraySpec, rim: Rim): TraySpec => ({ ...spec, section: { ...spec.section, rim } });

describe('a round pan', () => {
  // Mid-surface sizes; "Blank diameters of drawn shells", Machinery's Handbook, and K. Lange, Handbook of Metal
  // Forming: D² = d² + 4dH − 1.72·r·d − 0.57·r² (from memory), the exact coefficients 8 − 2π and 4π − 12 by
  // Pappus' theorem (derived). A sheet that cannot change in thickness, r → ∞, keeps its area.
  test.each([
    [60, 20, 6],
    [120, 45, 15],
    [200, 40, 30],
  ])('d = %i, H = %i, r = %i keeps its area when the sheet does not thicken', (d, H, r) => {
    const blank = Math.sqrt(d * d + 4 * d * H - (8 - 2 * Math.PI) * r * d - (4 * Math.PI - 12) * r * r);
    const stiff = planarIsotropic(1000, 0.22);
    const solution = solveSpec(trayWithPlan(twoArcs(d), { bottomRadius: r, height: H }), stiff, FINE);
    closeTo(
      2 * meanRimRadius(solution),
      blank,
      { why: 'thickness strain of 1/1000 of the hoop strain, and mesh', relative: 1e-3 },
      'blank diameter',
    );
  });

  const sizes = { bottomRadius: 12, height: 35 };

  test.each([
    ['upright', 0],
    ['draft of 10 degrees', 10],
  ])('%s: two half circles and a square of full rounds are the one-dimensional solution', (_, draft) => {
    const bend = 12;
    const diameter = 120;
    const base = diameter / 2 - bend * Math.tan(radians(90 - draft) / 2);
    const shell = solveShell(shellLaw(STEEL), base, roundTray(base, bend, 35, radians(draft)));
    const drawn = solveSpec(trayWithPlan(twoArcs(diameter), { ...sizes, draft }), STEEL, FINE);
    const square = solveSpec(roundPan(diameter, { ...sizes, draft }), STEEL, FINE);
    for (const solution of [drawn, square]) checkRound(solution, shell.flatRadius);
    expect(shell.flatRadius).toBeGreaterThan(base + 20);
  });

  // The lip shrinks and pulls at the wall, so the base is stretched, other than under an upright wall.
  test.each([
    [8, 14],
    [5, 25],
  ])('with a lip turned outwards, bend %i and width %i', (lipBend, width) => {
    const [bend, height, diameter] = [12, 35, 120];
    const base = diameter / 2 - bend;
    const wall = diameter / 2;
    const pieces: MeridianPiece[] = [
      arc(base, bend, 0, Math.PI / 2),
      straight(wall, height - bend - lipBend, Math.PI / 2),
      // Back from upright to level: the angle falls.
      arc(wall, -lipBend, Math.PI / 2, 0),
      straight(wall + lipBend, width - lipBend, 0),
    ];
    const shell = solveShell(shellLaw(STEEL), base, pieces);
    const rim: Rim = { kind: 'lip', direction: 'out', bendRadius: lipBend, width };
    const drawn = withRim(trayWithPlan(twoArcs(diameter), sizes), rim);
    checkRound(solveSpec(drawn, STEEL, FINE), shell.flatRadius);
    // Equal area: the shell formula with a flange, d₂² in place of d² (from memory), is a bound for r → ∞ only.
    expect(shell.poleThickness).toBeLessThan(1);
    const plain = solveShell(shellLaw(STEEL), base, pieces.slice(0, 2));
    expect(shell.flatRadius - plain.flatRadius).toBeGreaterThan(0.5 * width);
  });

  // An inward lip goes on bending the same way: its rim ends inside the wall and shrinks more than any other.
  test.each([
    [5, 10],
    [4, 16],
  ])('with a lip turned inwards, bend %i and width %i', (lipBend, width) => {
    const [bend, height, diameter] = [10, 25, 240];
    const wall = diameter / 2;
    const shell = solveShell(shellLaw(STEEL), wall - bend, [
      arc(wall - bend, bend, 0, Math.PI / 2),
      straight(wall, height - bend - lipBend, Math.PI / 2),
      arc(wall, lipBend, Math.PI / 2, Math.PI),
      straight(wall - lipBend, width - lipBend, Math.PI),
    ]);
    const rim: Rim = { kind: 'lip', direction: 'in', bendRadius: lipBend, width };
    const drawn = withRim(trayWithPlan(twoArcs(diameter), { bottomRadius: bend, height }), rim);
    const solution = solveSpec(drawn, STEEL, FINE);
    checkRound(solution, shell.flatRadius);
    expect(Math.log((wall - width) / shell.flatRadius)).toBeLessThan(-0.25);
  });

  /** Every point of the rim, not only their mean, is on the circle. */
  function checkRound(solution: TraySolution, flatRadius: number): void {
    for (const [x, y] of wholeRim(solution)) closeTo(Math.hypot(x, y), flatRadius, OUTLINE, 'flat radius');
    closeTo(meanRimRadius(solution), flatRadius, { why: 'asked accuracy', absolute: 0.02 }, 'mean radius');
  }
});

describe('polygons of many sides', () => {
  /** Sides touch the circle of radius 60, corners have half its radius. */
  const sided = (count: number, sizes: TraySizes): TraySpec => {
    const far = 60 / Math.cos(Math.PI / count);
    return polygon(
      Array.from({ length: count }, (_, k) => ({
        x: far * Math.cos((2 * Math.PI * k) / count),
        y: far * Math.sin((2 * Math.PI * k) / count),
        radius: 30,
      })),
      sizes,
    );
  };

  test('tend to the round pan, the error falling with the square of their number', () => {
    const [bend, height] = [12, 30];
    const { flatRadius } = solveShell(shellLaw(STEEL), 60 - bend, roundTray(60 - bend, bend, height));
    const errors = [6, 12, 24].map((count) => {
      const solution = solveSpec(sided(count, { bottomRadius: bend, height }), STEEL, FINE);
      return Math.max(...wholeRim(solution).map(([x, y]) => Math.abs(Math.hypot(x, y) - flatRadius)));
    });
    // The plan itself is off by a share of 1 − cos(π/N), which falls by 4 with every doubling.
    for (const k of [1, 2]) expect(errors[k - 1]! / errors[k]!).toBeGreaterThan(2.8);
    expect(errors[2]!).toBeLessThan(0.01 * flatRadius);
  });
});

describe('an inward curve', () => {
  // A half round of radius 80 let into one long edge of a plate so large that it keeps its shape: the pull of the
  // flange bends a smaller plate in its plane (measured: 0.8 % of the strain at half this size).
  const [curve, halfLength, halfWidth] = [80, 700, 500];
  const [bend, height] = [8, 18];
  const spec = polygon(
    [
      { x: -halfLength, y: -halfWidth, radius: 40 },
      { x: halfLength, y: -halfWidth, radius: 40 },
      { x: halfLength, y: halfWidth, radius: 40 },
      { x: curve, y: halfWidth, radius: 32, bulge: -1 },
      { x: -curve, y: halfWidth, radius: 32 },
      { x: -halfLength, y: halfWidth, radius: 40 },
    ],
    { bottomRadius: bend, height },
  );

  /** The edge of the rim next to the middle of the curve. */
  function middleEdge(solution: TraySolution): RimEdge {
    const inside = rimEdges(solution).filter(({ at }) => at[1] > 0 && at[1] < halfWidth - 0.7 * curve);
    expect(inside.length).toBeGreaterThan(2);
    return inside.reduce((best, edge) => (Math.abs(edge.at[0]) < Math.abs(best.at[0]) ? edge : best));
  }

  const laws = [
    [1, 0.22],
    [1.8, 0.22],
    [0.7, 0.3],
  ] as const;
  test.each(some(laws, 1))('is the stretch flange of one dimension at its middle, r = %f, n = %f', (r, n) => {
    const sheet: LawParameters = planarIsotropic(r, n);
    const { hoop, thickness, at } = middleEdge(solveSpec(spec, sheet, { accuracy: 0.02 }));
    const flange = stretchFlange(shellLaw(sheet), curve + bend, bend, height);
    // Measured 0.4 to 0.5 %, and less the larger the plate.
    closeTo(hoop, flange.hoop, { why: 'the plate gives a little', relative: 0.01 }, 'hoop strain');
    closeTo(
      Math.hypot(at[0], halfWidth - at[1]),
      flange.flatRadius,
      { why: 'the plate gives a little', absolute: 0.15 },
      'flat radius',
    );
    // Hole expansion: ln(D₁/D₀) of the edge's diameters after and before (ISO 16630, from memory).
    closeTo(
      hoop,
      Math.log(curve / Math.hypot(at[0], halfWidth - at[1])),
      { why: 'the plate gives a little', relative: 0.02 },
      'ln(D₁/D₀)',
    );
    // At a free edge the state is uniaxial: ε_t = −ε_θ/(1 + r) (W. F. Hosford and R. M. Caddell, Metal Forming,
    // from memory).
    closeTo(thickness, -hoop / (1 + r), { why: 'strains extrapolated to nodes', relative: 5e-3 }, 'thinning');
    expect(hoop).toBeGreaterThan(0.2);
  });

  test('the one-dimensional flange itself keeps its area when the sheet does not thin', () => {
    // Without thinning the area is kept: R² = R_b² − 2∫ρ ds (Pappus).
    const [base, foil] = [88, planarIsotropic(2000, 0.22)];
    const area = base * bend * (Math.PI / 2) - bend * bend + (height - bend) * (base - bend);
    closeTo(
      stretchFlange(shellLaw(foil), base, bend, height).flatRadius,
      Math.sqrt(base * base - 2 * area),
      { why: 'thickness strain of 1/2000 of the hoop strain', relative: 1e-3 },
      'flat radius',
    );
  });
});
