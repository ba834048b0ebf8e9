/** `npm run bench`: medians of the work that people wait for, and the machine they were measured on. */
import { cpus, totalmem } from 'node:os';
import { benchAgainst } from './bench/against.ts';
import { checkTimes } from './bench/checks.ts';
import { gatherTimes } from './bench/gather.ts';
import { line, type Measured } from './bench/measure.ts';
import { pageTimes } from './bench/page.ts';
import { profile } from './bench/profile.ts';
import { serviceTimes } from './bench/service.ts';
import { coldStart, partsOfSolve, warmSolves } from './bench/solve.ts';
import { stepTimes } from './bench/step.ts';

const sections: readonly (readonly [
  id: string,
  title: string,
  run: () => Promise<Measured[]> | Measured[],
])[] = [
  ['solve', 'Warm, tray to DXF bytes, one demo tray after the other', warmSolves],
  ['parts', 'Parts of a quarter-symmetric solve', partsOfSolve],
  ['gather', 'Gather, verdict and plan of the demo trays', gatherTimes],
  ['checks', 'Checks of files with many holes', checkTimes],
  ['service', 'The service, while its threads are busy', serviceTimes],
  ['page', 'The page in Chromium, from a change of size to the new picture', pageTimes],
  ['step', 'STEP out and in, warm', stepTimes],
  ['cold', 'From a cold start', () => coldStart()],
];

const given = process.argv.slice(2);
const commit = given[0] === '--against' ? (given[1] ?? 'HEAD') : null;
/** One section of its own, not run with the others. */
const alone =
  given[0] === '--profile' ? (['profile', 'Where the time of one tray goes', profile] as const) : null;
const wanted = commit === null && alone === null ? given : [];
const unknown = wanted.filter((id) => !sections.some(([known]) => known === id));
if (unknown.length > 0) {
  process.stderr.write(
    `No bench section ${unknown.join(', ')}; there are ${sections.map(([id]) => id).join(', ')}, --profile and --against COMMIT.\n`,
  );
  process.exit(2);
}
process.stdout.write(
  `Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${Math.round(totalmem() / 2 ** 30)} GiB\n`,
);
if (commit !== null) await benchAgainst(commit);
for (const [id, title, run] of alone !== null ? [alone] : commit !== null ? [] : sections) {
  if (wanted.length > 0 && !wanted.includes(id)) continue;
  process.stdout.write(`\n${title} (${id})\n`);
  for (const measured of await run()) process.stdout.write(`${line(measured)}\n`);
}
