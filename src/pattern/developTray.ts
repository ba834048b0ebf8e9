/** The one entry point: from a tray to its flat pattern. */

import { isUnsolved } from '../errors.ts';
import { gatherOf } from '../gather/gather.ts';
import type { NoFlatCause, Verdict } from '../gather/report.ts';
import { keepSolved, type SolveInput, solveInput } from '../gather/solvedTray.ts';
import { resolvedTrim, trimWarnings } from '../gather/trimBand.ts';
import { noFlatVerdict, peaksOf, shrinksTooFar, tooFarVerdict } from '../gather/verdict.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { selfIntersections } from '../geometry/intersect.ts';
import type { Path } from '../geometry/path.ts';
import type { Sheet } from '../material/sheet.ts';
import { DEFAULT_SOLVE, type SolveOptions, solveTray, type TraySolution } from '../solve/solveTray.ts';
import { type NodalStrains, nodalStrains } from '../solve/strains.ts';
import { wholeField } from '../solve/wholeField.ts';
import type { NeutralSurface } from '../tray/neutralSurface.ts';
import { setbackOf } from '../tray/planLoop.ts';
import { sectionPoint } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { length, type Statement, statement } from '../words/statement.ts';
import {
  blankFigures,
  cutNotes,
  sharedBounds,
  sheetNotes,
  stretchWarnings,
  thicknessRange,
} from './blankReport.ts';
import { cornerReports, rimCorners } from './corners.ts';
import { cutOutline } from './cutOutline.ts';
import { FlatFinder } from './flatFinder.ts';
import type { Developed, NoFlat, Report } from './flatPattern.ts';
import { mapHoles } from './holes.ts';
import { fitSolvedLine } from './lines.ts';
import { notchesAlong } from './notchEdges.ts';
import { flatRoots, withReliefs } from './notchRelief.ts';
import { type Scribed, scribed } from './scribed.ts';

/** How to solve; everything has a default that meets the stated accuracy. */
export interface DevelopOptions {
  /** Passed to the solver; see `SolveOptions`. */
  readonly solve?: Partial<SolveOptions>;
}

/**
 * Solves a tray and makes its flat pattern.
 *
 * Coordinates have their origin at the plan's origin, x along its length. The outline is within 0.05 mm of the
 * fully refined solution and 0.02 mm of the solved rim, for trays from 60 to 2,000 mm with sides of one height up to
 * three bottom radii and sheets of n = 0.15 and more; where heights differ it may be further off.
 *
 * @param given a complete tray, as `readTray` gives it; a trim of "auto" becomes a number in the pattern
 * @returns the flat pattern; where there is none, the verdict with the reason
 * @throws GatherpanError NOT_FOUND for an unknown material, NOT_MAKEABLE when trim does not fit the outline
 */
export function developTray(given: TraySpec, options: DevelopOptions = {}): Developed {
  const input = solveInput(given);
  const { sheet, surface } = input;
  const solved = solvedRim(given, input, { ...DEFAULT_SOLVE, growth: input.growth, ...options.solve });
  if ('cause' in solved)
    return noFlat(given, sheet, solved.cause, noFlatVerdict(solved.cause, solved.corner));
  const { solution, strains, whole, rim } = solved;
  const peaks = peaksOf(strains, sheet);
  const { hand } = given.forming;
  if (shrinksTooFar(peaks, sheet, hand))
    return noFlat(given, sheet, 'shrinkage', tooFarVerdict(peaks, sheet, hand));
  const { spec, trimBand } = resolvedTrim(given);
  keepSolved(rim, { spec, sheet, surface, solution, strains });
  const field: FlatField = { ...whole, rimCorner: rimCorners(whole, surface) };
  const outline = cutOutline(rim, field, spec);
  const mapped = mapHoles(spec, surface, field, sheet, spec.cut.compensate ? spec.cut.kerf / 2 : 0);
  const corners = cornerReports(field, surface, sheet);
  const lines = scribeLines(solution, surface);
  const report: Report = {
    name: spec.name,
    sheet: { material: sheet.material.name, thickness: sheet.thickness, grain: spec.sheet.grain },
    rim: rim.vertices,
    outline: outline.vertices,
    blank: blankFigures(outline, mapped.holes, sheet),
    developed: developedLengths(field, spec, surface),
    bounds: sharedBounds(corners, ALIKE),
    corners,
    thickness: thicknessRange(field, sheet),
    solver: {
      triangles: solution.mesh.triangles.length / 6,
      unknowns: solution.unknowns,
      steps: solution.steps,
      residual: solution.residual,
    },
    warnings: [
      ...warnings(field, sheet, solution),
      ...mapped.warnings,
      ...lines.warnings,
      ...trimWarnings(spec, trimBand),
    ],
  };
  return {
    kind: 'tray',
    name: spec.name,
    spec,
    sheet,
    rim,
    outline,
    holes: mapped.holes,
    scribeLines: lines.scribeLines,
    notes: [...sheetNotes(sheet, field), ...cutNotes(spec.cut)],
    report,
    gather: gatherOf(spec, sheet, field, rim, surface.section.developed, trimBand),
    field,
  };
}

/** Corners whose classical radii differ by less are alike, mm: rounding. */
const ALIKE = 1e-9;

/** Why a tray has no rim, and the notched corner at which it overlaps itself, if it is at one. */
interface NoRim {
  readonly cause: Exclude<NoFlatCause, 'shrinkage'>;
  readonly corner: number | null;
}

/** A tray solved, with its rim. */
interface SolvedRim {
  readonly solution: TraySolution;
  readonly strains: NodalStrains;
  readonly whole: ReturnType<typeof wholeField>;
  readonly rim: Path;
}

/** Solves the flat and its rim, which must not overlap itself; or says why there is none. */
function solvedRim(
  spec: TraySpec,
  { surface, symmetry, law }: SolveInput,
  options: SolveOptions,
): SolvedRim | NoRim {
  let solution: TraySolution;
  try {
    solution = solveTray(surface, symmetry, law, options);
  } catch (error) {
    if (isUnsolved(error)) return { cause: 'no equilibrium', corner: null };
    throw error;
  }
  const strains = nodalStrains(solution.mesh, solution.geometry, law, solution.flat);
  const whole = wholeField(solution, strains);
  const fitted = fitSolvedLine(solution, {
    nodes: solution.mesh.rim,
    closed: solution.mesh.mirrorLines === null,
  });
  const rim = withReliefs(fitted, flatRoots(whole, spec), spec);
  const crossings = selfIntersections(rim);
  if (crossings.length === 0) return { solution, strains, whole, rim };
  const notches = notchesAlong(rim, whole, spec);
  const corners = crossings.flatMap(({ first, second }) => [notches[first]!, notches[second]!]);
  return { cause: 'overlaps', corner: corners.find((corner) => corner !== null) ?? null };
}

/** A tray without a flat pattern. */
const noFlat = (spec: TraySpec, sheet: Sheet, cause: NoFlatCause, verdict: Verdict): NoFlat => ({
  kind: 'no flat',
  name: spec.name,
  spec,
  sheet,
  cause,
  verdict,
});

/** Where the bend leaves the base, and where it ends in the wall. Without a straight wall it ends at the rim. */
function scribeLines(solution: TraySolution, surface: NeutralSurface): Scribed {
  const rows = surface.section.pieces.map((piece, row) => {
    const own = solution.mesh.sectionLines.filter((line) => line.row === row && line.nodes.length >= 3);
    return { kind: piece.kind === 'bend' ? ('bend-begin' as const) : ('bend-end' as const), lines: own };
  });
  return scribed(solution, rows);
}

/**
 * Flat distance from the bend's beginning to the rim, where the rectangle's axes cross them; null beside an open
 * edge and for other plans.
 */
function developedLengths(field: FlatField, spec: TraySpec, surface: NeutralSurface): Report['developed'] {
  const { plan } = spec;
  if ('vertices' in plan) return { alongLength: null, alongWidth: null };
  const { section } = surface;
  const finder = new FlatFinder(field);
  const last = section.pieces[section.pieces.length - 1]!;
  const developed = (
    edge: number,
    toPlanEdge: number,
    at: (out: number, up: number) => Point3,
  ): number | null => {
    if (plan.openEdges?.includes(edge) === true) return null;
    const base = toPlanEdge - setbackOf(spec);
    const extra =
      ((spec.section.heights?.[edge] ?? section.nominalHeight) - section.nominalHeight) *
      section.wallPerHeight;
    const rim = sectionPoint(
      last,
      1,
      { run: 0, height: 0, angle: 0, developed: 0 },
      last === section.pieces[section.wallPiece] ? extra : 0,
    );
    const begin = finder.find(at(base, 0));
    const end = finder.find(at(base + rim.run, rim.height));
    return Math.hypot(end.x - begin.x, end.y - begin.y);
  };
  return {
    // Edge 3 is the one at +x, edge 0 the one at +y.
    alongLength: developed(3, plan.length / 2, (out, up) => [out, 0, up]),
    alongWidth: developed(0, plan.width / 2, (out, up) => [0, out, up]),
  };
}

type Point3 = readonly [number, number, number];

function warnings(field: FlatField, sheet: Sheet, solution: TraySolution): Statement[] {
  const out = stretchWarnings(field, sheet);
  if (solution.estimate > 0.05) {
    out.push(statement('pattern.uncertain', length(solution.estimate, 2)));
  }
  return out;
}
