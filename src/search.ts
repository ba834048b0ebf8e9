/** Looking for a number between two others. */

/**
 * Halves an interval until it is narrow about the place where something ceases to hold.
 *
 * @param low   where it holds
 * @param high  where it does not
 * @param steps how often it is halved; 60 are more than a number has digits
 * @returns the last two numbers: it holds at the first and not at the second
 */
export function halved(
  low: number,
  high: number,
  holds: (value: number) => boolean,
  steps = 60,
): readonly [low: number, high: number] {
  let [a, b] = [low, high];
  for (let step = 0; step < steps; step++) {
    const middle = (a + b) / 2;
    if (holds(middle)) a = middle;
    else b = middle;
  }
  return [a, b];
}

const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * The only least value of a function, by golden section.
 *
 * @returns the interval that is left, and of the two numbers in it the one with the lesser value
 */
export function goldenSection(
  value: (at: number) => number,
  from: number,
  to: number,
  steps: number,
): { readonly low: number; readonly high: number; readonly best: number } {
  let [low, high] = [from, to];
  let [a, b] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atA, atB] = [value(a), value(b)];
  for (let step = 0; step < steps; step++) {
    if (atA < atB) {
      [high, b, atB] = [b, a, atA];
      a = high - GOLDEN * (high - low);
      atA = value(a);
    } else {
      [low, a, atA] = [a, b, atB];
      b = low + GOLDEN * (high - low);
      atB = value(b);
    }
  }
  return { low, high, best: atA < atB ? a : b };
}
