import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { annealPlan } from '../../src/gather/anneals.ts';
import type { Reason } from '../../src/gather/report.ts';
import { slicePath } from '../../src/gather/slicePath.ts';
import { shareOf } from '../../src/gather/tucks.ts';
import { peaksOf, type Strains, unevenStretch, verdictOf } from '../../src/gather/verdict.ts';
import { Locator } from '../../src/geometry/locate.ts';
import { containsPoint, distanceToPath, pathLength, pointAlong } from '../../src/geometry/measure.ts';
import { edgeBuckling, naturalWaves } from '../../src/material/neckingAndBuckling.ts';
import { findSheet, listSheets } from '../../src/material/sheets.ts';
import { annealCount, annealsNeeded, temperFor } from '../../src/material/temper.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { english } from '../../src/words/english.ts';
import { written } from '../../src/words/statement.ts';
import { closeTo, printed, ROUNDING } from '../support/closeTo.ts';
import { solved } from '../support/solved.ts';
import { benchTray } from './benchTrays.ts';
import { changedBy, searchChangesOf } from './changesOf.ts';

/** Wide corners and a low wall. */
const LOW = benchTray({
  plan: { length: 320, width: 240, cornerRadius: 60 },
  section: { height: 20 },
  forming: { trim: 0 },
});
/** It has to be annealed once before it is worked. */
const LOW_HARD = { ...LOW, sheet: { ...LOW.sheet, material: '1050A-H14' } };
const NEARLY = benchTray({
  plan: { length: 320, width: 240, cornerRadius: 60 },
  section: { height: 25 },
});

const sheetOf = (name: string, thickness: number) => ({ material: findSheet(name), thickness, grain: 0 });

/** Strains at one spot. */
const spot = (major: number, minor: number): Strains => ({
  major: [major],
  minor: [minor],
  thickness: [-major - minor],
  equivalent: [Math.hypot(major, minor)],
});

const about = (reasons: readonly Reason[], what: Reason['about']) =>
  reasons.find((reason) => reason.about === what)!;

describe('stretch against the forming limit', () => {
  // Keeler and Brazier (1977): FLD0 = (23.3 + 14.13 t) n/0.21, n at most 0.21; 37.43 % at 1 mm.
  it('of steel is FLD0 in plane strain', () => {
    const sheet = sheetOf('DC04', 1);
    const verdict = (percent: number) =>
      verdictOf(peaksOf(spot(Math.log1p(percent / 100), 0), sheet), sheet, 40);
    const reason = about(verdict(37.4).reasons, 'stretch');
    closeTo(reason.limit!, 37.43, printed(2), 'limit');
    closeTo(reason.value!, 37.4, ROUNDING, 'stretch');
    expect(reason.weight).toBe('care');
    expect(about(verdict(37.5).reasons, 'stretch').weight).toBe('refuse');
    expect(verdict(37.5).word).toBe('not in one piece');
    expect(about(verdict(20).reasons, 'stretch').weight).toBe('good');
  });

  it('holds for no sheet where the metal gets thicker, and is not quoted there', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('DC01', 'DC04', 'DX51D+Z', '1.4301', '1050A-O', 'CuZn37-R300'),
        fc.double({ min: 0.01, max: 0.5, noNaN: true }),
        fc.double({ min: 0.05, max: 0.99, noNaN: true }),
        (name, shrink, share) => {
          const sheet = sheetOf(name, 1);
          const thickens = spot(share * shrink, -shrink);
          const peaks = peaksOf(thickens, sheet);
          expect([peaks.stretchRatio, peaks.stretch]).toEqual([0, 0]);
          expect(unevenStretch(thickens, sheet.material, peaks.work)).toBeNull();
          const { sentence, weight } = about(verdictOf(peaks, sheet, 40).reasons, 'stretch');
          expect(weight).toBe('good');
          expect(written(sentence, english)).not.toMatch(/%|neck|evenly/);
          // The same stretch is held against the limit where the metal thins.
          expect(peaksOf(spot(share * shrink, 0), sheet).stretchRatio).toBeGreaterThan(0);
        },
      ),
      { seed: 20, numRuns: 300 },
    );
  });

  it('is warned of by the uniform elongation of the sheet itself', () => {
    for (const { name } of [...listSheets()].filter(({ anneal }) => anneal.soft === undefined)) {
      const { material } = sheetOf(name, 1);
      const at = (share: number) =>
        unevenStretch(spot(share * Math.log1p(material.uniformElongation / 100), 0), material, 0);
      expect(at(0.99), name).toBeNull();
      const found = at(1.01)!;
      closeTo(100 * Math.expm1(found.limit), material.uniformElongation, ROUNDING, name);
    }
  });

  it('of other sheets is the uniform elongation where they get thinner', () => {
    const sheet = sheetOf('1050A-O', 1.5);
    const limit = sheet.material.uniformElongation;
    const verdict = verdictOf(peaksOf(spot(Math.log1p(1.01 * (limit / 100)), 0), sheet), sheet, 40);
    expect(written(about(verdict.reasons, 'stretch').sentence, english)).toContain(
      'no forming limit was found',
    );
    expect(verdict.word).toBe('not in one piece');
    expect(peaksOf(spot(0.3, -0.4), sheet).stretchRatio).toBe(0);
  });
});

describe('strain against the anneals', () => {
  it('counts the anneals in between', () => {
    expect([0.1, 0.2, 0.21, 0.4, 0.41].map((strain) => annealCount(strain, 0.2))).toEqual([0, 0, 1, 1, 2]);
  });

  it('needs care with an anneal, and refuses too many', () => {
    const hard = sheetOf('1050A-H14', 1.5);
    const word = (name: ReturnType<typeof sheetOf>, strain: number) =>
      about(
        verdictOf({ ...peaksOf(spot(0, 0), name), work: strain }, name, 40).reasons,
        'strain between anneals',
      );
    const soft = sheetOf('1050A-O', 1.5);
    expect(word(soft, 0.2).weight).toBe('good');
    expect(word(soft, 0.3).weight).toBe('care');
    expect(word(hard, 0.03).weight).toBe('good');
    expect(word(hard, 0.3).weight).toBe('care');
    expect(word(hard, 1).weight).toBe('refuse');
  });

  it('anneals a hard sheet first, which then takes what the soft one does', () => {
    const hard = sheetOf('1050A-H14', 1.5);
    const { anneal } = hard.material;
    const { strainBudget: soft } = findSheet('1050A-O').anneal;
    closeTo(anneal.soft!.strainBudget, soft, ROUNDING, 'budget once annealed');
    expect(anneal.soft!.uniformElongation).toBe(findSheet('1050A-O').uniformElongation);
    for (const [strain, counts] of [
      [0.9 * anneal.strainBudget, 0],
      [1.1 * anneal.strainBudget, 1],
      [0.99 * soft, 1],
      [1.01 * soft, 2],
      [2.01 * soft, 3],
    ] as const) {
      expect(annealsNeeded(hard.material, strain), String(strain)).toBe(counts);
      const peaks = { ...peaksOf(spot(0, 0), hard), work: strain };
      const { sentence } = about(verdictOf(peaks, hard, 40).reasons, 'strain between anneals');
      const text = written(sentence, english);
      expect(/before the first stage/.test(text)).toBe(counts > 0);
      const percent = (budget: number): string => `${((100 * strain) / budget).toFixed(0)} %`;
      if (counts > 0) {
        expect(text).toMatch(/^1050A-H14 is sold hard: /);
        expect(text).toContain(`uses up ${percent(anneal.strainBudget)} of`);
        expect(text).toContain(`and ${percent(soft)} of what it takes once annealed`);
      }
      // The plan says the same.
      const plan = annealPlan([], [90], strain, hard.material, temperFor(hard.material, strain));
      expect(plan.steps).toHaveLength(Math.min(counts, 1));
      if (counts > 0) {
        expect(plan.steps[0]).toMatchObject({ stage: 0, when: 'before', angle: 0, strain: 0 });
        expect(written(plan.sentences[0]!, english)).toMatch(/before stage 1/);
        expect(written(plan.sentences.at(-1)!, english)).toContain('1050A-O takes');
        closeTo(plan.budget, soft, ROUNDING, 'budget of the plan');
      }
    }
  });

  it('says what to do instead for a sheet that must not be heated', () => {
    const sheet = sheetOf('DX51D+Z', 1);
    const { strainBudget, instead } = sheet.material.anneal;
    for (const [times, weight] of [
      [0.9, 'good'],
      [2.9, 'care'],
      [3.1, 'refuse'],
    ] as const) {
      const peaks = { ...peaksOf(spot(0, 0), sheet), work: times * strainBudget };
      const reason = about(verdictOf(peaks, sheet, 40).reasons, 'strain between anneals');
      expect(reason.weight).toBe(weight);
      if (weight !== 'good') expect(written(reason.sentence, english)).toContain(written(instead!, english));
    }
  });
});

describe('the verdict of a tray', () => {
  it('holds every number against its limit, the weightiest first, in sentences', () => {
    const { verdict } = solved(benchTray()).gather;
    const order = ['refuse', 'care', 'good', 'note'];
    const weights = verdict.reasons.map(({ weight }) => order.indexOf(weight));
    expect(weights).toEqual([...weights].sort((a, b) => a - b));
    expect(new Set(verdict.reasons.map((reason) => reason.about)).size).toBe(6);
    for (const { sentence } of verdict.reasons)
      expect(written(sentence, english)).toMatch(/^(\* )?[A-Z].*\.$/s);
  });

  it('never says that a free corner stays flat: it puckers (Timoshenko and Gere)', () => {
    const buckling = about(solved(benchTray()).gather.verdict.reasons, 'buckling');
    expect(buckling.value).toBeGreaterThan(50 * buckling.limit!);
    expect(written(buckling.sentence, english)).toContain('tucks');
    expect(written(buckling.sentence, english)).toContain('before the sheet yields');
  });

  it('is worse for a hard sheet and better for a low wall', () => {
    const word = (spec: ReturnType<typeof benchTray>) => solved(spec).gather.verdict.word;
    expect(word(LOW_HARD)).toBe('can be worked with care');
    expect(word(benchTray())).toBe('can be worked with care');
    expect(word(LOW)).toBe('can be worked');
  });
});

describe('what to change', () => {
  it.each([
    ['a half-hard sheet', LOW_HARD],
    ['a deep galvanised tray', benchTray({ section: { height: 60 }, sheet: { material: 'DX51D+Z' } })],
    ['a tray that needs an anneal', NEARLY],
  ])(
    'turns the verdict of %s, and nothing nearer does',
    (_, spec) => {
      const ranks = ['can be worked', 'can be worked with care', 'not in one piece'];
      const { changes, verdict } = searchChangesOf(spec);
      expect(verdict).toBe(flatPatternOf(developTray(spec)).gather.verdict.word);
      expect(changes.length).toBeGreaterThan(0);
      for (const change of changes) {
        const after = flatPatternOf(developTray(changedBy(spec, change, change.to))).gather;
        expect(after.verdict.word).toBe(change.verdict);
        expect(ranks.indexOf(change.verdict)).toBeLessThan(ranks.indexOf(verdict));
        if (typeof change.to !== 'number' || typeof change.from !== 'number') continue;
        // Half-way there the verdict is still the old one.
        const halfway = change.from + 0.5 * (change.to - change.from);
        const nearer = flatPatternOf(developTray(changedBy(spec, change, halfway))).gather.verdict.word;
        expect(nearer, change.about).toBe(verdict);
      }
    },
    300_000,
  );

  it('says which changes are no help by themselves', () => {
    const { changes, without } = searchChangesOf(benchTray());
    const all = [...changes.map((change) => change.about), ...without].sort();
    expect(all).toEqual(['bottom radius', 'corner radius', 'height', 'sheet', 'thickness']);
  });

  it('has nothing to say where the tray can be worked', () => {
    expect(searchChangesOf(LOW)).toEqual({
      verdict: 'can be worked',
      changes: [],
      without: [],
      cutShort: false,
    });
  });
});

describe('tucks', () => {
  const { gather, field, workedRim: rim, sheet, spec } = solved(benchTray());

  it('share out the rim to lose, at least one for each natural half-wave (Timoshenko and Gere; Stowell)', () => {
    expect(gather.tucks).toHaveLength(4);
    for (const { zone, count, at, takeUp, naturalWaves: waves } of gather.tucks) {
      const { flatLength, toLose } = gather.zones[zone]!.rim!;
      expect(at).toHaveLength(count);
      closeTo(count * takeUp, toLose, ROUNDING, 'take-up');
      expect(count).toBeGreaterThanOrEqual(waves);
      const width = 35 + spec.forming.trim - 15 + (Math.PI / 2) * 14.5;
      expect(waves).toBe(naturalWaves(flatLength, width, 'clamped', 0.5, sheet.material.n));
    }
  });

  it('stand where the metal is: between one and the next the rim loses what one takes up', () => {
    // Lengths by chords between places found in the solved field.
    const { flat, formed, triangles } = field;
    const locator = new Locator(flat, triangles);
    const formedAt = (x: number, y: number): Float64Array =>
      locator.interpolate(locator.find(x, y), formed, 3, new Float64Array(3));
    for (const { zone, at, takeUp } of gather.tucks) {
      const { begin, end } = gather.zones[zone]!.rim!;
      const piece = slicePath(rim, begin, end);
      expect(at[0]).toBeGreaterThan(0);
      expect(at.at(-1)).toBeLessThan(pathLength(piece));
      for (let k = 1; k < at.length; k++) {
        let lost = at[k]! - at[k - 1]!;
        const chords = 400;
        let before: Float64Array | null = null;
        for (let i = 0; i <= chords; i++) {
          const { x, y } = pointAlong(piece, at[k - 1]! + (i / chords) * (at[k]! - at[k - 1]!));
          const place = formedAt(x, y);
          if (before !== null)
            lost -= Math.hypot(place[0]! - before[0]!, place[1]! - before[1]!, place[2]! - before[2]!);
          before = place;
        }
        closeTo(lost, takeUp, { why: 'the outline is fitted within 0.02 mm', absolute: 0.15 }, `tuck ${k}`);
      }
      // The middle of a corner gathers most, so that they stand closest there.
      const apart = at.slice(1).map((along, i) => along - at[i]!);
      expect(Math.max(apart[0]!, apart.at(-1)!)).toBeGreaterThan(1.2 * Math.min(...apart));
    }
  });

  it('take up in a round what a pucker of 30° slope is longer than its chord', () => {
    // Length of w = A sin(πx/p) over p, by the midpoint rule, for πA/p = tan 30°.
    const slope = Math.tan(Math.PI / 6);
    const n = 2000;
    let length = 0;
    for (let i = 0; i < n; i++) length += Math.hypot(1, slope * Math.cos((Math.PI * (i + 0.5)) / n)) / n;
    const share = shareOf('tucks');
    closeTo(share, length - 1, { why: 'small-slope formula', relative: 0.09 }, 'share per round');
    for (const { zone, rounds } of gather.tucks) {
      const left = 1 - gather.zones[zone]!.peak.percent / 100;
      expect((1 - share) ** rounds).toBeLessThanOrEqual(left);
      expect((1 - share) ** (rounds - 1)).toBeGreaterThan(left);
    }
  });

  it('say what the edge between the closest two takes up of itself: far less than a round, so that the rest needs tucks', () => {
    const width = 35 + spec.forming.trim - 15 + (Math.PI / 2) * 14.5;
    for (const { zone, count, at, takeUp, rounds, edge } of gather.tucks) {
      const { flatLength } = gather.zones[zone]!.rim!;
      const gaps = at.slice(1).map((along, i) => along - at[i]!);
      closeTo(edge.apart, count === 1 ? flatLength : Math.min(...gaps), ROUNDING, 'run');
      const { strain, regime } = edgeBuckling(sheet.material, sheet.thickness / width, edge.apart / width);
      expect(edge.regime).toBe(regime);
      closeTo(Math.log(edge.apart / (edge.apart - edge.takeUp)), strain, ROUNDING, 'strain of the run');
      expect(edge.takeUp).toBeLessThan(takeUp / rounds / 10);
    }
  });

  it('of one alone tell of the run from mark to mark', () => {
    const corners = [
      { x: 0, y: 0, radius: 50 },
      { x: 500, y: 0, radius: 50 },
      { x: 500, y: 220, radius: 50 },
      { x: 250, y: 226, radius: 20 },
      { x: 0, y: 220, radius: 50 },
    ];
    const { tucks, zones } = solved(
      benchTray({ plan: { vertices: corners }, section: { bottomRadius: 10, height: 25 } }),
    ).gather;
    const blunt = tucks.find(({ zone }) => zones[zone]!.corners.includes(3))!;
    expect(blunt.count).toBe(1);
    closeTo(blunt.edge.apart, zones[blunt.zone]!.rim!.flatLength, ROUNDING, 'run');
  });

  it('are marked from the rim into their zone', () => {
    for (const { zone, marks } of gather.tucks) {
      for (const mark of marks) {
        expect(distanceToPath(mark.vertices[0]!, rim)).toBeLessThan(1e-6);
        expect(containsPoint(rim, mark.vertices[1]!)).toBe(true);
        closeTo(pathLength(mark), 0.6 * gather.zones[zone]!.depth, ROUNDING, 'length of the mark');
      }
    }
  });

  it('give way to closer rows of blows as deep as the zone, with waves half as steep, where it is worked so', () => {
    const { gather: blown } = solved(benchTray({ forming: { gathering: 'blows' } }));
    const share = shareOf('blows');
    for (const [i, { zone, way, count, takeUp, rounds, height, marks, depth }] of blown.tucks.entries()) {
      const { rim: own, peak, depth: deep } = blown.zones[zone]!;
      expect(way).toBe('blows');
      expect(count).toBeGreaterThan(gather.tucks[i]!.count);
      expect(own!.flatLength / count).toBeLessThanOrEqual(20);
      closeTo(count * takeUp, own!.toLose, ROUNDING, 'take-up');
      closeTo(depth, deep, ROUNDING, 'depth');
      for (const mark of marks) closeTo(pathLength(mark), deep, ROUNDING, 'length of the mark');
      const left = 1 - peak.percent / 100;
      expect((1 - share) ** rounds).toBeLessThanOrEqual(left);
      expect((1 - share) ** (rounds - 1)).toBeGreaterThan(left);
      // A sine of that height over the pitch begins at 15°, and takes up the share of its length.
      const pitch = own!.flatLength / count;
      closeTo((Math.PI * height) / pitch, Math.tan(Math.PI / 12), ROUNDING, 'slope');
      closeTo(((Math.PI * height) / pitch) ** 2 / 4, share, ROUNDING, 'share');
    }
  });
});
