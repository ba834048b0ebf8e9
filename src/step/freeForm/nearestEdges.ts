/** Which edges of a part a point may lie on. */
import type { LivePart } from '../occt/livePart.ts';

/** How much nearer than the chord between two samples an edge may pass, as a share of the chord. */
const BULGE = 0.15;

/** Those of some edges that may pass nearest to a point, by the chords between their samples. */
export function nearestEdges({ part }: LivePart, own: readonly number[], point: Float64Array): number[] {
  const edges = [...new Set(own)].map((edge) => {
    const { samples } = part.edges[edge]!;
    let [best, longest] = [Infinity, 0];
    for (let i = 0; i + 3 < samples.length; i += 3) {
      let [along, square, off] = [0, 0, 0];
      for (let k = 0; k < 3; k++) {
        const chord = samples[i + 3 + k]! - samples[i + k]!;
        along += chord * (point[k]! - samples[i + k]!);
        square += chord * chord;
      }
      const s = Math.max(0, Math.min(1, along / square));
      for (let k = 0; k < 3; k++) {
        off += (samples[i + k]! + s * (samples[i + 3 + k]! - samples[i + k]!) - point[k]!) ** 2;
      }
      best = Math.min(best, off);
      longest = Math.max(longest, square);
    }
    const bulge = BULGE * Math.sqrt(longest);
    return { edge, least: Math.sqrt(best) - bulge, most: Math.sqrt(best) + bulge };
  });
  const nearest = Math.min(...edges.map(({ most }) => most));
  return edges.flatMap(({ edge, least }) => (least <= nearest ? [edge] : []));
}
