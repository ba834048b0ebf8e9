/** The one entry point: from a tray to its flat pattern. */

import { GatherpanError, ifMakeable, ifSolved, isNotMakeable } from '../errors.ts';
import { gatherOf } from '../gather/gather.ts';
import { handOf } from '../gather/hand.ts';
import type { NoFlatCause, Verdict } from '../gather/report.ts';
import { cacheSolved, type SolvedTray, solveInput } from '../gather/solvedTray.ts';
import { resolvedTrim, strengthNotes, trimBand, trimWarnings } from '../gather/trimBand.ts';
import { COARSE_EXCESS, noFlatVerdict, peaksOf, shrinksTooFar, tooFarVerdict } from '../gather/verdict.ts';
import { straightWork, workOf } from '../gather/work.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { selfIntersections } from '../geometry/intersect.ts';
import type { Path } from '../geometry/path.ts';
import type { Sheet } from '../material/sheet.ts';
import { resolveSheet } from '../material/sheets.ts';
import {
  DEFAULT_SOLVE,
  type MeshSolution,
  type SolveOptions,
  solveTray,
  type TraySolution,
} from '../solve/solveTray.ts';
import { type NodalStrains, nodalStrains } from '../solve/strains.ts';
import { wholeField } from '../solve/wholeField.ts';
import { trayFaults } from '../tray/checks.ts';
import { cornerLetter } from '../tray/cornerLetter.ts';
import type { NeutralSurface } from '../tray/neutralSurface.ts';
import { setbackOf } from '../tray/planLoop.ts';
import { neutralSection, sectionPoint } from '../tray/section.ts';
import type { TraySpec } from '../tray/spec.ts';
import { workedTray } from '../tray/workedTray.ts';
import { givenLength, length, type Statement, statement } from '../words/statement.ts';
import {
  blankFigures,
  cutNotes,
  lawNotes,
  sharedBounds,
  sheetNotes,
  stretchWarnings,
  thicknessRange,
} from './blankReport.ts';
import { cornerReports, rimCorners, rimRun } from './corners.ts';
import { cutOutline } from './cutOutline.ts';
import { fitAround, fitSolvedLine, SCRIBE_TOLERANCE } from './fittedLines.ts';
import { FlatFinder } from './flatFinder.ts';
import type { Developed, NoFlat, Report, ScribeLine } from './flatPattern.ts';
import { mapHoles } from './holes.ts';
import { notchesAlong } from './notchEdges.ts';
import { flatRoots, withReliefs } from './notchRelief.ts';
import { chainPoints, netRimEdges, type RimEdge, rimEdges, wholeEdges, workedParts } from './rimEdges.ts';
import { type Scribed, scribed, scribedMarks } from './scribed.ts';

/** How to solve; everything has a default that meets the stated accuracy. */
export interface DevelopOptions {
  /** Passed to the solver; see `SolveOptions`. */
  readonly solve?: Partial<SolveOptions>;
  /** Whether the band of hands is worked out, and what it says of the trim; true when left out. */
  readonly band?: boolean;
  /** Largest distance of the fitted outline from the solved one, mm; `OUTLINE_TOLERANCE` when left out. */
  readonly outlineTolerance?: number;
  /** Whether the way is solved where it is not plain how many anneals it takes; true when left out. */
  readonly way?: boolean;
}

/**
 * Solves a tray and makes its flat pattern.
 *
 * Coordinates have their origin at the plan's origin, x along its length. The outline is within 0.05 mm of the
 * fully refined solution and 0.02 mm of the solved rim, for trays from 60 to 2,000 mm with sides of one height up to
 * three bottom radii and sheets of n = 0.15 and more; where heights differ it may be further off.
 *
 * What is solved is the tray as it is worked, with its trim as wall or lip.
 *
 * @param given a complete tray, as `readTray` gives it; a trim of "auto" becomes a number in the pattern, and a trim that
 *   makes the tray impossible is lessened, with a note
 * @returns the flat pattern; where there is none, the verdict with the reason
 * @throws GatherpanError NOT_FOUND for an unknown material, NOT_MAKEABLE when trim does not fit the outline
 */
export function developTray(given: TraySpec, options: DevelopOptions = {}): Developed {
  const sheet = resolveSheet(given.sheet);
  const structures = options.solve?.structures;
  const { spec: asked, trimBand: bandOfAuto } = resolvedTrim(given, structures, options.solve?.cancelled);
  const shaped = withTrimThatFits(asked, (spec) => shapedTray(spec, sheet, options));
  if ('cause' in shaped) return noFlat(asked, sheet, shaped.cause, shaped.verdict);
  const { spec, surface, solution, strains, workedRim, field, outline, laidOn } = shaped;
  const banded = options.band !== false || bandOfAuto !== null;
  const band = bandOfAuto ?? (banded ? trimBand(spec, structures) : null);
  const solved: SolvedTray = { spec, sheet, surface, solution, strains };
  cacheSolved(workedRim, solved);
  const mapped = mapHoles(spec, surface, field, sheet, spec.cut.compensate ? spec.cut.kerf / 2 : 0);
  const net = netRimOf(shaped, options.outlineTolerance);
  const { work, known } = options.way === false ? straightWork(strains) : workOf(solved, structures);
  const blank = { field, rim: workedRim, freeWidth: surface.section.developed };
  const gather = gatherOf(spec, sheet, blank, work, band);
  const corners = cornerReports(field, surface, sheet, gather.zones, {
    edges: net.edges,
    run: rimRun(neutralSection(spec)),
  });
  const lines = scribeLines(solution, surface);
  const { rim } = net;
  const report: Report = {
    name: spec.name,
    sheet: { material: sheet.material.name, thickness: sheet.thickness, grain: spec.sheet.grain },
    rim: rim.vertices,
    outline: outline.vertices,
    blank: blankFigures(outline, mapped.holes, sheet),
    developed: developedLengths(field, spec),
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
      ...warnings(field, sheet, work, solution),
      ...(known ? [] : [statement('pattern.lipWayUnknown')]),
      ...mapped.warnings,
      ...lines.warnings,
      ...(banded ? trimWarnings(spec, band) : []),
    ],
  };
  return {
    kind: 'tray',
    name: spec.name,
    spec,
    sheet,
    rim,
    workedRim,
    outline,
    holes: mapped.holes,
    scribeLines: [...lines.scribeLines, ...net.scribeLines, ...scribedMarks(gather.zones, workedRim)],
    notes: [
      ...trimNotes(asked, spec, laidOn),
      ...sheetNotes(sheet, work),
      ...lawNotes(solution.law, sheet, handOf(spec, sheet.material)),
      ...strengthNotes(band, sheet),
      ...cutNotes(spec.cut),
    ],
    report,
    gather,
    field,
  };
}

/** Corners whose classical radii differ by less are alike, mm: rounding. */
const ALIKE = 1e-9;

/** A tray with a trim that it has a flat outline for. */
interface Shaped {
  readonly spec: TraySpec;
  /** With the trim as wall or lip. */
  readonly surface: NeutralSurface;
  readonly solution: TraySolution;
  readonly strains: NodalStrains;
  readonly workedRim: Path;
  readonly field: FlatField;
  readonly outline: Path;
  readonly laidOn: boolean;
}

/** Why there is no flat. */
interface Unshaped {
  readonly cause: NoFlatCause;
  readonly verdict: Verdict;
}

/** @param corner the notched one at which the flat overlaps itself, if it is at one */
const unshaped = (cause: Exclude<NoFlatCause, 'shrinkage'>, corner: number | null = null): Unshaped => ({
  cause,
  verdict: noFlatVerdict(
    corner === null
      ? statement(`verdict.noFlat.${cause}`)
      : statement('verdict.noFlat.overlapsAtNotch', cornerLetter(corner)),
  ),
});

/** How often the trim is halved before it is left out. */
const HALVINGS = 3;

/**
 * The tray with its trim; where that makes it impossible but it is possible without, with half of it, a fourth, an eighth
 * or none.
 */
function withTrimThatFits(spec: TraySpec, shape: (spec: TraySpec) => Shaped | Unshaped): Shaped | Unshaped {
  const { trim } = spec.forming;
  const attempt = (less: number): Shaped | Unshaped | GatherpanError => {
    const own = less === trim ? spec : { ...spec, forming: { ...spec.forming, trim: less } };
    if (less > 0 && trayFaults(workedTray(own), 'mm').length > trayFaults(spec, 'mm').length)
      return unshaped('overlaps');
    try {
      return shape(own);
    } catch (error) {
      // The outline has no room for trim that is laid on.
      if (less > 0 && isNotMakeable(error)) return error;
      throw error;
    }
  };
  const failed = (found: Shaped | Unshaped | GatherpanError): found is Unshaped | GatherpanError =>
    found instanceof GatherpanError || 'cause' in found;
  const full = attempt(trim);
  if (!failed(full)) return full;
  const without = trim === 0 ? full : attempt(0);
  if (failed(without)) {
    if (without instanceof GatherpanError) throw without;
    return without;
  }
  for (let k = 1; k <= HALVINGS; k++) {
    const found = attempt(trim / 2 ** k);
    if (!failed(found)) return found;
  }
  return without;
}

/** Solves the worked tray and its rim, which must not overlap itself, and cuts it out; or says why there is no flat. */
function shapedTray(spec: TraySpec, sheet: Sheet, options: DevelopOptions): Shaped | Unshaped {
  const { law, surface, symmetry, growth } = solveInput(spec);
  const { hand } = spec.forming;
  const strainsOn = ({
    mesh,
    geometry,
    flat,
  }: Pick<MeshSolution, 'mesh' | 'geometry' | 'flat'>): NodalStrains =>
    nodalStrains(mesh, geometry, law, flat);
  // What shrinks too far already is not solved on a finer mesh, which takes long or comes to no end there.
  const enough = (solved: MeshSolution): boolean =>
    shrinksTooFar(peaksOf(strainsOn(solved), sheet), sheet, hand, COARSE_EXCESS);
  const solution = ifSolved(() =>
    solveTray(surface, symmetry, law, { ...DEFAULT_SOLVE, growth, enough, ...options.solve }),
  );
  if (solution === null) return unshaped('no equilibrium');
  const strains = strainsOn(solution);
  const whole = wholeField(solution, strains);
  const peaks = peaksOf(strains, sheet);
  const tooFar = (): Unshaped => ({ cause: 'shrinkage', verdict: tooFarVerdict(peaks, sheet, hand) });
  // A rim that no arcs follow, however short, is folded at one place.
  const { rim: nodes, mirrorLines } = solution.mesh;
  const fitted = ifMakeable(() =>
    fitSolvedLine(solution, { nodes, closed: mirrorLines === null }, options.outlineTolerance),
  );
  if (fitted === null) return shrinksTooFar(peaks, sheet, hand) ? tooFar() : unshaped('no equilibrium');
  const workedRim = withReliefs(fitted, flatRoots(whole, spec), spec);
  const crossings = selfIntersections(workedRim);
  if (crossings.length > 0) {
    const notches = notchesAlong(workedRim, whole, spec);
    const corners = crossings.flatMap(({ first, second }) => [notches[first]!, notches[second]!]);
    return unshaped('overlaps', corners.find((corner) => corner !== null) ?? null);
  }
  if (shrinksTooFar(peaks, sheet, hand)) return tooFar();
  const field: FlatField = { ...whole, rimCorner: rimCorners(whole, surface) };
  const edges = wholeEdges(solution, rimEdges(solution, strains, surface));
  const cut = cutOutline(workedRim, edges, field, spec);
  return { spec, surface, solution, strains, workedRim, field, ...cut };
}

/** The net rim in the flat, and the part of it that is scribed: where the trim comes off. */
function netRimOf(
  { spec, surface, solution, strains, workedRim, field }: Shaped,
  tolerance: number | undefined,
): {
  readonly rim: Path;
  readonly edges: readonly RimEdge[];
  readonly scribeLines: readonly ScribeLine[];
} {
  const { trim } = spec.forming;
  if (trim === 0)
    return {
      rim: workedRim,
      edges: wholeEdges(solution, rimEdges(solution, strains, surface)),
      scribeLines: [],
    };
  const own = netRimEdges(solution, strains, surface, trim);
  const edges = wholeEdges(solution, own);
  const rim = withReliefs(fittedNetRim(solution, own, edges, tolerance), flatRoots(field, spec), spec);
  // Without a wall below the trim the bend ends at the net rim, and that line is scribed already.
  const bent = neutralSection(spec).pieces.length < surface.section.pieces.length;
  const lines = bent ? [] : workedParts(rim, edges);
  return { rim, edges, scribeLines: lines.map((path) => ({ kind: 'net-rim' as const, path })) };
}

/**
 * The net rim as lines and arcs; where none follow it as closely as they do what is cut, as closely as a line that is
 * only scribed, else as the chords between its points.
 */
function fittedNetRim(
  solution: TraySolution,
  own: readonly RimEdge[],
  edges: readonly RimEdge[],
  tolerance: number | undefined,
): Path {
  const points = chainPoints(own, solution.mesh.mirrorLines === null);
  for (const each of new Set([tolerance, SCRIBE_TOLERANCE])) {
    const fitted = ifMakeable(() => fitAround(solution, points, each));
    if (fitted !== null) return fitted;
  }
  const around = chainPoints(edges, true);
  const vertices = Array.from({ length: around.length / 2 }, (_, i) => ({
    x: around[2 * i]!,
    y: around[2 * i + 1]!,
    bulge: 0,
  }));
  return { vertices, closed: true };
}

/** On a trim that was lessened, and on trim that no wall carries. */
const trimNotes = (asked: TraySpec, { forming: { trim } }: TraySpec, laidOn: boolean): Statement[] => [
  ...(trim < asked.forming.trim
    ? [statement('pattern.trimLessened', givenLength(asked.forming.trim, 1), givenLength(trim, 1))]
    : []),
  ...(laidOn ? [statement('pattern.trimLaidOn', givenLength(trim, 1))] : []),
];

/** A tray without a flat pattern. */
const noFlat = (spec: TraySpec, sheet: Sheet, cause: NoFlatCause, verdict: Verdict): NoFlat => ({
  kind: 'no flat',
  of: 'tray',
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
 * Flat distance from the bend's beginning to the net rim, where the rectangle's axes cross them; null beside an open
 * edge and for other plans.
 */
function developedLengths(field: FlatField, spec: TraySpec): Report['developed'] {
  const { plan } = spec;
  if ('vertices' in plan) return { alongLength: null, alongWidth: null };
  const section = neutralSection(spec);
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

function warnings(field: FlatField, sheet: Sheet, work: number, solution: TraySolution): Statement[] {
  const out = stretchWarnings(field, sheet, work);
  if (solution.estimate > 0.05) {
    out.push(statement('pattern.uncertain', length(solution.estimate, 2)));
  }
  return out;
}
