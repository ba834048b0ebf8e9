/** What `npm run test:long` does in full is done in part by default. */
export const LONG = process.env.LONG === '1';

/** Of a list as many as say what all do, evenly spread over it; all of them in the long form. */
export const some = <T>(list: readonly T[], count: number): readonly T[] =>
  LONG || list.length <= count
    ? list
    : Array.from({ length: count }, (_, i) => list[Math.floor(((i + 0.5) * list.length) / count)]!);

/** Of the runs of a property a fifth, which says what all do; all of them in the long form. */
export const runs = (count: number): number => (LONG ? count : count / 5);
