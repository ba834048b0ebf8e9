/** What must hold for any tray: more room for the corner never makes it harder. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solveSpec } from '../../src/gather/solvedTray.ts';
import { peaksOf } from '../../src/gather/verdict.ts';
import { StructureCache } from '../../src/solve/solveTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { benchTray } from './benchTrays.ts';

const structures = new StructureCache(32);

/** Peaks from a quick solve, and flat distances of the rim. */
function quick(spec: TraySpec) {
  const solved = solveSpec(spec, { structures, minimumRefinements: 1, maximumRefinements: 1 });
  const { rim } = solved.solution.mesh;
  const { flat } = solved.solution;
  const reach = Math.max(...Array.from(rim, (node) => Math.hypot(flat[2 * node]!, flat[2 * node + 1]!)));
  return { ...peaksOf(solved.strains, solved.sheet), reach };
}

const tray = fc.record({
  radius: fc.integer({ min: 16, max: 60 }),
  bottom: fc.integer({ min: 5, max: 15 }),
  height: fc.integer({ min: 18, max: 45 }),
  hand: fc.integer({ min: 15, max: 80 }).map((value) => value / 100),
});

const specOf = ({
  radius,
  bottom,
  height,
  hand,
}: {
  radius: number;
  bottom: number;
  height: number;
  hand: number;
}) =>
  benchTray({
    plan: { length: 320, width: 240, cornerRadius: radius },
    section: { bottomRadius: bottom, height },
    forming: { hand },
  });

/** Coarse meshes of two sizes differ by their own errors: this much, in logarithmic strain. */
const MESH = 0.004;
const RUNS = { numRuns: 12, seed: 20_251 };

describe('monotony', () => {
  it('a larger plan radius never raises the peak gather', () => {
    fc.assert(
      fc.property(tray, fc.integer({ min: 5, max: 40 }), (given, more) => {
        const tight = quick(specOf(given));
        const wide = quick(specOf({ ...given, radius: given.radius + more }));
        expect(wide.shrink).toBeLessThan(tight.shrink + MESH);
        expect(wide.thickening).toBeLessThan(tight.thickening + MESH);
        expect(wide.work).toBeLessThan(tight.work + MESH);
      }),
      RUNS,
    );
  });

  it('a lower wall never raises it', () => {
    fc.assert(
      fc.property(tray, fc.integer({ min: 1, max: 12 }), (given, less) => {
        const height = Math.max(given.bottom + 1, given.height - less);
        expect(quick(specOf({ ...given, height })).shrink).toBeLessThan(quick(specOf(given)).shrink + MESH);
      }),
      RUNS,
    );
  });

  it('a hand that stretches more thickens less and needs a smaller blank', () => {
    fc.assert(
      fc.property(tray, fc.integer({ min: 3, max: 12 }), (given, more) => {
        const one = quick(specOf(given));
        const other = quick(specOf({ ...given, hand: given.hand + more / 100 }));
        expect(other.thickening).toBeLessThan(one.thickening);
        expect(other.reach).toBeLessThan(one.reach);
      }),
      RUNS,
    );
  });
});
