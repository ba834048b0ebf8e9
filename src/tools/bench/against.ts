/**
 * `npm run bench -- --against <commit>`: that commit is built beside this tree, and both do the same work in turn, pair by
 * pair, in processes of their own. Machines differ and are busy with other things: ratios hold.
 */
import { type ChildProcess, execFileSync, fork, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ifSolved } from '../../errors.ts';
import { solveInput } from '../../gather/solvedTray.ts';
import { closedRim } from '../../geometry/rimCurve.ts';
import { developLive } from '../../pattern/developLive.ts';
import { developTray } from '../../pattern/developTray.ts';
import { DEFAULT_SOLVE, solveTray } from '../../solve/solveTray.ts';
import { nodalStrains } from '../../solve/strains.ts';
import { wholeField } from '../../solve/wholeField.ts';
import { readTray } from '../../tray/readTray.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { median } from './measure.ts';
import { type Answered, type Asked, rimOf } from './side.ts';
import { coldStart, commandOf } from './solve.ts';
import { PARTS, type SurveyTray, surveyTrays } from './survey.ts';

const HERE = fileURLToPath(new URL('../../..', import.meta.url));
const SIDE = fileURLToPath(new URL('./side.js', import.meta.url));

const WANTED = { quarter: 60, half: 30, whole: 30 } as const;
const SEED = 16;
/** How often the survey is gone through. */
const ROUNDS = 3;
/** Times that the mesh of an answer is refined for what it is measured against, at least once, and most triangles of that. */
const FINER = 2;
const MOST_TRIANGLES = 45_000;

const print = (text: string): void => void process.stdout.write(`${text}\n`);

export async function benchAgainst(commit: string): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'gatherpan-against-'));
  try {
    const there = built(commit, folder);
    await survey(there);
    liveAnswers();
    starts(there);
    batches(there, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A commit's tree and its build, with the packages of this one. */
function built(commit: string, folder: string): string {
  const root = join(folder, 'tree');
  mkdirSync(root);
  const archive = execFileSync('git', ['archive', commit], { cwd: HERE, maxBuffer: 2 ** 30 });
  execFileSync('tar', ['-x', '-C', root], { input: archive });
  symlinkSync(join(HERE, 'node_modules'), join(root, 'node_modules'));
  print(`Building ${commit} …`);
  execFileSync('npm', ['run', '--silent', 'build'], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] });
  return root;
}

/** Figures of both programs, in turn: the other one's first. */
type Pair = [there: number, here: number];

/** Ratio of the medians of rounds, and how far the ratios of single rounds lie apart. */
function ratioOf(rounds: readonly Pair[]): string {
  const ratios = rounds.map(([there, here]) => there / here).sort((a, b) => a - b);
  const ratio = median(rounds.map(([there]) => there)) / median(rounds.map(([, here]) => here));
  return `${ratio.toFixed(2)} (${ratios[0]!.toFixed(2)} to ${ratios[ratios.length - 1]!.toFixed(2)})`;
}

const line = (name: string, rounds: readonly Pair[], unit: string): void => {
  const [there, here] = [0, 1].map((side) => median(rounds.map((pair) => pair[side]!))) as Pair;
  print(
    `  ${name.padEnd(40)} ${there.toFixed(1).padStart(8)} → ${here.toFixed(1).padStart(7)} ${unit}   there over here ${ratioOf(rounds)}`,
  );
};

/** Who solved what not both did. */
const ofThem = ([there, here]: readonly [Answered, Answered]): string =>
  there.solved !== null ? 'that commit only' : here.solved !== null ? 'this tree only' : 'none';

const share = (list: readonly number[], part: number): number =>
  [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(part * list.length))]!;

async function survey(there: string): Promise<void> {
  const sides = [
    fork(SIDE, [there], { serialization: 'advanced' }),
    fork(SIDE, [HERE], { serialization: 'advanced' }),
  ];
  try {
    await Promise.all(sides.map((side) => once(side, 'message')));
    const ask = async (side: ChildProcess, file: unknown): Promise<Answered> => {
      side.send({ file } satisfies Asked);
      const [answer] = (await once(side, 'message')) as [Answered];
      return answer;
    };
    const trays = surveyTrays(WANTED, SEED);
    // The first time through warms both up, and tells which trays both solve.
    const answers: { tray: SurveyTray; first: [Answered, Answered]; times: Pair[] }[] = [];
    for (const tray of trays) {
      const first: [Answered, Answered] = [await ask(sides[0]!, tray.file), await ask(sides[1]!, tray.file)];
      if (first.every(({ solved }) => solved !== null)) answers.push({ tray, first, times: [] });
      else print(`  ${tray.file.name}: solved by ${ofThem(first)}`);
    }
    for (let round = 0; round < ROUNDS; round++) {
      for (const { tray, times } of answers) {
        const pair: Pair = [0, 0];
        for (const side of round % 2 === 0 ? [0, 1] : [1, 0]) {
          pair[side as 0 | 1] = (await ask(sides[side]!, tray.file)).milliseconds;
        }
        times.push(pair);
      }
    }
    print(`\nRandom trays, tray to drawing, ${ROUNDS} rounds in turn`);
    for (const part of PARTS) {
      const own = answers.filter(({ tray }) => tray.part === part);
      const rounds = (of: (list: readonly number[]) => number): Pair[] =>
        Array.from(
          { length: ROUNDS },
          (_, round) => [0, 1].map((side) => of(own.map(({ times }) => times[round]![side]!))) as Pair,
        );
      line(`${own.length} ${part} trays: median`, rounds(median), 'ms');
      line(
        `${own.length} ${part} trays: 95th percentile`,
        rounds((list) => share(list, 0.95)),
        'ms',
      );
      line(
        `${own.length} ${part} trays: largest`,
        rounds((list) => Math.max(...list)),
        'ms',
      );
    }
    print('\nRims against those of meshes twice as fine again, mm: median, 95th percentile, largest');
    for (const part of PARTS) {
      const off: Pair[] = [];
      for (const { tray, first } of answers.filter((each) => each.tray.part === part)) {
        const fine = fineRim(tray.spec);
        if (fine === null) print(`  ${tray.file.name}: no finer mesh finds an equilibrium`);
        else off.push(first.map(({ solved }) => rimDistance(solved!.rim, fine)) as Pair);
      }
      for (const [side, name] of ['there', 'here'].entries()) {
        const list = off.map((pair) => pair[side]!);
        const figures = [share(list, 0.5), share(list, 0.95), Math.max(...list)].map((mm) => mm.toFixed(4));
        print(
          `  ${`${part} trays, ${name}`.padEnd(40)} ${figures.join('  ')}   over 0.05 mm: ${list.filter((mm) => mm > 0.05).length}`,
        );
      }
    }
  } finally {
    for (const side of sides) side.kill();
  }
}

/** Nodes of the rim of the whole tray on a mesh finer than that of its answer, x y each; null where that is not solved. */
function fineRim(spec: TraySpec): Float64Array | null {
  const { surface, symmetry, law, growth } = solveInput(spec);
  const options = { ...DEFAULT_SOLVE, growth };
  const own = solveTray(surface, symmetry, law, options);
  const finer = (times: number): number => (own.mesh.triangles.length / 6) * 4 ** times;
  const times = own.refinements + (finer(FINER) > MOST_TRIANGLES ? 1 : FINER);
  const solution = ifSolved(() =>
    solveTray(surface, symmetry, law, {
      ...options,
      accuracy: 0,
      minimumRefinements: times,
      maximumRefinements: times,
      maximumTriangles: 4 * MOST_TRIANGLES,
    }),
  );
  if (solution === null) return null;
  const { flat, rimNodes } = wholeField(
    solution,
    nodalStrains(solution.mesh, solution.geometry, law, solution.flat),
  );
  return rimOf(flat, rimNodes);
}

/** Largest distance of one rim's parabolas from another's, mm. */
function rimDistance(nodes: Float64Array, fineNodes: Float64Array): number {
  const [own, fine] = [nodes, fineNodes].map((points) => closedRim(points, 'quadratic', 0.001)) as [
    ReturnType<typeof closedRim>,
    ReturnType<typeof closedRim>,
  ];
  let most = 0;
  for (let i = 0; i < own.x.length; i++) {
    const [x, y] = [own.x[i]!, own.y[i]!];
    let nearest = Infinity;
    for (let k = 1; k < fine.x.length; k++) {
      const [dx, dy] = [fine.x[k]! - fine.x[k - 1]!, fine.y[k]! - fine.y[k - 1]!];
      const [px, py] = [x - fine.x[k - 1]!, y - fine.y[k - 1]!];
      const at = Math.max(0, Math.min(1, (px * dx + py * dy) / (dx * dx + dy * dy)));
      nearest = Math.min(nearest, (px - at * dx) ** 2 + (py - at * dy) ** 2);
    }
    most = Math.max(most, nearest);
  }
  return Math.sqrt(most);
}

/** Live answers beside full ones, of this tree alone: each afresh, and each from that of a tray a little longer. */
function liveAnswers(): void {
  print('\nLive answers of the quarter trays, full ones first');
  const trays = surveyTrays({ ...WANTED, half: 0, whole: 0 }, SEED).map(({ file, spec }) => {
    const plan = file.plan as { readonly length: number };
    return { spec, longer: readTray({ ...file, plan: { ...plan, length: plan.length + 1 } }) };
  });
  const afresh: Pair[] = [];
  const typed: Pair[] = [];
  for (let round = 0; round <= ROUNDS; round++) {
    const times = trays.map(({ spec, longer }) => {
      const before = developLive(longer);
      return [
        timed(() => developTray(spec)),
        timed(() => developLive(spec)),
        timed(() => developLive(spec, before)),
      ] as const;
    });
    const [full, live, next] = [0, 1, 2].map((k) => median(times.map((each) => each[k]!))) as [
      number,
      number,
      number,
    ];
    // The first round warms up.
    if (round === 0) continue;
    afresh.push([full, live]);
    typed.push([full, next]);
  }
  line('median, each afresh', afresh, 'ms');
  line('median, from a tray 1 mm longer', typed, 'ms');
}

function timed(work: () => unknown): number {
  const started = performance.now();
  work();
  return performance.now() - started;
}

/** The command from a cold start to its file, and the memory it takes. */
function starts(there: string): void {
  print('\nOne tray by the command, from a cold start');
  const rounds = Array.from({ length: ROUNDS }, () => [coldStart(1, there), coldStart(1, HERE)] as const);
  for (const [k, unit] of ['ms', 'MB'].entries()) {
    const pairs = rounds.map((round) => round.map((measured) => measured[k]!.median) as Pair);
    line(rounds[0]![0][k]!.name, pairs, unit);
  }
}

/** Tables of sizes through the command's batch, drawings only. */
const TABLES: readonly (readonly [name: string, base: object, rows: readonly string[]])[] = [
  [
    '400 sizes, each another topology',
    { plan: { cornerRadius: 30 }, section: { bottomRadius: 15 }, sheet: { material: 'DC04', thickness: 1 } },
    Array.from({ length: 400 }, (_, i) => `${200 + i},${150 + (i % 97)},${20 + (i % 20)}`),
  ],
  [
    'a family of 512',
    {
      plan: { cornerRadius: 45 },
      section: { bottomRadius: 22 },
      sheet: { material: 'DC04', thickness: 1.2 },
    },
    Array.from({ length: 512 }, (_, i) => `${300 + 4 * (i >> 4)},${200 + 4 * (i & 15)},30`),
  ],
];

function batches(there: string, folder: string): void {
  print('\nTables of sizes by the command, drawings only');
  for (const [name, base, rows] of TABLES) {
    const table = join(folder, 'table.csv');
    writeFileSync(
      table,
      `name,plan.length,plan.width,section.height\n${rows.map((row, i) => `t${i},${row}`).join('\n')}\n`,
    );
    const baseFile = join(folder, 'base.json');
    writeFileSync(baseFile, JSON.stringify(base));
    const seconds = (root: string, jobs: number): number => {
      const out = mkdtempSync(join(folder, 'out-'));
      const started = performance.now();
      const { status, stderr } = spawnSync(
        process.execPath,
        [
          commandOf(root),
          'batch',
          table,
          '--base',
          baseFile,
          '--out',
          out,
          '--format',
          'dxf',
          '--jobs',
          String(jobs),
        ],
        { encoding: 'utf8' },
      );
      if (status !== 0 && status !== 1) throw new Error(`the batch failed: ${stderr}`);
      const taken = (performance.now() - started) / 1000;
      rmSync(out, { recursive: true, force: true });
      return taken;
    };
    const rounds = Array.from({ length: 3 }, () =>
      [1, 2].map((jobs): Pair => [seconds(there, jobs), seconds(HERE, jobs)]),
    );
    for (const [k, threads] of ['one thread', 'two threads'].entries()) {
      line(
        `${name}, ${threads}`,
        rounds.map((round) => round[k]!),
        's',
      );
    }
    const gains = rounds.map(([one, two]): Pair => [one![1], two![1]]);
    print(`  ${`${name}, one thread over two, here`.padEnd(40)} ${ratioOf(gains)}`);
  }
}
