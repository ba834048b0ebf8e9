/**
 * Holes by forward mapping: points of the hole as it is cut are carried from the blank to the formed tray by a point
 * location of the tests' own, and must lie on the hole that was asked for.
 *
 * The outline of a hole is fitted within 0.01 mm of the mapped one; together with chords of the mesh for its curved
 * surface 0.02 mm is asked for on the tray, a tenth of the class 1 deviation for cuts of this size in ISO 9013.
 */

import { describe, expect, test } from 'vitest';
import { pathArea } from '../../src/geometry/measure.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { FlatPattern, Hole } from '../../src/pattern/flatPattern.ts';
import { holeWarnings } from '../../src/pattern/solvedHole.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { radians } from '../../src/units.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { closeTo } from '../support/closeTo.ts';
import { formedPointOf, type Point3, samplesOf } from '../support/flatToFormed.ts';
import { OUTLINE_ONLY } from '../support/solved.ts';

const ON_THE_TRAY = 0.02;
const THICKNESS = 1;
const [LENGTH, WIDTH] = [260, 180];

function developed(holes: readonly object[], more: object = {}, section: object = {}): FlatPattern {
  return flatPatternOf(
    developTray(
      readTray({
        name: 'drained-drip-tray',
        measured: 'outside',
        plan: { length: LENGTH, width: WIDTH, cornerRadius: 40 },
        section: { bottomRadius: 14, height: 50, ...section },
        sheet: { material: 'DC04', thickness: THICKNESS },
        holes,
        ...more,
      }),
      OUTLINE_ONLY,
    ),
  );
}

const round = (name: string, diameter: number, place: object): object => ({
  name,
  shape: { kind: 'round', diameter },
  place,
});
const onBase = (x: number, y: number): object => ({ on: 'base', x, y });
const onWall = (edge: number | string, along: number, height: number): object => ({
  on: 'wall',
  edge,
  along,
  height,
});

/** Points of a hole as cut, on the formed tray's neutral surface. */
const formedHole = (pattern: FlatPattern, hole: Hole): { at: Point3; normal: Point3 }[] =>
  samplesOf(hole.path, 6).map(([x, y]) => formedPointOf(pattern.field, x, y));

/** Largest distance of a hole's formed points from a curve given by a signed distance in its own two directions. */
function worst(points: readonly (readonly [number, number])[], distance: (a: number, b: number) => number) {
  return points.reduce((most, [a, b]) => Math.max(most, Math.abs(distance(a, b))), 0);
}

const fromCircle =
  (radius: number) =>
  (a: number, b: number): number =>
    Math.hypot(a, b) - radius;

/** Distance from the edge of a slot along the first direction. */
const fromSlot =
  (length: number, width: number) =>
  (a: number, b: number): number =>
    Math.hypot(Math.max(0, Math.abs(a) - (length - width) / 2), b) - width / 2;

/** Distance from the edge of a box along the two directions. */
const fromBox =
  (length: number, width: number) =>
  (a: number, b: number): number => {
    const [x, y] = [Math.abs(a) - length / 2, Math.abs(b) - width / 2];
    return x > 0 && y > 0 ? Math.hypot(x, y) : Math.max(x, y);
  };

const turned = (a: number, b: number, angle: number): [number, number] => [
  a * Math.cos(angle) + b * Math.sin(angle),
  b * Math.cos(angle) - a * Math.sin(angle),
];

describe('in the base', () => {
  test('a round hole where nothing strains is the same circle in the blank', () => {
    // A low wall hardly pulls at the base.
    const pattern = developed([round('drain', 30, onBase(40, -20))], {}, { height: 28 });
    const { vertices } = pattern.holes[0]!.path;
    expect(vertices).toHaveLength(2);
    for (const vertex of vertices) expect(vertex.bulge).toBe(-1); // two half circles, clockwise
    const [a, b] = [vertices[0]!, vertices[1]!];
    closeTo((a.x + b.x) / 2, 40, { why: 'the base does not strain', absolute: 5e-3 }, 'centre x');
    closeTo((a.y + b.y) / 2, -20, { why: 'the base does not strain', absolute: 5e-3 }, 'centre y');
    closeTo(
      Math.hypot(a.x - b.x, a.y - b.y),
      30,
      { why: 'the base does not strain', absolute: 5e-3 },
      'diameter',
    );
    expect(sentences(pattern.report.warnings, english).join()).not.toMatch(/hole/);
  });

  test('slot and polygon land where asked', () => {
    const pattern = developed([
      { name: 'slot', shape: { kind: 'slot', length: 44, width: 12, angle: 35 }, place: onBase(-30, 10) },
      {
        name: 'window',
        shape: {
          kind: 'polygon',
          points: [
            { x: -15, y: -8 },
            { x: 15, y: -8 },
            { x: 15, y: 8 },
            { x: -15, y: 8 },
          ],
        },
        place: onBase(50, 25),
      },
    ]);
    const [slot, window] = pattern.holes;
    const slotPoints = formedHole(pattern, slot!).map(({ at }) => {
      closeTo(at[2], 0, { why: 'the base is flat', absolute: 1e-9 }, 'height');
      return turned(at[0] + 30, at[1] - 10, radians(35));
    });
    expect(worst(slotPoints, fromSlot(44, 12))).toBeLessThan(ON_THE_TRAY);
    const windowPoints = formedHole(pattern, window!).map(({ at }) => [at[0] - 50, at[1] - 25] as const);
    expect(worst(windowPoints, fromBox(30, 16))).toBeLessThan(ON_THE_TRAY);
    expect(window!.path.vertices).toHaveLength(4);
  });

  test('holes run clockwise and keep their order and names', () => {
    const names = ['c', 'a', 'b'];
    const { holes } = developed(names.map((name, i) => round(name, 10, onBase(-40 + 40 * i, 0))));
    expect(holes.map(({ name }) => name)).toEqual(names);
    for (const { path } of holes) expect(pathArea(path)).toBeLessThan(0);
  });

  test('half the kerf is taken off inside when it is compensated', () => {
    const cut = { process: 'laser', kerf: 0.3, compensate: true };
    const pattern = developed([round('drain', 30, onBase(0, 0))], { cut });
    const radii = samplesOf(pattern.holes[0]!.path, 8).map(([x, y]) => Math.hypot(x, y));
    for (const radius of radii) closeTo(radius, 15 - 0.15, { why: 'fit', absolute: 0.01 }, 'radius as cut');
  });
});

/**
 * Where a point of the neutral surface is on the wall of edge 0 (at +y): along the edge's direction (−x), and the
 * height above the base's outside skin of the point of the outside skin beside it. The neutral fibre of the bend lies
 * k·t/2 outside the inside skin (DIN 6935), and the surface is that of the bend all along.
 */
function outsidePlace({ at, normal }: { at: Point3; normal: Point3 }): [along: number, height: number] {
  const inside = 14 - THICKNESS;
  const k = Math.min(1, 0.65 + 0.5 * Math.log10(inside / THICKNESS));
  const toOutside = THICKNESS - (k * THICKNESS) / 2;
  return [-(at[0] + normal[0] * toOutside), at[2] + normal[2] * toOutside + toOutside];
}

describe('in the wall', () => {
  test.each([0, 12])('round and slot at mid-side, draft %i', (draft) => {
    const pattern = developed(
      [
        round('overflow', 12, onWall('top', 20, 33)),
        {
          name: 'slot',
          shape: { kind: 'slot', length: 24, width: 8, angle: 0 },
          place: onWall('top', -30, 30),
        },
      ],
      {},
      { draft },
    );
    const up = Math.cos(radians(draft)); // from slant to height
    const places = pattern.holes.map((hole) => formedHole(pattern, hole).map(outsidePlace));
    const circle = places[0]!.map(([along, height]) => [along - 20, (height - 33) / up] as const);
    expect(worst(circle, fromCircle(6))).toBeLessThan(ON_THE_TRAY);
    const slot = places[1]!.map(([along, height]) => [along + 30, (height - 30) / up] as const);
    expect(worst(slot, fromSlot(24, 8))).toBeLessThan(ON_THE_TRAY);
  });

  test('also where the sheet has a lip, and near its end', () => {
    const rim = { kind: 'lip', direction: 'out', bendRadius: 5, width: 15 };
    const pattern = developed([round('hook', 8, onWall('top', 55, 32))], {}, { rim });
    const places = formedHole(pattern, pattern.holes[0]!).map(outsidePlace);
    const points = places.map(([along, height]) => [along - 55, height - 32] as const);
    expect(worst(points, fromCircle(4))).toBeLessThan(ON_THE_TRAY);
  });

  test('of a wall that is higher on one side', () => {
    const pattern = developed(
      [round('hook', 8, onWall('top', 0, 42))],
      {},
      { height: undefined, heights: { top: 50, left: 35, bottom: 35, right: 35 }, runOut: 30 },
    );
    const places = formedHole(pattern, pattern.holes[0]!).map(outsidePlace);
    expect(
      worst(
        places.map(([a, h]) => [a, h - 42] as const),
        fromCircle(4),
      ),
    ).toBeLessThan(ON_THE_TRAY);
  });

  // Next to the corner the flow reaches into the side: the hole as cut is an oval, the hole as formed is round.
  test('in a strained place it is an oval in the blank, round on the tray, and warned of', () => {
    const pattern = developed([round('fixing', 12, onWall('top', 78, 40))]);
    const hole = pattern.holes[0]!;
    const points = formedHole(pattern, hole).map(outsidePlace);
    expect(
      worst(
        points.map(([a, h]) => [a - 78, h - 40] as const),
        fromCircle(6),
      ),
    ).toBeLessThan(ON_THE_TRAY);
    const flat = samplesOf(hole.path, 8);
    const middle = [0, 1].map((k) => flat.reduce((sum, point) => sum + point[k]!, 0) / flat.length);
    const radii = flat.map(([x, y]) => Math.hypot(x - middle[0]!, y - middle[1]!));
    expect(Math.max(...radii) - Math.min(...radii)).toBeGreaterThan(0.1);
    expect(sentences(pattern.report.warnings, english).join('\n')).toMatch(
      /hole fixing lies where the metal is strained by \d+ %/,
    );
  });
});

describe('warnings', () => {
  const warned = (holes: readonly object[], section: object = {}): string =>
    sentences(developed(holes, {}, section).report.warnings, english).join('\n');

  test('a hole in the base near the bend, by its distance', () => {
    // The bend begins 14 mm inside the plan; the hole's edge is 1.5 mm short of it, then 2.5 mm.
    expect(warned([round('near', 10, onBase(0, WIDTH / 2 - 14 - 5 - 1.5))])).toMatch(
      /The hole near is 1\.5 mm from a bend, less than 2 sheet thicknesses \(2\.0 mm\)/,
    );
    expect(warned([round('clear', 10, onBase(0, WIDTH / 2 - 14 - 5 - 2.5))])).not.toMatch(/from a bend/);
  });

  test('a hole in the wall near the bottom bend, and near the bend of a lip', () => {
    expect(warned([round('low', 10, onWall('top', 0, 14 + 5 + 1))])).toMatch(/low is 1\.0 mm from a bend/);
    expect(warned([round('high', 10, onWall('top', 0, 38))])).not.toMatch(/from a bend/);
    const rim = { kind: 'lip', direction: 'out', bendRadius: 5, width: 15 };
    // The straight wall ends 5 mm below the lip's underside: 2 mm above the hole.
    expect(warned([round('high', 10, onWall('top', 0, 50 - 5 - 5 - 1))], { rim })).toMatch(
      /high is 1\.0 mm from a bend/,
    );
  });
});

test('a hole that reaches a bend is said to, and is no distance of nothing from it', () => {
  const said = (distance: number): string[] =>
    sentences(holeWarnings('drain', { strain: 0, distance, thickness: 1 }), english);
  for (const distance of [-3, 0, 0.049])
    expect(said(distance)).toEqual(['The hole drain reaches a bend: its edge will pull out of shape.']);
  expect(said(0.051)[0]).toMatch(/^The hole drain is 0\.1 mm from a bend, less than 2 sheet thicknesses/);
  expect(said(1.9)[0]).toMatch(/^The hole drain is 1\.9 mm from a bend/);
  expect(said(2)).toEqual([]);
});
