/** What is said of a part that was solved as it is: sizes, blank, warnings. */

import type { Sheet } from '../../material/sheet.ts';
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { pathArea, pathBounds, pathLength } from '../../outline/measure.ts';
import type { Path } from '../../outline/path.ts';
import type { CornerReport, FlatPattern, Hole } from '../../pattern/flatPattern.ts';
import type { FlatField } from '../../solve/flatField.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { percentFromLogStrain } from '../../units.ts';
import type { PartGiven } from './developPart.ts';

type Report = FlatPattern['report'];

/** Corners are alike when their classical radii differ by less, mm. */
const ALIKE = 0.05;

/** A tray of the part's outer sizes, for the report's headings. */
export function sizesOnly(given: PartGiven, thickness: number, mesh: QuadraticMesh): TraySpec {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let node = 0; node < mesh.nodeCount; node++) {
    for (let i = 0; i < 3; i++) {
      low[i] = Math.min(low[i]!, mesh.placed[PLACED_SIZE * node + i]!);
      high[i] = Math.max(high[i]!, mesh.placed[PLACED_SIZE * node + i]!);
    }
  }
  const tidy = (value: number): number => Math.round(value * 1e4) / 1e4;
  return {
    name: given.name,
    measured: 'outside',
    plan: {
      length: tidy(high[0]! - low[0]! + thickness),
      width: tidy(high[1]! - low[1]! + thickness),
      cornerRadius: 0,
    },
    section: {
      bottomRadius: 0,
      height: tidy(high[2]! - low[2]! + thickness / 2),
      draft: 0,
      rim: { kind: 'plain' },
    },
    sheet: { material: given.material, thickness: tidy(thickness), grain: given.grain },
    forming: { trim: given.trim },
    cut: given.cut,
  };
}

const least = (values: Float64Array): number => values.reduce((low, value) => Math.min(low, value), Infinity);
const most = (values: Float64Array): number =>
  values.reduce((high, value) => Math.max(high, value), -Infinity);

/** @param holes clockwise */
export function blankOf(outline: Path, holes: readonly Hole[], sheet: Sheet): Report['blank'] {
  const bounds = pathBounds(outline);
  const area = holes.reduce((sum, { path }) => sum + pathArea(path), pathArea(outline));
  return {
    length: bounds.maxX - bounds.minX,
    width: bounds.maxY - bounds.minY,
    area,
    mass: area * sheet.thickness * sheet.material.density * 1e-6,
    cutLength: holes.reduce((sum, { path }) => sum + pathLength(path), pathLength(outline)),
    segments: outline.vertices.length,
  };
}

/** Finished thickness, mm. */
export const thicknessOf = (field: FlatField, sheet: Sheet): Report['thickness'] => ({
  min: sheet.thickness * Math.exp(least(field.thicknessStrain)),
  max: sheet.thickness * Math.exp(most(field.thicknessStrain)),
});

/** The classical answers of the corners when all corners are alike. */
export function boundsOf(corners: readonly CornerReport[]): Report['bounds'] {
  const first = corners[0];
  const alike =
    first !== undefined &&
    corners.every(
      (corner) =>
        Math.abs(corner.arcLengthCornerRadius - first.arcLengthCornerRadius) < ALIKE &&
        Math.abs(corner.equalAreaCornerRadius - first.equalAreaCornerRadius) < ALIKE,
    );
  return {
    arcLengthCornerRadius: alike ? first.arcLengthCornerRadius : null,
    equalAreaCornerRadius: alike ? first.equalAreaCornerRadius : null,
  };
}

export function stretchWarnings(field: FlatField, sheet: Sheet): string[] {
  const stretch = most(field.majorStrain);
  if (stretch <= sheet.material.n) return [];
  return [
    `The metal stretches by ${percentFromLogStrain(stretch).toFixed(0)} %, more than ${sheet.material.name} stretches ` +
      `evenly (${percentFromLogStrain(sheet.material.n).toFixed(0)} %): keep the shrinking ahead of the stretching, or ` +
      'choose a lower wall or larger radii.',
  ];
}

export function partNotes(given: PartGiven, isSurface: boolean): string[] {
  const { process, compensate, kerf } = given.cut;
  return [
    'Solved from the STEP part as it is: the tray in this report tells its outer sizes only, and there is no tray file and no stage plan of it.',
    ...(isSurface ? ['The surface was taken for the middle of the sheet.'] : []),
    ...(process === 'hand'
      ? []
      : [
          compensate
            ? `The outline is moved out by half the kerf (${kerf / 2} mm): tell the cutting service not to compensate again.`
            : 'The outline is the finished size: the cutting service allows for its own kerf.',
        ]),
  ];
}
