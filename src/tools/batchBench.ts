/**
 * `node dist/tools/batchBench.js [rate|memory|layout|deaths] …`: what batches and layouts take on this machine.
 *
 * - rate: sizes a second on one core, with one thread and with two, solve and DXF, of quarter-symmetric trays. Needs
 *   taskset.
 * - memory: largest memory of a run of 5,000 sizes into an archive, without and with a layout on sheets
 * - layout: 200 blanks of 20 kinds on sheets
 * - deaths: 500 sizes on a queue while workers are killed at random; the archive against the embedded run's.
 *   Needs redis-server.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { planChunks } from '../batch/plan.ts';
import { poolEngine } from '../batch/pool.ts';
import { readBatch, traysOf } from '../batch/readBatch.ts';
import { partOf } from '../layout/parts.ts';
import { layOut } from '../layout/sheetLayout.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import { developTray } from '../pattern/developTray.ts';

const MAIN = fileURLToPath(new URL('../command/gatherpan.js', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'gatherpan-bench-'));
/** How this program asks another process of its own for one rate. */
const RATE_OF = 'rateOf';
const print = (text: string): void => void process.stdout.write(`${text}\n`);

/** Drip trays of `lengths` × `widths` sizes. */
const family = (lengths: number, widths: number): string =>
  JSON.stringify({
    base: {
      plan: { cornerRadius: 45 },
      section: { bottomRadius: 22, height: 30 },
      sheet: { material: 'DC04', thickness: 1.2 },
    },
    name: 'tray-{plan.length}x{plan.width}',
    ranges: {
      'plan.length': { from: 300, to: 300 + 4 * (lengths - 1), step: 4 },
      'plan.width': { from: 200, to: 200 + 4 * (widths - 1), step: 4 },
    },
  });

/** Sizes a second on `jobs` threads of this process, and what all cores spend on a size. */
async function rateOf(jobs: number): Promise<{ rate: number; milliseconds: number }> {
  const formats = [{ id: 'dxf', extension: 'dxf', values: { marks: '', version: 'R2000' } }];
  const trays = traysOf(readBatch(family(32, 16), 'json', {}, 'tray'));
  const engine = poolEngine({ jobs, modules: { names: [], folder } });
  const chunks = planChunks(trays, { formats, program: 'bench' });
  const run = async (list: typeof chunks): Promise<{ rate: number; milliseconds: number }> => {
    const started = performance.now();
    const before = process.cpuUsage();
    let done = 0;
    for await (const { results } of engine.solve(list, new AbortController().signal)) {
      done += results.filter((result) => result.ok).length;
    }
    const { user, system } = process.cpuUsage(before);
    return {
      rate: done / ((performance.now() - started) / 1000),
      milliseconds: (user + system) / 1000 / done,
    };
  };
  await run(chunks.slice(0, 4)); // threads are warm then
  const reached = await run(chunks);
  await engine.close();
  return reached;
}

/**
 * Every rate in a process of its own. One thread alone is helped by the runtime's own threads, which compile and
 * clear up on the other core; what one core does is only seen when the process may use no other one.
 */
function rate(): void {
  const measured = (jobs: number, core?: number): number => {
    const own = [process.execPath, fileURLToPath(import.meta.url), RATE_OF, String(jobs)];
    const [command, ...rest] = core === undefined ? own : ['taskset', '--cpu-list', String(core), ...own];
    const { status, stdout, stderr } = spawnSync(command!, rest, { encoding: 'utf8' });
    if (status !== 0) throw new Error(`the rate of ${jobs} threads was not measured: ${stderr}`);
    const { rate, milliseconds } = JSON.parse(stdout) as Awaited<ReturnType<typeof rateOf>>;
    const where = core === undefined ? 'all cores' : 'one core ';
    print(
      `  ${jobs} thread${jobs > 1 ? 's' : ' '} on ${where}: ${rate.toFixed(1)} sizes a second, ${milliseconds.toFixed(1)} ms of all cores a size`,
    );
    return rate;
  };
  // The machine's speed drifts: each is measured three times in turn, and medians are compared.
  const rounds = [0, 1, 2].map(() => ({
    oneCore: measured(1, 0),
    oneThread: measured(1),
    twoThreads: measured(2),
  }));
  const median = (of: (round: (typeof rounds)[number]) => number): number =>
    rounds.map(of).sort((a, b) => a - b)[1]!;
  print(`  two threads over one core: ${median((r) => r.twoThreads / r.oneCore).toFixed(2)}`);
  print(
    `  two threads over one thread with both cores: ${median((r) => r.twoThreads / r.oneThread).toFixed(2)}`,
  );
}

async function memory(): Promise<void> {
  writeFileSync(join(folder, 'family.json'), family(100, 50));
  for (const more of [[], ['--sheet', '2000x1000']]) {
    const child = spawn(process.execPath, [MAIN, 'batch', 'family.json', '--zip', 'all.zip', ...more], {
      cwd: folder,
      stdio: ['ignore', 'ignore', 'inherit'],
    });
    let largest = 0;
    const look = setInterval(() => {
      const status = spawnSync('cat', [`/proc/${child.pid}/status`]).stdout.toString();
      largest = Math.max(largest, Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1] ?? 0));
    }, 200);
    const started = performance.now();
    await new Promise((resolve) => child.on('close', resolve));
    clearInterval(look);
    const seconds = (performance.now() - started) / 1000;
    print(
      `  5000 sizes ${more.join(' ')} in ${seconds.toFixed(0)} s, ${((largest * 1024) / 1e6).toFixed(0)} MB at most`,
    );
  }
}

async function layout(): Promise<void> {
  const trays = traysOf(readBatch(family(5, 4), 'json', {}, 'tray'));
  const parts = trays.map((tray) => partOf(flatPatternOf(developTray(tray.spec)), 10, 'along'));
  const stock = { length: 2000, width: 1000, spacing: 5, edge: 10 };
  const started = performance.now();
  const { sheets, leastSheets } = await layOut(parts, { stock, grain: 'along', effort: 1, rates: {} });
  const used =
    sheets.reduce((sum, sheet) => sum + sheet.partsArea, 0) /
    sheets.reduce((sum, sheet) => sum + sheet.area, 0);
  print(
    `  200 blanks on ${sheets.length} sheets (bare area: ${leastSheets}), ${(100 * used).toFixed(1)} % used, ${((performance.now() - started) / 1000).toFixed(1)} s`,
  );
}

async function deaths(): Promise<void> {
  const port = 20_000 + (process.pid % 20_000);
  const address = `redis://127.0.0.1:${port}`;
  const redis = spawn(
    'redis-server',
    ['--port', String(port), '--bind', '127.0.0.1', '--save', '', '--dir', folder],
    {
      stdio: 'ignore',
    },
  );
  await wait(1000);
  const run = (...argv: string[]): ChildProcess =>
    spawn(process.execPath, [MAIN, ...argv], { cwd: folder, stdio: ['ignore', 'ignore', 'inherit'] });
  const end = (child: ChildProcess): Promise<unknown> => new Promise((resolve) => child.on('close', resolve));
  try {
    writeFileSync(join(folder, 'family.json'), family(25, 20));
    await end(run('batch', 'family.json', '--zip', 'pool.zip'));
    const workers = [0, 1].map(() => run('worker', '--queue', address));
    let over = false;
    const batch = end(run('batch', 'family.json', '--zip', 'queue.zip', '--queue', address)).then(() => {
      over = true;
    });
    let killed = 0;
    while (!over) {
      await Promise.race([batch, wait(300 + Math.random() * 700)]);
      if (over) break;
      const victim = Math.floor(Math.random() * workers.length);
      workers[victim]!.kill('SIGKILL');
      workers[victim] = run('worker', '--queue', address);
      killed++;
    }
    for (const worker of workers) worker.kill('SIGKILL');
    const same = readFileSync(join(folder, 'pool.zip')).equals(readFileSync(join(folder, 'queue.zip')));
    print(`  500 sizes, ${killed} workers killed, archives ${same ? 'identical' : 'DIFFERENT'}`);
    if (!same) process.exitCode = 1;
  } finally {
    redis.kill('SIGKILL');
  }
}

const sections = { rate, memory, layout, deaths };

async function bench(wanted: readonly string[]): Promise<void> {
  print(`Node ${process.version}, ${cpus().length} cores, load ${loadavg()[0]!.toFixed(1)}`);
  for (const [name, section] of Object.entries(sections)) {
    if (wanted.length > 0 && !wanted.includes(name)) continue;
    print(name);
    await section();
  }
}

const [first, jobs, ...others] = process.argv.slice(2);
try {
  if (first === RATE_OF) print(JSON.stringify(await rateOf(Number(jobs))));
  else await bench([first, jobs, ...others].filter((name) => name !== undefined));
} finally {
  rmSync(folder, { recursive: true, force: true });
}
