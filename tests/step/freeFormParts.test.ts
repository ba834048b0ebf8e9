/**
 * Parts that no tray file says, built from the kernel's primitives and unfolded as they are: a stepped base, a wall
 * whose radius changes, a wall in one flowing curve. Round ones against the one-dimensional problem, which has no
 * elements (`support/shellOfRevolution.ts`); rectangles against what symmetry and constant volume ask for.
 */
import { describe, expect, it } from 'vitest';
import { workedMaterial } from '../../src/gather/hand.ts';
import { distanceToPiece, pointOnPiece } from '../../src/geometry/arc.ts';
import { pathArea, pathBounds } from '../../src/geometry/measure.ts';
import type { Path } from '../../src/geometry/path.ts';
import { resolveSheet } from '../../src/material/sheets.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import type { ScribeLine } from '../../src/pattern/flatPattern.ts';
import { developPart, type PartPattern } from '../../src/step/freeForm/developPart.ts';
import { LONG, some } from '../support/long.ts';
import { arc, type MeridianPiece, solveShell, straight } from '../support/shellOfRevolution.ts';
import { HARDENING, shellLaw } from '../support/trays.ts';
import { GIVEN } from './given.ts';
import { withLivePart } from './occt.ts';
import { degrees, developed, ends, type Piece, type Plan, solidPart, surfacePart } from './parts.ts';

const TIME = 600_000;
const THICKNESS = 0.8;
/** Alike in all directions, as the one-dimensional problem is. */
const MATERIAL = {
  name: 'even sheet',
  ...HARDENING,
  r0: 1.2,
  r45: 1.2,
  r90: 1.2,
  density: 7.85,
  youngsModulus: 210_000,
  yieldStrength: 180,
  tensileStrength: 320,
  uniformElongation: 22,
};
const LAW = shellLaw(
  workedMaterial(resolveSheet({ material: MATERIAL, thickness: THICKNESS, grain: 0 }).material, undefined),
);
/** The outline may be this far from the fully refined one, mm: the round trip's own bound. */
const WITHIN = 0.1;

const STEPPED: Piece[] = [
  { kind: 'arc', radius: 12, angle: degrees(30) },
  { kind: 'arc', radius: 12, angle: degrees(-30) },
  { kind: 'line', length: 18 },
  { kind: 'arc', radius: 15, angle: degrees(85) },
  { kind: 'line', length: 12 },
];
const CHANGING: Piece[] = [
  { kind: 'arc', radius: 14, angle: degrees(50) },
  { kind: 'arc', radius: 45, angle: degrees(35) },
];
/** With a little of the base in front: the kernel misreads an ellipse that is turned about its own end. */
const FLOWING: Piece[] = [
  { kind: 'line', length: 8 },
  { kind: 'ellipse', run: 24, height: 32 },
];
/** A wall with a lip whose edge is turned down, square. */
const TURNED_DOWN: Piece[] = [
  { kind: 'arc', radius: 10, angle: degrees(90) },
  { kind: 'line', length: 8 },
  { kind: 'arc', radius: 6, angle: degrees(-90) },
  { kind: 'line', length: 6 },
  { kind: 'arc', radius: 5, angle: degrees(-90) },
  { kind: 'line', length: 4 },
];

const unfolded = async (bytes: Uint8Array, thickness: number | null): Promise<PartPattern> =>
  withLivePart(bytes, (live) =>
    flatPatternOf(developPart(live, { ...GIVEN, material: MATERIAL, thickness })),
  );

/** The section as the one-dimensional problem wants it. */
function meridian(section: readonly Piece[], base: number): MeridianPiece[] {
  const at = ends(section, base);
  return section.map((piece, i) => {
    const { x, angle } = at[i]!;
    if (piece.kind === 'line') return straight(x, piece.length, angle);
    if (piece.kind === 'arc') {
      const sign = Math.sign(piece.angle);
      if (sign > 0) return arc(x, piece.radius, angle, angle + piece.angle);
      return {
        length: -piece.radius * piece.angle,
        radius: (s) => x + piece.radius * (Math.sin(angle) - Math.sin(angle - s / piece.radius)),
        slope: (s) => Math.cos(angle - s / piece.radius),
      };
    }
    return ellipse(x, piece.run, piece.height);
  });
}

/** A quarter of an ellipse by its length: the angle at which a length is reached is found by Simpson's rule. */
function ellipse(start: number, run: number, height: number): MeridianPiece {
  const speed = (p: number): number => Math.hypot(run * Math.cos(p), height * Math.sin(p));
  const steps = 4000;
  const at = new Float64Array(steps + 1);
  const h = Math.PI / 2 / steps;
  for (let i = 0; i < steps; i++) {
    at[i + 1] = at[i]! + (h / 6) * (speed(i * h) + 4 * speed((i + 0.5) * h) + speed((i + 1) * h));
  }
  const parameter = (s: number): number => {
    let [low, high] = [0, steps];
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (at[middle]! <= s) low = middle;
      else high = middle;
    }
    return h * (low + (s - at[low]!) / (at[high]! - at[low]!));
  };
  return {
    length: at[steps]!,
    radius: (s) => start + run * Math.sin(parameter(s)),
    slope: (s) => (run * Math.cos(parameter(s))) / speed(parameter(s)),
  };
}

function radii({ vertices }: Path): { least: number; most: number } {
  let [least, most] = [Infinity, 0];
  vertices.forEach((vertex, i) => {
    for (const share of [0, 0.25, 0.5, 0.75]) {
      const { x, y } = pointOnPiece(vertex, vertices[(i + 1) % vertices.length]!, share);
      least = Math.min(least, Math.hypot(x, y));
      most = Math.max(most, Math.hypot(x, y));
    }
  });
  return { least, most };
}

const kinds = (lines: readonly ScribeLine[]): string[] => lines.map(({ kind }) => kind);

describe('round parts against the one-dimensional problem', () => {
  const BASE = 45;
  const plan: Plan = { kind: 'round' };
  const withBase = (section: readonly Piece[]): Piece[] => [{ kind: 'line', length: BASE }, ...section];

  it.each([
    ['a stepped base', STEPPED, 'solid'],
    ['a wall whose radius changes', CHANGING, 'solid'],
    ['a wall in one flowing curve', FLOWING, 'surface'],
    ['a lip whose edge is turned down', TURNED_DOWN, 'solid'],
  ] as const)(
    '%s',
    async (_, section, kind) => {
      const whole = withBase(section);
      const pattern =
        kind === 'solid'
          ? await unfolded(await solidPart(whole, plan, THICKNESS), null)
          : await unfolded(await surfacePart(whole, plan), THICKNESS);
      const shell = solveShell(LAW, BASE, meridian(section, BASE));
      const { least, most } = radii(pattern.rim);
      expect(Math.abs(least - shell.flatRadius)).toBeLessThan(WITHIN);
      expect(Math.abs(most - shell.flatRadius)).toBeLessThan(WITHIN);
      // Above a lip the wall is narrower than the rim, and thickest.
      if (section !== TURNED_DOWN) {
        expect(Math.abs(pattern.report.thickness.max / THICKNESS - shell.rimThickness)).toBeLessThan(0.005);
      }
      // Where one piece of the section goes over into the next; the first bend begins at the base.
      const expected = [...shell.flatRadii.slice(0, -1)].sort((a, b) => a - b);
      const lines = pattern.scribeLines.map(({ path }) => radii(path)).sort((a, b) => a.least - b.least);
      const from = lines.length - expected.length;
      // The base's own edge comes first, unless the section begins with a piece of the base.
      expect(from).toBe(section[0]!.kind === 'line' ? 0 : 1);
      for (const [i, radius] of expected.entries()) {
        expect(Math.abs(lines[from + i]!.least - radius)).toBeLessThan(1.5 * WITHIN);
        expect(Math.abs(lines[from + i]!.most - radius)).toBeLessThan(1.5 * WITHIN);
      }
    },
    TIME,
  );
});

describe('rectangles', () => {
  const plan: Plan = { kind: 'rectangle', a: 70, b: 45 };

  /** Largest distance of a path's mirror image from it, mm. */
  function unlikeMirror(path: Path, axis: 'x' | 'y'): number {
    const { vertices } = path;
    let most = 0;
    vertices.forEach((vertex, i) => {
      for (const share of [0, 0.5]) {
        const p = pointOnPiece(vertex, vertices[(i + 1) % vertices.length]!, share);
        const [x, y] = axis === 'x' ? [-p.x, p.y] : [p.x, -p.y];
        most = Math.max(
          most,
          Math.min(
            ...vertices.map((other, j) => distanceToPiece(x, y, other, vertices[(j + 1) % vertices.length]!)),
          ),
        );
      }
    });
    return most;
  }

  /** Formed area times its thickness, from the corners of the field's triangles on the part, mm³. */
  function metal({ field, sheet }: PartPattern): number {
    const { triangles, formed, thicknessStrain } = field;
    let sum = 0;
    for (let t = 0; t < triangles.length; t += 6) {
      // Four flat triangles for each curved one.
      const n = Array.from({ length: 6 }, (_, k) => triangles[t + k]!);
      for (const [a, b, c] of [
        [n[0]!, n[3]!, n[5]!],
        [n[3]!, n[1]!, n[4]!],
        [n[5]!, n[4]!, n[2]!],
        [n[3]!, n[4]!, n[5]!],
      ] as const) {
        const edge = (from: number, to: number): number[] =>
          [0, 1, 2].map((i) => formed[3 * to + i]! - formed[3 * from + i]!);
        const [u, v] = [edge(a, b), edge(a, c)];
        const area =
          Math.hypot(
            u[1]! * v[2]! - u[2]! * v[1]!,
            u[2]! * v[0]! - u[0]! * v[2]!,
            u[0]! * v[1]! - u[1]! * v[0]!,
          ) / 2;
        const mean = [a, b, c].reduce((total, node) => total + Math.exp(thicknessStrain[node]!) / 3, 0);
        sum += area * mean * sheet.thickness;
      }
    }
    return sum;
  }

  it.each(
    some(
      [
        [
          'a stepped base',
          STEPPED,
          'solid',
          ['bend-begin', 'bend-begin', 'bend-begin', 'bend-end', 'bend-end'],
        ],
        ['a wall whose radius changes', CHANGING, 'solid', ['bend-begin', 'bend-begin']],
        ['a wall in one flowing curve', FLOWING, 'surface', ['bend-begin']],
      ] as const,
      2,
    ),
  )(
    '%s',
    async (_, section, kind, bends) => {
      const pattern =
        kind === 'solid'
          ? await unfolded(await solidPart(section, plan, THICKNESS), null)
          : await unfolded(await surfacePart(section, plan), THICKNESS);
      expect(pattern.sheet.thickness).toBeCloseTo(THICKNESS, 6);
      // A sheet alike in all directions in a part with two mirror lines.
      expect(unlikeMirror(pattern.rim, 'x')).toBeLessThan(WITHIN);
      expect(unlikeMirror(pattern.rim, 'y')).toBeLessThan(WITHIN);
      // Plastic metal keeps its volume: blank times flat thickness is part times formed thickness.
      const blank = pathArea(pattern.rim) * THICKNESS;
      expect(Math.abs(metal(pattern) / blank - 1)).toBeLessThan(3e-3);
      // The middles of long sides take hardly any part in the gather: the length up the wall is kept.
      if (section !== FLOWING) {
        const { minX, maxX } = pathBounds(pattern.rim);
        expect(Math.abs((maxX - minX) / 2 - (plan.a + developed(section)))).toBeLessThan(
          0.01 * developed(section),
        );
      }
      // Four gathers at four corners, alike, and what is said of them between the classical answers.
      const { corners } = pattern.report;
      expect(corners.map(({ index }) => index)).toEqual([0, 1, 2, 3]);
      for (const corner of corners) {
        expect(corner.rimToLose).toBeGreaterThan(0);
        expect(Math.abs(corner.rimToLose! - corners[0]!.rimToLose!)).toBeLessThan(2 * WITHIN);
        expect(corner.flatCornerRadius).toBeGreaterThan(corner.equalAreaCornerRadius);
        expect(corner.flatCornerRadius).toBeLessThan(corner.arcLengthCornerRadius);
        expect(corner.thickest).toBeGreaterThan(THICKNESS);
      }
      if (section !== FLOWING) {
        // About a base corner that is a point, the fibre of the corner is as long as the section.
        expect(Math.abs(corners[0]!.arcLengthCornerRadius - developed(section))).toBeLessThan(
          0.01 * developed(section),
        );
      }
      const gathered = pattern.gather.zones.filter(
        ({ kind: each, rim }) => each === 'shrink' && rim !== null,
      );
      expect(gathered.flatMap((zone) => zone.corners).sort()).toEqual([0, 1, 2, 3]);
      expect(pattern.gather.tucks).toHaveLength(gathered.length);
      const marks = pattern.scribeLines.filter(({ kind: each }) => each === 'rim-mark');
      expect(marks).toHaveLength(2 * gathered.length);
      const lines = pattern.scribeLines.filter(({ kind: each }) => each !== 'rim-mark');
      expect(kinds(lines)).toEqual([...bends]);
      for (const { path } of lines) expect(path.closed).toBe(true);
    },
    TIME,
  );
});

it(
  'a higher wall thickens a little more and stretches a little more: no mesh necks where the sheet does not',
  async () => {
    const peaks: { thickest: number; stretch: number }[] = [];
    for (const wall of LONG ? [15, 18, 20, 22, 25, 28, 30] : [15, 20]) {
      const section: Piece[] = [
        { kind: 'arc', radius: 10, angle: degrees(40) },
        { kind: 'arc', radius: 14, angle: degrees(50) },
        { kind: 'line', length: wall },
      ];
      const part = await unfolded(await solidPart(section, { kind: 'rectangle', a: 40, b: 30 }, 1), null);
      const { majorStrain } = part.field;
      peaks.push({ thickest: part.report.thickness.max, stretch: Math.max(...majorStrain) });
    }
    for (const [i, { thickest, stretch }] of peaks.entries()) {
      if (i === 0) continue;
      expect(thickest).toBeGreaterThan(peaks[i - 1]!.thickest);
      expect(stretch).toBeLessThan(1.15 * peaks[i - 1]!.stretch);
    }
  },
  TIME,
);
