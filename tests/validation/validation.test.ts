/** The figures that README gives from the validation chapter, and the chapter itself. */
import { describe, expect, test } from 'vitest';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { LONG } from '../support/long.ts';
import { chapter } from './chapter.ts';
import { squareCup } from './drawnCups.ts';
import { fitCup, fourEars, gatheredThickness, MEASURED } from './esaformCup.ts';
import { ball, handbook } from './handbook.ts';
import { numerical } from './numerical.ts';
import { shown, signed } from './section.ts';
import { sensitivities } from './sensitivity.ts';
import { BOX, shopWork, thickCorners } from './shopWork.ts';
import { drawnSquare, SAID } from './squareCup.ts';

const SAID_BY_README: Tolerance = { why: 'rounded in README', relative: 0.06 };

describe('the cup of ESAFORM 2021', () => {
  const heights = MEASURED.map(([, height]) => height);
  const mean = heights.reduce((sum, height) => sum + height, 0) / heights.length;
  const measured = fourEars(heights);
  const accuracy = LONG ? 0.01 : 0.1;

  test('as it was measured', () => {
    closeTo(mean, 34.13, { why: 'two decimals', absolute: 0.005 }, 'mean height');
    closeTo(measured.amplitude, 0.71, { why: 'two decimals', absolute: 0.005 }, 'ears');
    expect(Math.abs(measured.crest)).toBeLessThan(5);
  });

  test('the quadratic law: ears where they are, and too high; a blank too large', () => {
    const fit = fitCup('quadratic', 'size', accuracy);
    closeTo(fit.value, 1.09, { why: 'as README says', absolute: 0.01 }, 'blank over the real one');
    expect(Math.abs(fit.ears.crest)).toBeLessThan(5);
    closeTo(fit.ears.amplitude / measured.amplitude, 2.2, SAID_BY_README, 'ears');
    // The 24 heights, less those of a level rim of the same mean.
    closeTo(fit.off, 0.71, SAID_BY_README, 'off');
  });

  test('the law with strengths: a rim that is nearly level', () => {
    const fit = fitCup('with strengths', 'size', accuracy);
    closeTo(fit.value, 1.1, { why: 'as README says', absolute: 0.01 }, 'blank over the real one');
    expect(fit.ears.amplitude / measured.amplitude).toBeLessThan(0.35);
    closeTo(fit.off, 0.55, SAID_BY_README, 'off');
  });

  test('a free gather would not pass between punch and die', () => {
    expect(gatheredThickness('quadratic', mean)).toBeGreaterThan(1.35);
  });
});

test('a square cup without friction comes in farther than one with it, whatever the metal', () => {
  const travels = LONG ? ([15, 40] as const) : ([15] as const);
  for (const travel of travels) {
    const [around, out, steps] = LONG ? [8, 16, travel / 2] : [6, 12, 6];
    const found = (['mild steel', 'aluminium'] as const).map((sheet) =>
      drawnSquare(sheet, travel, Math.round(steps), around, out),
    );
    for (const { oneStep, manySteps } of found)
      for (const drawIn of [oneStep, manySteps]) {
        expect(drawIn.side).toBeGreaterThan(SAID[travel].side);
        expect(drawIn.diagonal).toBeGreaterThan(SAID[travel].diagonal);
        expect(drawIn.side).toBeGreaterThan(1.4 * drawIn.diagonal);
      }
    const [steel, aluminium] = found;
    closeTo(
      steel!.manySteps.side,
      aluminium!.manySteps.side,
      { why: 'hardly depends on the sheet', relative: 0.03 },
      'draw-in of the sides',
    );
  }
});

test('the corners of the 3003 box are within what the law allows hands that shrink', () => {
  const ratio = BOX.corner / BOX.sheet;
  for (const { hand, own, thickest } of thickCorners()) {
    if (own) closeTo(thickest, ratio, { why: 'the sheet’s own hand is at its limit', relative: 0.02 }, 'own');
    else if (hand < 0.3) expect(thickest).toBeGreaterThan(ratio);
    else expect(thickest).toBeLessThan(ratio);
  }
});

// The equilibrium answer is no excuse not to make a trial piece.
test('the ball made by hand was stretched', () => {
  const { worked, equalArea, gathered, kept } = ball();
  expect(worked).toBeLessThan(equalArea);
  closeTo(gathered, 8.75, { why: 'two decimals', absolute: 0.01 }, 'disc for the gathered ball, inches');
  closeTo(kept, 0.78, { why: 'two decimals', absolute: 0.005 }, 'thickness kept');
});

test('what a wrong figure costs: hand and spread first', () => {
  for (const name of LONG ? ['DC04', '5754-O'] : ['DC04']) {
    const { rows } = sensitivities(name, LONG ? 2 : 0);
    const cost = new Map(
      rows.map(({ what, more, less }) => [what, Math.max(Math.abs(more), Math.abs(less))]),
    );
    const inOrder = [...cost].sort(([, a], [, b]) => b - a).map(([what]) => what);
    expect(inOrder.slice(0, 2)).toEqual(['hand', 'spread']);
    for (const [what, most] of [
      ['hand', 0.64],
      ['spread', 0.42],
      ['r in all directions', 0.15],
      ['strength at 45°', 0.12],
    ] as const)
      closeTo(cost.get(what)!, most, { why: 'as README says', absolute: 0.03 }, `${name}: ${what}`);
    expect(cost.get('n')!).toBeLessThan(0.1);
    expect(cost.get('thickness, sizes outside')!).toBeLessThan(0.06);
    // More metal up the wall, more spread: a smaller blank.
    for (const what of ['hand', 'spread'])
      expect(rows.find((row) => row.what === what)!.more).toBeLessThan(0);
  }
});

describe('the chapter', () => {
  test('has its figures, sources and signs', () => {
    expect(shown(-0.0004, 3)).toBe('0.000');
    expect(shown(-1.25, 1)).toMatch(/^−1\.[23]$/);
    expect(signed(0.5, 1)).toBe('+0.5');
    expect(() => shown(Number.NaN, 1)).toThrow();
    const sections = LONG
      ? [numerical(), handbook(), squareCup({ around: 4, out: 10, stepsPerMillimetre: 0.25 }), shopWork()]
      : [shopWork()];
    const html = chapter(sections);
    for (const { id, title, tables, sources, verdict } of sections) {
      expect(html).toContain(`<section id="${id}">`);
      expect(html).toContain(`<h2>${title}</h2>`);
      expect(tables.length && sources.length && verdict.length).toBeGreaterThan(0);
      for (const { head, rows } of tables) for (const cells of rows) expect(cells.length).toBe(head.length);
    }
    expect(html).not.toMatch(/NaN|undefined|null/);
  });
});
