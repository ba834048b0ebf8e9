/** The equilibrium of a part: first on few triangles sized by its shape, then on some sized by what those show. */
import type { PlasticLaw } from '../../material/law.ts';
import type { QuadraticMesh } from '../../mesh/quadraticMesh.ts';
import { equilibrium } from '../../solve/equilibrium.ts';
import { type NewtonResult, newton } from '../../solve/newton.ts';
import { RESIDUAL_TOLERANCE, type TraySolution } from '../../solve/solveTray.ts';
import { nodalStrains } from '../../solve/strains.ts';
import { solverStructure } from '../../solve/structure.ts';
import { PLACED_SIZE } from '../../tray/neutralSurface.ts';
import { statement } from '../../words/statement.ts';
import { carriedFlat } from './carriedFlat.ts';
import { exactGeometry } from './exactGeometry.ts';
import type { FlatAtlas } from './flatAtlas.ts';
import { NoShape } from './noShape.ts';
import type { PartMesh } from './partMesh.ts';
import { alignFlat } from './trayFrame.ts';

/** Share of its forces out of balance at which an eased solution is good enough to go on from. */
const EASED_TOLERANCE = 0.1;
/** The same for a solution that only sizes the triangles of the next one. */
const ROUGH_TOLERANCE = 1e-3;
/** Turn of the blank against the grain that makes no difference, radians. */
const LEAST_TURN = 1e-4;
const MAXIMUM_STEPS = 60;

/** One mesh of a part and its solution. */
export interface PartStage {
  readonly part: PartMesh;
  readonly solution: TraySolution;
}

/**
 * A solution good enough to size triangles by.
 *
 * @throws NoShape
 */
export function roughStage(law: PlasticLaw, atlas: FlatAtlas, part: PartMesh): PartStage {
  const system = systemOf(part, law, atlas);
  const result = fromShape(law, part, system, ROUGH_TOLERANCE);
  system.align(result.flat);
  return { part, solution: system.solution(result) };
}

/**
 * The solution on a finer mesh, from a rough one.
 *
 * @throws NoShape
 */
export function finalStage(law: PlasticLaw, atlas: FlatAtlas, rough: PartStage, part: PartMesh): PartStage {
  const system = systemOf(part, law, atlas);
  let result = system.solve(law, carriedFlat(rough.part, rough.solution.flat, part), RESIDUAL_TOLERANCE);
  let steps = rough.solution.steps + result.steps;
  if (!result.converged) {
    result = fromShape(law, part, system, RESIDUAL_TOLERANCE);
    steps += result.steps;
  }
  return { part, solution: system.solution({ ...turnedBack(law, result, system), steps }) };
}

interface PartSystem {
  solve(law: PlasticLaw, from: Float64Array, tolerance: number): NewtonResult;
  /** Lays the base where it is in the formed part, and tells the angle it was turned through. */
  align(flat: Float64Array): number;
  solution(result: NewtonResult): TraySolution;
  /** Where a flat shape strains most, x y z in the part's own space, as it is said. */
  mostStrained(law: PlasticLaw, flat: Float64Array): [x: string, y: string, z: string];
}

function systemOf({ mesh, places, start }: PartMesh, law: PlasticLaw, atlas: FlatAtlas): PartSystem {
  const geometry = exactGeometry(mesh, places, start, atlas);
  const structure = solverStructure(mesh);
  const system = equilibrium(mesh, structure, geometry);
  const [plane, nodes] = [formedPlan(mesh), baseNodes(mesh)];
  return {
    align: (flat) => alignFlat(flat, plane, nodes),
    solve: (own, from, tolerance) =>
      newton(system, own, from, { tolerance, maximumSteps: MAXIMUM_STEPS, growth: null }),
    solution: ({ flat, steps, residual }) => ({
      mesh,
      geometry,
      law,
      flat,
      unknowns: structure.unknownCount,
      refinements: 0,
      steps,
      residual,
      estimate: Number.NaN,
    }),
    mostStrained: (law, flat) => {
      const { equivalent } = nodalStrains(mesh, geometry, law, flat);
      const node = equivalent.reduce((most, value, i) => (value > equivalent[most]! ? i : most), 0);
      const placed = mesh.placed.subarray(PLACED_SIZE * node, PLACED_SIZE * (node + 1));
      return atlas.inPart(placed).map((value) => value.toFixed(0)) as [string, string, string];
    },
  };
}

/**
 * Newton's method from the first flat shape by way of a law that hardens evenly: that shape has small strains all
 * over that come from the net it was made on, and to a sheet that yields early these are forces as large as any.
 * Where the last step fails, the law is taken to the one wanted by degrees.
 *
 * @throws NoShape
 */
function fromShape(
  law: PlasticLaw,
  { start }: PartMesh,
  system: PartSystem,
  tolerance: number,
): NewtonResult {
  const rough = system.solve({ ...law, n: 1 }, start, EASED_TOLERANCE);
  system.align(rough.flat);
  const last = system.solve(law, rough.flat, tolerance);
  const steps = rough.steps + last.steps;
  if (last.converged) return { ...last, steps };
  const slow = byDegrees(law, start, system, tolerance);
  return { ...slow, steps: steps + slow.steps };
}

/**
 * The solver holds the blank at two nodes where they start, which turns it by what these are out of place; for a
 * sheet with a grain it is turned back and solved again.
 */
function turnedBack(law: PlasticLaw, solved: NewtonResult, system: PartSystem): NewtonResult {
  let last = solved;
  for (
    let round = 0;
    Math.abs(system.align(last.flat)) > LEAST_TURN && !law.isotropicInPlane && round < 4;
    round++
  ) {
    const turned = system.solve(law, last.flat, RESIDUAL_TOLERANCE);
    if (!turned.converged) break;
    last = turned;
  }
  return last;
}

/** @throws NoShape */
function byDegrees(
  law: PlasticLaw,
  start: Float64Array,
  { solve, mostStrained }: PartSystem,
  tolerance: number,
): NewtonResult {
  let last = solve({ ...law, n: 1 }, start, RESIDUAL_TOLERANCE);
  let { steps } = last;
  let n = 1;
  for (let factor = 0.6; last.converged && n > law.n && factor < 0.93; ) {
    const next = Math.max(law.n, n * factor);
    const result = solve({ ...law, n: next }, last.flat, next === law.n ? tolerance : RESIDUAL_TOLERANCE);
    steps += result.steps;
    if (result.converged) {
      n = next;
      last = result;
    } else factor = Math.sqrt(factor);
  }
  if (!last.converged) {
    const place = mostStrained(law, last.flat);
    throw new NoShape('no equilibrium', statement('parts.noFlat.noShape', ...place));
  }
  if (n > law.n) {
    const place = mostStrained(law, last.flat);
    throw new NoShape('no equilibrium', statement('parts.noFlat.notSettled', String(law.n), ...place));
  }
  return { ...last, steps };
}

/** Nodes of the base, or of the whole when there is none, each with its share of the area seen from above. */
function baseNodes(mesh: QuadraticMesh): Map<number, number> {
  const own = new Map<number, number>();
  const any = mesh.base.includes(1);
  const at = (node: number, axis: number): number => mesh.placed[PLACED_SIZE * node + axis]!;
  for (let t = 0; t < mesh.base.length; t++) {
    if (any && mesh.base[t] === 0) continue;
    const [i, j, k] = [mesh.triangles[6 * t]!, mesh.triangles[6 * t + 1]!, mesh.triangles[6 * t + 2]!];
    const area = Math.abs(
      (at(j, 0) - at(i, 0)) * (at(k, 1) - at(i, 1)) - (at(j, 1) - at(i, 1)) * (at(k, 0) - at(i, 0)),
    );
    // The middles of a six-node triangle carry its area (its rule of three points at the middles).
    for (let e = 3; e < 6; e++) {
      const node = mesh.triangles[6 * t + e]!;
      own.set(node, (own.get(node) ?? 0) + area);
    }
  }
  return own;
}

function formedPlan(mesh: QuadraticMesh): Float64Array {
  const out = new Float64Array(2 * mesh.nodeCount);
  for (let node = 0; node < mesh.nodeCount; node++) {
    out[2 * node] = mesh.placed[PLACED_SIZE * node]!;
    out[2 * node + 1] = mesh.placed[PLACED_SIZE * node + 1]!;
  }
  return out;
}
