/** A rim that breaks its direction at a small angle is cut so, and no row of arcs swings about the break. */
import { expect, it } from 'vitest';
import { distanceToPath, tangentBreaks } from '../../src/outline/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { demo } from '../step/trays.ts';

it('where a high back runs out over the sides', () => {
  const spec = demo('splash-back-tray');
  const { rim, field } = flatPatternOf(developTray({ ...spec, forming: { ...spec.forming, trim: 0 } }));
  const { flat, rimNodes } = field;
  let away = 0;
  for (let i = 0; i < rimNodes.length; i += 2) {
    const [a, m, b] = [0, 1, 2].map((k) => rimNodes[(i + k) % rimNodes.length]!) as [number, number, number];
    for (const s of [0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875]) {
      const [x, y] = [0, 1].map(
        (axis) =>
          (1 - s) * (1 - 2 * s) * flat[2 * a + axis]! +
          4 * s * (1 - s) * flat[2 * m + axis]! +
          s * (2 * s - 1) * flat[2 * b + axis]!,
      );
      away = Math.max(away, distanceToPath({ x: x!, y: y! }, rim));
    }
  }
  // The fit's own tolerance.
  expect(away).toBeLessThan(0.0201);
  // On the back the rim leaves its level on either side.
  const breaks = tangentBreaks(rim).filter((turn) => Math.abs(turn) > 1e-3);
  expect(breaks.length).toBeGreaterThanOrEqual(2);
  for (const turn of breaks) expect(Math.abs(turn)).toBeLessThan(0.35);
});
