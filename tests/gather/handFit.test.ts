import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { ownHand } from '../../src/gather/hand.ts';
import { fitHand, fitTrial, type HandFit } from '../../src/gather/handFit.ts';
import {
  type Measurements,
  measurementsJsonSchema,
  readMeasurements,
} from '../../src/gather/measurements.ts';
import { solveSpec } from '../../src/gather/solvedTray.ts';
import { type Trial, TrialCorner } from '../../src/gather/trial.ts';
import { wholeStrain } from '../../src/gather/wholeStrain.ts';
import { Locator } from '../../src/geometry/locate.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { LONG, some } from '../support/long.ts';
import { benchTray } from './benchTrays.ts';

const ONE_PER_CENT: Tolerance = { why: 'what is asked of a round trip', relative: 0.01 };

const spec = benchTray({ plan: { length: 240, width: 180, cornerRadius: 30 }, forming: { trim: 4 } });
const corner = new TrialCorner(spec, 0);

/** The hand from measurements of that corner: as `fitHand`, with the trials that are at hand. */
const fitted = (measurements: Measurements): HandFit => fitTrial(spec, corner, measurements);

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
  it.each(some([0.15, 0.4, 0.64, 0.85], 2))(
    'from the height in the middle is that it was worked with, %d',
    (hand) => {
      const fit = fitted(heights(corner.worked(hand, 0)));
      closeTo(fit.hand.value, hand, ONE_PER_CENT, 'hand');
      expect(fit.spread).toBeNull();
      expect(fit.hand.error).toBeGreaterThan(0);
      expect(fit.hand.error).toBeLessThan(0.3);
    },
  );

  it('from the thickness, and from marks along the rim or up the wall', () => {
    const trial = corner.worked(0.35, 0);
    const along = { direction: 'along', inset: 6, before: 20 } as const;
    const up = { direction: 'up', inset: 6, before: 15 } as const;
    for (const measured of [
      { corner: 0, rimThickness: { middle: trial.rimThickness(), error: 0.02 } },
      { corner: 0, marks: [{ ...along, after: trial.markDistance(along), error: 0.1 }] },
      { corner: 0, marks: [{ ...up, after: trial.markDistance(up), error: 0.1 }] },
    ])
      closeTo(fitted(measured).hand.value, 0.35, ONE_PER_CENT, 'hand');
  });

  it('comes with the spread where the measurements tell the two apart', () => {
    const trial = corner.worked(0.5, 5);
    const fit = fitted({
      corner: 0,
      rimHeight: { middle: trial.rimHeight('middle'), start: trial.rimHeight('start'), error: 0.2 },
      rimThickness: { middle: trial.rimThickness(), error: 0.02 },
    });
    closeTo(fit.hand.value, 0.5, ONE_PER_CENT, 'hand');
    closeTo(fit.spread!.value, 5, ONE_PER_CENT, 'spread');
  });

  it('has the uncertainty of the measuring error', () => {
    const measured = heights(corner.worked(0.4, 0));
    const { hand } = fitted(measured);
    // A reading that is off by one error moves the hand by one error of its own.
    const off = fitted({
      ...measured,
      rimHeight: { middle: measured.rimHeight!.middle! + 0.3, error: 0.3 },
    });
    closeTo(off.hand.value - hand.value, hand.error, { why: 'nearly straight', relative: 0.1 }, 'error');
    const careful = fitted({ ...measured, rimHeight: { ...measured.rimHeight!, error: 0.1 } });
    closeTo(careful.hand.error, hand.error / 3, { why: 'proportional', relative: 1e-3 }, 'error');
  });

  it('is refused when no hand can have made what was measured', () => {
    expect(() => fitted({ corner: 0, rimHeight: { middle: 50, error: 0.3 } })).toThrow(
      /^rimHeight\.middle is 50 mm, which cannot have come from this tray and blank: it lies between [\d.]+ mm and [\d.]+ mm there/,
    );
    const inInches = { corner: 0, rimHeight: { middle: 2 * 25.4, error: 0.3 } };
    expect(() => fitTrial({ ...spec, shownIn: 'in' }, corner, inInches)).toThrow(
      /^rimHeight\.middle is 2 in, which .* between [\d.]+ in and [\d.]+ in there/,
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
    expect(() => fitted(contradiction)).toThrow(/cannot have come from this tray/);
    expect(fitHand(spec, { ...heights(trial), corner: 'A' })).toEqual(fitHand(spec, heights(trial)));
    expect(() => fitHand(spec, { ...heights(trial), corner: 'E' })).toThrow(/corner is E, which is no/);
    expect(() => fitHand(spec, { ...heights(trial), corner: 7 })).toThrow(/give one of A, B, C, D/);
  });
});

/**
 * The trials of a corner between a few solved ones: polynomials through them, in the hand and in the spread. Fits
 * then cost nothing, and what is drawn and what is fitted are one function, so only the statistics are on trial.
 */
function smoothCorner(): Pick<TrialCorner, 'worked' | 'sheet'> {
  const count = LONG ? 6 : 3;
  const hands = Array.from(
    { length: count },
    (_, k) => 0.48 - 0.47 * Math.cos((Math.PI * (2 * k + 1)) / (2 * count)),
  );
  const spreads = [0, 4, 8];
  const solved = hands.map((hand) => spreads.map((spread) => corner.worked(hand, spread)));
  const weight = (nodes: readonly number[], k: number, at: number): number =>
    nodes.reduce((product, node, i) => (i === k ? product : (product * (at - node)) / (nodes[k]! - node)), 1);
  const through = (read: (trial: Trial) => number): ((hand: number, spread: number) => number) => {
    const values = solved.map((row) => row.map(read));
    return (hand, spread) =>
      hands.reduce(
        (sum, _, i) =>
          sum +
          weight(hands, i, hand) *
            spreads.reduce((inner, __, k) => inner + weight(spreads, k, spread) * values[i]![k]!, 0),
        0,
      );
  };
  const [middle, start, end] = (['middle', 'start', 'end'] as const).map((place) =>
    through((trial) => trial.rimHeight(place)),
  );
  const thickness = through((trial) => trial.rimThickness());
  return {
    sheet: corner.sheet,
    worked: (hand, spread) => ({
      rimHeight: (place) => ({ middle, start, end })[place]!(hand, spread),
      rimThickness: () => thickness(hand, spread),
      markDistance: () => Number.NaN,
    }),
  };
}

/** Evenly spread numbers from 0 to 1, the same every time (mulberry32). */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

describe('the interval of 95 %', () => {
  const smooth = smoothCorner();
  const trials = LONG ? 2000 : 100;
  // Of 2,000 the share is known to 0.5 %, of 100 to 2.2 %: three standard errors, and 2 % for what is not straight.
  const [least, most] = trials === 2000 ? [0.93, 0.97] : [0.86, 1];

  it.each([
    ['the heights and the thickness, with spread', true],
    ['one height, without', false],
  ] as const)(
    'holds the truth as often as it says, from %s',
    (_, all) => {
      const next = random(all ? 7 : 11);
      const normal = (): number => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
      let held = 0;
      let spreadHeld = 0;
      let spreads = 0;
      for (let trial = 0; trial < trials; trial++) {
        const hand = 0.25 + 0.5 * next();
        const spread = all ? 2 + 4 * next() : 0;
        const truth = smooth.worked(hand, spread);
        const height = (place: 'middle' | 'start' | 'end'): number =>
          truth.rimHeight(place) + 0.15 * normal();
        const measurements: Measurements = all
          ? {
              corner: 0,
              rimHeight: {
                middle: height('middle'),
                start: height('start'),
                end: height('end'),
                error: 0.15,
              },
              rimThickness: { middle: truth.rimThickness() + 0.01 * normal(), error: 0.01 },
            }
          : { corner: 0, rimHeight: { middle: height('middle'), error: 0.15 } };
        const fit = fitTrial(spec, smooth, measurements);
        if (fit.hand.low <= hand && hand <= fit.hand.high) held++;
        // No wider than the measuring errors allow: the inverse of Fisher's information at the truth.
        const d = 1e-4;
        const rows = (
          all
            ? [
                ...(['middle', 'start', 'end'] as const).map(
                  (place) => [(of: Trial) => of.rimHeight(place), 0.15] as const,
                ),
                [(of: Trial) => of.rimThickness(), 0.01] as const,
              ]
            : [[(of: Trial) => of.rimHeight('middle'), 0.15] as const]
        ).map(([read, error]) => {
          const here = read(truth);
          return [
            (read(smooth.worked(hand + d, spread)) - here) / d / error,
            (read(smooth.worked(hand, spread + d)) - here) / d / error,
          ] as const;
        });
        const [a, b, c] = [
          rows.reduce((sum, [x]) => sum + x * x, 0),
          rows.reduce((sum, [x, y]) => sum + x * y, 0),
          rows.reduce((sum, [, y]) => sum + y * y, 0),
        ];
        const allowed = fit.spread === null ? 1 / Math.sqrt(a) : Math.sqrt(c / (a * c - b * b));
        expect(fit.hand.error).toBeLessThanOrEqual(1.5 * allowed);
        if (fit.spread === null) continue;
        spreads++;
        if (fit.spread.low <= spread && spread <= fit.spread.high) spreadHeld++;
      }
      expect(spreads).toBe(all ? trials : 0);
      expect(held / trials).toBeGreaterThanOrEqual(least);
      expect(held / trials).toBeLessThanOrEqual(most);
      if (all) {
        expect(spreadHeld / trials).toBeGreaterThanOrEqual(least);
        expect(spreadHeld / trials).toBeLessThanOrEqual(most);
      }
    },
    120_000,
  );
});

describe('what is said', () => {
  it('compares with the hand of the blank, and names what would tell most next', () => {
    const own = ownHand(findSheet('DC04'));
    const of = (hand: number): string => {
      const fit = fitted({
        ...heights(corner.worked(hand, 0)),
        rimHeight: { middle: corner.worked(hand, 0).rimHeight('middle'), error: 0.05 },
      });
      return sentences(fit.sentences, english).join(' ');
    };
    expect(of(0.3)).toMatch(/^You shrink more than the blank was cut for: about 30 % of the gather goes up/);
    expect(of(0.9)).toMatch(/^You stretch more than the blank was cut for: about 90 %/);
    expect(of(own)).toMatch(/you work as the blank was cut for/);
    expect(of(0.3)).toMatch(/What would tell most next is the (height|thickness)/);
    const trial = corner.worked(0.4, 0);
    const fit = fitted(heights(trial));
    const { next } = fit;
    if (next === null) throw new Error('there is more to measure');
    // Measured too, as well as a micrometer does, it leaves the error that was foretold.
    const more: Measurements =
      next.what === 'rimThickness.middle'
        ? { ...heights(trial), rimThickness: { middle: trial.rimThickness(), error: 0.02 } }
        : {
            corner: 0,
            rimHeight: {
              middle: trial.rimHeight('middle'),
              [next.what.slice(10)]: trial.rimHeight(next.what.slice(10) as 'start'),
              error: 0.3,
            },
          };
    closeTo(
      fitTrial({ ...spec, forming: { ...spec.forming, spread: 0 } }, corner, more).hand.error,
      next.error,
      { why: 'difference quotients', relative: 0.02 },
      'error',
    );
  });
});

describe('measured outside', () => {
  it('from the table: a sheet more than the inside of a tray measured inside', () => {
    const inside = new TrialCorner({ ...spec, measured: 'inside' }, 0).worked(0.4, 0);
    closeTo(
      inside.rimHeight('middle', 'table') - inside.rimHeight('middle'),
      spec.sheet.thickness,
      { why: 'rounding', absolute: 1e-9 },
      'table',
    );
    expect(corner.worked(0.4, 0).rimHeight('start', 'table')).toBe(corner.worked(0.4, 0).rimHeight('start'));
  });

  it('marks stand further apart than in the middle of the metal, by the angle of the wall they go round', () => {
    const trial = corner.worked(0.4, 0);
    const pair = { direction: 'along', inset: 6, before: 20 } as const;
    const [out, middle, inner] = (['outside', 'middle', 'inside'] as const).map((skin) =>
      trial.markDistance({ ...pair, skin }),
    ) as [number, number, number];
    // Round the wall of the corner the middle has a radius of 29.5 mm, and the rim is thicker than a millimetre.
    const thickness = trial.rimThickness();
    expect(out - middle).toBeGreaterThan((0.5 * middle) / 30);
    expect(out - middle).toBeLessThan((0.5 * thickness * middle) / 29.3);
    closeTo(out - middle, middle - inner, { why: 'thickness varies along', absolute: 0.02 }, 'both sides');
  });
});

describe('the measurements file', () => {
  it('may be in inches, and is in mm once read', () => {
    const read = readMeasurements({
      units: 'in',
      rimHeight: { from: 'table', middle: 1.5 },
      rimThickness: { middle: 0.04 },
    });
    expect(read.rimHeight!.from).toBe('table');
    closeTo(read.rimHeight!.middle!, 38.1, { why: 'rounding', absolute: 1e-9 }, 'height');
    closeTo(read.rimHeight!.error, 0.3, { why: 'rounding', absolute: 1e-9 }, 'error');
    closeTo(read.rimThickness!.middle, 1.016, { why: 'rounding', absolute: 1e-9 }, 'thickness');
    expect(() => readMeasurements({ units: 'in', rimThickness: { middle: 30 } })).toThrow(/ in$|in\./);
  });

  it('has a JSON Schema that takes the sample, which is read', () => {
    const valid = new Ajv2020({ strict: true, strictTypes: false }).compile(measurementsJsonSchema());
    const text = readFileSync(new URL('../../samples/trial/seed-bench-corner.json', import.meta.url), 'utf8');
    expect(valid(JSON.parse(text))).toBe(true);
    expect(valid({ rimHeight: { middle: 'high' } })).toBe(false);
    expect(valid({ units: 'in', rimThickness: { middle: 9 } })).toBe(false);
    expect(readMeasurements(JSON.parse(text)).corner).toBe('A');
  });

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
