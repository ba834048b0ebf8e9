/** How often a tray is annealed, and where on the way. */
import { describe, expect, it } from 'vitest';
import type { AnnealPlan } from '../../src/gather/anneals.ts';
import { solvedFor } from '../../src/gather/solvedTray.ts';
import { Way } from '../../src/gather/way.ts';
import { type Course, courseOf } from '../../src/gather/workingPlan.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { annealsNeeded } from '../../src/material/temper.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { english } from '../../src/words/english.ts';
import { written } from '../../src/words/statement.ts';
import { closeTo } from '../support/closeTo.ts';
import { solved } from '../support/solved.ts';
import { benchTray } from './benchTrays.ts';

const mild = (more: object = {}) =>
  benchTray({
    plan: { length: 300, width: 200, cornerRadius: 25 },
    section: { bottomRadius: 25, height: 25 },
    sheet: { material: 'DC01', thickness: 1 },
    forming: { trim: 0 },
    ...more,
  });

const onTheWay = ({ anneals }: Course): AnnealPlan['steps'] =>
  anneals.steps.filter(({ when }) => when !== 'before');

/** Nothing takes more than the sheet does between two anneals, and there is no anneal that is not needed. */
function expectFewest(pattern: FlatPattern, course: Course): void {
  const { material } = pattern.sheet;
  const { budget, steps, leftOver } = course.anneals;
  expect(steps).toHaveLength(pattern.gather.anneals ?? 0);
  const between = [...onTheWay(course).map(({ strain }) => strain), leftOver];
  closeTo(
    between.reduce((sum, strain) => sum + strain, 0),
    pattern.gather.work,
    { why: 'counted on a coarse mesh', relative: 0.1 },
    'work',
  );
  if (material.anneal.temperature === null) return;
  expect(steps).toHaveLength(annealsNeeded(material, pattern.gather.work));
  // They are placed on a coarse mesh, and told as the tray's own way has them.
  for (const strain of between) expect(strain / budget).toBeLessThan(1.08);
  expect(pattern.gather.work).toBeGreaterThan(onTheWay(course).length * budget);
}

describe('anneals', () => {
  // Common practice, no source: a tray of 1 mm mild steel, 25 mm radius all round, cut without trim.
  it('are one at about two thirds of the way for a shallow tray of mild steel', () => {
    const pattern = solved(mild());
    const course = courseOf(pattern);
    expectFewest(pattern, course);
    expect(course.anneals.steps).toHaveLength(1);
    const [step] = course.anneals.steps;
    expect(step!.part).toBeGreaterThan(0.58);
    expect(step!.part).toBeLessThan(0.75);
    expect(step!.strain / course.anneals.budget).toBeGreaterThan(0.9);
    expect(step!.when).toBe('after');
    expect(course.stages[step!.stage]!.angle).toBe(step!.angle);
    expect(written(course.anneals.sentences[0]!, english)).toMatch(
      /^Anneal the worked corners after stage 2, with the wall at \d\d° \(6\d % of the way up\), at \d+ to \d+ °C: by then (?:9|10)\d % /,
    );
  });

  it.each([
    ['trim', { forming: { trim: 4 } }],
    [
      'a tall wall',
      { section: { bottomRadius: 20, height: 45 }, plan: { length: 300, width: 200, cornerRadius: 40 } },
    ],
    ['stages of its own', { forming: { trim: 0, stages: [20, 60] } }],
    ['a hard sheet', { sheet: { material: '1050A-H14', thickness: 1 } }],
    ['soft copper', { sheet: { material: 'Cu-ETP-R220', thickness: 1 } }],
    ['zinc, which is never heated', { sheet: { material: 'DX51D+Z', thickness: 1 } }],
    ['a leaning wall', { section: { bottomRadius: 15, height: 40, draft: 20 } }],
    [
      'a lip',
      {
        section: {
          bottomRadius: 12,
          height: 25,
          rim: { kind: 'lip', direction: 'out', bendRadius: 4, width: 10 },
        },
      },
    ],
  ])('are the fewest, and each counts once: %s', (_, more) => {
    const pattern = solved(mild(more));
    for (const stages of [undefined, 1, 4])
      expectFewest(pattern, courseOf(pattern, { ...(stages && { stages }) }));
  });

  it('come while a lip is turned when its metal takes more than what is left', () => {
    const rim = { kind: 'lip', direction: 'out', bendRadius: 4, width: 10 } as const;
    const pattern = solved(mild({ section: { bottomRadius: 12, height: 25, rim } }));
    const course = courseOf(pattern);
    const straight = Math.max(...pattern.field.equivalentStrain);
    // There and back is further than straight there.
    expect(pattern.gather.work).toBeGreaterThan(straight);
    expect(course.stages.at(-1)!.lip).toBe(true);
    const inLip = course.anneals.steps.filter((step) => step.inLip);
    for (const { stage, when } of inLip) {
      expect(stage).toBe(course.stages.length - 1);
      expect(when).toBe('within');
    }
  });

  it('come at the end of a stage where that makes them no more', () => {
    const pattern = solved(mild({ forming: { trim: 0, stages: [20, 55] } }));
    const [step] = courseOf(pattern).anneals.steps;
    expect(step).toMatchObject({ when: 'after', stage: 1, angle: 55 });
  });

  it('begin the account of every spot anew, so that none takes more than the sheet does in any stage', () => {
    // A tall wall over a tight bend is worked now here, now there.
    const pattern = solved(
      mild({
        plan: { length: 200, width: 150, cornerRadius: 20 },
        section: { bottomRadius: 8, height: 90 },
        sheet: { material: 'DC04', thickness: 1 },
        forming: { trim: 4 },
      }),
    );
    const course = courseOf(pattern);
    expectFewest(pattern, course);
    // More than straight from the flat to the finished tray.
    expect(pattern.gather.work).toBeGreaterThan(1.1 * Math.max(...pattern.field.equivalentStrain));
    for (const { zones } of course.stages)
      for (const { strainAdded } of zones) expect(strainAdded / course.anneals.budget).toBeLessThan(1.08);
  });

  it('are placed by work: by each nearly all that the sheet takes is used up', () => {
    const pattern = solved(mild({ forming: { trim: 4 } }));
    const { anneals } = courseOf(pattern);
    expect(anneals.steps.length).toBeGreaterThan(0);
    for (const { angle, strain } of anneals.steps) {
      expect(Number.isInteger(angle)).toBe(true);
      expect(strain / anneals.budget).toBeGreaterThan(0.9);
    }
  });

  it('reach as far as a finer way says, from few solved walls', () => {
    const pattern = solved(mild());
    const [few, many] = [0, 1].map(() => new Way(solvedFor(pattern), {})) as [Way, Way];
    few.solvePlaces();
    for (let angle = 6; angle < 90; angle += 6) many.wall(angle);
    for (const share of [0.2, 0.5, 1]) {
      const work = share * findSheet('DC01').anneal.strainBudget;
      closeTo(
        few.angleOf(few.reach(0, work)),
        many.angleOf(many.reach(0, work)),
        { why: 'strains grow evenly between the walls solved', absolute: 4 },
        `share ${share}`,
      );
    }
  });

  it('are never asked of a sheet that must not be heated: it says what to do instead', () => {
    for (const material of ['DX51D+Z', '1.4301']) {
      const sheet = findSheet(material);
      const pattern = solved(
        mild({ section: { bottomRadius: 20, height: 45 }, sheet: { material, thickness: 1 } }),
      );
      expect(pattern.gather.work).toBeGreaterThan(sheet.anneal.strainBudget);
      expect(pattern.gather.anneals).toBeNull();
      const { anneals } = courseOf(pattern);
      expect(anneals.steps).toEqual([]);
      expect(anneals.temperature).toBeNull();
      expect(anneals.sentences).toContain(sheet.anneal.instead!);
      expect(written(anneals.sentences[0]!, english)).toMatch(/^Do not heat this sheet/);
    }
  });
});
