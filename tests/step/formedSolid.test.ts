/** The finished tray as a solid, read back by the kernel and held against quadrature. */
import { describe, expect, it } from 'vitest';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { sweptMeasure } from '../../src/step/sweptMeasure.ts';
import { planLoop } from '../../src/tray/planLoop.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { some } from '../support/long.ts';
import { byQuadrature } from './byQuadrature.ts';
import { judged, measured } from './occt.ts';
import { TRAY_NAMES, tray, trayFile, VARIED_NAMES } from './trays.ts';

const TIME = 600_000;

describe.each(some([...TRAY_NAMES, ...VARIED_NAMES], 14))('the solid of %s', (name) => {
  it(
    'is valid, one solid, of analytic faces, with the volume and area of plan loop × section',
    async () => {
      const spec = tray(name);
      const bytes = writeFormedSolid(spec, 'tray', 'AP214');
      const { solids, valid, surfaces } = await judged(bytes);
      const { volume, area } = await measured(bytes);
      const expected = byQuadrature(spec);
      expect(solids).toBe(1);
      expect(valid).toBe(true);
      // Only the rim between two heights over a corner has no analytic surface.
      const { segments } = planLoop(spec);
      const helicoids = segments.filter((s) => s.kind === 'corner' && s.heightAtStart !== s.heightAtEnd);
      expect(surfaces.other ?? 0).toBe(helicoids.length);
      // Pappus and Guldin, by quadrature; the signed volume is positive when faces point outwards.
      expect(Math.abs(volume / expected.volume - 1)).toBeLessThan(1e-6);
      expect(Math.abs(area / expected.area - 1)).toBeLessThan(1e-6);
    },
    TIME,
  );

  it('agrees with the closed formulas', () => {
    const spec = { ...tray(name), holes: [] };
    const swept = sweptMeasure(spec);
    const expected = byQuadrature(spec);
    // Quadrature is a little off where a gap has its kink.
    const error = (spec.forming.weldGap ?? 0) > 0 ? 1e-6 : 1e-9;
    expect(Math.abs(swept.volume / expected.volume - 1)).toBeLessThan(error);
    expect(Math.abs(swept.area / expected.area - 1)).toBeLessThan(error);
  });
});

describe('the faces', () => {
  it(
    'are octants of spheres where plan and bottom radius agree, tori where they do not, cones with draft',
    async () => {
      const kinds = async (name: string): Promise<Record<string, number>> =>
        (await judged(writeFormedSolid(tray(name), 'tray', 'AP214'))).surfaces;
      // Inner and outer skin: 4 corners and 4 bends and 4 walls each, two base faces, one rim.
      expect(await kinds('plan radius equals bottom radius: spheres')).toEqual({
        plane: 11,
        cylinder: 16,
        sphere: 8,
      });
      expect(await kinds('plan radius larger: tori')).toEqual({ plane: 11, cylinder: 16, torus: 8 });
      // The rim is square to the leaning wall: four planes and four cones of its own.
      expect(await kinds('draft: cones')).toEqual({ plane: 14, cylinder: 8, cone: 12, torus: 8 });
      expect(await kinds('height equals bottom radius: no wall')).toEqual({
        plane: 3,
        cylinder: 8,
        sphere: 8,
      });
    },
    TIME,
  );
});

describe('trays without a flat base', () => {
  it(
    'close over a bowl and a trough',
    async () => {
      // Half a hollow sphere: 2/3 π (R³ − r³); 2 π (R² + r²) and the rim π (R² − r²).
      const bowl = readTray({
        ...trayFile('plan radius equals bottom radius: spheres'),
        plan: { length: 50, width: 50, cornerRadius: 25 },
        section: { bottomRadius: 25, height: 25 },
      });
      const bytes = [writeFormedSolid(bowl, 'bowl', 'AP242')];
      const half = await measured(bytes[0]!);
      const [R, r] = [25, 23.8];
      expect(half.volume).toBeCloseTo((2 / 3) * Math.PI * (R ** 3 - r ** 3), 5);
      expect(half.area).toBeCloseTo(2 * Math.PI * (R ** 2 + r ** 2) + Math.PI * (R ** 2 - r ** 2), 5);
      const trough = readTray({
        ...trayFile('plan radius equals bottom radius: spheres'),
        plan: { length: 200, width: 50, cornerRadius: 25 },
        section: { bottomRadius: 25, height: 40 },
      });
      bytes.push(writeFormedSolid(trough, 'trough', 'AP214'));
      const long = await measured(bytes[1]!);
      for (const each of bytes) expect((await judged(each)).valid).toBe(true);
      // Half a tube of 150 mm, two quarter spheres, and 15 mm of upright wall round a stadium.
      const around = (rho: number): number => 2 * 150 * rho + Math.PI * rho * rho;
      expect(long.volume).toBeCloseTo(
        (150 * Math.PI * (R * R - r * r)) / 2 +
          (2 / 3) * Math.PI * (R ** 3 - r ** 3) +
          15 * (around(R) - around(r)),
        4,
      );
    },
    TIME,
  );
});

describe('holes in the base', () => {
  it(
    'take their area times the thickness',
    async () => {
      const file = trayFile('plan radius larger: tori');
      const round = {
        name: 'drain',
        shape: { kind: 'round', diameter: 20 },
        place: { on: 'base', x: 20, y: 10 },
      };
      const slot = {
        name: 'slot',
        shape: { kind: 'slot', length: 40, width: 10, angle: 30 },
        place: { on: 'base', x: -30, y: 0 },
      };
      const plain = await measured(writeFormedSolid(readTray(file), 'tray', 'AP214'));
      const bytes = writeFormedSolid(readTray({ ...file, holes: [round, slot] }), 'tray', 'AP214');
      expect((await judged(bytes)).valid).toBe(true);
      const holed = await measured(bytes);
      expect(plain.volume - holed.volume).toBeCloseTo(1.2 * (Math.PI * 100 + 30 * 10 + Math.PI * 25), 6);
    },
    TIME,
  );
});

it('writes the same bytes twice', () => {
  const spec = tray('draft: cones');
  expect(writeFormedSolid(spec, 'a', 'AP214')).toEqual(writeFormedSolid(spec, 'a', 'AP214'));
});
