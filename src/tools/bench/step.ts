/** Bench of STEP: what is written without a kernel, what is read with one, and what the kernel itself costs. */
import { Worker } from 'node:worker_threads';
import { flatPatternOf } from '../../pattern/developed.ts';
import { developTray } from '../../pattern/developTray.ts';
import { writeFlatSolid } from '../../step/flatSolid.ts';
import { writeFormedSolid } from '../../step/formedSolid.ts';
import { occtThread } from '../../step/occt/occtThread.ts';
import type { OcctReply, OcctTask } from '../../step/occt/tasks.ts';
import { readStepTray } from '../../step/readStepTray.ts';
import type { TraySpec } from '../../tray/spec.ts';
import { type Measured, median, timeOf } from './measure.ts';
import { demoTrays } from './solve.ts';

/** ms */
const FLAT = 5;
const FORMED = 300;
const RECOGNISE = 500;
const AS_IT_IS = 3000;

const THREAD = new URL('../../step/occt/thread.js', import.meta.url);

export async function stepTimes(): Promise<Measured[]> {
  const trays = demoTrays();
  const first = trays.find(({ name }) => name.includes('propagator')) ?? trays[0]!;
  const pattern = flatPatternOf(developTray(first));
  const out: Measured[] = [
    ...(await occtLoads()),
    await timeOf(
      'blank as a solid, no kernel',
      60,
      () => writeFlatSolid(pattern, { protocol: 'AP214', scribeLines: true }),
      { bar: FLAT },
    ),
  ];
  const occt = occtThread();
  try {
    await occt.run({ kind: 'warm' });
    for (const spec of trays) out.push(...(await readings(spec, occt)));
  } finally {
    await occt.close();
  }
  return out;
}

/** A kernel in a new thread: the time until it answers, and what the process grows by. */
async function occtLoads(runs = 3): Promise<Measured[]> {
  const times: number[] = [];
  const memory: number[] = [];
  for (let i = 0; i < runs; i++) {
    const before = process.memoryUsage().rss;
    const start = performance.now();
    const worker = new Worker(THREAD);
    await new Promise<void>((resolve, reject) => {
      worker.on('message', (reply: OcctReply) => (reply.ok ? resolve() : reject(new Error('no kernel'))));
      worker.on('error', reject);
      worker.postMessage({ kind: 'warm' } satisfies OcctTask);
    });
    times.push(performance.now() - start);
    memory.push((process.memoryUsage().rss - before) / 1e6);
    await worker.terminate();
  }
  return [
    { name: 'kernel loaded in a new thread', median: median(times), unit: 'ms', runs },
    // Later threads take over what the first one has left.
    { name: 'memory the first of them takes', median: memory[0]!, unit: 'MB', runs: 1 },
  ];
}

async function readings(spec: TraySpec, occt: ReturnType<typeof occtThread>): Promise<Measured[]> {
  const { name } = spec;
  let solid: Uint8Array;
  try {
    solid = writeFormedSolid(spec, name, 'AP214');
  } catch {
    return []; // no finished solid is made of this shape
  }
  const given = { material: spec.sheet.material, grain: spec.sheet.grain };
  return [
    await timeOf(`${name}: finished tray as a solid`, 15, () => writeFormedSolid(spec, name, 'AP214'), {
      bar: FORMED,
    }),
    await timeOf(`${name}: recognised`, 5, () => readStepTray(solid, { ...given, path: 'recognise' }, occt), {
      bar: RECOGNISE,
    }),
    await timeOf(
      `${name}: solved as it is`,
      3,
      () => readStepTray(solid, { ...given, path: 'as it is' }, occt),
      {
        bar: AS_IT_IS,
      },
    ),
  ];
}
