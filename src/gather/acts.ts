/** What is done to a tray on its way, so that the cautions of just that are given. */

import { type Act, cutAct } from '../material/cautions.ts';
import type { Family } from '../material/families.ts';
import type { SheetMaterial } from '../material/sheet.ts';
import type { TraySpec } from '../tray/spec.ts';

/** Whoever cuts the blank out and takes it from there. */
export const cuttingActs = ({ cut }: Pick<TraySpec, 'cut'>): Act[] => [cutAct(cut.process), 'handle'];

/** Whoever makes gauges from scrap. */
export const GAUGE_ACTS: readonly Act[] = ['hand cutting', 'handle'];

/** Whoever cuts a strip for the rim and welds it on. */
export const stripActs = (spec: Pick<TraySpec, 'cut'>): Act[] => [...cuttingActs(spec), 'weld'];

/**
 * Whoever shapes it.
 *
 * @param anneals how many; of a sheet that must not be heated that is said in any case
 * @param welds   whether something is welded, or a strip or a notch is proposed
 */
export const formingActs = (
  { family, anneal }: SheetMaterial,
  anneals: number | null,
  welds: boolean,
): Act[] => [
  ...(anneal.temperature === null
    ? (['anneal'] as const)
    : (anneals ?? 0) > 0
      ? (['anneal', ...afterHeat(family)] as const)
      : []),
  'handle',
  'hammer',
  ...(welds ? (['weld'] as const) : []),
];

/** What follows a heat: some metals are quenched, some pickled bright again. Common practice, no source. */
const afterHeat = (family: Family): Act[] => [
  ...(family === 'steel' || family === 'titanium' ? [] : (['quench'] as const)),
  ...(PICKLED.includes(family) ? (['pickle'] as const) : []),
];
const PICKLED: readonly Family[] = ['copper', 'brass', 'nickel silver', 'other', 'not stated'];

/** True when some corner is cut out and welded. */
export const hasWeldedCorners = ({ forming: { corners } }: Pick<TraySpec, 'forming'>): boolean =>
  corners === 'notch' || (Array.isArray(corners) && corners.includes('notch'));

/** True when a lower wall is proposed, which takes a strip welded on. */
export const proposesWeld = ({
  changes,
}: {
  readonly changes: readonly { readonly about: string }[];
}): boolean => changes.some(({ about }) => about === 'height');
