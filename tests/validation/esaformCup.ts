/**
 * A drawn cup with a measured rim: AA6016-T4, the cup benchmark of ESAFORM 2021.
 *
 * A. M. Habraken et al., "Analysis of ESAFORM 2021 cup drawing benchmark of an Al alloy, critical factors for accuracy
 * and efficiency of FE simulations", Int. J. Material Forming 15 (2022), doi 10.1007/s12289-022-01672-w. Its abstract was
 * read; sizes, the sheet as two laboratories measured it, and the measured height over direction (figure 91, digitised)
 * were read in the data of the public repository PolyN: abq_cpDraw_AA6016T4.txt, matAA6016T4_TUAT_RV8zzz.txt and
 * matAA6016T4_UA.txt, AA6016_Experiment_Fig91_CupProfile_angle.txt.
 */
import { growthOf, workedMaterial } from '../../src/gather/hand.ts';
import type { LawParameters } from '../../src/material/law.ts';
import { halved } from '../../src/search.ts';
import { nodalStrains } from '../../src/solve/strains.ts';
import { radians } from '../../src/units.ts';
import { flatPoint } from '../support/measures.ts';
import { roundPan, solveSpec } from '../support/trays.ts';
import { AA6016 } from '../support/yieldLaws.ts';

export const CUP = { blankRadius: 107.5 / 2, punch: 60, nose: 5, dieOpening: 62.4, thickness: 1 } as const;

/** Degrees from the rolling direction, and height, mm. */
export const MEASURED: readonly (readonly [number, number])[] = [
  [0.480331, 34.515],
  [14.8128, 33.8929],
  [30.3073, 33.5364],
  [45.0271, 33.131],
  [60.1343, 33.5434],
  [75.2415, 34.2704],
  [89.9613, 34.9135],
  [105.068, 34.557],
  [120.176, 34.0117],
  [135.283, 33.5294],
  [150.39, 34.3333],
  [165.11, 34.9414],
  [180.217, 35.256],
  [195.324, 34.6478],
  [210.044, 34.4871],
  [224.764, 34.0467],
  [239.871, 33.7252],
  [255.365, 34.2284],
  [269.698, 34.7177],
  [285.192, 34.7038],
  [299.912, 33.83],
  [315.019, 33.152],
  [330.127, 33.2009],
  [344.846, 33.9698],
];

/** The sheet as the second laboratory measured it. */
const SECOND: LawParameters = {
  ...AA6016,
  r0: 0.525,
  r45: 0.248,
  r90: 0.429,
  strengths: { exponent: 8, at45: 0.867, at90: 0.926, biaxial: 0.975 },
};

/** The quadratic law knows the r-values alone. */
function quadratic({ strengths: _, ...sheet }: LawParameters): LawParameters {
  return sheet;
}

export const LAWS = {
  quadratic: quadratic(AA6016),
  'with strengths': AA6016,
  'quadratic, second laboratory': quadratic(SECOND),
  'with strengths, second laboratory': SECOND,
} as const satisfies Record<string, LawParameters>;

/**
 * The one number that is fitted: the hand, the spread of the metal in per cent, or the size of the blank over the real one
 * with hand and spread the sheet's own.
 */
export type Fitted = 'hand' | 'spread' | 'size';
const RANGE: Readonly<Record<Fitted, readonly [number, number]>> = {
  hand: [0.3, 0.96],
  spread: [0, 60],
  size: [1, 1.25],
};

/** Radius of the blank in a direction, mm, for a cup of one height. */
type Blank = (direction: number) => number;

const cup = (height: number) =>
  roundPan(CUP.punch, { bottomRadius: CUP.nose, height: height - CUP.thickness, thickness: CUP.thickness });

/** Thickness of a gathered cup of this height where it is most, mm. */
export function gatheredThickness(law: keyof typeof LAWS, height: number): number {
  const { mesh, geometry, law: plastic, flat } = solveSpec(cup(height), LAWS[law]);
  const { thickness } = nodalStrains(mesh, geometry, plastic, flat);
  return CUP.thickness * Math.exp(thickness.reduce((most, value) => Math.max(most, value)));
}

function blankOf(law: LawParameters, fitted: Fitted, value: number, height: number, accuracy: number): Blank {
  const sheet = fitted === 'hand' ? workedMaterial(law, value) : law;
  const growth = fitted === 'spread' ? growthOf(value) : 0;
  const solution = solveSpec(cup(height), sheet, { accuracy, growth });
  const rim = Array.from(solution.mesh.rim, (node) => {
    const [x, y] = flatPoint(solution, node);
    return { direction: Math.atan2(y, x), radius: Math.hypot(x, y) };
  }).sort((a, b) => a.direction - b.direction);
  return (direction) => {
    // Into the first quarter, which all others mirror.
    const turn = Math.abs(((direction % Math.PI) + Math.PI) % Math.PI);
    const at = Math.min(turn, Math.PI - turn);
    const above = Math.min(
      rim.length - 1,
      Math.max(
        1,
        rim.findIndex((point) => point.direction >= at),
      ),
    );
    const [a, b] = [rim[above - 1]!, rim[above]!];
    return a.radius + ((b.radius - a.radius) * (at - a.direction)) / (b.direction - a.direction);
  };
}

const HEIGHTS = [31, 33, 35, 37] as const;

/**
 * Height of the rim in every measured direction for the round blank of the experiment: in each the height of the cup
 * whose blank has that radius there.
 */
function heights(law: LawParameters, fitted: Fitted, value: number, accuracy: number): number[] {
  const blanks = HEIGHTS.map((height) => blankOf(law, fitted, value, height, accuracy));
  const radius = CUP.blankRadius * (fitted === 'size' ? value : 1);
  return MEASURED.map(([degrees]) => {
    const radii = blanks.map((blank) => blank(radians(degrees)));
    // Aitken's and Neville's interpolation of the height by the radius.
    const found: number[] = [...HEIGHTS];
    for (let k = 1; k < found.length; k++)
      for (let i = 0; i < found.length - k; i++)
        found[i] =
          ((radius - radii[i + k]!) * found[i]! - (radius - radii[i]!) * found[i + 1]!) /
          (radii[i]! - radii[i + k]!);
    return found[0]!;
  });
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** Half the height between crest and trough of the wave with four ears, and where its first crest is, degrees. */
export function fourEars(values: readonly number[]): { readonly amplitude: number; readonly crest: number } {
  let [c, s] = [0, 0];
  values.forEach((value, i) => {
    const angle = 4 * radians(MEASURED[i]![0]);
    c += (2 / values.length) * value * Math.cos(angle);
    s += (2 / values.length) * value * Math.sin(angle);
  });
  return { amplitude: Math.hypot(c, s), crest: (Math.atan2(s, c) * 45) / Math.PI };
}

export interface CupFit {
  readonly law: keyof typeof LAWS;
  readonly fitted: Fitted;
  readonly value: number;
  readonly heights: readonly number[];
  /** Root mean square and most of what the 24 heights are off. */
  readonly off: number;
  readonly most: number;
  readonly ears: ReturnType<typeof fourEars>;
}

/** Fits one number to the mean of the measured heights; the 24 heights about it are then foretold. */
export function fitCup(law: keyof typeof LAWS, fitted: Fitted, accuracy = 0.02): CupFit {
  const wanted = mean(MEASURED.map(([, height]) => height));
  const [low, high] = halved(
    ...RANGE[fitted],
    (value) => mean(heights(LAWS[law], fitted, value, accuracy)) < wanted,
    8,
  );
  const value = (low + high) / 2;
  const foretold = heights(LAWS[law], fitted, value, accuracy);
  const off = foretold.map((height, i) => height - MEASURED[i]![1]);
  return {
    law,
    fitted,
    value,
    heights: foretold,
    off: Math.sqrt(mean(off.map((value) => value * value))),
    most: Math.max(...off.map(Math.abs)),
    ears: fourEars(foretold),
  };
}
