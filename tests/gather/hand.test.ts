import { describe, expect, it } from 'vitest';
import {
  clampHand,
  growthOf,
  HIGHEST_HAND,
  LOWEST_HAND,
  ownHand,
  workedMaterial,
} from '../../src/gather/hand.ts';
import type { TrimBand } from '../../src/gather/report.ts';
import { solveSpec } from '../../src/gather/solvedTray.ts';
import { BAND_SOLVE, farthest, resolvedTrim, trimBand, trimWarnings } from '../../src/gather/trimBand.ts';
import { distanceToPath, pathArea } from '../../src/geometry/measure.ts';
import { meanLankford } from '../../src/material/law.ts';
import type { CustomMaterial } from '../../src/material/sheetSpec.ts';
import { findSheet, resolveSheet } from '../../src/material/sheets.ts';
import { StartCache } from '../../src/solve/startCache.ts';
import { DEFAULTS } from '../../src/tray/limits.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { neutralBottomRadius } from '../../src/tray/section.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { closeTo, ROUNDING, type Tolerance } from '../support/closeTo.ts';
import { lankfordAt } from '../support/hill.ts';
import { integrate } from '../support/integrator.ts';
import { solved } from '../support/solved.ts';
import { rectangle } from '../support/trays.ts';
import { benchTray, EVEN_SHEET, roundTraySpec } from './benchTrays.ts';

const QUADRATURE: Tolerance = { why: 'two quadratures', relative: 1e-7 };

/** ∫ sin^h φ dφ from 0, by Simpson's rule in a variable that tames the start: φ = x². */
function sineIntegral(h: number, angle: number): number {
  const n = 20_000;
  const f = (x: number): number => (x === 0 ? 0 : Math.sin(x * x) ** h * 2 * x);
  const step = Math.sqrt(angle) / n;
  let sum = f(0) + f(Math.sqrt(angle));
  for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * f(i * step);
  return (sum * step) / 3;
}

describe('the hand as a share of the law', () => {
  it('is r/(1+r) of the flow rule of a uniaxial pull, and keeps the ratios of r (Hill 1948)', () => {
    for (const material of [findSheet('DC04'), findSheet('1050A-O'), findSheet('CuZn37')]) {
      for (const hand of [0.1, 0.5, 0.9]) {
        const worked = workedMaterial(material, hand);
        closeTo(ownHand(worked), hand, ROUNDING, 'mean share');
        closeTo(worked.r45 / worked.r0, material.r45 / material.r0, ROUNDING, 'ratio at 45 degrees');
        closeTo(worked.r90 / worked.r0, material.r90 / material.r0, ROUNDING, 'ratio across');
        const mean =
          (lankfordAt(worked, 0) + 2 * lankfordAt(worked, Math.PI / 4) + lankfordAt(worked, Math.PI / 2)) / 4;
        closeTo(mean / (1 + mean), hand, { why: 'rounding', relative: 1e-9 }, 'share of the flow rule');
      }
      expect(workedMaterial(material, undefined)).toBe(material);
    }
  });

  it('is held within what the law takes', () => {
    expect(clampHand(0)).toBe(LOWEST_HAND);
    expect(clampHand(1)).toBe(HIGHEST_HAND);
    expect(meanLankford(workedMaterial(EVEN_SHEET, 1))).toBeCloseTo(24, 9);
  });

  /**
   * A spherical corner of radius r whose sides are cut free: every ring is in uniaxial compression, so
   * ε_m = −h ε_θ, that is ds/dρ = (ρ / (r sin φ))^h, whose integral is ρ^(1+h) = (1+h) r^(1+h) ∫ sin^h φ dφ.
   * At h = 0 that is the azimuthal equidistant projection, at h = 1 Lambert's equal-area one (J. P. Snyder, Map
   * Projections: A Working Manual, USGS Professional Paper 1395, 1987, eqs 24-1 and 25).
   */
  it('gives the closed form of a spherical corner with its sides cut free', () => {
    const radius = 25;
    for (const hand of [0.05, 0.3, 0.5, 0.8, 0.95]) {
      const { r0 } = workedMaterial(EVEN_SHEET, hand);
      const share = lankfordAt({ ...EVEN_SHEET, r0, r45: r0, r90: r0 }, 0.3);
      const h = share / (1 + share);
      for (const angle of [0.5, Math.PI / 2]) {
        const closed = ((1 + hand) * radius ** (1 + hand) * sineIntegral(hand, angle)) ** (1 / (1 + hand));
        // dρ/dφ = r (r sin φ / ρ)^h, from a short arc on which the sphere is flat.
        const from = 1e-4;
        const state = integrate(
          (phi, [rho]) => [radius * ((radius * Math.sin(phi)) / rho!) ** h],
          from,
          angle,
          [radius * from],
        );
        closeTo(state![0]!, closed, QUADRATURE, `flat radius for the hand ${hand}`);
        const [equalArea, equidistant] = [2 * radius * Math.sin(angle / 2), radius * angle];
        expect(closed).toBeGreaterThan(equalArea);
        expect(closed).toBeLessThan(equidistant);
      }
    }
  });

  /**
   * The straight wall of a round tray carries no pull up the wall, so each of its rings is uniaxial whatever n and
   * K are: (R/rw)^(1+h) grows by (1+h)·height/rw (derived; with r = h/(1−h) the exponent 1+h is (1+2r)/(1+r)).
   */
  it.each([0.1, 0.35, 0.5, 0.8])('moves the rim of a round tray by the closed form, hand %d', (hand) => {
    const bare = roundTraySpec(120, 20, 45);
    const spec = { ...bare, forming: { ...bare.forming, hand } };
    const { solution } = solveSpec(spec, { accuracy: 0.01, minimumRefinements: 2 });
    const { mesh, flat } = solution;
    const mean = (nodes: Iterable<number>): number => {
      const list = [...nodes];
      return (
        list.reduce((sum, node) => sum + Math.hypot(flat[2 * node]!, flat[2 * node + 1]!), 0) / list.length
      );
    };
    const bendEnd = mean(mesh.sectionLines.find(({ row }) => row === 1)!.nodes);
    const rim = mean(mesh.rim);
    const wall = 60 - 20 + neutralBottomRadius(spec);
    const power = 1 + hand;
    const expected = wall * ((bendEnd / wall) ** power + (power * 25) / wall) ** (1 / power);
    closeTo(rim, expected, { why: 'mesh', relative: 3e-4 }, 'flat rim radius');
  });
});

describe('spread', () => {
  it('is half the logarithm of the area gained, in either direction', () => {
    closeTo(Math.exp(2 * growthOf(8)), 1.08, ROUNDING, 'area');
    expect(growthOf(0)).toBe(0);
  });

  /**
   * The wall of a long side grows by g both ways, but along the side it hangs on a base that does not: there it is
   * pressed back by g, and sends the share r/(1+r) of that up the wall (r along the side). So it gets longer by
   * g·(1 + r/(1+r)), and thinner by the same, as its length along the side stays (volume kept).
   */
  it('makes the blank smaller and the straight side thinner by just that', () => {
    const none = solved(benchTray());
    const some = solved(benchTray({ forming: { spread: 8 } }));
    const { r0 } = none.sheet.material;
    const longer = Math.exp(growthOf(8) * (1 + r0 / (1 + r0)));
    const reach: Tolerance = { why: 'corners reach the middle of a side a little', relative: 2e-3 };
    closeTo(none.report.developed.alongWidth! / some.report.developed.alongWidth!, longer, reach, 'length');
    const { formed, thicknessStrain, rimNodes } = some.field;
    const middle = rimNodes.reduce((best, node) =>
      formed[3 * node + 1]! > 0 && Math.abs(formed[3 * node]!) < Math.abs(formed[3 * best]!) ? node : best,
    );
    closeTo(Math.exp(-thicknessStrain[middle]!), longer, { ...reach, relative: 5e-3 }, 'thickness');
    expect(pathArea(some.rim)).toBeLessThan(pathArea(none.rim));
    expect(some.report.thickness.max).toBeLessThan(none.report.thickness.max);
  });
});

/** Of a sheet with r-values alone, as the bench tray's. */
const TOO_SMALL = 'pattern.trimTooSmallOpen';

/** How far out the rim may lie, by the hand and by strengths that are not known. */
const reachOf = ({ outwards, strengths }: TrimBand): number => outwards + (strengths?.outwards ?? 0);

describe('the trim band', () => {
  const spec = benchTray({ forming: { trim: 4 } });
  const band = trimBand(spec)!;

  it('covers the rim of every hand from 0.2 to 0.8', () => {
    expect(band.outwards).toBeGreaterThan(0);
    expect(band.inwards).toBeGreaterThan(0);
    const own = solved(spec).rim;
    for (const hand of [0.2, 0.35, 0.8]) {
      const other = solved(benchTray({ forming: { trim: 4, hand } })).rim;
      for (const vertex of other.vertices) {
        const off = distanceToPath(vertex, own);
        expect(off).toBeLessThan(Math.max(band.outwards, band.inwards) + 0.1);
      }
    }
    const reach = reachOf(band);
    expect(band.trim).toBeGreaterThanOrEqual(reach);
    expect(band.trim).toBeLessThan(Math.max(1, reach) + 0.5 + 1e-9);
  });

  it('is that of hands solved out, also where a base hardly holds its walls', () => {
    // The arms of a U with a lip move far for little force.
    const arms = [
      [0, 0],
      [510, 0],
      [510, 320],
      [342, 320],
      [342, 86],
      [170, 86],
      [170, 320],
      [0, 320],
    ] as const;
    const tray: TraySpec = readTray({
      name: 'two arms',
      plan: { vertices: arms.map(([x, y]) => ({ x, y, radius: y === 86 ? 56.25 : 37.5 })) },
      section: {
        bottomRadius: 25,
        height: 30,
        draft: 12,
        rim: { kind: 'lip', direction: 'out', bendRadius: 6, width: 20 },
      },
      sheet: { material: 'DC04', thickness: 1, grain: 90 },
      forming: { trim: 0 },
    });
    const solvedOut = { ...BAND_SOLVE, tolerance: 1e-9, starts: new StartCache() };
    const rim = (hand: number) =>
      solveSpec({ ...tray, forming: { ...tray.forming, hand } }, solvedOut).solution;
    const { hand, outwards, inwards, hands } = trimBand(tray)!;
    const own = rim(hand);
    const close = { why: 'residual and last step of the band', absolute: 0.02 };
    closeTo(outwards, farthest(own, rim(hands[0]), 1), close, 'outwards');
    closeTo(inwards, farthest(own, rim(hands[1]), -1), close, 'inwards');
  });

  it('is the trim of a tray whose file says "auto"', () => {
    const { spec: resolved, trimBand: found } = resolvedTrim({
      ...spec,
      forming: { ...spec.forming, autoTrim: true },
    });
    expect(found).toEqual(band);
    expect(resolved.forming).toEqual({ trim: band.trim });
    const pattern = solved({ ...spec, forming: { ...spec.forming, autoTrim: true } });
    expect(pattern.gather.trimBand).toEqual(band);
    expect(pattern.spec.forming.trim).toBe(band.trim);
  });

  it('warns where the trim does not cover it, and only there', () => {
    const tall = benchTray({
      plan: { length: 300, width: 200, cornerRadius: 60 },
      section: { bottomRadius: 20, height: 80 },
    });
    for (const own of [spec, tall]) {
      const wanted = trimBand(own)!.trim;
      for (const trim of [1, 2, 4, wanted, wanted + 1]) {
        const given = { ...own, forming: { trim } };
        const entries = trimWarnings(given, trimBand(given)).map(({ entry }) => entry);
        expect(entries).toEqual(trim < reachOf(trimBand(own)!) ? [TOO_SMALL] : []);
      }
    }
    expect(trimBand(tall)!.outwards).toBeGreaterThan(4);
    const { report } = solved({ ...tall, forming: { trim: 4 } });
    expect(report.warnings.map(({ entry }) => entry)).toContain(TOO_SMALL);
  });

  it('that has no solution is a note and no refusal', () => {
    const steep = benchTray({
      plan: { length: 300, width: 200, cornerRadius: 12 },
      section: { bottomRadius: 8, height: 60 },
      forming: { autoTrim: true },
    });
    expect(trimBand(steep)).toBeNull();
    const pattern = solved(steep);
    expect(pattern.spec.forming.trim).toBe(DEFAULTS.trim);
    expect(pattern.gather.trimBand).toBeNull();
    expect(pattern.report.warnings.map(({ entry }) => entry)).toContain('pattern.noTrimBand');
  });
});

describe('a sheet with strengths', () => {
  const strengths = { at45: 0.908, at90: 0.983, biaxial: 1, crystal: 'fcc' } as const;
  const tray = (hand?: number): TraySpec => {
    const spec = rectangle(120, 90, 20, { bottomRadius: 12, height: 14, thickness: 1 });
    const { name: _name, ...values } = findSheet('DC04');
    const { K, epsilon0, n, density, youngsModulus, yieldStrength, tensileStrength, uniformElongation } =
      values;
    const material: CustomMaterial = {
      ...{ K, epsilon0, n, density, youngsModulus, yieldStrength, tensileStrength, uniformElongation },
      ...{ name: 'AA6016-T4', r0: 0.526, r45: 0.253, r90: 0.601, strengths },
      family: 'aluminium',
    };
    const forming = hand === undefined ? spec.forming : { ...spec.forming, hand };
    return { ...spec, sheet: { ...spec.sheet, material }, forming };
  };
  const notesOf = (hand?: number): string => sentences(solved(tray(hand)).notes, english).join(' ');

  it('keeps its strengths, and its biaxial one goes along with Hosford’s', () => {
    const { material } = resolveSheet(tray().sheet);
    const worked = workedMaterial(material, 0.6);
    const [before, after] = [meanLankford(material), meanLankford(worked)];
    expect(after).toBeCloseTo(1.5, 9);
    expect(worked.strengths!.at45).toBe(0.908);
    expect(worked.strengths!.biaxial! ** 8).toBeCloseTo((1 + after) / (1 + before), 9);
  });

  it('is told where no law has its strengths with the hand’s r-values, and only there', () => {
    expect(notesOf()).not.toContain('No law');
    expect(notesOf(0.2)).toMatch(
      /No law has both the strengths of AA6016-T4 by direction and the r-values of a hand of 0\.20: the blank is solved with \d\d % of/,
    );
  });
});
