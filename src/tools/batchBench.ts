/**
 * `node dist/tools/batchBench.js [rate|memory|layout|deaths] …`: what batches and layouts take on this machine.
 *
 * - rate: sizes a second with one thread and with two, solve and DXF, of quarter-symmetric trays
 * - memory: largest memory of a run of 5,000 sizes into an archive
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
import { developTray } from '../pattern/developTray.ts';

const MAIN = fileURLToPath(new URL('../cli/main.js', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'gatherpan-bench-'));
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

async function rate(): Promise<void> {
  const formats = [{ id: 'dxf', extension: 'dxf', values: { text: 'inside', cutOnly: false } }];
  const trays = traysOf(readBatch(family(32, 16), 'json', {}, 'tray'));
  const rates: number[] = [];
  for (const jobs of [1, 2]) {
    const engine = poolEngine({ jobs, modules: { names: [], folder } });
    const chunks = planChunks(trays, { formats, version: 'bench' });
    let cpu = 0;
    const run = async (list: typeof chunks): Promise<number> => {
      const started = performance.now();
      const before = process.cpuUsage();
      let done = 0;
      for await (const { results } of engine.solve(list, new AbortController().signal)) {
        done += results.filter((result) => result.ok).length;
      }
      const { user, system } = process.cpuUsage(before);
      cpu = (user + system) / 1000 / done;
      return done / ((performance.now() - started) / 1000);
    };
    await run(chunks.slice(0, 4)); // threads are warm then
    const reached = await run(chunks);
    rates.push(reached);
    await engine.close();
    print(
      `  ${jobs} thread${jobs > 1 ? 's' : ' '}: ${reached.toFixed(1)} sizes a second, ${cpu.toFixed(1)} ms of all cores a size`,
    );
  }
  print(`  two over one: ${(rates[1]! / rates[0]!).toFixed(2)}`);
}

async function memory(): Promise<void> {
  writeFileSync(join(folder, 'family.json'), family(100, 50));
  const child = spawn(process.execPath, [MAIN, 'batch', 'family.json', '--zip', 'all.zip'], {
    cwd: folder,
    stdio: ['ignore', 'inherit', 'inherit'],
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
  print(`  5000 sizes in ${seconds.toFixed(0)} s, ${(largest / 1024).toFixed(0)} MB at most`);
}

async function layout(): Promise<void> {
  const trays = traysOf(readBatch(family(5, 4), 'json', {}, 'tray'));
  const parts = trays.map((tray) => partOf(developTray(tray.spec), 10, 'along'));
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
      await Promise.race([batch, wait(1500 + Math.random() * 5000)]);
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
const wanted = process.argv.slice(2);
print(`Node ${process.version}, ${cpus().length} cores, load ${loadavg()[0]!.toFixed(1)}`);
try {
  for (const [name, section] of Object.entries(sections)) {
    if (wanted.length > 0 && !wanted.includes(name)) continue;
    print(name);
    await section();
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
