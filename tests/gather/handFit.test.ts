import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { ownHand } from '../../src/gather/hand.ts';
import { fitHand } from '../../src/gather/handFit.ts';
import { type Measurements, readMeasurements } from '../../src/gather/measurements.ts';
import { solveSpec } from '../../src/gather/solvedTray.ts';
import { type Trial, TrialCorner } from '../../src/gather/trial.ts';
import { wholeStrain } from '../../src/gather/wholeStrain.ts';
import { Locator } from '../../src/geometry/locate.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { benchTray } from './benchTrays.ts';

const ONE_PER_CENT: Tolerance = { why: 'what is asked of a round trip', relative: 0.01 };

const spec = benchTray({ plan: { length: 240, width: 180, cornerRadius: 30 }, forming: { trim: 4 } });
const corner = new TrialCorner(spec, 0);

/** What a rule and a micrometer would read on a corner. */
const heights = (trial: Trial): Measurements => ({
  corner: 0,
  rimHeight: { middle: trial.rimHeight('middle'), error: 0.3 },
});

describe('the worked corner', () => {
  it('worked as the blank was meant comes out as the tray, with the trim on top', () => {
    const bare = new TrialCorner({ ...spec, forming: { trim: 0 } }, 0);
    const own = ownHand(findSheet('DC04'));
    const trial = bare.worked(own, 0);
    for (const place of ['start', 'middle', 'end'] as const)
      closeTo(trial.rimHeight(place), 35, { why: 'height found to 2e-4', absolute: 1e-3 }, place);
    // The trim is wall like the rest of it.
    for (const place of ['start', 'middle', 'end'] as const)
      closeTo(
        corner.worked(own, 0).rimHeight(place),
        35 + 4,
        { why: 'height found to 2e-4', absolute: 1e-3 },
        place,
      );
  });

  it('gets higher and thinner the more the hand stretches', () => {
    const hands = [0.1, 0.3, 0.5, 0.7, 0.9].map((hand) => corner.worked(hand, 0));
    for (let i = 1; i < hands.length; i++) {
      expect(hands[i]!.rimHeight('middle')).toBeGreaterThan(hands[i - 1]!.rimHeight('middle'));
      expect(hands[i]!.rimThickness()).toBeLessThan(hands[i - 1]!.rimThickness());
    }
  });

  /**
   * Another road to the same height: the blank's edge as a line of the metal of a taller tray, worked by the other
   * hand. The metal above the line then pulls along, which it does not in truth, so the two agree only nearly.
   */
  it('comes out as high as the blank’s edge does on a taller tray', () => {
    const fixed = { minimumRefinements: 1, maximumRefinements: 1 };
    const hand = 0.3;
    const blank = wholeStrain(solveSpec(spec, fixed));
    const taller = wholeStrain(
      solveSpec({ ...spec, section: { ...spec.section, height: 46 }, forming: { trim: 0, hand } }, fixed),
    );
    // Both edges on the corner's middle line, from the centre of the base's corner arc.
    const [cx, cy] = [120 - 30, 90 - 30];
    const reach = (() => {
      const s = solveSpec(spec, fixed).solution;
      let best = Number.NaN;
      let nearest = Infinity;
      for (const node of s.mesh.rim) {
        const [x, y] = [s.flat[2 * node]! - cx, s.flat[2 * node + 1]! - cy];
        const off = Math.abs(Math.atan2(y, x) - Math.PI / 4);
        if (off < nearest) {
          nearest = off;
          best = Math.hypot(x, y);
        }
      }
      return best;
    })();
    const locator = new Locator(taller.flat, taller.triangles);
    const at = locator.interpolate(
      locator.find(cx + reach * Math.SQRT1_2, cy + reach * Math.SQRT1_2),
      taller.formed,
      3,
      new Float64Array(3),
    );
    // The neutral surface's base lies half a sheet above the outside of the base.
    const outside = at[2]! + 0.5;
    expect(blank.flat.length).toBeGreaterThan(0);
    closeTo(
      corner.worked(hand, 0).rimHeight('middle'),
      outside,
      { why: 'metal above the edge pulls along', absolute: 0.6 },
      'height',
    );
  });
});

describe('the hand found', () => {
  it.each([0.15, 0.4, 0.64, 0.85])('from the height in the middle is that it was worked with, %d', (hand) => {
    const fit = fitHand(spec, heights(corner.worked(hand, 0)));
    closeTo(fit.hand.value, hand, ONE_PER_CENT, 'hand');
    expect(fit.spread).toBeNull();
    expect(fit.hand.error).toBeGreaterThan(0);
    expect(fit.hand.error).toBeLessThan(0.3);
  });

  it('from the thickness, and from marks along the rim or up the wall', () => {
    const trial = corner.worked(0.35, 0);
    const along = { direction: 'along', inset: 6, before: 20 } as const;
    const up = { direction: 'up', inset: 6, before: 15 } as const;
    for (const measured of [
      { corner: 0, rimThickness: { middle: trial.rimThickness(), error: 0.02 } },
      { corner: 0, marks: [{ ...along, after: trial.markDistance(along), error: 0.1 }] },
      { corner: 0, marks: [{ ...up, after: trial.markDistance(up), error: 0.1 }] },
    ])
      closeTo(fitHand(spec, measured).hand.value, 0.35, ONE_PER_CENT, 'hand');
  });

  it('comes with the spread where the measurements tell the two apart', () => {
    const trial = corner.worked(0.5, 5);
    const fit = fitHand(spec, {
      corner: 0,
      rimHeight: { middle: trial.rimHeight('middle'), start: trial.rimHeight('start'), error: 0.2 },
      rimThickness: { middle: trial.rimThickness(), error: 0.02 },
    });
    closeTo(fit.hand.value, 0.5, ONE_PER_CENT, 'hand');
    closeTo(fit.spread!.value, 5, ONE_PER_CENT, 'spread');
  });

  it('has the uncertainty of the measuring error', () => {
    const measured = heights(corner.worked(0.4, 0));
    const { hand } = fitHand(spec, measured);
    // A reading that is off by one error moves the hand by one error of its own.
    const off = fitHand(spec, {
      ...measured,
      rimHeight: { middle: measured.rimHeight!.middle! + 0.3, error: 0.3 },
    });
    closeTo(off.hand.value - hand.value, hand.error, { why: 'nearly straight', relative: 0.1 }, 'error');
    const careful = fitHand(spec, { ...measured, rimHeight: { ...measured.rimHeight!, error: 0.1 } });
    closeTo(careful.hand.error, hand.error / 3, { why: 'proportional', relative: 1e-3 }, 'error');
  });

  it('is refused when no hand can have made what was measured', () => {
    expect(() => fitHand(spec, { corner: 0, rimHeight: { middle: 50, error: 0.3 } })).toThrow(
      /^rimHeight\.middle is 50 mm, which cannot have come from this tray and blank: it lies between/,
    );
    const trial = corner.worked(0.3, 0);
    const contradiction: Measurements = {
      corner: 0,
      rimHeight: { middle: trial.rimHeight('middle'), error: 0.05 },
      rimThickness: { middle: corner.worked(0.8, 0).rimThickness(), error: 0.005 },
      marks: [
        {
          direction: 'up',
          inset: 6,
          before: 15,
          after: trial.markDistance({ direction: 'up', inset: 6, before: 15 }),
          error: 0.05,
        },
      ],
    };
    expect(() => fitHand(spec, contradiction)).toThrow(/cannot have come from this tray/);
    expect(fitHand(spec, { ...heights(trial), corner: 'A' })).toEqual(fitHand(spec, heights(trial)));
    expect(() => fitHand(spec, { ...heights(trial), corner: 'E' })).toThrow(/corner is E, which is no/);
    expect(() => fitHand(spec, { ...heights(trial), corner: 7 })).toThrow(/give one of A, B, C, D/);
  });
});

describe('the measurements file', () => {
  it('fills in the measuring errors and leaves out what was not measured', () => {
    expect(readMeasurements({ rimHeight: { middle: 40.5 } })).toEqual({
      corner: 0,
      rimHeight: { middle: 40.5, error: 0.3 },
    });
  });

  it.each([
    [{}, 'The measurements file has no measurement; give rimHeight, rimThickness or marks.'],
    [{ rimHeight: {} }, 'The measurements file has no measurement; give rimHeight, rimThickness or marks.'],
    [{ rimHight: { middle: 3 } }, 'rimHeight'],
    [{ rimHeight: { middle: 'high' } }, 'rimHeight.middle is "high"; give a number'],
    [{ corner: 1.5, rimThickness: { middle: 1 } }, 'corner is 1.5; give the letter of a corner'],
    [[], 'The measurements file'],
  ])('refuses %j in a sentence', (value, sentence) => {
    expect(() => readMeasurements(value)).toThrow(GatherpanError);
    expect(() => readMeasurements(value)).toThrow(sentence);
  });
});
