/** Medians of repeated runs. */

export interface Measured {
  readonly name: string;
  /** ms, or what `unit` says; the median, or what `of` says. */
  readonly median: number;
  readonly of?: string;
  readonly unit: string;
  readonly runs: number;
  /** What the figure is compared with, in the same unit; absent when nothing is asked of it. */
  readonly bar?: number;
  readonly note?: string;
}

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/** Median time of a piece of work in ms, after it has been run often enough to be warm. */
export async function timeOf(
  name: string,
  runs: number,
  work: () => unknown,
  more: { bar?: number; note?: string; warmUp?: number } = {},
): Promise<Measured> {
  for (let i = 0; i < (more.warmUp ?? Math.ceil(runs / 2)); i++) await work();
  const times: number[] = [];
  for (let i = 0; i < runs; i++) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return {
    name,
    median: median(times),
    unit: 'ms',
    runs,
    ...(more.bar === undefined ? {} : { bar: more.bar }),
    ...(more.note === undefined ? {} : { note: more.note }),
  };
}

/** One line of the printed table. */
export function line({ name, median: value, unit, runs, bar, note, of = 'median' }: Measured): string {
  const figure = `${value < 10 ? value.toFixed(2) : value.toFixed(value < 100 ? 1 : 0)} ${unit}`;
  const against = bar === undefined ? '' : `  bar ${bar} ${unit}: ${value <= bar ? 'met' : 'MISSED'}`;
  return `  ${name.padEnd(46)} ${figure.padStart(12)}  ${of} of ${runs}${against}${note === undefined ? '' : `  (${note})`}`;
}
