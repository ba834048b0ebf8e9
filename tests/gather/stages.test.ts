import { describe, expect, it } from 'vitest';
import { annealPlan } from '../../src/gather/anneals.ts';
import { solveInput, solveSpec } from '../../src/gather/solvedTray.ts';
import { stageAngles, stagePlan, stageSurface } from '../../src/gather/stages.ts';
import { wholeStrain } from '../../src/gather/wholeStrain.ts';
import { Locator } from '../../src/geometry/locate.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { neutralBottomRadius } from '../../src/tray/section.ts';
import { radians } from '../../src/units.ts';
import { english } from '../../src/words/english.ts';
import { written } from '../../src/words/statement.ts';
import { closeTo, RESIDUAL, ROUNDING, type Tolerance } from '../support/closeTo.ts';
import { benchTray, patternOf } from './benchTrays.ts';

const FIXED = { minimumRefinements: 1, maximumRefinements: 1 } as const;
const FOLLOWED: Tolerance = { why: 'the outline is fitted within 0.02 mm', absolute: 0.05 };

describe('stages', () => {
  const spec = benchTray();

  it('without a flat are named', () => {
    // The finished tray is solved; a sheet that grows 20 times as large has no such stages.
    const pattern = patternOf(spec);
    expect(() => stagePlan(pattern, [30, 60, 90], { growth: 3 })).toThrow(
      /^No flat shape was found for stage 1 of the plan, the wall at 30°: .* Ask for another number of stages\.$/,
    );
  });

  it('at the last angle are the finished tray', () => {
    const { surface } = solveInput(spec);
    expect(stageSurface(surface, 90)).toEqual(surface);
    const { solution } = solveSpec(spec, FIXED, stageSurface(surface, 90 - 1e-7));
    const final = solveSpec(spec, FIXED).solution;
    for (const node of final.mesh.rim) {
      for (const k of [0, 1])
        closeTo(
          solution.flat[2 * node + k]!,
          final.flat[2 * node + k]!,
          { why: 'a ten-millionth of a degree', absolute: 1e-4 },
          'flat rim',
        );
    }
  });

  /**
   * A stage is the tray of the same base whose walls lean: plan radius R_b + r·tan(a/2) at the meeting line of base
   * and wall, height such that the developed length is the same. Solved as a tray of its own it must be the same.
   */
  it.each([30, 60, 80])('at %d degrees is the tray with leaning walls of the same base', (angle) => {
    const { surface } = solveInput(spec);
    const { bottomRadius } = spec.section;
    const a = radians(angle);
    const back = bottomRadius * (Math.tan(a / 2) - Math.tan(Math.PI / 4));
    const wall = surface.section.developed - neutralBottomRadius(spec) * a;
    const leaning = benchTray({
      plan: { length: 320 + 2 * back, width: 240 + 2 * back, cornerRadius: 30 + back },
      section: { draft: 90 - angle, height: bottomRadius * (1 - Math.cos(a)) + wall * Math.sin(a) },
      // The trim is in the height already: the developed length is that of the worked wall.
      forming: { trim: 0 },
    });
    const stage = solveSpec(spec, FIXED, stageSurface(surface, angle)).solution;
    const tray = solveSpec(leaning, FIXED).solution;
    closeTo(stage.mesh.rim.length, tray.mesh.rim.length, ROUNDING, 'nodes');
    for (const [i, node] of stage.mesh.rim.entries())
      for (const k of [0, 1])
        closeTo(stage.flat[2 * node + k]!, tray.flat[2 * tray.mesh.rim[i]! + k]!, RESIDUAL, 'flat rim');
  });

  it('add up to the finished tray', () => {
    const pattern = patternOf(spec);
    const { stages, added } = stagePlan(pattern, stageAngles(spec));
    expect(stages.map(({ angle }) => Math.round(angle))).toEqual([30, 60, 90]);
    expect(added).toHaveLength(3);
    for (const [number, zone] of pattern.gather.zones.entries()) {
      const rows = stages.map(({ zones }) => zones[number]!);
      const total = rows.reduce((sum, { rimToLose }) => sum + rimToLose, 0);
      closeTo(total, zone.rim!.toLose, FOLLOWED, 'rim to lose');
      closeTo(rows[2]!.rimLost, total, { why: 'sums', relative: 1e-9 }, 'rim lost');
      closeTo(rows[2]!.thickness, zone.thickness.value, ROUNDING, 'thickness at the end');
      for (let k = 1; k < 3; k++) {
        expect(rows[k]!.thickness).toBeGreaterThan(rows[k - 1]!.thickness);
        expect(rows[k]!.rimLost).toBeGreaterThan(rows[k - 1]!.rimLost);
      }
      // A path is never shorter than the straight way: the triangle inequality of Hill's norm.
      const straight = Math.max(...pattern.field.equivalentStrain);
      expect(rows.reduce((sum, { strainAdded }) => sum + strainAdded, 0)).toBeGreaterThan(straight - 1e-9);
    }
  });

  it('turn a lip last of all, and gather more for it', () => {
    // As wide as its corners gather evenly.
    const rim = { kind: 'lip', direction: 'in', bendRadius: 4, width: 8 } as const;
    const pattern = patternOf(benchTray({ section: { rim } }));
    const { stages } = stagePlan(pattern, [45, 90]);
    expect(stages.map(({ angle, lip }) => [angle, lip])).toEqual([
      [45, false],
      [90, false],
      [90, true],
    ]);
    const last = stages[2]!.zones[0]!;
    closeTo(last.rimLost, pattern.gather.zones[0]!.rim!.toLose, FOLLOWED, 'rim lost');
    expect(last.rimToLose).toBeGreaterThan(0);
  });

  it('take their angles from the tray file or a number', () => {
    expect(stageAngles(spec, 2)).toEqual([45, 90]);
    expect(stageAngles(benchTray({ forming: { stages: [70, 20, 20, 95] } }))).toEqual([20, 70, 90]);
    const leaning = stageAngles(benchTray({ section: { draft: 15 } }));
    expect(leaning.map((angle) => Number(angle.toFixed(9)))).toEqual([25, 50, 75]);
  });
});

describe('finding points in the flat', () => {
  it('gives back every node, and a linear field at any point', () => {
    const { flat, triangles } = wholeStrain(solveSpec(benchTray(), FIXED));
    const locator = new Locator(flat, triangles);
    const field = new Float64Array(flat.length / 2);
    for (let i = 0; i < field.length; i++) field[i] = 3 + 2 * flat[2 * i]! - flat[2 * i + 1]!;
    const out = new Float64Array(1);
    for (let i = 0; i < field.length; i += 7) {
      const x = flat[2 * i]! * 0.97;
      const y = flat[2 * i + 1]! * 0.97;
      locator.interpolate(locator.find(x, y), field, 1, out);
      closeTo(out[0]!, 3 + 2 * x - y, { why: 'Newton to 1e-11', absolute: 1e-8 }, `at ${x}, ${y}`);
    }
  });
});

describe('anneals', () => {
  const steel = findSheet('DC04');
  const { strainBudget: budget } = steel.anneal;
  const strains = (...rows: number[][]) => rows.map((row) => Float64Array.from(row.map((v) => v * budget)));

  it('are none while every spot stays within the budget', () => {
    const plan = annealPlan(strains([0.3, 0.1], [0.3, 0.2], [0.39, 0.1]), steel);
    expect(plan.steps).toEqual([]);
    closeTo(plan.leftOver, 0.99 * budget, ROUNDING, 'left over');
    expect(written(plan.sentences[0]!, english)).toMatch(/^No anneal is needed/);
  });

  it('come before the stage that would take a spot over it', () => {
    const plan = annealPlan(strains([0.4, 0.1], [0.5, 0.2], [0.3, 0.1]), steel);
    expect(plan.steps).toMatchObject([{ stage: 1, when: 'after' }]);
    closeTo(plan.steps[0]!.strain, 0.9 * budget, ROUNDING, 'strain at the anneal');
    closeTo(plan.leftOver, 0.3 * budget, ROUNDING, 'left over');
  });

  it('do not add up strains of different spots', () => {
    expect(annealPlan(strains([0.6, 0], [0, 0.6]), steel).steps).toEqual([]);
  });

  it('interrupt a stage that is too much by itself, and keep every part within the budget', () => {
    for (const first of [0, 0.2, 0.7]) {
      const plan = annealPlan(strains([first], [2.5]), steel);
      for (const { strain } of plan.steps) expect(strain).toBeLessThanOrEqual(budget * (1 + 1e-9));
      expect(plan.leftOver).toBeLessThanOrEqual(budget * (1 + 1e-9));
      expect(plan.steps.filter(({ when }) => when === 'within').length).toBeGreaterThanOrEqual(2);
    }
  });

  it('are never asked of a sheet that must not be heated: it says what to do instead', () => {
    for (const name of ['DX51D+Z', '1.4301']) {
      const material = findSheet(name);
      const much = [Float64Array.of(2 * material.anneal.strainBudget)];
      const plan = annealPlan(much, material);
      expect(plan.steps).toEqual([]);
      expect(plan.temperature).toBeNull();
      expect(plan.sentences).toContain(material.anneal.instead!);
      expect(written(plan.sentences[0]!, english)).toMatch(/^Do not heat this sheet/);
    }
  });
});
