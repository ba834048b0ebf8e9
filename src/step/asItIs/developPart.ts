/** From a part of any shape to its flat pattern: unfolded as it is, by the same equilibrium as every tray. */

import { gatherOf } from '../../gather/gather.ts';
import { workedMaterial } from '../../gather/hand.ts';
import type { FlatField } from '../../geometry/flatField.ts';
import { offsetPath } from '../../geometry/offset.ts';
import { largest } from '../../largest.ts';
import { plasticLaw } from '../../material/law.ts';
import type { SheetSpec } from '../../material/sheetSpec.ts';
import { resolveSheet } from '../../material/sheets.ts';
import {
  blankFigures,
  sharedBounds,
  sheetNotes,
  stretchWarnings,
  thicknessRange,
} from '../../pattern/blankReport.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { scribedMarks } from '../../pattern/scribed.ts';
import type { TraySpec } from '../../tray/spec.ts';
import type { LivePart } from '../kernel/readShape.ts';
import type { SheetFaces } from '../sheet/sheetFaces.ts';
import { baseFoot } from './baseFoot.ts';
import { bendKinds } from './bendLines.ts';
import { rimEdges } from './boundaryEdges.ts';
import { PART_DENSITY, type PartDensity } from './meshSizes.ts';
import { cornerReportsOf, cornersOfRim, partCorners } from './partCorners.ts';
import { scribedLines, solvedHoles } from './partLines.ts';
import { partNotes, rimWarnings, sheetOf, sizesOnly } from './partReport.ts';
import { boundaryLoops } from './skinMesh.ts';
import { findSkin } from './skins.ts';
import { refuseOverlap, solvedSkin } from './solvedSkin.ts';
import { trayFrame } from './trayFrame.ts';

/** Corners of a part are alike when their classical radii differ by less, mm. */
const ALIKE = 0.05;

/** What the part's geometry does not say. */
export interface PartGiven {
  readonly name: string;
  readonly material: SheetSpec['material'];
  /** degrees */
  readonly grain: number;
  /** mm, for a part that is a surface; null to take it from the solid */
  readonly thickness: number | null;
  /** mm */
  readonly trim: number;
  readonly cut: TraySpec['cut'];
}

/** A pattern that was solved from a part as it is. */
export interface PartPattern extends FlatPattern {
  readonly kind: 'part';
}

/**
 * @param density how fine the mesh is
 * @param sheetFound the accounting of a solid's faces, where it is at hand
 * @throws GatherpanError NOT_MAKEABLE when the part is no one sheet or its flat overlaps itself, NOT_SOLVED when no
 *   equilibrium is found
 */
export function developPart(
  live: LivePart,
  given: PartGiven,
  density: PartDensity = PART_DENSITY,
  sheetFound: SheetFaces | null = null,
): PartPattern {
  const found = findSkin(live, given.thickness, sheetFound);
  const frame = trayFrame(live, found);
  const sheet = resolveSheet(sheetOf(given, found.thickness));
  const law = plasticLaw(workedMaterial(sheet.material, undefined), sheet.grain);
  const edgesOfRim = rimEdges(live, found, boundaryLoops(found.mesh));
  const solved = solvedSkin(live, found, frame, law, density);
  const { skin, solution, flat, jumps, rim } = solved;
  const { mesh, borders } = solved.part;
  const spec = sizesOnly(given, skin.thickness, mesh);
  const turns = partCorners(live, frame, solved.field, edgesOfRim);
  const field: FlatField = { ...solved.field, rimCorner: cornersOfRim(turns, mesh.rim) };
  refuseOverlap(rim);
  const kerf = given.cut.compensate ? given.cut.kerf / 2 : 0;
  const outline = given.trim + kerf === 0 ? rim : offsetPath(rim, given.trim + kerf);
  const lines = scribedLines(solution, borders, jumps, bendKinds(skin, flat, frame.base, jumps));
  const { scribeLines } = lines;
  const { holes, warnings } = solvedHoles(solved, frame, field, scribeLines, sheet, kerf);
  const netRim = given.trim > 0 ? [{ kind: 'net-rim' as const, path: rim }] : [];
  // The base hardly changes: its edge in the blank is where it is in the tray.
  const freeWidth = wallWidth(field, baseFoot(skin.mesh, solved.plan, frame.base));
  const work = largest(field.equivalentStrain);
  const gather = gatherOf(spec, sheet, field, rim, freeWidth, work, null);
  const corners = cornerReportsOf(live, turns, field, skin, frame, gather.zones);
  return {
    kind: 'part',
    name: given.name,
    spec,
    sheet,
    rim,
    workedRim: rim,
    outline,
    holes,
    scribeLines: [...scribeLines, ...netRim, ...scribedMarks(gather.zones, rim)],
    notes: [...partNotes(given, live.part.kind === 'surface'), ...sheetNotes(sheet, work)],
    report: {
      name: given.name,
      sheet: { material: sheet.material.name, thickness: sheet.thickness, grain: given.grain },
      rim: rim.vertices,
      outline: outline.vertices,
      blank: blankFigures(outline, holes, sheet),
      developed: { alongLength: null, alongWidth: null },
      bounds: sharedBounds(corners, ALIKE),
      corners,
      thickness: thicknessRange(field, sheet),
      solver: {
        triangles: mesh.triangles.length / 6,
        unknowns: solution.unknowns,
        steps: solution.steps,
        residual: solution.residual,
      },
      warnings: [
        ...stretchWarnings(field, sheet, work),
        ...warnings,
        ...lines.warnings,
        ...rimWarnings(skin),
      ],
    },
    gather,
    field,
  };
}

/** Flat width of the wall from the base's edge to the rim: the middle one of those at the rim's nodes, mm. */
function wallWidth(
  { flat, rimNodes }: FlatField,
  foot: (x: number, y: number) => readonly [number, number],
): number {
  const widths = Float64Array.from(rimNodes, (node) => {
    const [x, y] = [flat[2 * node]!, flat[2 * node + 1]!];
    const [fx, fy] = foot(x, y);
    return Math.hypot(x - fx, y - fy);
  }).sort();
  return widths[widths.length >> 1]!;
}
