/** `npm run bench -- --profile`: where the time of one everyday tray goes, and how near it is to what it cannot go below. */
import { Session } from 'node:inspector/promises';
import { dxfExporter } from '../../exporters/dxf/dxfExporter.ts';
import { solveInput } from '../../gather/solvedTray.ts';
import { flatPatternOf } from '../../pattern/developed.ts';
import { developTray } from '../../pattern/developTray.ts';
import { EXACT } from '../../solve/constitutive.ts';
import { elementGeometry } from '../../solve/elements.ts';
import { equilibrium } from '../../solve/equilibrium.ts';
import type { FrontTree } from '../../solve/fronts.ts';
import {
  DEFAULT_SOLVE,
  nestedSolutions,
  RESIDUAL_TOLERANCE,
  START_TOLERANCE,
  solveTray,
} from '../../solve/solveTray.ts';
import { readTray } from '../../tray/readTray.ts';
import { type Measured, median, timeOf } from './measure.ts';

const TRAY = {
  name: 'everyday tray',
  plan: { length: 300, width: 220, cornerRadius: 40 },
  section: { bottomRadius: 20, height: 45 },
  sheet: { material: 'DC04', thickness: 1 },
  forming: { trim: 0 },
};
const RUNS = 60;
/** Parts smaller than this are not told, per cent. */
const LEAST = 1;

export async function profile(): Promise<Measured[]> {
  const once = async (): Promise<void> => {
    await dxfExporter.write(flatPatternOf(developTray(readTray(TRAY))), { marks: '', version: 'R2000' });
  };
  for (let i = 0; i < RUNS; i++) await once();
  const times: number[] = [];
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.setSamplingInterval', { interval: 200 });
  await session.post('Profiler.start');
  for (let i = 0; i < RUNS; i++) {
    const started = performance.now();
    await once();
    times.push(performance.now() - started);
  }
  const { profile: found } = await session.post('Profiler.stop');
  session.disconnect();
  const whole = median(times);
  const parts = sharesOf(found);
  return [
    { name: 'everyday tray, file to drawing', median: whole, unit: 'ms', runs: RUNS },
    ...parts
      .filter(([, share]) => share >= LEAST)
      .map(([name, share]): Measured => ({ name, median: share, of: 'share', unit: '%', runs: RUNS })),
    ...(await limit(whole)),
  ];
}

interface Profile {
  readonly nodes: readonly {
    readonly id: number;
    readonly callFrame: { readonly functionName: string; readonly url: string };
  }[];
  readonly samples?: readonly number[] | undefined;
  readonly timeDeltas?: readonly number[] | undefined;
}

/** Per cent of the time by file; the kernel's by its own functions. */
function sharesOf({ nodes, samples = [], timeDeltas = [] }: Profile): [name: string, share: number][] {
  const partOf = new Map(
    nodes.map(({ id, callFrame: { url, functionName } }) => [id, partName(url, functionName)] as const),
  );
  const sums = new Map<string, number>();
  let all = 0;
  for (const [i, sample] of samples.entries()) {
    const name = partOf.get(sample)!;
    if (name === '(idle)' || name === '(program)') continue;
    sums.set(name, (sums.get(name) ?? 0) + timeDeltas[i]!);
    all += timeDeltas[i]!;
  }
  return [...sums]
    .map(([name, sum]): [string, number] => [name, (100 * sum) / all])
    .sort(([, a], [, b]) => b - a);
}

function partName(url: string, functionName: string): string {
  if (url.startsWith('wasm:')) return 'kernel';
  const own = /\/dist\/(.+)\.js$/.exec(url)?.[1];
  if (own !== undefined) return own;
  const foreign = /node_modules\/(.+?)\//.exec(url)?.[1];
  if (foreign !== undefined) return foreign;
  return functionName.startsWith('(') ? functionName : 'Node itself';
}

/** What the factorisations alone take at the rate that one of them reaches. */
async function limit(whole: number): Promise<Measured[]> {
  const { surface, symmetry, law, growth } = solveInput(readTray(TRAY));
  const options = { ...DEFAULT_SOLVE, growth };
  const { refinements } = solveTray(surface, symmetry, law, options);
  const levels = nestedSolutions(surface, symmetry, law, options, (level) =>
    level === 0 ? START_TOLERANCE : RESIDUAL_TOLERANCE,
  );
  let work = 0;
  let last = levels.next().value;
  for (let level = 0; ; level++) {
    work += last.steps * operations(last.structure.tree);
    if (level === refinements) break;
    last = levels.next().value;
  }
  const system = equilibrium(last.mesh, last.structure, elementGeometry(last.mesh));
  const assemble = (): boolean => system.assembler(system, law, last.flat, null, EXACT);
  const both = await timeOf('', RUNS, () => {
    assemble();
    system.factors.factorise();
  });
  const tangent = await timeOf('', RUNS, assemble);
  const rate = operations(last.structure.tree) / (both.median - tangent.median) / 1e6;
  const least = work / rate / 1e6;
  return [
    { name: 'rate of one factorisation', median: rate, unit: 'GFlop/s', runs: RUNS },
    {
      name: 'all factorisations at that rate',
      median: least,
      unit: 'ms',
      runs: RUNS,
      note: `${(work / 1e6).toFixed(0)} million operations; the whole takes ${(whole / least).toFixed(1)} times that`,
    },
  ];
}

/** Floating-point operations of one factorisation: two for every entry behind every pivot. */
const operations = ({ fronts }: FrontTree): number =>
  fronts.reduce((sum, { unknowns, pivots }) => {
    for (let k = 1; k <= pivots; k++) sum += 2 * (unknowns.length - k) ** 2;
    return sum;
  }, 0);
