/** Assembly, factors and solution of one system in the kernel's memory. */
import { type PlasticLaw, REST_SMOOTHING } from '../../material/law.ts';
import { FORMS_SIZE } from '../../material/yieldFunction.ts';
import { type Derivatives, EXACT, NONE } from '../constitutive.ts';
import { type ElementGeometry, POINTS_PER_TRIANGLE } from '../elements.ts';
import type { Factors } from '../factors.ts';
import type { SolverStructure } from '../structure.ts';
import type { Assembler } from '../system.ts';
import { factorsIn, type Kernel, theKernel } from './kernel.ts';
import { type KernelLayout, treeLayout } from './layout.ts';

/** Doubles of a law, see forceKernel.as.ts and dualKernel.as.ts; even, so that what follows is aligned for pairs. */
const LAW_SIZE = 26 + FORMS_SIZE;
/** Words of a job, see assemblyKernel.as.ts. */
const JOB_WORDS = 17;
const GROWTH_WORD = 8;

interface SystemLayout extends KernelLayout {
  readonly residualAt: number;
  readonly magnitudeAt: number;
  readonly pinnedAt: number;
  readonly flatAt: number;
  readonly lawAt: number;
  readonly growthAt: number;
  readonly directionAt: number;
  readonly pointsAt: number;
  readonly jobAt: number;
}

const layouts = new WeakMap<SolverStructure, SystemLayout>();

/** The layout of a structure, worked out once. */
function layoutOf(structure: SolverStructure, geometry: ElementGeometry, first: number): SystemLayout {
  const known = layouts.get(structure);
  if (known !== undefined) return known;
  const { tree, equationOf, nodesOf, unknownCount, pinned } = structure;
  const equations = unknownCount + pinned.length;
  const count = nodesOf.length / 6;
  const sizes = [
    equations, // residual
    equations, // magnitude
    unknownCount * pinned.length, // rows of pinned equations
    geometry.direction.length, // flat
    LAW_SIZE,
    POINTS_PER_TRIANGLE * count, // growth
    geometry.direction.length,
    geometry.points.length,
  ];
  const layout = treeLayout(tree, first, {
    doubles: sizes.reduce((sum, size) => sum + size, 0),
    integers: JOB_WORDS + 32 * count,
  });
  let at = layout.extraDoublesAt;
  const starts = sizes.map((size) => {
    at += 8 * size;
    return at - 8 * size;
  });
  const [residualAt, magnitudeAt, pinnedAt, flatAt, lawAt, growthAt, directionAt, pointsAt] = starts as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const { integers, integersAt, storeAt, storeSize } = layout;
  const job = layout.extraIntegersFrom;
  let free = job + JOB_WORDS;
  const put = (values: ArrayLike<number>): number => {
    integers.set(values, free);
    free += values.length;
    return integersAt + 4 * (free - values.length);
  };
  const fronts = new Int32Array(2 * count);
  for (let t = 0; t < count; t++) {
    const front = tree.fronts[tree.frontOfTriangle[t]!]!;
    fronts[2 * t] = storeAt + 8 * front.offset;
    fronts[2 * t + 1] = front.unknowns.length;
  }
  integers.set(
    [
      count,
      put(nodesOf),
      put(equationOf),
      put(fronts),
      put(tree.placeInFront),
      pointsAt,
      directionAt,
      flatAt,
      0,
      lawAt,
      residualAt,
      magnitudeAt,
      pinnedAt,
      unknownCount,
      pinned.length,
      storeAt,
      8 * storeSize,
    ],
    job,
  );
  const made: SystemLayout = {
    ...layout,
    residualAt,
    magnitudeAt,
    pinnedAt,
    flatAt,
    lawAt,
    growthAt,
    directionAt,
    pointsAt,
    jobAt: integersAt + 4 * job,
  };
  layouts.set(structure, made);
  return made;
}

/** A system in the kernel, or null where there is no kernel. */
export function kernelSystem(
  structure: SolverStructure,
  geometry: ElementGeometry,
): { factors: Factors; assembler: Assembler } | null {
  const own = theKernel();
  if (own === null) return null;
  const layout = layoutOf(structure, geometry, own.exports.firstFree());
  const owner = {};
  const claim = (): void =>
    own.claim(owner, layout, () => {
      own.doubles(layout.pointsAt, geometry.points.length).set(geometry.points);
      own.doubles(layout.directionAt, geometry.direction.length).set(geometry.direction);
    });
  return { factors: factorsIn(own, owner, layout, claim), assembler: assemblerIn(own, layout, claim) };
}

/** How forceKernel.as.ts calls them. */
const codeOf = (derivatives: Derivatives): number =>
  derivatives === NONE ? 0 : derivatives === EXACT ? 2 : 1;

function assemblerIn(own: Kernel, layout: SystemLayout, claim: () => void): Assembler {
  return (system, law, flat, growth, derivatives) => {
    claim();
    const { unknownCount } = system.structure;
    own.doubles(layout.flatAt, flat.length).set(flat);
    const numbers = own.doubles(layout.lawAt, LAW_SIZE);
    numbers.set(lawNumbers(law, derivatives));
    if (law.dual !== null) numbers.set(law.dual.starts.forms, LAW_SIZE - FORMS_SIZE);
    own.words(layout.jobAt, JOB_WORDS)[GROWTH_WORD] = growth === null ? 0 : layout.growthAt;
    if (growth !== null) own.doubles(layout.growthAt, growth.length).set(growth);
    if (own.exports.assemble(layout.jobAt, codeOf(derivatives)) === 0) return false;
    const { residual, pinnedResidual, magnitude, pinnedRows } = system;
    residual.set(own.doubles(layout.residualAt, unknownCount));
    pinnedResidual.set(own.doubles(layout.residualAt + 8 * unknownCount, pinnedResidual.length));
    magnitude.set(own.doubles(layout.magnitudeAt, magnitude.length));
    if (derivatives === NONE) return true;
    for (const [p, row] of pinnedRows.entries()) {
      row.set(own.doubles(layout.pinnedAt + 8 * unknownCount * p, unknownCount));
    }
    return true;
  };
}

/** A law as the kernel reads it. */
function lawNumbers({ K, n, epsilon0, strainForm, dual }: PlasticLaw, derivatives: Derivatives): number[] {
  const quadratic = [K, n, epsilon0, REST_SMOOTHING, derivatives, ...strainForm];
  if (dual === null) return [...quadratic, 0];
  const { exponent, mp, mt, ms, qp, qt, np, nt, ns } = dual.function;
  return [
    ...quadratic,
    exponent,
    dual.cosine,
    dual.sine,
    dual.share,
    ...dual.starts.scale,
    ...[mp, mt, ms, qp, qt, np, nt, ns],
  ];
}
