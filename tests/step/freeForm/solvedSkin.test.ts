/** The steps from a skin to its solved flat, put together: round trips of parts are tests of more. */
import { expect, it } from 'vitest';
import { workedMaterial } from '../../../src/gather/hand.ts';
import { pathArea, pathBounds } from '../../../src/geometry/measure.ts';
import type { Path } from '../../../src/geometry/path.ts';
import { largest } from '../../../src/largest.ts';
import { plasticLaw } from '../../../src/material/law.ts';
import { resolveSheet } from '../../../src/material/sheets.ts';
import { NoShape } from '../../../src/step/freeForm/noShape.ts';
import { neutralVertices, refuseOverlap, solvedSkin } from '../../../src/step/freeForm/solvedSkin.ts';
import { trayFrame } from '../../../src/step/freeForm/trayFrame.ts';
import { refusal } from '../../support/refusal.ts';
import { COARSE } from '../given.ts';
import { bend, livePart, skinOf } from './patches.ts';

const [BASE, RADIUS, WALL, WIDTH] = [40, 8, 15, 30];
const LENGTH = BASE + (Math.PI / 2) * RADIUS + WALL;

it('a bent sheet with a hole in its base comes out as long as its fibres, the hole filled, the skin as it was', () => {
  const [base, ...others] = bend([BASE, WALL], RADIUS, WIDTH, 6);
  const live = livePart([{ ...base!, hole: { u: [2, 4], v: [2, 4] } }, ...others]);
  const skin = skinOf(live);
  const before = structuredClone(skin.mesh);
  const sheet = resolveSheet({ material: 'DC04', thickness: 1, grain: 0 });
  const law = plasticLaw(workedMaterial(sheet.material, undefined), sheet.grain);
  const solved = solvedSkin({ live, skin, frame: trayFrame(live, skin) }, law, COARSE);
  const { minX, minY, maxX, maxY } = pathBounds(solved.rim);
  for (const [found, wanted] of [
    [minX, 0],
    [minY, 0],
    [maxX, LENGTH],
    [maxY, WIDTH],
  ] as const)
    expect(Math.abs(found - wanted)).toBeLessThan(0.01);
  expect(pathArea(solved.rim) / (LENGTH * WIDTH)).toBeCloseTo(1, 4);
  expect(largest(solved.field.majorStrain)).toBeLessThan(1e-3);
  expect(solved.filledHoles).toHaveLength(1);
  expect(solved.part.holes).toHaveLength(0);
  expect(solved.jumps).toHaveLength(2);
  expect(skin.mesh).toEqual(before);
  expect(solved.skin.mesh.face.length).toBeGreaterThan(before.face.length);
});

it('the neutral surface of a net lies below its skin, whichever side that is seen from', () => {
  for (const [turned, depth] of [
    [false, 0.5],
    [true, 0.75],
  ] as const) {
    const live = livePart(bend([BASE, WALL], RADIUS, WIDTH));
    const skin = skinOf(live, { depth, turned });
    const { position, normals } = neutralVertices({ live, skin, frame: trayFrame(live, skin) });
    const sign = turned ? -1 : 1;
    for (let i = 0; i < position.length; i += 3) {
      const [x, z] = [position[i]!, position[i + 2]!];
      const [nx, nz] = [normals[i]!, normals[i + 2]!];
      // From above the bend's inside is the skin: its middle is farther from the axis at (base, radius).
      const below = sign * depth;
      const [outX, outZ] = [x - BASE, z - RADIUS];
      if (outX < 1e-9) expect(Math.hypot(z + below, nx, nz - sign)).toBeLessThan(1e-9);
      else if (outZ < -1e-9) {
        const away = Math.hypot(outX, outZ);
        expect(away).toBeCloseTo(RADIUS + below, 9);
        expect((-sign * outX) / away).toBeCloseTo(nx, 9);
        expect((-sign * outZ) / away).toBeCloseTo(nz, 9);
      } else expect(outX).toBeCloseTo(RADIUS + below, 9);
    }
  }
});

it('a rim that crosses itself is no flat', () => {
  const path = (points: readonly (readonly [number, number])[]): Path => ({
    vertices: points.map(([x, y]) => ({ x, y, bulge: 0 })),
    closed: true,
  });
  const corners = [
    [0, 0],
    [30, 0],
    [30, 20],
    [0, 20],
  ] as const;
  refuseOverlap(path(corners));
  const refused = refusal(() => refuseOverlap(path([corners[0], corners[2], corners[1], corners[3]])));
  expect(refused).toBeInstanceOf(NoShape);
  expect([refused.code, (refused as NoShape).why]).toEqual(['NO_FLAT', 'overlaps']);
});
