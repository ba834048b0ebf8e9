/** What a pattern says of its gather, where it says anything. */
import type { Gather } from '../gather/report.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';

/** Zones, verdict and tucks; undefined for a pattern made without them. */
export const gatherOf = (pattern: FlatPattern): Gather | undefined =>
  (pattern as FlatPattern & { readonly gather?: Gather }).gather;
