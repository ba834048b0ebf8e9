/**
 * Solves a tray's flat: mesh, equilibrium, and as many refinements as the wanted accuracy asks for.
 */

import { GatherpanError, ifSolved, isUnsolved } from '../errors.ts';
import type { PlasticLaw } from '../material/law.ts';
import {
  arcLengthFlat,
  type MirrorLines,
  prolongFlat,
  type QuadraticMesh,
  quadraticMesh,
} from '../mesh/quadraticMesh.ts';
import { midpoints, refine, type Skeleton } from '../mesh/skeleton.ts';
import { mirrorLinesOf, type Symmetry } from '../mesh/symmetry.ts';
import { type Density, densityFor, scaledDensity, traySkeleton } from '../mesh/traySkeleton.ts';
import { unfoldedLines, unfoldSkeleton } from '../mesh/unfold.ts';
import { isUneven, type NeutralSurface } from '../tray/neutralSurface.ts';
import { words } from '../words/language.ts';
import { alignWithBase } from './alignWithBase.ts';
import { anisotropyPath, continueFromEasierLaw, follow, type SolveEased } from './easedLaws.ts';
import { type ElementGeometry, elementGeometry } from './elements.ts';
import { equilibrium } from './equilibrium.ts';
import { errorShare, largestRimChange, SAID, slightlyFiner } from './estimate.ts';
import { type NewtonResult, newton } from './newton.ts';
import type { StartCache } from './startCache.ts';
import { largestStrain } from './strains.ts';
import { type SolverStructure, solverStructure } from './structure.ts';

/** How much of the symmetry a solve uses. */
export type SymmetryUse = 'all' | 'half' | 'none';

export interface SolveOptions {
  /** Largest error wanted anywhere on the rim, mm; the estimate errs on the large side. */
  readonly accuracy: number;
  /** Relative residual at which the last mesh counts as solved, see `newton.ts`. */
  readonly tolerance: number;
  /** Largest move of a node, mm, in the last step of every mesh: a flat on a base that hardly holds it moves far for little force. */
  readonly largestMove: number;
  readonly symmetryUse: SymmetryUse;
  /** Fineness of the coarsest mesh; null for the one that suits the tray's size. */
  readonly density: Density | null;
  /** Most refinements of the coarsest mesh. */
  readonly maximumRefinements: number;
  /** A mesh is not refined beyond this; the estimate then tells what is left. */
  readonly maximumTriangles: number;
  /** Fewest refinements; 1 is needed to know the error at all. */
  readonly minimumRefinements: number;
  /** Logarithmic growth of the stress-free state at every point of the wall, 0 for none. */
  readonly growth: number;
  /** Structures found before, by topology; filled and used. */
  readonly structures: StructureCache | null;
  /** Starts from the size solved before, see `startCache.ts`; filled and used. */
  readonly starts: StartCache | null;
  /** Asked of each mesh: true when what is wanted is known, however far the rim still moves on a finer one. */
  readonly enough: ((solved: MeshSolution) => boolean) | null;
  /** Asked between the steps: true when the flat is not wanted any more. */
  readonly cancelled: (() => boolean) | null;
}

/** Relative residual at which an equilibrium counts as found. */
export const RESIDUAL_TOLERANCE = 1e-8;

export const DEFAULT_SOLVE: SolveOptions = {
  accuracy: 0.05,
  tolerance: RESIDUAL_TOLERANCE,
  largestMove: Infinity,
  symmetryUse: 'all',
  density: null,
  maximumRefinements: 3,
  maximumTriangles: 16_000,
  minimumRefinements: 1,
  growth: 0,
  structures: null,
  starts: null,
  enough: null,
  cancelled: null,
};

/** On the way from an easier law. */
const WAY_TOLERANCE = 1e-2;
/** On a mesh that only serves as the start for a finer one, and for the estimate: its rim is within some 0.0001 mm then. */
export const START_TOLERANCE = 1e-4;
/** Equivalent strain by which a flat may be more strained than the one it was found from, without a second look. */
const MORE_STRAINED = 0.05;

export interface TraySolution {
  readonly mesh: QuadraticMesh;
  readonly geometry: ElementGeometry;
  readonly law: PlasticLaw;
  /** x y per node, mm. */
  readonly flat: Float64Array;
  readonly unknowns: number;
  /** How often the coarsest mesh was refined. */
  readonly refinements: number;
  /** Newton steps over all meshes. */
  readonly steps: number;
  readonly residual: number;
  /** Estimated largest error of the rim, mm; NaN when the mesh was not refined. */
  readonly estimate: number;
}

/** What solves of meshes of one topology share. */
interface Known {
  readonly mesh: QuadraticMesh;
  readonly structure: SolverStructure;
}

/** The elimination orders of meshes met before, so that sizes of one family share them. */
export class StructureCache {
  private readonly known: Known[] = [];
  private readonly capacity: number;

  constructor(capacity = 16) {
    this.capacity = capacity;
  }

  /** What is known for the topology of a mesh, worked out when it is new. */
  get(mesh: QuadraticMesh, coarser: SolverStructure | null = null): SolverStructure {
    const found = this.known.findIndex((entry) => sameTopology(entry.mesh, mesh));
    if (found >= 0) {
      // The latest last, so that the oldest goes first.
      const [entry] = this.known.splice(found, 1);
      this.known.push(entry!);
      return entry!.structure;
    }
    const structure = solverStructure(mesh, coarser);
    this.known.push({ mesh, structure });
    if (this.known.length > this.capacity) this.known.shift();
    return structure;
  }
}

function sameTopology(a: QuadraticMesh, b: QuadraticMesh): boolean {
  if (a.nodeCount !== b.nodeCount || a.triangles.length !== b.triangles.length) return false;
  if ((a.mirrorLines === null) !== (b.mirrorLines === null)) return false;
  for (let i = 0; i < a.triangles.length; i++) if (a.triangles[i] !== b.triangles[i]) return false;
  for (let i = 0; i < a.mirror.length; i++) if (a.mirror[i] !== b.mirror[i]) return false;
  for (let i = 0; i < a.base.length; i++) if (a.base[i] !== b.base[i]) return false;
  return true;
}

/** The equilibrium found on one mesh. */
export interface MeshSolution {
  readonly mesh: QuadraticMesh;
  readonly geometry: ElementGeometry;
  readonly structure: SolverStructure;
  /** x y per node, mm, laid where the formed base lies. */
  readonly flat: Float64Array;
  /** Newton steps on this mesh. */
  readonly steps: number;
  readonly residual: number;
}

/**
 * Solves a tray on one mesh after the other, each with the triangles of the one before halved. The nodes of a mesh are
 * the first of the next.
 *
 * @param tolerance relative residual at which the mesh of a level counts as solved
 * @throws GatherpanError NOT_SOLVED when no equilibrium is found
 * @throws Cancelled
 */
export function* nestedSolutions(
  surface: NeutralSurface,
  symmetry: Symmetry | null,
  law: PlasticLaw,
  options: SolveOptions,
  tolerance: (level: number) => number,
): Generator<MeshSolution, never> {
  const stretches = surface.loop.segments.some((segment) => segment.kind === 'corner' && segment.sweep < 0);
  let { skeleton, lines } = coarseSkeleton(surface, symmetry, options);
  let middles = midpoints(skeleton);
  let mesh = quadraticMesh(skeleton, middles, lines);
  let start = arcLengthFlat(mesh);
  let structure: SolverStructure | null = null;
  for (let level = 0; ; level++) {
    structure = options.structures?.get(mesh, structure) ?? solverStructure(mesh, structure);
    const own = { level, mesh, structure, start };
    const { result, geometry } = solveMesh(own, law, options, tolerance(level), stretches);
    // Nodes are held where they start: laid on the base, the finer blank is not turned against its grain.
    const flat = alignWithBase(mesh, geometry, result.flat);
    yield { mesh, geometry, structure, flat, steps: result.steps, residual: result.residual };
    skeleton = refine(skeleton, middles);
    middles = midpoints(skeleton);
    const coarse = mesh;
    mesh = quadraticMesh(skeleton, middles, lines);
    start = prolongFlat(coarse, mesh, flat);
  }
}

/**
 * Solves the flat of a tray.
 *
 * @param surface  neutral surface
 * @param symmetry mirror symmetry found for it (see `findSymmetry`), or null
 * @param law      material, its axes those of the plan
 * @throws GatherpanError NOT_SOLVED when no equilibrium is found, or none that settles as the mesh is refined
 */
export function solveTray(
  surface: NeutralSurface,
  symmetry: Symmetry | null,
  law: PlasticLaw,
  options: SolveOptions = DEFAULT_SOLVE,
): TraySolution {
  const density = options.density ?? densityFor(surface);
  try {
    return settledSolution(surface, symmetry, law, { ...options, density });
  } catch (error) {
    // Strains that rise without limit may find no equilibrium on a fine mesh, and on a coarser one a blurred one: what
    // that is worth, the estimate says.
    if (!isUnsolved(error) || !isUneven(surface) || (density.finerAtBreaks ?? 0) === 0) throw error;
    return settledSolution(surface, symmetry, law, { ...options, density: { ...density, finerAtBreaks: 0 } });
  }
}

/** @param stepsBefore those of the coarser meshes that these are in place of; null where there were none */
function settledSolution(
  surface: NeutralSurface,
  symmetry: Symmetry | null,
  law: PlasticLaw,
  options: SolveOptions & { readonly density: Density },
  stepsBefore: number | null = null,
): TraySolution {
  const levels = nestedSolutions(surface, symmetry, law, options, (level) =>
    level < options.minimumRefinements ? Math.max(START_TOLERANCE, options.tolerance) : options.tolerance,
  );
  const uneven = isUneven(surface);
  const mayBeginAnew = stepsBefore === null && options.minimumRefinements <= 1;
  let solved = levels.next().value;
  let steps = (stepsBefore ?? 0) + solved.steps;
  let refinements = 0;
  let left = Number.NaN;
  let before = Infinity;
  while (refinements < options.maximumRefinements) {
    if (options.enough?.(solved)) break;
    const finer = refinements === 1 && mayBeginAnew ? slightlyFiner(left, options.accuracy, uneven) : null;
    if (finer !== null && solved.mesh.base.length <= options.maximumTriangles * finer ** 2) {
      const { density, starts } = options;
      const again = { ...options, density: scaledDensity(density, finer), starts: starts?.finer ?? null };
      const found = ifSolved(() => settledSolution(surface, symmetry, law, again, steps));
      if (found !== null) return found;
    }
    if (4 * solved.mesh.base.length > options.maximumTriangles) break;
    const coarse = solved;
    solved = levels.next().value;
    steps += solved.steps;
    refinements++;
    const change = largestRimChange(coarse.mesh, coarse.flat, solved.flat);
    if (change > 1.5 * before && change > options.accuracy) throw notSettled();
    left = change * errorShare(change, before, uneven);
    before = change;
    if (left <= options.accuracy && refinements >= options.minimumRefinements) break;
  }
  const { mesh, geometry, flat, structure, residual } = solved;
  const unknowns = structure.unknownCount;
  return { mesh, geometry, law, flat, unknowns, refinements, steps, residual, estimate: SAID * left };
}

function coarseSkeleton(
  surface: NeutralSurface,
  symmetry: Symmetry | null,
  options: SolveOptions,
): { skeleton: Skeleton; lines: MirrorLines | null } {
  const wedge = traySkeleton(surface, symmetry, options.density ?? densityFor(surface));
  if (symmetry === null) return { skeleton: wedge, lines: null };
  const lines = mirrorLinesOf(symmetry);
  const all = 2 * symmetry.order;
  const copies = options.symmetryUse === 'all' ? 1 : options.symmetryUse === 'none' ? all : all / 2;
  if (copies === 1) return { skeleton: wedge, lines };
  return { skeleton: unfoldSkeleton(wedge, lines, copies), lines: unfoldedLines(lines, copies) };
}

/** One of the meshes that are solved one after the other. */
interface NestedMesh {
  /** How often the coarsest one was refined. */
  readonly level: number;
  readonly mesh: QuadraticMesh;
  readonly structure: SolverStructure;
  /** x y per node, mm: the flat to begin with. */
  readonly start: Float64Array;
}

/** @param stretches whether a corner turns inwards */
function solveMesh(
  { level, mesh, structure, start }: NestedMesh,
  law: PlasticLaw,
  options: SolveOptions,
  tolerance: number,
  stretches: boolean,
): { readonly result: NewtonResult; readonly geometry: ElementGeometry } {
  const geometry = elementGeometry(mesh);
  const system = equilibrium(mesh, structure, geometry);
  const newtonOptions = {
    tolerance,
    largestMove: options.largestMove,
    maximumSteps: 40,
    growth: options.growth === 0 ? null : wallGrowth(mesh, options.growth),
    cancelled: options.cancelled,
  };
  const near = options.starts?.startFor(level, mesh, start) ?? null;
  const onTheWay = Math.max(tolerance, WAY_TOLERANCE);
  const solveEased: SolveEased = (easier, from, exact) =>
    newton(system, easier, from, {
      ...newtonOptions,
      tolerance: exact ? tolerance : onTheWay,
      maximumSteps: 25,
    });
  const fromEasier = (begin: Float64Array): NewtonResult | null => {
    // On a finer mesh an uneven law with strengths fails for its unevenness rather than for its hardening.
    const fromEven = law.dual !== null && level > 0 ? follow(anisotropyPath(law), begin, solveEased) : null;
    return fromEven ?? (law.n >= 1 ? null : continueFromEasierLaw(law, begin, solveEased));
  };
  let result = near === null ? null : newton(system, law, near, newtonOptions);
  // The arc-length flat is a poor start where a corner turns inwards: the easier law first.
  if (result?.converged !== true && stretches && level === 0) result = fromEasier(start);
  // The same for an uneven law with strengths: most do not converge from there, and the way takes few steps.
  if (result?.converged !== true && law.dual !== null && level === 0 && !stretches) {
    result = follow(anisotropyPath(law), start, solveEased);
  }
  if (result?.converged !== true) result = newton(system, law, start, newtonOptions);
  const easierNext = level === 0 ? !stretches : result.residual < Infinity;
  if (!result.converged && easierNext) result = fromEasier(start) ?? result;
  // A finer mesh starts from an equilibrium. But where a triangle is turned over in between the coarser mesh's points,
  // the finer one has to find its own.
  if (!result.converged && level > 0 && result.residual === Infinity) {
    const afresh = arcLengthFlat(mesh);
    result = newton(system, law, afresh, newtonOptions);
    if (!result.converged) result = fromEasier(afresh) ?? result;
  }
  if (!result.converged) throw notSettled();
  // Hard gathered, a coarse mesh has other equilibria besides, in which one triangle of the wall has nearly turned
  // over: more strained than where the search began, and none on a finer mesh.
  const strained = (flat: Float64Array): number => largestStrain(mesh, geometry, law, flat);
  if (level === 0 && strained(result.flat) > strained(start) + MORE_STRAINED) {
    const other = fromEasier(start);
    if (other !== null && strained(other.flat) < strained(result.flat)) result = other;
  }
  options.starts?.keep(level, mesh, start, result.flat);
  return { result, geometry };
}

/** Growth of the stress-free state above the flat of the base, where the sheet is worked. */
function wallGrowth(mesh: QuadraticMesh, growth: number): Float64Array {
  const out = new Float64Array(3 * mesh.base.length);
  for (let t = 0; t < mesh.base.length; t++) {
    if (mesh.base[t] === 0) out.fill(growth, 3 * t, 3 * t + 3);
  }
  return out;
}

const notSettled = (): GatherpanError => new GatherpanError('NOT_SOLVED', words().messages.solve.notSettled);
