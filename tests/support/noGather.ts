/** What a pattern made by hand says of gather: nothing. */
import type { Gather } from '../../src/gather/report.ts';

export const NO_GATHER: Gather = {
  threshold: 2,
  hand: 0.6,
  spread: 0,
  zones: [],
  work: 0,
  anneals: 0,
  verdict: { word: 'can be worked', reasons: [] },
  tucks: [],
  trimBand: null,
};
