/**
 * Spoils sound STEP files in many ways and has them read: every case must end with a tray, a pattern or one
 * sentence, in time, and the process must be well afterwards.
 *
 *   node dist/tools/fuzzStep.js [cases] [seed] [only this case]
 */
import { pathToFileURL } from 'node:url';
import { GatherpanError } from '../errors.ts';
import { writeFormedSolid } from '../step/formedSolid.ts';
import { occtThread } from '../step/occt/occtThread.ts';
import { readStepTray } from '../step/readStepTray.ts';
import { readTray } from '../tray/readTray.ts';

export interface FuzzResult {
  readonly cases: number;
  /** Refused before the kernel saw them, refused after, recognised, unfolded, without a flat, out of time. */
  readonly refusedAtOnce: number;
  readonly refused: number;
  readonly recognised: number;
  readonly unfolded: number;
  readonly noFlat: number;
  readonly outOfTime: number;
  /** Numbers of those out of time. */
  readonly late: readonly number[];
  /** Anything that is not one of these: each is a fault. */
  readonly faults: readonly string[];
  readonly occtsStarted: number;
  readonly milliseconds: number;
}

/** A small generator, so that a seed gives the same cases everywhere (Marsaglia's xorshift, 32 bits). */
function generator(seed: number): (below: number) => number {
  let state = seed | 0 || 1;
  return (below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

type Spoil = (text: string, pick: (below: number) => number) => string;

/** Replaces the n-th match of a pattern, n picked. */
function replaceOne(
  text: string,
  pattern: RegExp,
  pick: (below: number) => number,
  by: (old: string) => string,
): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const match = found[pick(found.length)]!;
  return text.slice(0, match.index) + by(match[0]) + text.slice(match.index + match[0].length);
}

const NUMBERS = ['0.', '-1.', '1.E-9', '1.E8', '-0.000001', '3.', '1.E400', '1.E-400', '99999999.'];
const KEYWORDS = [
  'PLANE',
  'LINE',
  'CIRCLE',
  'SPHERICAL_SURFACE',
  'TOROIDAL_SURFACE',
  'EDGE_LOOP',
  'VERTEX_POINT',
  'B_SPLINE_SURFACE',
  'X',
];

const SPOILS: readonly Spoil[] = [
  (text, pick) => {
    const at = pick(text.length);
    return text.slice(0, at) + String.fromCharCode(32 + pick(95)) + text.slice(at + 1);
  },
  (text, pick) => {
    const at = pick(text.length);
    return text.slice(0, at) + text.slice(at + 1 + pick(200));
  },
  (text, pick) => text.slice(0, pick(text.length)),
  (text, pick) => {
    const at = pick(text.length);
    const piece = text.slice(at, at + 1 + pick(300));
    return text.slice(0, at) + piece + piece + text.slice(at + piece.length);
  },
  (text, pick) => replaceOne(text, /-?\d+\.\d*/g, pick, () => NUMBERS[pick(NUMBERS.length)]!),
  (text, pick) =>
    replaceOne(text, /-?\d+\.\d*/g, pick, (old) =>
      String(Number(old) * (0.5 + pick(100) / 100)).replace(/^(-?\d+)$/, '$1.'),
    ),
  (text, pick) => replaceOne(text, /#\d+(?=[,)])/g, pick, () => `#${1 + pick(900)}`),
  (text, pick) => replaceOne(text, /\.[TF]\./g, pick, (old) => (old === '.T.' ? '.F.' : '.T.')),
  (text, pick) => replaceOne(text, /(?<==)[A-Z_0-9]+/g, pick, () => KEYWORDS[pick(KEYWORDS.length)]!),
  (text, pick) => replaceOne(text, /#\d+=[^;]*;\n/g, pick, () => ''),
  (text, pick) => replaceOne(text, /,[^,()]*(?=[,)])/g, pick, () => ''),
  (text, pick) =>
    replaceOne(text, /[^,()]+(?=[,)])/g, pick, () => ['$', '*', "''", '()', '.U.', '-5'][pick(6)]!),
];

/** Sound files to begin with: spheres, tori, cones, a lip, an inward corner. */
function soundFiles(): string[] {
  const sheet = { material: 'DC04', thickness: 1 };
  const rectangle = (cornerRadius: number): unknown => ({ length: 120, width: 90, cornerRadius });
  const files: unknown[] = [
    { plan: rectangle(20), section: { bottomRadius: 20, height: 30 } },
    { plan: rectangle(35), section: { bottomRadius: 15, height: 30 } },
    { plan: rectangle(30), section: { bottomRadius: 15, height: 25, draft: 10 } },
  ];
  return files.map((file) => {
    const spec = readTray({ name: 'tray', measured: 'outside', sheet, ...(file as object) });
    return new TextDecoder().decode(writeFormedSolid(spec, 'tray', 'AP214'));
  });
}

/**
 * @param cases number of spoilt files
 * @param seed  the same seed spoils in the same ways
 * @param only  number of the one case to be read, to look at it closely; all when null
 */
export async function fuzzStep(
  cases: number,
  seed: number,
  progress: (done: number) => void = () => {},
  only: number | null = null,
): Promise<FuzzResult> {
  const started = performance.now();
  const pick = generator(seed);
  const sound = soundFiles();
  const occt = occtThread({ timeLimit: 15_000 });
  const counts = { refusedAtOnce: 0, refused: 0, recognised: 0, unfolded: 0, noFlat: 0, outOfTime: 0 };
  const faults: string[] = [];
  const late: number[] = [];
  try {
    for (let i = 0; i < cases; i++) {
      let text = sound[pick(sound.length)]!;
      for (let times = 1 + pick(2); times > 0; times--) text = SPOILS[pick(SPOILS.length)]!(text, pick);
      if (only !== null && i !== only) continue;
      let asked = false;
      try {
        const result = await readStepTray(
          new TextEncoder().encode(text),
          { name: 'tray' },
          {
            ...occt,
            started: occt.started,
            run: (task) => {
              asked = true;
              return occt.run(task);
            },
          },
        );
        if (result.kind === 'tray') counts.recognised++;
        else if (result.pattern.kind === 'part') counts.unfolded++;
        else counts.noFlat++;
      } catch (error) {
        if (!(error instanceof GatherpanError)) faults.push(`case ${i}: ${String(error)}`);
        else if (error.message.includes('\n') && error.faults.length < 2)
          faults.push(`case ${i}: ${error.message}`);
        else if (error.code === 'TIMEOUT') {
          counts.outOfTime++;
          late.push(i);
        } else if (asked) counts.refused++;
        else counts.refusedAtOnce++;
      }
      progress(i + 1);
    }
  } finally {
    await occt.close();
  }
  return {
    cases,
    ...counts,
    late,
    faults,
    occtsStarted: occt.started,
    milliseconds: performance.now() - started,
  };
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const [cases, seed] = [Number(process.argv[2] ?? 2000), Number(process.argv[3] ?? 1)];
  const only = process.argv[4] === undefined ? null : Number(process.argv[4]);
  const result = await fuzzStep(
    cases,
    seed,
    (done) => {
      if (done % 100 === 0) process.stderr.write(`\r${done} of ${cases}`);
    },
    only,
  );
  process.stderr.write('\r');
  process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
  process.exitCode = result.faults.length > 0 ? 1 : 0;
}
