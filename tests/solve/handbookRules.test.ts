/** Published rules for the blanks of drawn boxes and cups, and where a gathered tray leaves them. */
import { describe, expect, test } from 'vitest';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { closeTo, printed } from '../support/closeTo.ts';
import { boxTray, DEEP_BOXES, partArea, solvedBox, tschaetsch, tschaetschArea } from '../support/drawnBox.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';
import { planarIsotropic, solveSpec, trayWithPlan } from '../support/trays.ts';

describe('rule of Tschätsch for rectangular drawn boxes', () => {
  // Worked by hand from the printed formulas.
  const worked = [
    { R: 31.752, x: 1.1685, R1: 37.103, Ha: 52.085, Hb: 48.47, area: 19711.5 },
    { R: 44.904, x: 1.0753, R1: 48.284, Ha: 58.928, Hb: 57.28, area: 31936.3 },
  ];
  test.each([0, 1])('is read right, row %d', (row) => {
    const found = tschaetsch(DEEP_BOXES[row]!);
    const { area, ...lengths } = worked[row]!;
    for (const key of ['R', 'R1', 'Ha', 'Hb'] as const) {
      closeTo(found[key], lengths[key], { why: 'the check asked for', absolute: 0.01 }, key);
    }
    closeTo(found.x, lengths.x, printed(4), 'x');
    closeTo(partArea(DEEP_BOXES[row]!), area, printed(1), 'area of the part');
    closeTo(
      tschaetschArea(DEEP_BOXES[row]!) / area,
      1,
      { why: 'it is an equal-area rule', absolute: 0.0016 },
      'area ratio',
    );
  });

  // The rule assumes that a drawn box keeps its thickness. So does the law for a very large r.
  test.each(DEEP_BOXES)(
    'a sheet that keeps its thickness agrees with it: r $r, h $h, sides $a × $b',
    (box) => {
      const rule = tschaetsch(box);
      const ours = solvedBox(box, solveSpec(boxTray(box), planarIsotropic(50, 0.4)));
      closeTo(
        ours.area,
        tschaetschArea(box),
        { why: 'both equal-area', relative: 0.005 },
        'area of the blank',
      );
      closeTo(ours.corner, rule.R1, { why: 'an outline of arcs and steps', relative: 0.05 }, 'corner');
      closeTo(ours.Ha, rule.Ha, { why: 'the steps', relative: 0.05 }, 'side over a');
      closeTo(ours.Hb, rule.Hb, { why: 'the steps', relative: 0.05 }, 'side over b');
    },
  );

  // Real sheet, gathered: corners thicken, so their blank is larger; by volume the blank's excess over the part
  // is the mean thickening. Long sides dilute it, and then the areas agree within 3 %.
  test.each([
    { r: 20, h: 30, a: 260, b: 160 },
    { r: 22, h: 38, a: 376, b: 236 },
    { r: 20, h: 20, a: 260, b: 160 },
    { r: 10, h: 20, a: 100, b: 80 },
  ])('a tray of real sheet has its area within 3 %: r $r, h $h, sides $a × $b', (box) => {
    const rule = tschaetsch(box);
    for (const [r, n] of [
      [1, 0.2],
      [1.8, 0.22],
    ] as const) {
      const ours = solvedBox(box, solveSpec(boxTray(box), planarIsotropic(r, n)));
      closeTo(
        ours.area,
        tschaetschArea(box),
        { why: 'mean thickening of the part', relative: 0.03 },
        'area of the blank',
      );
      // Larger than the rule at the corner by 5 to 12 %, at the sides by at most 1.6 mm (the unrolled length,
      // from which the rule takes away what it adds at the corner).
      expect(ours.corner / rule.R1 - 1).toBeGreaterThan(0.05);
      expect(ours.corner / rule.R1 - 1).toBeLessThan(0.12);
      for (const key of ['Ha', 'Hb'] as const) {
        expect(ours[key]).toBeGreaterThan(rule[key]);
        expect(ours[key] - rule[key]).toBeLessThan(1.6);
        expect(ours[key]).toBeLessThan(box.h + (Math.PI / 2) * box.r + 0.02);
      }
    }
  });

  test('a deep box with short sides thickens by 4 to 11 % on the mean, and its blank is larger by that', () => {
    const thickening = DEEP_BOXES.map((box) => {
      // A mean is known much sooner than the outline: 0.1 mm of rim is less than 0.001 of it.
      const ours = solvedBox(box, solveSpec(boxTray(box), planarIsotropic(1, 0.2), { accuracy: 0.1 }));
      return ours.area / partArea(box) - 1;
    });
    expect(thickening[0]!).toBeGreaterThan(0.09);
    expect(thickening[0]!).toBeLessThan(0.13);
    expect(thickening[1]!).toBeGreaterThan(0.05);
    expect(thickening[1]!).toBeLessThan(0.07);
  });
});

/** A tray of 0.5 mm sheet with these sizes on its neutral surface (the fibre in the middle, DIN 6935). */
function onNeutralSurface(plan: (less: number) => TraySpec['plan'], H: number, r: number): TraySpec {
  const half = 0.25;
  return trayWithPlan(plan(half), { bottomRadius: r - half, height: H - half, thickness: 2 * half });
}

describe('equal-area corner radius', () => {
  // R² = Rc² + 2·Rc·H − (4 − π)·r·Rc − (π − 3)·r², exact by Pappus and Guldin; handbooks round it to
  // √(Rc² + 2·Rc·H − 0.86·r·(Rc + 0.16·r)) (Romanovski; Suchy; from memory).
  test.each([
    [20, 30, 6, 38.625, 38.6244],
    [25, 20, 6, 38.6153, 38.6141],
    [30, 40, 10, 55.0302, 55.0294],
    [15, 25, 3, 30.5794, 30.5788],
  ] as const)('plan radius %d, height %d, bottom radius %d: %d', (Rc, H, r, exact, rounded) => {
    closeTo(
      Math.sqrt(Rc * Rc + 2 * Rc * H - 0.86 * r * (Rc + 0.16 * r)),
      rounded,
      printed(4),
      'handbook form',
    );
    const { report } = flatPatternOf(
      developTray(
        onNeutralSurface((less) => ({ length: 300, width: 250, cornerRadius: Rc - less }), H, r),
        OUTLINE_ONLY,
      ),
    );
    closeTo(
      report.bounds.equalAreaCornerRadius!,
      exact,
      { why: 'four decimals', absolute: 1e-4 },
      'reported',
    );
    closeTo(
      report.bounds.equalAreaCornerRadius!,
      rounded,
      { why: 'rounded handbook form', absolute: 0.01 },
      'reported',
    );
    closeTo(
      report.bounds.arcLengthCornerRadius!,
      Rc - r + (Math.PI / 2) * r + (H - r),
      { why: 'rounding', absolute: 1e-6 },
      'arc-length radius reported',
    );
  });

  // Round cups: D² = d² + 4dH − (8 − 2π)·r·d − (4π − 12)·r² exactly; Machinery's Handbook and Lange print
  // 1.72·r·d and 0.56·r² (from memory).
  test.each([
    [50, 20, 6],
    [120, 40, 20],
  ] as const)('cup of %d, height %d, bottom radius %d', (d, H, r) => {
    const exact = Math.sqrt(d * d + 4 * d * H - (8 - 2 * Math.PI) * r * d - (4 * Math.PI - 12) * r * r);
    const handbook = Math.sqrt(d * d + 4 * d * H - 1.72 * r * d - 0.56 * r * r);
    const { report } = flatPatternOf(
      developTray(
        onNeutralSurface(
          (less) => ({ length: d - 2 * less, width: d - 2 * less, cornerRadius: d / 2 - less }),
          H,
          r,
        ),
        OUTLINE_ONLY,
      ),
    );
    closeTo(
      2 * report.bounds.equalAreaCornerRadius!,
      exact,
      { why: 'rounding', absolute: 1e-6 },
      'blank diameter',
    );
    closeTo(exact, handbook, { why: 'rounded coefficients', relative: 2e-4 }, 'handbook coefficients');
  });

  test('the plain rule √(d² + 4dh): 25 × 15 gives 46.1', () => {
    closeTo(
      Math.sqrt(25 ** 2 + 4 * 25 * 15),
      46.1,
      printed(1),
      'blank diameter (common examination question)',
    );
  });
});
