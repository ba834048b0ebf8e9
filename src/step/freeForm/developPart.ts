/** From a part of any shape to its flat pattern: unfolded as it is, by the same equilibrium as every tray. */

import { gatherOf, strainsOf } from '../../gather/gather.ts';
import { workedMaterial } from '../../gather/hand.ts';
import type { NoFlatCause, Verdict } from '../../gather/report.ts';
import { noFlatVerdict, peaksOf, shrinksTooFar, tooFarVerdict } from '../../gather/verdict.ts';
import type { FlatField } from '../../geometry/flatField.ts';
import { dot, minus, vectorAt } from '../../geometry/vector3.ts';
import { largest } from '../../largest.ts';
import { plasticLaw } from '../../material/law.ts';
import { resolveSheet } from '../../material/sheets.ts';
import {
  blankFigures,
  sharedBounds,
  sheetNotes,
  stretchWarnings,
  thicknessRange,
} from '../../pattern/blankReport.ts';
import type { FlatPattern, NoFlat } from '../../pattern/flatPattern.ts';
import { scribedMarks } from '../../pattern/scribed.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import type { TraySpec } from '../../tray/spec.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { SheetFaces } from '../sheet/accounting.ts';
import { baseFoot } from './baseFoot.ts';
import { bendKinds } from './bendLines.ts';
import { rimEdges } from './boundaryEdges.ts';
import { PART_DENSITY, type PartDensity } from './meshSizes.ts';
import { NoShape } from './noShape.ts';
import { cornerReportsOf, cornersOfRim, partCorners } from './partCorners.ts';
import type { PartGiven } from './partGiven.ts';
import { scribedLines, solvedHoles } from './partLines.ts';
import { type PartNotches, partNotches } from './partNotches.ts';
import { notchNotes, partNotes, rimWarnings, sheetOf, sizesOnly } from './partReport.ts';
import type { PartSkin } from './skin.ts';
import { boundaryLoops } from './skinMesh.ts';
import { findSkin } from './skins.ts';
import { neutralVertices, refuseOverlap, type SolvedSkin, solvedSkin } from './solvedSkin.ts';
import { trayFrame } from './trayFrame.ts';

/** Corners of a part are alike when their classical radii differ by less, mm. */
const ALIKE = 0.05;

/** A pattern that was solved from a part as it is. */
export interface PartPattern extends FlatPattern {
  readonly kind: 'part';
}

/** What became of a part. */
export type DevelopedPart = PartPattern | NoFlat;

/**
 * @param density how fine the mesh is
 * @param sheetFound the accounting of a solid's faces, where it is at hand
 * @returns the pattern; where the part has no flat, the verdict with the reason
 * @throws GatherpanError NOT_MAKEABLE when the part is no one sheet, or trim does not fit the outline
 */
export function developPart(
  live: LivePart,
  given: PartGiven,
  density: PartDensity = PART_DENSITY,
  sheetFound: SheetFaces | null = null,
): DevelopedPart {
  const found = findSkin(live, given.thickness, sheetFound);
  const whole = { live, skin: found, frame: trayFrame(live, found) };
  const sheet = resolveSheet(sheetOf(given, found.thickness));
  const law = plasticLaw(workedMaterial(sheet.material, undefined), sheet.grain);
  const edgesOfRim = rimEdges(live, found, boundaryLoops(found.mesh));
  const noFlat = (cause: NoFlatCause, verdict: Verdict): DevelopedPart => ({
    kind: 'no flat',
    of: 'part',
    name: given.name,
    spec: sizesOnly(given, found.thickness, netInFrame(whole), 3),
    sheet,
    cause,
    verdict,
  });
  let solved: SolvedSkin;
  let spec: TraySpec;
  let notches: PartNotches;
  try {
    solved = solvedSkin(whole, law, density);
    spec = sizesOnly(given, found.thickness, solved.part.mesh.placed, PLACED_SIZE);
    notches = partNotches(solved.rim, spec);
    refuseOverlap(notches.rim);
  } catch (error) {
    if (error instanceof NoShape) return noFlat(error.why, noFlatVerdict(error.sentence));
    throw error;
  }
  const peaks = peaksOf(strainsOf(solved.field), sheet);
  if (shrinksTooFar(peaks, sheet, undefined))
    return noFlat('shrinkage', tooFarVerdict(peaks, sheet, undefined));
  const { skin, frame, solution, flat, jumps } = solved;
  const { mesh, borders } = solved.part;
  const { rim } = notches;
  const turns = partCorners(solved, solved.field, edgesOfRim);
  const field: FlatField = { ...solved.field, rimCorner: cornersOfRim(turns, mesh.rim) };
  const kerf = given.cut.compensate ? given.cut.kerf / 2 : 0;
  const outline = notches.cutAt(given.trim, kerf);
  const lines = scribedLines(solution, borders, jumps, bendKinds(skin, flat, frame.base, jumps));
  const { scribeLines } = lines;
  const { holes, warnings } = solvedHoles(solved, field, scribeLines, sheet, kerf);
  const netRim = given.trim > 0 ? [{ kind: 'net-rim' as const, path: rim }] : [];
  // The base hardly changes: its edge in the blank is where it is in the tray.
  const freeWidth = wallWidth(field, baseFoot(skin.mesh, solved.plan, frame.base));
  const work = largest(field.equivalentStrain);
  const gather = gatherOf(spec, sheet, { field, rim, freeWidth }, work, null);
  const corners = cornerReportsOf(solved, turns, field, gather.zones);
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
    notes: [
      ...partNotes(given, live.part.kind === 'surface'),
      ...notchNotes(notches.count, spec),
      ...sheetNotes(sheet, work),
    ],
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

/** The skin's own net in the middle of the sheet: x y z per vertex. */
function netInFrame(whole: PartSkin): number[] {
  const { axes, origin } = whole.frame;
  const { position } = neutralVertices(whole);
  return Array.from(position, (_, i) => dot(axes[i % 3]!, minus(vectorAt(position, i - (i % 3)), origin)));
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
