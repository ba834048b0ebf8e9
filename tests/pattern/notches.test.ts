/**
 * Corners cut out for welding, open ends, and walls of different heights: what folds without strain must keep its true
 * lengths.
 *
 * Developed length of a bend: the neutral fibre at r + k·t/2, k = 0.65 + 0.5·lg(r/t), at most 1 (DIN 6935 as quoted in
 * public notes). Everything else is elementary geometry of the folded box (derived).
 */

import { describe, expect, test } from 'vitest';
import { figureLines } from '../../src/cli/figures.ts';
import { gatherLines } from '../../src/cli/gatherLines.ts';
import { selfIntersections } from '../../src/geometry/intersect.ts';
import { distanceToPath, pathArea, pathBounds } from '../../src/geometry/measure.ts';
import { flatPatternOf, verdictOn } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import { OUTLINE_TOLERANCE } from '../../src/pattern/fittedLines.ts';
import type { Developed, FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { SolveOptions } from '../../src/solve/solveTray.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { closeTo, type Tolerance } from '../support/closeTo.ts';
import { samplesOf } from '../support/flatToFormed.ts';

const THICKNESS = 1;
const BEND = 14;
const TRUE_LENGTH: Tolerance = { why: 'what is left of chords in a fine mesh', absolute: 2e-3 };
const FOLDED: Tolerance = { why: 'chords of the mesh for arcs of the bend', relative: 1e-4 };

/** Strain that chords of a fine mesh show in a bend; a gathered corner has a thousand times as much. */
const UNSTRAINED = 2e-4;

/** Neutral radius of a bend of outside radius BEND. */
const NEUTRAL = (() => {
  const inside = BEND - THICKNESS;
  return inside + (Math.min(1, 0.65 + 0.5 * Math.log10(inside / THICKNESS)) * THICKNESS) / 2;
})();

/** Length of an upright wall from the beginning of its bend, for a height over the outside. */
const upright = (height: number): number => (NEUTRAL * Math.PI) / 2 + height - BEND;

const [LENGTH, WIDTH, HEIGHT] = [300, 200, 40];

const RECTANGLE = { length: LENGTH, width: WIDTH, cornerRadius: 45 };

/** So fine that chords of the mesh no longer show: for trays that only bend. */
const FINE: Partial<SolveOptions> = { accuracy: 1e-3, minimumRefinements: 2 };

interface Given {
  readonly plan?: object;
  readonly section?: object;
  readonly forming?: object;
}

const solved = (file: Given, solve: Partial<SolveOptions> = {}): Developed =>
  developTray(
    readTray({
      name: 'potting-tray',
      measured: 'outside',
      plan: file.plan ?? RECTANGLE,
      section: { bottomRadius: BEND, height: HEIGHT, ...file.section },
      sheet: { material: 'DC04', thickness: THICKNESS },
      forming: { trim: 0, ...file.forming },
    }),
    { solve },
  );

const developed = (file: Given, solve: Partial<SolveOptions> = {}): FlatPattern =>
  flatPatternOf(solved(file, solve));

/** Farthest that two lines fitted through the same points lie apart, mm. */
const FITTED = 2 * OUTLINE_TOLERANCE;

const largestStrain = ({ field }: FlatPattern): number =>
  Math.max(...field.majorStrain.map(Math.abs), ...field.minorStrain.map(Math.abs));

type Point3 = readonly [number, number, number];
const formedAt = ({ field }: FlatPattern, node: number): Point3 =>
  Array.from(field.formed.subarray(3 * node, 3 * node + 3)) as unknown as Point3;
const flatAt = ({ field }: FlatPattern, node: number): Point3 => [
  field.flat[2 * node]!,
  field.flat[2 * node + 1]!,
  0,
];
const apart = (a: Point3, b: Point3): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const chainLength = (points: readonly Point3[]): number =>
  points.slice(1).reduce((sum, point, i) => sum + apart(point, points[i]!), 0);

/** The free edge in one round that starts at the rim's top, split into runs at the top and runs below it. */
function edgeRuns(pattern: FlatPattern): { top: boolean; nodes: number[] }[] {
  const { rimNodes } = pattern.field;
  const height = (node: number): number => formedAt(pattern, node)[2];
  const full = Math.max(...Array.from(rimNodes, height));
  const isTop = (node: number): boolean => height(node) > full - 1e-6;
  const nodes = Array.from(rimNodes);
  const start = nodes.findIndex((node, i) => isTop(node) && !isTop(nodes.at(i - 1)!));
  const turned = [...nodes.slice(start), ...nodes.slice(0, start)];
  const runs: { top: boolean; nodes: number[] }[] = [];
  for (const node of turned) {
    const last = runs.at(-1);
    if (last?.top === isTop(node)) last.nodes.push(node);
    else runs.push({ top: isTop(node), nodes: [node] });
  }
  // The ends of the runs below are the ends of the runs at the top.
  return runs.map((run, i) =>
    run.top
      ? run
      : {
          top: false,
          nodes: [runs[i - 1]!.nodes.at(-1)!, ...run.nodes, runs[(i + 1) % runs.length]!.nodes[0]!],
        },
  );
}

describe('all four corners of a rectangle cut out', () => {
  const gap = 0.8;
  const pattern = developed({ forming: { corners: 'notch', weldGap: gap } }, FINE);

  test('only bends: nothing is strained', () => {
    expect(largestStrain(pattern)).toBeLessThan(UNSTRAINED);
  });

  test('sides keep their length at the rim, less the gap', () => {
    // At a square corner the edges stand apart by the gap when each side is shorter by gap / √2 at either end.
    const side = (plan: number): number => plan - 2 * BEND + 2 * NEUTRAL - Math.SQRT2 * gap;
    const sides = straightPieces(pattern).filter((length) => length > 100);
    expect(sides).toHaveLength(4);
    for (const [i, length] of sides.sort((a, b) => a - b).entries()) {
      closeTo(length, side(i < 2 ? WIDTH : LENGTH), TRUE_LENGTH, 'side at the rim');
    }
  });

  test('the blank is as long and as wide as base and both walls together', () => {
    const bounds = pathBounds(pattern.rim);
    closeTo(bounds.maxX - bounds.minX, LENGTH - 2 * BEND + 2 * upright(HEIGHT), TRUE_LENGTH, 'length');
    closeTo(bounds.maxY - bounds.minY, WIDTH - 2 * BEND + 2 * upright(HEIGHT), TRUE_LENGTH, 'width');
  });

  test('trim goes to the rim and leaves the weld edges where they are', () => {
    const trimmed = developed({ forming: { corners: 'notch', weldGap: gap, trim: 5 } });
    const count = trimmed.rim.vertices.length;
    for (const [i, from] of trimmed.rim.vertices.entries()) {
      const to = trimmed.rim.vertices[(i + 1) % count]!;
      const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
      if (Math.hypot(from.x - to.x, from.y - to.y) > 100) {
        closeTo(distanceToPath(middle, trimmed.outline), 5, { why: 'two fits', absolute: FITTED }, 'trim');
      } else {
        // Both run through the same solved edge, fitted each by itself.
        expect(distanceToPath(from, trimmed.outline)).toBeLessThan(FITTED);
      }
    }
    const sides = straightPieces(trimmed)
      .filter((length) => length > 100)
      .reduce((sum, length) => sum + length, 0);
    closeTo(
      pathArea(trimmed.outline) - pathArea(trimmed.rim),
      5 * sides,
      { why: 'weld edges meet the rim at right angles but for the fit', relative: 1e-3 },
      'area of the trim',
    );
    expect(selfIntersections(trimmed.outline)).toEqual([]);
  });
});

/** Lengths of the rim's straight pieces. */
function straightPieces({ rim }: FlatPattern): number[] {
  const count = rim.vertices.length;
  return rim.vertices.flatMap((from, i) => {
    const to = rim.vertices[(i + 1) % count]!;
    return from.bulge === 0 ? [Math.hypot(from.x - to.x, from.y - to.y)] : [];
  });
}

// Corners of 63 to 121 degrees, without any symmetry.
const CROOKED = {
  vertices: [
    { x: 0, y: 0 },
    { x: 260, y: -20 },
    { x: 210, y: 150 },
    { x: 30, y: 120 },
  ],
};

describe.each([
  ['upright', { draft: 0 }],
  ['with draft', { draft: 12 }],
  ['with a lip', { draft: 0, rim: { kind: 'lip', direction: 'out', bendRadius: 6, width: 15 } }],
])('a crooked tray, all corners cut out, %s', (name, section) => {
  const gap = 0.6;
  const pattern = developed({ plan: CROOKED, section, forming: { corners: 'notch', weldGap: gap } }, FINE);
  const lip = name === 'with a lip';

  test('weld edges of neighbours are equally long, formed and flat, and stand apart by the gap', () => {
    const seams = edgeRuns(pattern).filter(({ top }) => !top);
    expect(seams).toHaveLength(4);
    for (const { nodes } of seams) {
      const heights = nodes.map((node) => formedAt(pattern, node)[2]);
      const lowest = heights.indexOf(Math.min(...heights));
      closeTo(heights[lowest]!, 0, { why: 'the seam ends in the base', absolute: 1e-9 }, 'lowest');
      const edges = [nodes.slice(0, lowest + 1).reverse(), nodes.slice(lowest)];
      expect(edges[0]!.length).toBe(edges[1]!.length);
      const [formed, flat] = [formedAt, flatAt].map((at) =>
        edges.map((edge) => chainLength(edge.map((node) => at(pattern, node)))),
      );
      closeTo(formed![0]!, formed![1]!, FOLDED, 'formed weld edges');
      closeTo(flat![0]!, flat![1]!, FOLDED, 'flat weld edges');
      closeTo(
        flat![0]!,
        formed![0]!,
        { why: 'chords in the flat against chords in space', relative: 2e-3 },
        'edge',
      );
      const ends = edges.map((edge) => formedAt(pattern, edge.at(-1)!)) as [Point3, Point3];
      closeTo(apart(...ends), gap, { why: 'rounding', absolute: 1e-6 }, 'gap');
    }
  });

  test('only bends: nothing is strained, the rim keeps its true length', () => {
    expect(largestStrain(pattern)).toBeLessThan(UNSTRAINED);
    for (const { top, nodes } of edgeRuns(pattern)) {
      if (!top || lip) continue;
      const ends = [nodes[0]!, nodes.at(-1)!] as const;
      closeTo(
        apart(flatAt(pattern, ends[0]), flatAt(pattern, ends[1])),
        apart(formedAt(pattern, ends[0]), formedAt(pattern, ends[1])),
        FOLDED,
        'side at the rim',
      );
    }
  });
});

test('one corner cut out, the others gathered and trimmed', () => {
  const pattern = developed({
    forming: { corners: ['notch', 'gather', 'gather', 'gather'], weldGap: 0.5, trim: 4 },
  });
  expect(selfIntersections(pattern.outline)).toEqual([]);
  const distances = samplesOf(pattern.rim, 4).map(([x, y]) => ({
    atNotch: x > LENGTH / 2 - 60 && y > WIDTH / 2 - 60,
    straight: Math.abs(x) < LENGTH / 2 - 130 || Math.abs(y) < WIDTH / 2 - 130,
    away: distanceToPath({ x, y }, pattern.outline),
  }));
  for (const { atNotch, straight, away } of distances) {
    if (atNotch) expect(away).toBeLessThan(4 + FITTED);
    // The trim is gathered with the wall: at the corners it is longer up the wall than it comes out.
    else if (straight) closeTo(away, 4, { why: 'a straight wall far from corners', absolute: 0.1 }, 'trim');
    else expect(away).toBeLessThan(4 + FITTED);
    if (!atNotch) expect(away).toBeGreaterThan(2);
  }
  expect(Math.min(...distances.map(({ away }) => away))).toBeLessThan(1e-6);
  // The corner that is cut out is no corner of the gather report.
  expect(pattern.report.corners.map(({ index }) => index)).toEqual([1, 2, 3]);
});

describe('open ends', () => {
  test('a trough open at both ends only bends: a plain rectangle', () => {
    const pattern = developed({ plan: { ...RECTANGLE, openEdges: ['left', 'right'] } }, FINE);
    expect(largestStrain(pattern)).toBeLessThan(UNSTRAINED);
    const bounds = pathBounds(pattern.rim);
    const wide = WIDTH - 2 * BEND + 2 * upright(HEIGHT);
    closeTo(bounds.maxX - bounds.minX, LENGTH, TRUE_LENGTH, 'length');
    closeTo(bounds.maxY - bounds.minY, wide, TRUE_LENGTH, 'developed width');
    closeTo(
      pathArea(pattern.rim),
      LENGTH * wide,
      { why: 'what is left of chords in a fine mesh', absolute: 2 },
      'area',
    );
  });

  test('open at one end: the open edge is straight and developed', () => {
    const pattern = developed({ plan: { ...RECTANGLE, openEdges: ['left'] } });
    const end = samplesOf(pattern.rim, 8).filter(([x]) => x < -LENGTH / 2 + 1);
    expect(end.length).toBeGreaterThan(7);
    for (const [x] of end)
      closeTo(x, -LENGTH / 2, { why: 'corners are far away', absolute: 0.05 }, 'open edge');
    // The last sample of a piece is its end, the next piece's first.
    const wide = Math.max(...end.map(([, y]) => y)) - Math.min(...end.map(([, y]) => y));
    closeTo(
      wide,
      WIDTH - 2 * BEND + 2 * upright(HEIGHT),
      { why: 'corners are far away', absolute: 0.05 },
      'width',
    );
    expect(pattern.report.corners.map(({ index }) => index).sort()).toEqual([0, 3]);
  });
});

describe('a curved edge', () => {
  const vertices = [
    { x: -150, y: -80, radius: 20 },
    { x: 150, y: -80, radius: 20 },
    { x: 150, y: 80, radius: 0, bulge: 0.2 },
    { x: -150, y: 80, radius: 0 },
  ];

  test('that is open has no corner in the report: no wall is gathered there', () => {
    const { report } = developed({ plan: { vertices, openEdges: [2] } });
    expect(report.corners.map(({ index }) => index)).toEqual([0, 1]);
  });

  test('that has a wall is an edge in what the terminal says, not a corner with a number too high', () => {
    const pattern = developed({
      plan: { vertices: vertices.map((vertex) => ({ ...vertex, radius: 20 })) },
    });
    expect(pattern.report.corners).toHaveLength(5);
    expect(figureLines(pattern)).toMatch(/C–D: rim to lose/);
    expect(figureLines(pattern) + gatherLines(pattern)).not.toMatch(
      /\b[E-Z]: rim|corners? +(?:[A-Z–]+, )*[E-Z]\b/,
    );
  });
});

describe('a height for every side', () => {
  const heights = { top: 52, left: 34, bottom: 40, right: 30 };
  const pattern = developed({ section: { height: undefined, heights, runOut: 40 } });

  test.each([
    ['top', 0, 1, heights.top, WIDTH / 2],
    ['left', -1, 0, heights.left, LENGTH / 2],
    ['bottom', 0, -1, heights.bottom, WIDTH / 2],
    ['right', 1, 0, heights.right, LENGTH / 2],
  ])('%s: as asked above its middle, formed and in the flat', (_, nx, ny, height, half) => {
    const { rimNodes } = pattern.field;
    // The rim node nearest the middle of the side: there the rim is level.
    const nearest = Array.from(rimNodes).reduce((best, node) => {
      const off = (of: number): number => {
        const [x, y] = formedAt(pattern, of);
        return x * nx + y * ny > 0 ? Math.abs(x * ny - y * nx) : Infinity;
      };
      return off(node) < off(best) ? node : best;
    });
    // Height over the outside skin: the neutral surface is BEND − NEUTRAL from it, in base and wall.
    closeTo(
      formedAt(pattern, nearest)[2] + BEND - NEUTRAL,
      height,
      { why: 'rounding', absolute: 1e-6 },
      'formed height',
    );
    const [x, y] = flatAt(pattern, nearest);
    closeTo(
      x * nx + y * ny,
      half - BEND + upright(height),
      { why: 'corners pull a little at the middle of a side', absolute: 0.15 },
      'flat distance',
    );
  });

  test('the rim runs from one height to the next without a step', () => {
    const points = Array.from(pattern.field.rimNodes, (node) => formedAt(pattern, node));
    const slopes = points.map((point, i) => {
      const before = points.at(i - 1)!;
      return Math.abs(point[2] - before[2]) / Math.hypot(point[0] - before[0], point[1] - before[1]);
    });
    // Largest change of height over its run of corner arc and twice the run-out.
    const arc = (Math.PI / 2) * (45 - BEND + NEUTRAL);
    closeTo(
      Math.max(...slopes),
      (52 - 30) / (arc + 2 * 40),
      { why: 'chords and the inner radius', relative: 0.06 },
      'steepest rim',
    );
  });
});

describe('a flat that overlaps itself', () => {
  // Tall walls in an inward corner reach across each other in the flat.
  const tall = (height: number): object => ({
    plan: {
      vertices: [
        { x: 0, y: 0, radius: 40 },
        { x: 300, y: 0, radius: 40 },
        { x: 300, y: 140, radius: 40 },
        { x: 150, y: 140, radius: 20 },
        { x: 150, y: 300, radius: 40 },
        { x: 0, y: 300, radius: 40 },
      ],
    },
    section: { height },
  });

  test.each([60, 70])('has the verdict, not an error: %d mm high', (height) => {
    const refused = solved(tall(height));
    expect(refused.kind).toBe('no flat');
    expect(verdictOn(refused).word).toBe('not in one piece');
    expect(structuredClone(refused)).toEqual(refused);
  });
});
