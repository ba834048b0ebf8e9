/** Corners and sides as a tray file names them, by number. */
import type { Fault } from '../errors.ts';
import { words } from '../words/language.ts';
import { cornerLetter, cornerOf, sideLetters, sideOf } from './cornerLetter.ts';
import { SIDES } from './planSchema.ts';
import { shown } from './sentences.ts';

/** The plan as far as its corners and sides have names. */
export interface NamedPlan {
  readonly count: number;
  /** Then sides have names too. */
  readonly isRectangle: boolean;
}

function sideNumber(given: string | number, { count, isRectangle }: NamedPlan): number | undefined {
  if (typeof given === 'number') return given < count ? given : undefined;
  const named = isRectangle ? (SIDES as readonly string[]).indexOf(given) : -1;
  return named >= 0 ? named : sideOf(given, count);
}

/** The number of a side; a fault and undefined where the plan has none such. */
export function readSide(
  given: string | number,
  plan: NamedPlan,
  path: string,
  faults: Fault[],
): number | undefined {
  const side = sideNumber(given, plan);
  if (side === undefined) {
    const [first, last] = [sideLetters(0, plan.count), sideLetters(plan.count - 1, plan.count)];
    faults.push({ path, message: words().messages.tray.sideUnknown(path, shown(given), first, last) });
  }
  return side;
}

/** Whether a field goes by the letters of corners or sides. */
export const isByName = <T>(
  given: T,
): given is Extract<Exclude<T, readonly unknown[]>, Readonly<Record<string, unknown>>> =>
  typeof given === 'object' && given !== null && !Array.isArray(given);

/**
 * What an object gives by the letters of corners or the names of sides, in the order of their numbers; undefined where
 * it gives nothing.
 *
 * @param faults output: names of no corner or side, and a second name for one
 */
export function readByName<T>(
  given: Readonly<Record<string, T | undefined>>,
  kind: 'corner' | 'side',
  plan: NamedPlan,
  path: string,
  faults: Fault[],
): (T | undefined)[] {
  const say = words().messages.tray;
  const { count } = plan;
  const list: (T | undefined)[] = Array.from({ length: count }, () => undefined);
  const names = new Map<number, string>();
  for (const [name, value] of Object.entries(given)) {
    const number = kind === 'corner' ? cornerOf(name, count) : sideNumber(name, plan);
    const field = `${path}.${name}`;
    if (number === undefined) {
      const letters = kind === 'corner' ? cornerLetter : (i: number): string => sideLetters(i, count);
      const unknown = kind === 'corner' ? say.cornerKeyUnknown : say.sideKeyUnknown;
      faults.push({ path: field, message: unknown(field, letters(0), letters(count - 1)) });
    } else if (names.has(number)) {
      faults.push({ path: field, message: say.sameTwice(field, `${path}.${names.get(number)}`) });
    } else {
      names.set(number, name);
      list[number] = value;
    }
  }
  return list;
}
