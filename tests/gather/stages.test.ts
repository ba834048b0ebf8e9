import { describe, expect, it } from 'vitest';
import { solvedFor, solveInput, solveSpec } from '../../src/gather/solvedTray.ts';
import { stageSurface } from '../../src/gather/stageSurface.ts';
import { Way } from '../../src/gather/way.ts';
import { wholeStrain } from '../../src/gather/wholeStrain.ts';
import { courseOf } from '../../src/gather/workingPlan.ts';
import { Locator } from '../../src/geometry/locate.ts';
import { neutralBottomRadius } from '../../src/tray/section.ts';
import { radians } from '../../src/units.ts';
import { closeTo, RESIDUAL, ROUNDING, type Tolerance } from '../support/closeTo.ts';
import { solved } from '../support/solved.ts';
import { benchTray } from './benchTrays.ts';

const FIXED = { minimumRefinements: 1, maximumRefinements: 1 } as const;
const FOLLOWED: Tolerance = { why: 'the outline is fitted within 0.02 mm', absolute: 0.05 };

describe('stages', () => {
  const spec = benchTray();

  it('without a flat are named', () => {
    // The finished tray is solved; a sheet that grows 20 times as large has no such stages.
    const pattern = solved(benchTray({ forming: { stages: [30, 60] } }));
    expect(() => courseOf(pattern, {}, { growth: 3 })).toThrow(
      /^No flat shape was found for the wall at \d\d° on its way up: .* Ask for another number of stages\.$/,
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
    const pattern = solved(spec);
    const { stages } = courseOf(pattern);
    expect(stages).toHaveLength(3);
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
    const pattern = solved(benchTray({ section: { rim }, forming: { stages: [45] } }));
    const { stages } = courseOf(pattern);
    expect(stages.map(({ angle, lip }) => [angle, lip])).toEqual([
      [45, false],
      [90, false],
      [90, true],
    ]);
    const last = stages[2]!.zones[0]!;
    closeTo(last.rimLost, pattern.gather.zones[0]!.rim!.toLose, FOLLOWED, 'rim lost');
    expect(last.rimToLose).toBeGreaterThan(0);
  });

  it('take their angles from the tray file', () => {
    const pattern = solved(benchTray({ forming: { stages: [70, 20, 20, 95] } }));
    expect(courseOf(pattern).stages.map(({ angle }) => angle)).toEqual([20, 70, 90]);
  });

  it.each([1, 2, 3, 5])(
    'are as many as is asked, %d, of even work where no anneal comes between',
    (count) => {
      // A flat dish of soft copper needs no anneal.
      const pattern = solved(
        benchTray({ section: { draft: 15, height: 20 }, sheet: { material: 'Cu-ETP-R220' } }),
      );
      const { stages, anneals } = courseOf(pattern, { stages: count });
      expect(anneals.steps).toEqual([]);
      expect(stages).toHaveLength(count);
      closeTo(stages.at(-1)!.angle, 75, ROUNDING, 'the wall');
      const way = new Way(solvedFor(pattern), {});
      const ends = [
        0,
        ...stages.map(({ angle }) => {
          way.wall(angle);
          return way.placeOf(angle);
        }),
      ];
      for (let k = 1; k < ends.length; k++)
        closeTo(
          way.work(ends[k - 1]!, ends[k]!),
          pattern.gather.work / count,
          { why: 'ends are found between few solves', relative: 0.45 },
          `stage ${k}`,
        );
    },
  );
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
