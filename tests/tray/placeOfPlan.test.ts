/** Where a plan lies about its origin is of no consequence to its blank: the outline moves with it. */
import { expect, test } from 'vitest';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { LIMITS } from '../../src/tray/limits.ts';
import { readTray } from '../../src/tray/readTray.ts';

const corners = [
  [0, 0],
  [160, 10],
  [150, 120],
  [20, 110],
] as const;

test('moved to the far corner of what a tray file may say', () => {
  const [x, y] = [LIMITS.coordinate[1] - 160, LIMITS.coordinate[0]];
  const outline = (dx: number, dy: number) =>
    flatPatternOf(
      developTray(
        readTray({
          name: 'tray',
          plan: { vertices: corners.map(([px, py]) => ({ x: px + dx, y: py + dy, radius: 25 })) },
          section: { bottomRadius: 10, height: 22 },
          sheet: { material: 'DC04', thickness: 1 },
        }),
      ),
    ).outline.vertices;
  const [here, there] = [outline(0, 0), outline(x, y)];
  expect(there).toHaveLength(here.length);
  // The same pieces, to a thousandth of a millimetre: figures of five thousand mm hold some 1e-12 of one, and the
  // solve ends at a residual.
  for (const [i, vertex] of here.entries()) {
    expect(Math.abs(there[i]!.x - x - vertex.x)).toBeLessThan(1e-3);
    expect(Math.abs(there[i]!.y - y - vertex.y)).toBeLessThan(1e-3);
  }
});
