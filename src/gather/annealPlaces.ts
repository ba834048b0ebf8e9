/** Where on its way a tray is annealed: as few times as keep every spot within what the sheet takes. */
import type { Way } from './way.ts';

/** An anneal comes at the end of a stage where no more than this share of the budget is unused by then. */
const UNUSED = 0.4;
/** Anneals that are counted at most. */
const MOST = 12;

/** How often what is left of the way takes an anneal. */
export function annealsFrom(way: Way, place: number, budget: number): number {
  let count = 0;
  for (let at = way.reach(place, budget); at < way.end && count < MOST; at = way.reach(at, budget)) count++;
  return count;
}

/**
 * Where on the way to anneal: places, ascending.
 *
 * @param ends degrees, ascending: angles at which stages end in any case
 */
export function annealPlaces(way: Way, budget: number, ends: readonly number[]): number[] {
  const places: number[] = [];
  for (let last = 0; places.length < MOST; ) {
    const most = way.reach(last, budget);
    if (most === way.end) break;
    const after = annealsFrom(way, most, budget);
    const serves = (place: number): boolean =>
      place > last && place <= most && annealsFrom(way, place, budget) <= after;
    const end = ends
      .map((angle) => way.placeOf(angle))
      .findLast(
        (place) => place < way.end && serves(place) && way.work(last, place) >= (1 - UNUSED) * budget,
      );
    const whole = way.placeOf(Math.floor(way.angleOf(most)));
    last = end ?? (most < 1 && serves(whole) ? whole : most);
    places.push(last);
  }
  return places;
}
