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
    const most = Math.max(2, Math.floor(candidate.length / 3));
    // No fewer edits than letters to add or leave out; a name may be a whole file by mistake.
    if (Math.abs(name.length - candidate.length) > most) continue;
    const edits = distance(name.toLowerCase(), candidate.toLowerCase());
    if (edits <= most && edits < fewest) {
      best = candidate;
      fewest = edits;
    }
  }
  return best;
}
