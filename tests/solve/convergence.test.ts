/**
 * The outline settles as the mesh is refined, and the default mesh is fine enough: rims of default solves against
 * those of a mesh some sixteen to sixty times as fine, over the range of trays promised.
 *
 * Slow (about half a minute): it is the evidence behind the stated accuracy of 0.05 mm.
 */
import { describe, expect, test } from 'vitest';
import type { LawParameters } from '../../src/material/law.ts';
import type { SolveOptions, TraySolution } from '../../src/solve/solveTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { LONG, some } from '../support/long.ts';
import { rimDistance } from '../support/measures.ts';
import {
  EARING,
  planarIsotropic,
  polygon,
  rectangle,
  refined,
  roundPan,
  solveSpec,
} from '../support/trays.ts';

const OUTLINE_ACCURACY = 0.05; // mm, the promise

/** Finer from the start, in all directions. */
const FINER = { angle: Math.PI / 9, size: 0.2, growth: 0.2 };
const reference = (times: number): Partial<SolveOptions> => ({ ...refined(times), density: FINER });

const hexagon = (radius: number) =>
  Array.from({ length: 6 }, (_, k) => ({
    x: 150 * Math.cos((k * Math.PI) / 3),
    y: 150 * Math.sin((k * Math.PI) / 3),
    radius,
  }));

interface Case {
  /** Whether another one stands for it in the short form. */
  readonly alike?: true;
  readonly name: string;
  readonly tray: TraySpec;
  readonly sheet: LawParameters;
}

const CASES: readonly Case[] = [
  {
    name: '60 × 60, all radii 10, height 10',
    tray: rectangle(60, 60, 10, { bottomRadius: 10, height: 10 }),
    sheet: planarIsotropic(1, 0.2),
  },
  {
    name: '60 × 40, corner 6, bottom 3, height 9',
    tray: rectangle(60, 40, 6, { bottomRadius: 3, height: 9 }),
    sheet: planarIsotropic(1.6, 0.2),
  },
  {
    alike: true,
    name: '150 × 150, all radii 25, height 25',
    tray: rectangle(150, 150, 25, { bottomRadius: 25, height: 25 }),
    sheet: planarIsotropic(1, 0.22),
  },
  {
    name: '300 × 200, corner 40, bottom 20, height 60',
    tray: rectangle(300, 200, 40, { bottomRadius: 20, height: 60 }),
    sheet: planarIsotropic(1.8, 0.21),
  },
  {
    name: '300 × 200, all radii 20, height 60, r 0.6, n 0.15',
    tray: rectangle(300, 200, 20, { bottomRadius: 20, height: 60 }),
    sheet: planarIsotropic(0.6, 0.15),
  },
  {
    alike: true,
    name: '300 × 200, draft 30, corner 40, bottom 20, height 60',
    tray: rectangle(300, 200, 40, { bottomRadius: 20, height: 60, draft: 30 }),
    sheet: planarIsotropic(1, 0.2),
  },
  {
    name: '420 × 280, draft 12, corner 45, bottom 22, height 60, sheet with ears',
    tray: rectangle(420, 280, 45, { bottomRadius: 22, height: 60, draft: 12 }),
    sheet: EARING,
  },
  {
    name: '600 × 600, all radii 100, height 300, r 1.8, n 0.2',
    tray: rectangle(600, 600, 100, { bottomRadius: 100, height: 300 }),
    sheet: planarIsotropic(1.8, 0.2),
  },
  {
    alike: true,
    name: '1200 × 700, corner 90, bottom 35, height 75',
    tray: rectangle(1200, 700, 90, { bottomRadius: 35, height: 75 }),
    sheet: planarIsotropic(1.8, 0.21),
  },
  {
    alike: true,
    name: '2000 × 2000, all radii 100, height 300, r 2.2, n 0.4',
    tray: rectangle(2000, 2000, 100, { bottomRadius: 100, height: 300 }),
    sheet: planarIsotropic(2.2, 0.4),
  },
  {
    alike: true,
    name: '2000 × 1500, corner 400, bottom 100, height 300',
    tray: rectangle(2000, 1500, 400, { bottomRadius: 100, height: 300 }),
    sheet: planarIsotropic(1, 0.2),
  },
  {
    name: '2000 × 60, corner 30, bottom 3, height 9',
    tray: rectangle(2000, 60, 30, { bottomRadius: 3, height: 9 }),
    sheet: planarIsotropic(1, 0.2),
  },
  {
    name: 'round, 500 across, bottom 50, height 150',
    tray: roundPan(500, { bottomRadius: 50, height: 150 }),
    sheet: planarIsotropic(1, 0.2),
  },
  {
    name: 'hexagon of 300, all radii 20, height 50',
    tray: polygon(hexagon(20), { bottomRadius: 20, height: 50 }),
    sheet: planarIsotropic(1, 0.2),
  },
];

/**
 * The rim of a much finer mesh, and how far it may still be off itself, mm: a refinement cuts the error at least
 * to a quarter, so what is left is at most a third of the last change.
 */
function fineRim({ tray, sheet }: Case): { fine: TraySolution; unsure: number } {
  let coarser = solveSpec(tray, sheet, reference(1));
  for (const times of [2, 3]) {
    const fine = solveSpec(tray, sheet, reference(times));
    const unsure = rimDistance(coarser, fine) / 3;
    if (unsure < 0.15 * OUTLINE_ACCURACY || times === 3) return { fine, unsure };
    coarser = fine;
  }
  throw new Error('not reached');
}

describe('the default outline is within 0.05 mm of the refined one', () => {
  test.each(CASES.filter(({ alike }) => LONG || alike === undefined))('$name', (each) => {
    const found = solveSpec(each.tray, each.sheet);
    const { fine, unsure } = fineRim(each);
    const off = rimDistance(found, fine);
    const figures =
      `${(found.mesh.triangles.length / 6).toFixed(0)} triangles: rim off by ${off.toFixed(4)} mm against ` +
      `${(fine.mesh.triangles.length / 6).toFixed(0)} triangles, themselves uncertain by ${unsure.toFixed(4)} mm; ` +
      `the solver's own estimate is ${found.estimate.toFixed(4)} mm`;
    expect(unsure, figures).toBeLessThan(0.15 * OUTLINE_ACCURACY);
    expect(off + unsure, figures).toBeLessThan(OUTLINE_ACCURACY);
    // An estimate that errs on the small side by half would stop refinement too early.
    expect(found.estimate, figures).toBeGreaterThan(0.5 * off);
  });
});

describe('order of convergence', () => {
  // Six-node triangles carry displacements to third order where the solution is smooth; the lines where straight
  // meets curved cost some of it. Taken from the changes between successive refinements.
  const cases = [CASES[0]!, CASES[2]!, CASES[3]!, CASES[12]!];
  test.each(some(cases, 2))('at least 2.3: $name', ({ tray, sheet }) => {
    const levels = [0, 1, 2, 3].map((times) => solveSpec(tray, sheet, refined(times)));
    const changes = [0, 1, 2].map((k) => rimDistance(levels[k]!, levels[k + 1]!));
    const order = Math.log2(changes[0]! / changes[2]!) / 2;
    const figures = `changes ${changes.map((e) => e.toFixed(5)).join(', ')} mm, order ${order.toFixed(2)}`;
    for (let k = 1; k < changes.length; k++) expect(changes[k]!, figures).toBeLessThan(changes[k - 1]! / 3);
    expect(order, figures).toBeGreaterThan(2.3);
  });
});
