/** Elementary functions against those of this Node, and against what is known of them. */
import { describe, expect, test } from 'vitest';
import * as elementary from '../src/elementary.ts';

/** Marsaglia's xorshift (2003): numbers from 0 to 1 that are the same each time. */
function numbers(): () => number {
  let state = 12_345;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

const SPECIAL = [
  ...[0, 1, Infinity, 0.5, Math.PI, Math.PI / 2, Math.PI / 4, 1e-300, 5e-324, 2, 1e300, 709.8, 745.2],
  ...[Number.NaN, 3, 1.5, 1e-9, 2 ** 53, 1e5],
].flatMap((x) => [x, -x]);

function samples(count: number): number[] {
  const next = numbers();
  const kinds = [
    () => 20 * next() - 10,
    () => 2 * next() - 1,
    () => (next() - 0.5) * 10 ** (-12 * next()),
    () => (next() - 0.5) * 10 ** (6 * next()),
    () => 10 ** (20 * next() - 10),
    () => 1500 * next() - 750,
  ];
  return [...SPECIAL, ...Array.from({ length: count }, (_, i) => kinds[i % kinds.length]!())];
}

const { pow, atan2, hypot, ...ofOne } = elementary;

describe('to the last bit as in Node, which has those of fdlibm', () => {
  test.each(Object.entries(ofOne))('%s', (name, own) => {
    const theirs = Math[name as keyof typeof ofOne];
    const other = samples(60_000).filter((x) => !Object.is(own(x), theirs(x)));
    expect(other).toEqual([]);
  });

  test('atan2', () => {
    const some = samples(20_000);
    const next = numbers();
    const pairs = [
      ...SPECIAL.flatMap((y) => SPECIAL.map((x) => [y, x] as const)),
      ...some.map((y) => [y, some[Math.floor(next() * some.length)]!] as const),
    ];
    expect(pairs.filter(([y, x]) => !Object.is(atan2(y, x), Math.atan2(y, x)))).toEqual([]);
  });
});

test('hypot is that of Node to the last bit, of two and of three', () => {
  const some = samples(20_000);
  const next = numbers();
  const other = (): number => some[Math.floor(next() * some.length)]!;
  const lists = [
    [],
    ...SPECIAL.flatMap((y) => SPECIAL.map((x) => [y, x])),
    ...some.flatMap((x) => [
      [x, other()],
      [x, x * other(), other()],
    ]),
  ];
  expect(lists.filter((list) => !Object.is(hypot(...list), Math.hypot(...list)))).toEqual([]);
});

describe('powers', () => {
  test('are within a unit of the last place of the system’s', () => {
    const some = samples(30_000).filter((x) => Number.isFinite(x));
    const next = numbers();
    const far = some.filter((y) => {
      const x = Math.abs(some[Math.floor(next() * some.length)]!);
      const [own, theirs] = [pow(x, y), x ** y];
      return !(Object.is(own, theirs) || Math.abs(own - theirs) <= 2 ** -52 * Math.abs(theirs) + 5e-324);
    });
    expect(far).toEqual([]);
  });

  test('of special numbers are those of the language (ECMA-262, Number::exponentiate)', () => {
    const other = SPECIAL.flatMap((x) =>
      SPECIAL.filter((y) => {
        const [own, theirs] = [pow(x, y), x ** y];
        return !(Object.is(own, theirs) || Math.abs(own - theirs) <= 2 ** -51 * Math.abs(theirs));
      }).map((y) => `${x} to the ${y}: ${pow(x, y)}, not ${x ** y}`),
    );
    expect(other).toEqual([]);
  });
});
