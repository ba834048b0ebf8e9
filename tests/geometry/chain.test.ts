/** Loose steps and pieces joined to chains. */
import { describe, expect, it } from 'vitest';
import { chainsOf, endToEnd, followed } from '../../src/geometry/chain.ts';

describe('steps from number to number', () => {
  it('make closed chains, and open ones that end where no step goes on', () => {
    const next = new Map([
      [5, 6],
      [6, 5],
      [2, 9],
      [1, 2],
    ]);
    expect(chainsOf(next)).toEqual([
      { keys: [1, 2, 9], closed: false },
      { keys: [5, 6], closed: true },
    ]);
  });

  it('are each used once, however they are sorted', () => {
    const ring = [3, 1, 4, 15, 9, 2, 6];
    for (let turn = 0; turn < ring.length; turn++) {
      const steps = ring.map((from, i) => [from, ring[(i + 1) % ring.length]!] as const);
      const [only, ...others] = chainsOf(new Map([...steps.slice(turn), ...steps.slice(0, turn)]));
      expect(others).toEqual([]);
      expect(only).toEqual({ keys: [...ring.slice(turn), ...ring.slice(0, turn)], closed: true });
    }
  });
});

describe('pieces put end to end', () => {
  const joints = {
    ends: ([from, to]: readonly [number, number]) => [from, to] as const,
    meet: (a: number, b: number) => Math.abs(a - b) < 0.1,
  };

  it('are turned where they lie the other way round, and close', () => {
    const [only, other] = endToEnd<readonly [number, number], number>(
      [
        [0, 1],
        [2, 1.05],
        [2.02, 0.01],
      ],
      joints,
    );
    expect(other).toBeUndefined();
    expect(only!.closed).toBe(true);
    expect(only!.links.map(({ forward }) => forward)).toEqual([true, false, true]);
  });

  it('are left where none goes on', () => {
    const left: (readonly [number, number])[] = [
      [7, 8],
      [1, 2],
    ];
    const { links, end } = followed<readonly [number, number], number>(left, joints, 1);
    expect([links.length, end, left.length]).toEqual([1, 2, 1]);
    expect(endToEnd<readonly [number, number], number>([[3, 4]], joints)).toEqual([
      { links: [{ piece: [3, 4], forward: true }], closed: false },
    ]);
  });
});
