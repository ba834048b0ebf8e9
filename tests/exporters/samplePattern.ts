/**
 * Flat patterns made by hand, so that the exporters can be tested without the solver.
 *
 * The figures of the report are what the geometry gives in closed form; those of the solver are made up and
 * only have to come out as they went in.
 */

import type { FlatField } from '../../src/geometry/flatField.ts';
import type { Path, Point, Vertex } from '../../src/geometry/path.ts';
import type { SheetMaterial } from '../../src/material/sheet.ts';
import type { FlatPattern, Report } from '../../src/pattern/flatPattern.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { length, statement } from '../../src/words/statement.ts';
import { NO_GATHER } from '../support/noGather.ts';

/** tan(90°/4): the bulge of a quarter circle, counter-clockwise. */
export const QUARTER = Math.SQRT2 - 1;

/** Sizes of the sample's outline, mm: a rectangle with round corners and one round hole. */
export const SAMPLE = { length: 420, width: 300, radius: 60, holeDiameter: 24 } as const;

/** Closed-form area of the sample's outline: rectangle less what the four corners lack. mm². */
export const SAMPLE_AREA = SAMPLE.length * SAMPLE.width - (4 - Math.PI) * SAMPLE.radius ** 2;

/** Closed-form length of the sample's outline, mm. */
export const SAMPLE_LENGTH =
  2 * (SAMPLE.length + SAMPLE.width) - 8 * SAMPLE.radius + 2 * Math.PI * SAMPLE.radius;

/** A rectangle with round corners about the origin, counter-clockwise from the right end of the lower side. */
export function roundedRectangle(length: number, width: number, radius: number): Path {
  const [a, b, r] = [length / 2, width / 2, radius];
  const vertices: Vertex[] = [
    { x: a - r, y: -b, bulge: QUARTER },
    { x: a, y: -b + r, bulge: 0 },
    { x: a, y: b - r, bulge: QUARTER },
    { x: a - r, y: b, bulge: 0 },
    { x: -a + r, y: b, bulge: QUARTER },
    { x: -a, y: b - r, bulge: 0 },
    { x: -a, y: -b + r, bulge: QUARTER },
    { x: -a + r, y: -b, bulge: 0 },
  ];
  return { vertices, closed: true };
}

/** A full circle as two half circles, clockwise. */
export function roundHole(center: Point, diameter: number): Path {
  const r = diameter / 2;
  return {
    vertices: [
      { x: center.x - r, y: center.y, bulge: -1 },
      { x: center.x + r, y: center.y, bulge: -1 },
    ],
    closed: true,
  };
}

/** A drip tray for a potting bench, round corners, a drain hole. */
export function samplePattern(): FlatPattern {
  const outline = roundedRectangle(SAMPLE.length, SAMPLE.width, SAMPLE.radius);
  return patternOf('potting-bench-drip-tray', outline, {
    rim: roundedRectangle(SAMPLE.length - 8, SAMPLE.width - 8, SAMPLE.radius - 4),
    holes: [{ name: 'drain', path: roundHole({ x: 130, y: -70 }, SAMPLE.holeDiameter) }],
    scribeLines: [
      { kind: 'bend-begin', path: roundedRectangle(330, 210, 24) },
      { kind: 'bend-end', path: roundedRectangle(372, 252, 44) },
    ],
  });
}

/** An L round a water pipe, with one concave corner; its name is not ASCII and its grain runs at 30°. */
export function concavePattern(): FlatPattern {
  const outline: Path = {
    vertices: [
      { x: 0, y: 0, bulge: 0 },
      { x: 380, y: 0, bulge: QUARTER },
      { x: 400, y: 20, bulge: 0 },
      { x: 400, y: 130, bulge: QUARTER },
      { x: 380, y: 150, bulge: 0 },
      { x: 180, y: 150, bulge: -QUARTER },
      { x: 150, y: 180, bulge: 0 },
      { x: 150, y: 300, bulge: 0 },
      { x: 0, y: 300, bulge: 0 },
    ],
    closed: true,
  };
  const step: Path = {
    vertices: [
      { x: 30, y: 270, bulge: 0 },
      { x: 30, y: 30, bulge: 0 },
      { x: 370, y: 30, bulge: 0 },
    ],
    closed: false,
  };
  const pattern = patternOf('Gießkannen-Tablett „Süd“', outline, {
    rim: outline,
    holes: [],
    scribeLines: [{ kind: 'bend-begin', path: step }],
  });
  return { ...pattern, sheet: { ...pattern.sheet, grain: Math.PI / 6 } };
}

/**
 * The pattern enlarged by `factor` and turned by `quarterTurns` × 90° counter-clockwise about the origin,
 * with every figure that follows from that.
 */
export function moved(pattern: FlatPattern, factor: number, quarterTurns: number): FlatPattern {
  const point = <P extends Point>(from: P): P => {
    let [x, y] = [from.x * factor, from.y * factor];
    for (let i = 0; i < quarterTurns; i++) [x, y] = [-y, x];
    return { ...from, x, y };
  };
  const path = (from: Path): Path => ({ ...from, vertices: from.vertices.map(point) });
  const { report } = pattern;
  const sideways = quarterTurns % 2 === 1;
  const flat = pattern.field.flat.slice();
  for (let i = 0; i < flat.length; i += 2) {
    const { x, y } = point({ x: flat[i]!, y: flat[i + 1]! });
    flat[i] = x;
    flat[i + 1] = y;
  }
  return {
    ...pattern,
    rim: path(pattern.rim),
    workedRim: path(pattern.workedRim),
    outline: path(pattern.outline),
    holes: pattern.holes.map((hole) => ({ ...hole, path: path(hole.path) })),
    scribeLines: pattern.scribeLines.map((line) => ({ ...line, path: path(line.path) })),
    sheet: { ...pattern.sheet, grain: pattern.sheet.grain + (quarterTurns * Math.PI) / 2 },
    field: { ...pattern.field, flat },
    report: {
      ...report,
      rim: report.rim.map(point),
      outline: report.outline.map(point),
      sheet: { ...report.sheet, grain: report.sheet.grain + 90 * quarterTurns },
      blank: {
        ...report.blank,
        length: factor * (sideways ? report.blank.width : report.blank.length),
        width: factor * (sideways ? report.blank.length : report.blank.width),
        area: factor ** 2 * report.blank.area,
        cutLength: factor * report.blank.cutLength,
      },
      corners: report.corners.map((corner) => ({ ...corner, at: point(corner.at) })),
    },
  };
}

function patternOf(
  name: string,
  outline: Path,
  lines: Pick<FlatPattern, 'rim' | 'holes' | 'scribeLines'>,
): FlatPattern {
  return {
    kind: 'tray',
    name,
    spec: SPEC(name),
    sheet: { material: MATERIAL, thickness: 1.2, grain: 0 },
    outline,
    workedRim: outline,
    ...lines,
    notes: [statement('pattern.kerfLeft')],
    report: reportOf(name, lines.rim, outline),
    gather: NO_GATHER,
    field: FIELD,
  };
}

const reportOf = (name: string, rim: Path, outline: Path): Report => ({
  name,
  sheet: { material: 'DC04', thickness: 1.2, grain: 0 },
  rim: rim.vertices,
  outline: outline.vertices,
  blank: {
    length: SAMPLE.length,
    width: SAMPLE.width,
    area: SAMPLE_AREA,
    mass: SAMPLE_AREA * 1.2 * 7.85e-6,
    cutLength: SAMPLE_LENGTH,
    segments: outline.vertices.length,
  },
  developed: { alongLength: 41, alongWidth: 41 },
  bounds: { arcLengthCornerRadius: 58.1, equalAreaCornerRadius: 55.2 },
  corners: [
    {
      index: 0,
      letter: 'A',
      at: { x: 165, y: 105 },
      cornerRadius: 45,
      flatRimLength: 88,
      flatCornerRadius: 57,
      arcLengthCornerRadius: 58.1,
      equalAreaCornerRadius: 55.2,
      formedRimLength: 70.7,
      arcRimToLose: 17.3,
      rimToLose: 23.1,
      rimToLoseCorners: [0],
      netFlatRimLength: 84,
      netFormedRimLength: 70.7,
      netRimThickness: 1.33,
      peakGather: 21.5,
      peakStretch: 9.8,
      thickest: 1.36,
      thinnest: 1.18,
    },
  ],
  thickness: { min: 1.18, max: 1.36 },
  solver: { triangles: 2, unknowns: 18, steps: 7, residual: 3.2e-10 },
  warnings: [statement('pattern.uncertain', length(0.1, 2))],
});

const SPEC = (name: string): TraySpec => ({
  name,
  measured: 'outside',
  plan: { length: 372, width: 252, cornerRadius: 45 },
  section: { bottomRadius: 22, height: 36, draft: 0, rim: { kind: 'plain' } },
  sheet: { material: 'DC04', thickness: 1.2, grain: 0 },
  forming: { trim: 4 },
  cut: { process: 'laser', kerf: 0.2, compensate: false },
});

/** Round numbers, not a real sheet: exporters only print its name and thickness. */
const MATERIAL: SheetMaterial = {
  name: 'DC04',
  family: 'steel',
  coating: 'none',
  K: 500,
  epsilon0: 0.004,
  n: 0.2,
  r0: 1.5,
  r45: 1.2,
  r90: 1.8,
  density: 7.85,
  youngsModulus: 210_000,
  yieldStrength: 180,
  tensileStrength: 310,
  uniformElongation: 22,
  anneal: { temperature: [600, 700], cue: statement('material.cues.steel'), strainBudget: 0.2 },
  thicknessRange: [0.5, 3],
  sources: {},
};

/** Two six-node triangles over a square: corners 0 to 3, then the middles of their sides and of the diagonal. */
const FIELD: FlatField = {
  flat: new Float64Array([0, 0, 2, 0, 2, 2, 0, 2, 1, 0, 2, 1, 1, 1, 1, 2, 0, 1]),
  formed: new Float64Array([0, 0, 0, 2, 0, 0, 2, 2, 0, 0, 2, 0, 1, 0, 0, 2, 1, 0, 1, 1, 0, 1, 2, 0, 0, 1, 0]),
  triangles: new Uint32Array([0, 1, 2, 4, 5, 6, 0, 2, 3, 6, 7, 8]),
  majorStrain: new Float64Array(9),
  minorStrain: new Float64Array(9),
  thicknessStrain: new Float64Array(9),
  equivalentStrain: new Float64Array(9),
  rimNodes: new Uint32Array([0, 4, 1, 5, 2, 7, 3, 8]),
  rimCorner: new Int32Array([-1, -1, -1, -1, -1, -1, -1, -1]),
};
