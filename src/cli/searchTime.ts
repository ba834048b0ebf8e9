/** How long a command searches for changes: then it says what it has, and that the search was cut short. */

/** ms; well below what a tray may take when nothing is said. */
const SEARCH_TIME = 30_000;

/** Whether the time for a search that begins now is up. */
export function searchTime(): () => boolean {
  const end = performance.now() + SEARCH_TIME;
  return () => performance.now() > end;
}
