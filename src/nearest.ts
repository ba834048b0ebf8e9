/** The name a person most likely meant. */
import { distance } from 'fastest-levenshtein';

/**
 * The known name closest to `name` by edit distance, the earlier one when two are equally close; undefined
 * when none is close enough to be a likely slip (more than a third of the letters, but at least two, differ).
 *
 * Measure: V. I. Levenshtein, Binary codes capable of correcting deletions, insertions and reversals, 1966.
 */
export function nearest(name: string, known: readonly string[]): string | undefined {
  let best: string | undefined;
  let fewest = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const edits = distance(name.toLowerCase(), candidate.toLowerCase());
    if (edits <= Math.max(2, Math.floor(candidate.length / 3)) && edits < fewest) {
      best = candidate;
      fewest = edits;
    }
  }
  return best;
}
