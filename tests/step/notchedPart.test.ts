/**
 * Notched trays taken from their own solid as it is: each edge of a notch is cut aslant, in the plane of the mitre, and
 * two come together in a point. The blank is that of the tray.
 */
import { describe, expect, test } from 'vitest';
import { distanceToPiece, pieceEnd } from '../../src/geometry/arc.ts';
import type { Path } from '../../src/geometry/path.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { developPart } from '../../src/step/freeForm/developPart.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { randomNumbers } from '../support/drawnTrays.ts';
import { LONG } from '../support/long.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';
import { withLivePart } from './occt.ts';

/** What the round trip may cost, mm. */
const WITHIN = 0.1;

/** Largest distance of the corners of one path from another, mm. */
const farthest = (from: Path, to: Path): number =>
  Math.max(
    ...from.vertices.map(({ x, y }) =>
      Math.min(...to.vertices.map((vertex, i) => distanceToPiece(x, y, vertex, pieceEnd(to, i)))),
    ),
  );

const freeForm = (spec: TraySpec): Promise<FlatPattern> =>
  withLivePart(writeFormedSolid(spec, spec.name, 'AP214'), (live) =>
    flatPatternOf(
      developPart(live, {
        name: spec.name,
        material: spec.sheet.material,
        grain: spec.sheet.grain,
        thickness: null,
        trim: spec.forming.trim,
        cut: spec.cut,
      }),
    ),
  );

function notched(next: () => number): TraySpec {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!;
  const inner = next() < 0.3;
  const plan = inner
    ? {
        vertices: (
          [
            [0, 0],
            [300, 0],
            [300, 150],
            [150, 150],
            [150, 280],
            [0, 280],
          ] as const
        ).map(([x, y], i) => ({ x, y, radius: i === 3 ? 60 : 0 })),
      }
    : { length: 200 + 200 * next(), width: 120 + 100 * next(), cornerRadius: [0, 0, 0, 0] };
  return readTray({
    name: 'notched',
    plan,
    section: {
      bottomRadius: pick([4, 6, 8, 12]),
      height: inner ? 14 : pick([20, 30, 45]),
      draft: inner ? 0 : pick([0, 0, 8]),
    },
    sheet: { material: 'DC01', thickness: pick([0.6, 0.8, 1.2]) },
    forming: {
      trim: 0,
      weldGap: pick([0.3, 0.5, 0.8]),
      corners: inner ? ['notch', 'notch', 'notch', 'gather', 'notch', 'notch'] : 'notch',
    },
  });
}

describe('a notched tray from its own solid', () => {
  // A rectangle, and a plan with an inward corner.
  const cases = LONG ? 40 : 2;
  test(`has the blank of the tray, holes at the roots and all (${cases})`, async () => {
    const next = randomNumbers(20265);
    for (let i = 0; i < cases; i++) {
      const spec = notched(next);
      const direct = flatPatternOf(developTray(spec, OUTLINE_ONLY));
      const part = await freeForm(spec);
      const said = JSON.stringify({ plan: spec.plan, section: spec.section, gap: spec.forming.weldGap });
      expect(farthest(part.rim, direct.rim), said).toBeLessThan(WITHIN);
      expect(farthest(direct.rim, part.rim), said).toBeLessThan(WITHIN);
      expect(part.report.warnings.filter(({ entry }) => entry === 'parts.rimBroken')).toEqual([]);
      expect(part.notes.map(({ entry }) => entry)).toContain('parts.reliefAdded');
    }
  }, 7_200_000);

  test('has trim along the rim and none along the edges that are welded', async () => {
    const spec = notched(() => 0.5);
    const trimmed = { ...spec, forming: { ...spec.forming, trim: 3 } };
    const part = await freeForm(trimmed);
    const out = part.outline.vertices.map(({ x, y }) =>
      Math.min(...part.rim.vertices.map((vertex, i) => distanceToPiece(x, y, vertex, pieceEnd(part.rim, i)))),
    );
    for (const distance of out)
      expect(Math.min(distance, Math.abs(distance - 3)), String(distance)).toBeLessThan(1e-6);
    expect(out.some((distance) => distance < 1e-6) && out.some((distance) => distance > 2)).toBe(true);
  });

  test('with walls that touch is refused with the place of the seam', async () => {
    const spec = notched(() => 0.5);
    const closed = { ...spec, forming: { ...spec.forming, weldGap: 0 } };
    await expect(freeForm(closed)).rejects.toThrow(
      /meet at a sharp edge at x -?\d+, y -?\d+, z \d+; .* a gap of a tenth/,
    );
  });
});
