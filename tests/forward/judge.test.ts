/**
 * The forward judge: first the judge itself against what is known, then what it says of the program's one step.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { equivalentStrainOf } from '../support/hill.ts';
import { LONG, some } from '../support/long.ts';
import { roundTray, solveShell } from '../support/shellOfRevolution.ts';
import { hencky, matrixFunction } from '../support/smallMatrices.ts';
import { EARING, planarIsotropic, shellLaw } from '../support/trays.ts';
import { type BlankMesh, blankMesh } from './blankMesh.ts';
import { increment, newIncrement, stepLaw } from './increment.ts';
import { Judge } from './judge.ts';
import { workedRings } from './rings.ts';
import { type JudgedTray, type Stage, stageAt, stagesOf } from './stage.ts';
import { JUDGED_SHEET, JUDGED_TRAYS, judgeTray, keptLevel } from './trays.ts';

const SMOOTHING = 1e-3;

test('the judge loads nothing of the solver', () => {
  const found = new Set([new URL('./judge.ts', import.meta.url).href]);
  for (const file of found)
    for (const [, name] of readFileSync(new URL(file), 'utf8').matchAll(/from '(\.[^']+)'/g))
      found.add(new URL(name!, file).href);
  expect(found.size).toBeGreaterThan(5);
  expect([...found].filter((file) => /\/src\/(solve|mesh|tray|gather|pattern)\//.test(file))).toEqual([]);
});

describe('the work of a step', () => {
  const law = stepLaw(EARING, SMOOTHING);
  const at = (metric: readonly number[]) => {
    const out = newIncrement();
    increment(law, 0.1, metric[0]!, metric[1]!, metric[2]!, true, out);
    return out;
  };
  const METRICS = [
    [1.1, 0.8, 0.05],
    [1.001, 1.0005, 0.0003],
    [0.7, 0.9, -0.2],
  ] as const;

  test.each(METRICS)('has Hill’s equivalent strain of the logarithmic strain: %d %d %d', (c11, c22, c12) => {
    const root = matrixFunction(Math.sqrt, [
      [c11, c12],
      [c12, c22],
    ]);
    const wanted = Math.hypot(equivalentStrainOf(EARING, hencky(root), 0), SMOOTHING) - SMOOTHING;
    closeTo(at([c11, c22, c12]).strain - 0.1, wanted, { why: 'rounding', absolute: 1e-12 }, 'strain');
  });

  test.each(METRICS)('has the derivatives that differences find: %d %d %d', (...metric) => {
    const { first, second } = at(metric);
    const step = 1e-6;
    const moved = (k: number, by: number) => at(metric.map((value, i) => (i === k ? value + by : value)));
    const entry = [
      [0, 1, 2],
      [1, 3, 4],
      [2, 4, 5],
    ];
    for (let k = 0; k < 3; k++) {
      const [low, high] = [moved(k, -step), moved(k, step)];
      const why: Tolerance = { why: 'differences', relative: 1e-4, absolute: 2e-2 };
      closeTo((high.work - low.work) / (2 * step), first[k]!, why, `first ${k}`);
      for (let i = 0; i < 3; i++)
        closeTo(
          (high.first[i]! - low.first[i]!) / (2 * step),
          second[entry[k]![i]!]!,
          why,
          `second ${k} ${i}`,
        );
    }
  });
});

describe('sheet that only bends', () => {
  // A strip across a straight side, far from the corners, with its far end held.
  const loop = { halfLength: 70, halfWidth: 100, radius: 10 };
  const [around, out] = [1, 28];
  const flat = new Float64Array(2 * (2 * around + 1) * (2 * out + 1));
  for (let ray = 0; ray <= 2 * around; ray++)
    for (let ring = 0; ring <= 2 * out; ring++)
      flat.set([60 + (70 * ring) / (2 * out), 4 * ray], 2 * (ray * (2 * out + 1) + ring));
  const strip: BlankMesh = { around, out, flat };

  test('is not strained, and its wall swings as it is', () => {
    const tray: JudgedTray = { loop, bendRadius: 15, wallAngle: Math.PI / 2 };
    const judge = new Judge(strip, EARING, { smoothing: SMOOTHING, steps: 9 });
    for (const stage of stagesOf(tray, 9)) judge.work(stage);
    for (const developed of judge.rimDeveloped())
      closeTo(developed, 50, { why: 'quadrilaterals on the bend', absolute: 0.02 }, 'length to the rim');
    for (const { x, thickness, strain } of judge.points()) {
      // Elements the bend ends in are curved on one side only.
      if (x < 80 + 15 * (Math.PI / 2) + 6 && x > 74) {
        expect(Math.abs(thickness)).toBeLessThan(2e-3);
        continue;
      }
      expect(Math.abs(thickness)).toBeLessThan(1e-5);
      expect(strain).toBeLessThan(1e-4);
    }
  });

  test('takes no work where nothing moves', () => {
    const half: Stage = stageAt({ loop, bendRadius: 15, wallAngle: Math.PI / 2 }, 0.6);
    const judge = new Judge(strip, EARING, { smoothing: SMOOTHING, steps: 2 });
    judge.work(half);
    const [before, where] = [judge.points(), Float64Array.from(judge.position)];
    judge.work(half, judge.laidOut);
    judge.points().forEach(({ strain }, i) => {
      closeTo(strain, before[i]!.strain, { why: 'Newton stops', absolute: 1e-7 }, 'strain behind a point');
    });
    judge.position.forEach((value, i) => {
      closeTo(value, where[i]!, { why: 'Newton stops', absolute: 1e-4 }, 'a node');
    });
  });
});

describe('a round pan', () => {
  const PANS = [
    { name: 'pan of 50, height 20, bottom radius 6', base: 19, bend: 6, height: 20, r: 1 },
    { name: 'hemisphere of 50', base: 0, bend: 50, height: 50, r: 1 },
    { name: 'pan of 160, height 50, bottom radius 20', base: 60, bend: 20, height: 50, r: 1.8 },
  ];
  test.each(some(PANS, 2))('$name', ({ base, bend, height, r }) => {
    const sheet = planarIsotropic(r, 0.2);
    const law = shellLaw(sheet);
    const { flatRadius, rimThickness } = solveShell(law, base, roundTray(base, bend, height));
    const wanted = bend * (Math.PI / 2 - 1) + height;
    const loop = { halfLength: 0, halfWidth: 0, radius: base };
    const circle = Array.from({ length: 201 }, (_, k) => {
      const angle = (k * Math.PI) / 400;
      return [flatRadius * Math.cos(angle), flatRadius * Math.sin(angle)] as const;
    });
    const worked = (stages: readonly Stage[], out: number): Judge => {
      const judge = new Judge(blankMesh(loop, circle, LONG ? 3 : 2, out), sheet, {
        smoothing: SMOOTHING,
        steps: stages.length,
      });
      for (const stage of stages) judge.work(stage);
      return judge;
    };
    const tray: JudgedTray = { loop, bendRadius: bend, wallAngle: Math.PI / 2 };
    const fine = LONG ? 40 : 20;

    // In one step it is the problem that shooting solves.
    const one = worked(stagesOf(tray, 1), fine);
    closeTo(one.rimDeveloped()[0]!, wanted, { why: 'mesh', relative: LONG ? 1e-4 : 5e-4 }, 'one step');
    const outermost = one.points().reduce((a, b) => (Math.hypot(a.x, a.y) > Math.hypot(b.x, b.y) ? a : b));
    closeTo(
      Math.exp(outermost.thickness),
      rimThickness,
      { why: 'a little inside the rim', absolute: 0.01 },
      'rim',
    );

    // In many, the problem of rings that are worked step by step.
    const angles = stagesOf(tray, 12).map(({ turns }) => (turns[0] as { angle: number }).angle);
    const rings = workedRings(law, base, bend, flatRadius, angles, 300);
    const many = worked(stagesOf(tray, 12), fine);
    const higher = rings.rim - wanted;
    expect(higher).toBeGreaterThan(0.2);
    closeTo(
      many.rimDeveloped()[0]! - one.rimDeveloped()[0]!,
      higher,
      { why: 'mesh', relative: LONG ? 0.03 : 0.1 },
      'how much higher the rim comes out in many steps',
    );
  });

  test('rings in one step are the shell that shooting solves', () => {
    for (const { base, bend, height, r } of PANS) {
      const law = shellLaw(planarIsotropic(r, 0.2));
      const { flatRadius, rimThickness } = solveShell(law, base, roundTray(base, bend, height));
      const rings = workedRings(law, base, bend, flatRadius, [Math.PI / 2], 400);
      closeTo(rings.rim, bend * (Math.PI / 2 - 1) + height, { why: 'rings', absolute: 1e-3 }, 'rim');
      closeTo(rings.rimThickness, rimThickness, { why: 'half a ring inside', absolute: 3e-3 }, 'thickness');
    }
  });
});

const [ballCorners] = JUDGED_TRAYS;

test('a square tray of even sheet comes out alike along both sides', () => {
  const { manySteps } = judgeTray(ballCorners!, { steps: 3, around: 4, out: 5 }, planarIsotropic(1, 0.2));
  manySteps.forEach((value, i) => {
    closeTo(manySteps.at(-1 - i)!, value, { why: 'Newton stops', absolute: 1e-3 }, 'rim');
  });
});

describe('what one step leaves out', () => {
  // Figures of README: how much longer the section of the corner comes out when the walls are swung up little by
  // little, how much shorter that of a side beside it, and how far the thickness of the corner differs on the mean.
  const said = [
    { tray: JUDGED_TRAYS[0]!, corner: 0.7, side: -0.3, thickness: 0.005 },
    { tray: JUDGED_TRAYS[1]!, corner: 1.9, side: -0.6, thickness: 0.009 },
    { tray: JUDGED_TRAYS[2]!, corner: -0.5, side: 0.3, thickness: 0.015 },
  ];
  test.each(LONG ? said : said.slice(0, 1))('$tray.name: $corner mm at the corner', (claim) => {
    const lip = claim.tray.lip !== undefined;
    const fineness = LONG ? { steps: 16, around: 16, out: lip ? 24 : 16 } : { steps: 8, around: 8, out: 8 };
    const { oneStep, path, middle, thickness } = judgeTray(claim.tray, fineness);
    // The judge's one step is the program's, found in quite another way.
    for (const longer of oneStep)
      closeTo(longer, 0, { why: 'mesh of the judge', absolute: LONG ? 0.06 : 0.05 }, 'one step');
    closeTo(path[middle]!, claim.corner, { why: 'as README says', absolute: 0.1 }, 'corner');
    const side = claim.side < 0 ? Math.min(...path) : Math.max(...path);
    closeTo(side, claim.side, { why: 'as README says', absolute: 0.12 }, 'beside it');
    closeTo(thickness.apart, claim.thickness, { why: 'as README says', absolute: 0.003 }, 'thickness');
  });

  const level = LONG ? test : () => {};
  level('everyday tray, kept level until the last: 2.6 mm at the corner', () => {
    const fineness = { steps: 24, around: 12, out: 12 };
    const { path, middle } = judgeTray(JUDGED_TRAYS[1]!, fineness, JUDGED_SHEET, keptLevel);
    closeTo(path[middle]!, 2.6, { why: 'as README says', absolute: 0.15 }, 'corner');
  });
});
