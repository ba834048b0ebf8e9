/** The progress of a batch in one line: a bar, the rate and the time left. */
import type { BatchProgress } from '../batch/runBatch.ts';
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
  const left = rate > 0 ? duration((total - done) / rate) : 'a while';
  const bar = `[${'#'.repeat(filled)}${'.'.repeat(BAR - filled)}]`;
  return `${bar} ${done} of ${total}, ${rate.toFixed(1)} a second, ${left} left  ${name.slice(0, 30)}`;
}

function duration(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  if (seconds < 5400) return `${Math.ceil(seconds / 60)} min`;
  return `${(seconds / 3600).toFixed(1)} h`;
}
