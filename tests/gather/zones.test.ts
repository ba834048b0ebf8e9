import { describe, expect, it } from 'vitest';
import { courseOf } from '../../src/gather/workingPlan.ts';
import { contourLevels, gatherZones, zoneContours } from '../../src/gather/zones.ts';
import type { FlatField } from '../../src/geometry/flatField.ts';
import {
  containsPoint,
  distanceToPath,
  pathArea,
  pathLength,
  tangentBreaks,
} from '../../src/geometry/measure.ts';
import { neutralBottomRadius } from '../../src/tray/section.ts';
import { closeTo, ROUNDING, type Tolerance } from '../support/closeTo.ts';
import { bracket } from '../support/integrator.ts';
import { type MeridianPiece, roundTray, solveShell } from '../support/shellOfRevolution.ts';
import { solved } from '../support/solved.ts';
import { benchTray, EVEN_SHEET, roundTraySpec } from './benchTrays.ts';

const GRID: Tolerance = { why: 'a grid of places is counted', relative: 0.01 };
const DRAWN: Tolerance = { why: 'contours are drawn loosely, a quarter of a millimetre', relative: 0.015 };
const NODAL: Tolerance = { why: 'strains at the nodes are means of the elements around', relative: 0.03 };

/** Area of the flat where a nodal value is above a level: every triangle cut into small ones, counted by hand. */
function areaAbove({ flat, triangles }: FlatField, values: Float64Array, level: number): number {
  const CUTS = 12;
  let area = 0;
  for (let t = 0; t < triangles.length; t += 6) {
    const nodes = Array.from(triangles.subarray(t, t + 6));
    const at = (of: (node: number) => number, u: number, v: number): number => {
      const w = 1 - u - v;
      const n = [w * (2 * w - 1), u * (2 * u - 1), v * (2 * v - 1), 4 * w * u, 4 * u * v, 4 * v * w];
      return n.reduce((sum, share, k) => sum + share * of(nodes[k]!), 0);
    };
    const x = (u: number, v: number): number => at((node) => flat[2 * node]!, u, v);
    const y = (u: number, v: number): number => at((node) => flat[2 * node + 1]!, u, v);
    for (let i = 0; i < CUTS; i++) {
      for (let j = 0; j < CUTS - i; j++) {
        for (const up of [true, false]) {
          if (!up && j === CUTS - i - 1) continue;
          const d = 1 / CUTS;
          const [u, v] = [i * d, j * d];
          const corners = up
            ? [
                [u, v],
                [u + d, v],
                [u, v + d],
              ]
            : [
                [u + d, v],
                [u + d, v + d],
                [u, v + d],
              ];
          const [cu, cv] = [0, 1].map((k) => corners.reduce((sum, c) => sum + c[k]!, 0) / 3) as [
            number,
            number,
          ];
          if (at((node) => values[node]!, cu, cv) < level) continue;
          const [a, b, c] = corners.map(([p, q]) => [x(p!, q!), y(p!, q!)]) as [number[], number[], number[]];
          area += ((b[0]! - a[0]!) * (c[1]! - a[1]!) - (c[0]! - a[0]!) * (b[1]! - a[1]!)) / 2;
        }
      }
    }
  }
  return area;
}

describe('gather zones of a rectangular tray', () => {
  const spec = benchTray();
  const { field, workedRim, sheet, gather, report } = solved(spec);
  const shrink = field.minorStrain.map((value) => -value);

  it('has one at each corner, and no stretch zone where nothing stretches most', () => {
    expect(gather.zones.map(({ kind, corners }) => [kind, corners])).toEqual([
      ['shrink', [0]],
      ['shrink', [1]],
      ['shrink', [2]],
      ['shrink', [3]],
    ]);
  });

  it.each([2, 5, 10, 15, 20])('encloses the area where the field shrinks by more than %d %%', (percent) => {
    const expected = areaAbove(field, shrink, -Math.log1p(-percent / 100));
    const zones = gatherZones(field, workedRim, sheet.thickness, { threshold: percent });
    closeTo(
      zones.reduce((sum, zone) => sum + zone.area, 0),
      expected,
      GRID,
      'area of the zones',
    );
    closeTo(
      zones.reduce((sum, zone) => sum + zone.boundary.reduce((area, path) => area + pathArea(path), 0), 0),
      expected,
      DRAWN,
      'area inside the drawn boundaries',
    );
  });

  it('loses as much rim as ∫(1/λ − 1) ds along it', () => {
    // At a free rim the stress is uniaxial, so λ is the exponential of the smaller strain (Hill 1948).
    for (const zone of gather.zones) {
      const inside = (node: number): boolean => shrink[node]! > -Math.log1p(-0.02);
      const onZone = (node: number): boolean =>
        inside(node) &&
        distanceToPath({ x: field.flat[2 * node]!, y: field.flat[2 * node + 1]! }, zone.boundary[0]!) < 0.1;
      let integral = 0;
      const { rimNodes, formed } = field;
      for (let i = 0; i < rimNodes.length; i++) {
        const a = rimNodes[i]!;
        const b = rimNodes[(i + 1) % rimNodes.length]!;
        if (!onZone(a) || !onZone(b)) continue;
        const step = Math.hypot(...[0, 1, 2].map((k) => formed[3 * b + k]! - formed[3 * a + k]!));
        integral += (step * (Math.expm1(shrink[a]!) + Math.expm1(shrink[b]!))) / 2;
      }
      closeTo(zone.rim!.toLose, integral, NODAL, `rim to lose at corner ${zone.corners[0]}`);
      closeTo(zone.rim!.toLose, zone.rim!.flatLength - zone.rim!.formedLength, ROUNDING, 'difference');
    }
  });

  it('loses at least what the corner arc alone loses', () => {
    for (const zone of gather.zones) {
      const corner = report.corners[zone.corners[0]!]!;
      expect(zone.rim!.toLose).toBeGreaterThan(corner.arcRimToLose);
      expect(corner.rimToLose).toBe(zone.rim!.toLose);
      expect(zone.rim!.reachBefore).toBeGreaterThan(0);
      expect(zone.rim!.reachAfter).toBeGreaterThan(0);
      closeTo(
        zone.rim!.flatLength,
        corner.flatRimLength + zone.rim!.reachBefore + zone.rim!.reachAfter,
        { why: 'two sums over the same edges', relative: 1e-7 },
        'flat rim',
      );
    }
  });

  it('gives the same peaks as the corners have', () => {
    for (const zone of gather.zones) {
      const corner = report.corners[zone.corners[0]!]!;
      closeTo(zone.peak.percent, corner.peakGather, ROUNDING, 'peak shrink');
      closeTo(zone.thickness.value, corner.thickest, ROUNDING, 'thickest');
    }
  });

  it('is alike at mirrored corners', () => {
    const [first, ...others] = gather.zones;
    const mirror: Tolerance = { why: 'mirror images of one solve', relative: 1e-6 };
    for (const zone of others) {
      closeTo(zone.area, first!.area, mirror, 'area');
      closeTo(zone.rim!.toLose, first!.rim!.toLose, mirror, 'rim to lose');
      closeTo(zone.depth, first!.depth, mirror, 'depth');
      closeTo(pathLength(zone.boundary[0]!), pathLength(first!.boundary[0]!), mirror, 'boundary');
    }
  });

  it('draws boundaries counter-clockwise around the peak, and contours smooth and inside one another', () => {
    const drawn = zoneContours({ field, workedRim, sheet, gather });
    for (const [number, zone] of gather.zones.entries()) {
      const contours = drawn[number]!;
      expect(zone.boundary).toHaveLength(1);
      expect(pathArea(zone.boundary[0]!)).toBeGreaterThan(0);
      const deepest = { x: zone.peak.at.x * 0.999, y: zone.peak.at.y * 0.999 };
      expect(containsPoint(zone.boundary[0]!, deepest)).toBe(true);
      expect(contours.map(({ level }) => level)).toEqual(contourLevels(2, zone.peak.percent));
      for (const { paths } of contours) {
        for (const path of paths) {
          for (const turn of tangentBreaks(path)) expect(Math.abs(turn)).toBeLessThan(1e-6);
          for (const { x, y } of path.vertices) {
            const off = distanceToPath({ x, y }, zone.boundary[0]!);
            expect(off < 0.5 || containsPoint(zone.boundary[0]!, { x, y })).toBe(true);
          }
        }
      }
    }
  });

  it('knows shrink and stretch by the same rules', () => {
    // The field turned round: what shrank stretches, thick is thin.
    const turned: FlatField = {
      ...field,
      majorStrain: shrink,
      minorStrain: field.majorStrain.map((value) => -value),
      thicknessStrain: field.thicknessStrain.map((value) => -value),
    };
    const level = 100 * Math.expm1(-Math.log1p(-0.05));
    const zones = gatherZones(turned, workedRim, sheet.thickness, { threshold: level });
    const originals = gatherZones(field, workedRim, sheet.thickness, { threshold: 5 });
    expect(zones.map(({ kind }) => kind)).toEqual(Array(4).fill('stretch'));
    for (const [i, zone] of zones.entries()) {
      closeTo(zone.area, originals[i]!.area, { why: 'same loops', relative: 1e-9 }, 'area');
      closeTo(
        zone.thickness.value * originals[i]!.thickness.value,
        sheet.thickness ** 2,
        { why: 'inverse ratios', relative: 1e-9 },
        'thinnest',
      );
      expect(zone.thickness.value).toBeLessThan(sheet.thickness);
    }
  });
});

describe('the gather zone of a round tray', () => {
  const spec = roundTraySpec(120, 20, 45);
  const { gather, field } = solved(spec);
  const radius = neutralBottomRadius(spec);
  const base = 60 - 20;
  const height = spec.section.height - 20 + radius;
  const law = { K: EVEN_SHEET.K, epsilon0: EVEN_SHEET.epsilon0, n: EVEN_SHEET.n, r: 1, smoothing: 1e-3 };

  /**
   * Flat radius at which the hoop shrinks by the threshold: along the meridian of the one-dimensional solution,
   * where formed over flat radius falls to 0.98.
   */
  function innerFlatRadius(): { inner: number; rim: number } {
    const pieces = roundTray(base, radius, height);
    const total = pieces.reduce((sum, piece) => sum + piece.length, 0);
    const cut = (length: number): MeridianPiece[] => {
      const out: MeridianPiece[] = [];
      let left = length;
      for (const piece of pieces) {
        if (left <= 0) break;
        out.push({ ...piece, length: Math.min(piece.length, left) });
        left -= piece.length;
      }
      // The rest follows, so that the rim stays where it is and the cut is only one more place to look at.
      let gone = length;
      for (const piece of pieces) {
        if (gone < piece.length) {
          const from = Math.max(0, gone);
          out.push({
            length: piece.length - from,
            radius: (s) => piece.radius(from + s),
            slope: (s) => piece.slope(from + s),
          });
        }
        gone -= piece.length;
      }
      return out;
    };
    const formedAt = (length: number): number => {
      let left = length;
      for (const piece of pieces) {
        if (left <= piece.length) return piece.radius(left);
        left -= piece.length;
      }
      return pieces.at(-1)!.radius(pieces.at(-1)!.length);
    };
    const flatAt = (length: number): { at: number; rim: number } => {
      const { flatRadii, flatRadius } = solveShell(law, base, cut(length));
      const places = length < pieces[0]!.length ? 0 : 1;
      return { at: flatRadii[places]!, rim: flatRadius };
    };
    const [low, high] = bracket((s) => 0.98 - formedAt(s) / flatAt(s).at, 0.2 * total, 0.95 * total);
    const length = (low + high) / 2;
    const { at, rim } = flatAt(length);
    return { inner: at, rim };
  }

  it('is one ring along the whole rim, as deep as the shell of revolution says', () => {
    expect(gather.zones).toHaveLength(1);
    const [zone] = gather.zones;
    expect(zone!.boundary).toHaveLength(2);
    expect(zone!.corners).toEqual([0, 1, 2, 3]);
    const { inner, rim } = innerFlatRadius();
    const mesh: Tolerance = { why: 'where a flat strain curve crosses a level', absolute: 0.25 };
    closeTo(zone!.depth, rim - inner, mesh, 'depth of the ring');
    closeTo(
      zone!.area,
      Math.PI * (rim ** 2 - inner ** 2),
      { why: 'the same', relative: 0.01 },
      'area of the ring',
    );
    // The rim to lose goes all the way round.
    const formed = 2 * Math.PI * (base + radius);
    closeTo(zone!.rim!.formedLength, formed, { why: 'mesh', relative: 1e-4 }, 'formed rim');
    closeTo(zone!.rim!.toLose, 2 * Math.PI * rim - formed, { why: 'mesh', relative: 5e-3 }, 'rim to lose');
    expect(field.rimNodes.length).toBeGreaterThan(0);
  });
});

describe('contour levels', () => {
  it('start at the threshold and go on at 5, 10, 15 …', () => {
    expect(contourLevels(2, 23)).toEqual([2, 5, 10, 15, 20]);
    expect(contourLevels(3, 11)).toEqual([3, 5, 10]);
    expect(contourLevels(12, 31)).toEqual([12, 15, 20, 25, 30]);
  });
});

describe('the rim of zones beside an inward corner', () => {
  const pattern = solved({
    ...benchTray({
      plan: {
        vertices: [
          { x: 0, y: 0, radius: 40 },
          { x: 500, y: 0, radius: 40 },
          { x: 500, y: 220, radius: 40 },
          { x: 250, y: 220, radius: 60 },
          { x: 250, y: 400, radius: 40 },
          { x: 0, y: 400, radius: 40 },
        ],
      },
      section: { bottomRadius: 15, height: 28 },
    }),
  });

  it('gets shorter at the outward ones and longer at the inward one, each by itself', () => {
    const { zones } = pattern.gather;
    const at = (kind: string) => zones.filter((zone) => zone.kind === kind && zone.rim !== null);
    expect(at('shrink').map(({ corners }) => corners)).toEqual([[0], [1], [2], [4], [5]]);
    expect(at('stretch').map(({ corners }) => corners)).toEqual([[3]]);
    const lost = at('shrink').map(({ rim }) => rim!.toLose);
    expect(Math.max(...lost) / Math.min(...lost)).toBeLessThan(1.2);
    expect(Math.min(...lost)).toBeGreaterThan(10);
    expect(at('stretch')[0]!.rim!.toLose).toBeLessThan(-10);
  });

  it('is lost and gained stage by stage, to what it is in the end', () => {
    const { stages } = courseOf(pattern);
    for (const [number, { rim }] of pattern.gather.zones.entries()) {
      if (rim === null) continue;
      const total = stages.reduce((sum, { zones }) => sum + zones[number]!.rimToLose, 0);
      closeTo(total, rim.toLose, { why: 'the outline is fitted within 0.02 mm', absolute: 0.1 }, 'rim');
    }
  });
});
