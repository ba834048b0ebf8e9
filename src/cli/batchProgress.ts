/** The progress of a batch in one line: a bar, the rate and the time left. */
import type { BatchProgress } from '../batch/runBatch.ts';
import { words } from '../words/language.ts';
import type { Progress } from './progress.ts';

const BAR = 24;
/** The line is drawn this often at most, ms. */
const INTERVAL = 100;

/**
 * @param now tells the time in ms
 * @returns to be called with every step
 */
export function batchProgress(line: Progress, now: () => number): (progress: BatchProgress) => void {
  const started = now();
  let shown = Number.NEGATIVE_INFINITY;
  return (progress) => {
    const at = now();
    if (at - shown < INTERVAL && progress.done < progress.total) return;
    shown = at;
    line.show(progressText(progress, at - started));
  };
}

/** @param elapsed ms since the first tray was begun */
export function progressText({ done, total, name }: BatchProgress, elapsed: number): string {
  const filled = total === 0 ? BAR : Math.floor((BAR * done) / total);
  const rate = elapsed > 0 ? done / (elapsed / 1000) : 0;
  const said = words().command.output.progress;
  const left = rate > 0 ? duration((total - done) / rate) : said.aWhile;
  const bar = `[${'#'.repeat(filled)}${'.'.repeat(BAR - filled)}]`;
  return `${bar} ${said.rows(String(done), String(total), rate.toFixed(1), left)}  ${name.slice(0, 30)}`;
}

function duration(seconds: number): string {
  const said = words().command.output.progress;
  if (seconds < 90) return said.seconds(String(Math.ceil(seconds)));
  if (seconds < 5400) return said.minutes(String(Math.ceil(seconds / 60)));
  return said.hours((seconds / 3600).toFixed(1));
}
