/** The trays that the judge works: solved in one step by the program, then worked from that blank, stage by stage. */
import type { LawParameters } from '../../src/material/law.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { nodalStrains } from '../../src/solve/strains.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { alongParabolas, type Point2, wholeRim } from '../support/measures.ts';
import { rectangle, solveSpec } from '../support/trays.ts';
import { blankMesh } from './blankMesh.ts';
import { Judge } from './judge.ts';
import { drawnStages, type JudgedTray, type Stage, stagesOf } from './stage.ts';

/** Sizes on the neutral surface, mm. */
export interface Sizes {
  readonly name: string;
  readonly length: number;
  readonly width: number;
  readonly cornerRadius: number;
  readonly bottomRadius: number;
  readonly height: number;
  readonly lip?: { readonly bendRadius: number; readonly width: number };
}

export const JUDGED_TRAYS: readonly Sizes[] = [
  {
    name: 'ball corners',
    length: 150,
    width: 150,
    cornerRadius: 25,
    bottomRadius: 25,
    height: 25,
  },
  {
    name: 'everyday tray',
    length: 300,
    width: 220,
    cornerRadius: 40,
    bottomRadius: 20,
    height: 45,
  },
  {
    name: 'lip turned out',
    length: 180,
    width: 140,
    cornerRadius: 40,
    bottomRadius: 12,
    height: 30,
    lip: { bendRadius: 6, width: 14 },
  },
];

/** Sheet they are made of. */
export const JUDGED_SHEET = findSheet('DC04');
/** The smoothing at rest of the program's own law over the whole way. */
const SMOOTHING = 1e-3;

export interface Fineness {
  readonly steps: number;
  readonly around: number;
  readonly out: number;
}

export interface Verdict {
  /** Of the rim, from the length's middle to the width's: place in the flat blank, mm. */
  readonly rim: readonly (readonly [number, number])[];
  /** Length of the section from the base's edge to the rim as it is wanted, mm. */
  readonly wanted: number;
  /** How much longer it is worked in one step by the judge (what the two programs differ by), and in many, mm. */
  readonly oneStep: readonly number[];
  readonly manySteps: readonly number[];
  /** What many steps add to one, mm. */
  readonly path: readonly number[];
  /** The rim's node that is nearest to the corner's middle. */
  readonly middle: number;
  /** Thickness over that of the blank. */
  readonly thickness: {
    /** Where it is most, by the program, by the judge in one step and in many. */
    readonly program: number;
    readonly oneStep: number;
    readonly manySteps: number;
    /** Difference of one step and many, root mean square over the corner. */
    readonly apart: number;
  };
  /** Equivalent strain of the hardest-worked point, read off the strain from the flat and added up on the way. */
  readonly hardest: { readonly oneStep: number; readonly manySteps: number };
}

export function trayFile({ length, width, cornerRadius, bottomRadius, height, lip }: Sizes): TraySpec {
  const plain = rectangle(length, width, cornerRadius, { bottomRadius, height });
  if (lip === undefined) return plain;
  return {
    ...plain,
    section: { ...plain.section, rim: { kind: 'lip', direction: 'out', ...lip } },
  };
}

export function judgedTray({ length, width, cornerRadius, bottomRadius, height, lip }: Sizes): JudgedTray {
  const upright = Math.PI / 2;
  return {
    loop: {
      halfLength: length / 2 - cornerRadius,
      halfWidth: width / 2 - cornerRadius,
      radius: cornerRadius - bottomRadius,
    },
    bendRadius: bottomRadius,
    wallAngle: upright,
    ...(lip === undefined
      ? {}
      : { lip: { wall: height - bottomRadius - lip.bendRadius, radius: lip.bendRadius, angle: upright } }),
  };
}

/** Length of the section of a finished tray from the base's edge to the rim. */
function developed({ bottomRadius, height, lip }: Sizes): number {
  const bottom = bottomRadius * (Math.PI / 2 - 1) + height;
  return lip === undefined ? bottom : bottom + lip.bendRadius * (Math.PI / 2 - 2) + lip.width;
}

/** The part of an outline from the x axis to the y axis. */
function quarter(outline: readonly Point2[]): Point2[] {
  const close = 1e-6;
  return outline
    .filter(([x, y]) => x > -close && y > -close)
    .sort(([ax, ay], [bx, by]) => Math.atan2(ay, ax) - Math.atan2(by, bx));
}

/** The stages of a tray's way. */
export type Way = (sizes: Sizes, steps: number) => Stage[];

/** The walls are swung up evenly, then the lip is turned. */
export const swungUp: Way = (sizes, steps) => stagesOf(judgedTray(sizes), steps);

/** The wall grows from below and what is not yet wall stays level, over a fold as round as the bottom; without a lip. */
export const keptLevel: Way = (sizes, steps) => {
  const { loop, bendRadius } = judgedTray(sizes);
  const beyond = bendRadius / 2; // so far the rim may come out too high
  return drawnStages(loop, bendRadius, bendRadius, developed(sizes) + bendRadius + beyond, steps);
};

/**
 * @param sheet with its grain along the length
 * @param way   from the flat to the tray
 */
export function judgeTray(
  sizes: Sizes,
  { steps, around, out }: Fineness,
  sheet: LawParameters = JUDGED_SHEET,
  way: Way = swungUp,
): Verdict {
  const solution = solveSpec(trayFile(sizes), sheet, { accuracy: 2e-3 });
  const { loop } = judgedTray(sizes);
  const rim = quarter(alongParabolas(wholeRim(solution), 8, true));
  const mesh = blankMesh(loop, rim, around, out);
  const many = new Judge(mesh, sheet, { smoothing: SMOOTHING, steps });
  const stages = way(sizes, steps);
  for (const stage of stages) many.work(stage);
  const one = new Judge(mesh, sheet, { smoothing: SMOOTHING, steps: 1 });
  one.work(stages.at(-1)!, many.laidOut);

  const wanted = developed(sizes);
  const [inOne, inMany] = [one.rimDeveloped(), many.rimDeveloped()];
  const nodes = Array.from({ length: 2 * around + 1 }, (_, ray) => {
    const node = ray * (2 * out + 1) + 2 * out;
    return [mesh.flat[2 * node]!, mesh.flat[2 * node + 1]!] as const;
  });
  const aside = nodes.map(([x, y]) => Math.abs(x - loop.halfLength - (y - loop.halfWidth)));
  const strains = nodalStrains(solution.mesh, solution.geometry, solution.law, solution.flat);
  const [before, after] = [one.points(), many.points()];
  let [square, area] = [0, 0];
  before.forEach((point, i) => {
    if (point.x < loop.halfLength || point.y < loop.halfWidth) return;
    const apart = Math.exp(after[i]!.thickness) - Math.exp(point.thickness);
    square += point.area * apart * apart;
    area += point.area;
  });
  const largest = (values: Iterable<number>): number => Array.from(values).reduce((a, b) => Math.max(a, b));
  return {
    rim: nodes,
    wanted,
    oneStep: inOne.map((length) => length - wanted),
    manySteps: inMany.map((length) => length - wanted),
    path: inMany.map((length, i) => length - inOne[i]!),
    middle: aside.indexOf(Math.min(...aside)),
    thickness: {
      program: Math.exp(largest(strains.thickness)),
      oneStep: Math.exp(largest(before.map(({ thickness }) => thickness))),
      manySteps: Math.exp(largest(after.map(({ thickness }) => thickness))),
      apart: Math.sqrt(square / area),
    },
    hardest: {
      oneStep: largest(before.map(({ strain }) => strain)),
      manySteps: largest(after.map(({ strain }) => strain)),
    },
  };
}
