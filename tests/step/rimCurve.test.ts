/** The rim between two heights: splines on the wall's exact surface, about the neutral surface's rim. */
import { describe, expect, it } from 'vitest';
import type { Vector3 } from '../../src/geometry/vector3.ts';
import { neutralFactor } from '../../src/material/neutralFactor.ts';
import type { Spline } from '../../src/step/brep.ts';
import { pieceCount, rimCurve } from '../../src/step/rimCurve.ts';
import { formedSheet, pointsAt } from '../../src/step/strips.ts';
import { neutralSurface, PLACED_SIZE, placeOnWall } from '../../src/tray/neutralSurface.ts';
import { insideBottomRadius } from '../../src/tray/section.ts';
import { tray } from './trays.ts';

/** De Boor's recurrence (de Boor, A Practical Guide to Splines, 1978), degree 5, inner knots three times. */
function at({ poles, breaks }: Spline, u: number): Vector3 {
  const knots = breaks.flatMap(
    (b, i) => Array(i === 0 || i === breaks.length - 1 ? 6 : 3).fill(b) as number[],
  );
  let span = 5;
  while (span < poles.length - 1 && knots[span + 1]! <= u) span++;
  const d = Array.from({ length: 6 }, (_, j) => [...poles[span - 5 + j]!]);
  for (let r = 1; r <= 5; r++) {
    for (let j = 5; j >= r; j--) {
      const [low, high] = [knots[span - 5 + j]!, knots[span + 1 + j - r]!];
      const w = (u - low) / (high - low);
      d[j] = d[j]!.map((value, k) => (1 - w) * d[j - 1]![k]! + w * value);
    }
  }
  return d[5] as unknown as Vector3;
}

describe.each([
  'walls of four heights: helicoids on the rim',
  'a high back with draft, the rim run out over the sides',
  'heights at an inward corner',
])('%s', (name) => {
  const spec = tray(name);
  const sheet = formedSheet(spec);
  const surface = neutralSurface(spec);
  const j = sheet.profile.rim;
  const placed = new Float64Array(PLACED_SIZE);
  const inside = insideBottomRadius(spec);
  // In the straight wall the neutral fibre lies where it does at the bend's end, k/2 of the thickness from the inside.
  const depth = neutralFactor(inside, spec.sheet.thickness) / 2;

  it('runs within 1e-6 mm of the rim that is solved', () => {
    let corners = 0;
    for (const { parts } of sheet.strips) {
      const segment = parts[0];
      if (segment.kind !== 'corner' || segment.heightAtStart === segment.heightAtEnd) continue;
      corners++;
      const [from, to] = [pointsAt(sheet, segment.heightAtStart), pointsAt(sheet, segment.heightAtEnd)];
      const count = pieceCount(segment, 100);
      const [upper, lower] = [j, j + 1].map((p) => rimCurve(segment, from[p]!, to[p]!, count));
      for (let k = 0; k <= 200; k++) {
        const f = k / 200;
        const [a, b] = [at(upper!, f * count), at(lower!, f * count)];
        placeOnWall(surface, segment, f, surface.section.wallPiece, 1, placed);
        // The solid stands on its lower skin, the neutral surface on its own base.
        placed[2]! += (1 - depth) * spec.sheet.thickness;
        const off = Math.hypot(...a.map((value, i) => value + depth * (b[i]! - value) - placed[i]!));
        expect(off).toBeLessThan(1e-6);
        expect(Math.hypot(...a.map((value, i) => b[i]! - value))).toBeCloseTo(spec.sheet.thickness, 6);
      }
    }
    expect(corners).toBeGreaterThan(0);
  });
});
