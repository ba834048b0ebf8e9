/** Where things stand in the kernel's memory, and the whole numbers that go there, which a topology decides. */
import type { FrontTree } from '../fronts.ts';

const FRONT_WORDS = 7;

export interface KernelLayout {
  readonly frontCount: number;
  readonly storeSize: number;
  readonly storeAt: number;
  readonly vectorAt: number;
  readonly localAt: number;
  /** First byte behind all doubles. */
  readonly integersAt: number;
  readonly integers: Int32Array;
  /** Where the fronts are described, as factorKernel.as.ts reads them. */
  readonly descriptionsAt: number;
  /** All bytes that are needed. */
  readonly bytes: number;
}

/** Room that a layout takes apart from the tree's: doubles, and whole numbers once all addresses are known. */
export interface Extra {
  readonly doubles: number;
  readonly integers: number;
}

/**
 * @param first first free byte, a multiple of 8
 * @param extra further room: its doubles follow the tree's, its integers come last
 */
export function treeLayout(
  tree: FrontTree,
  first: number,
  extra: Extra = { doubles: 0, integers: 0 },
): KernelLayout & { readonly extraDoublesAt: number; readonly extraIntegersFrom: number } {
  const { fronts, storeSize } = tree;
  const words = fronts.reduce(
    (sum, front) => sum + FRONT_WORDS + front.intoParent.length + front.unknowns.length,
    0,
  );
  const unknownCount = fronts.reduce((sum, front) => sum + front.pivots, 0);
  const largest = fronts.reduce((most, front) => Math.max(most, front.unknowns.length), 0);
  // Doubles first, so that all are aligned; sixteen bytes for pairs.
  const storeAt = 16 * Math.ceil(first / 16);
  const vectorAt = storeAt + 8 * storeSize;
  const localAt = vectorAt + 8 * unknownCount;
  const extraDoublesAt = localAt + 8 * largest;
  const integersAt = extraDoublesAt + 8 * extra.doubles;
  const integers = new Int32Array(words + extra.integers);
  let free = FRONT_WORDS * fronts.length;
  const put = (values: Int32Array): number => {
    integers.set(values, free);
    free += values.length;
    return integersAt + 4 * (free - values.length);
  };
  for (const [number, front] of fronts.entries()) {
    const parent = front.parent < 0 ? null : fronts[front.parent]!;
    const at = FRONT_WORDS * number;
    integers[at] = storeAt + 8 * front.offset;
    integers[at + 1] = front.unknowns.length;
    integers[at + 2] = front.pivots;
    integers[at + 3] = parent === null ? 0 : storeAt + 8 * parent.offset;
    integers[at + 4] = parent === null ? 0 : parent.unknowns.length;
    integers[at + 5] = put(front.intoParent);
    integers[at + 6] = put(front.unknowns);
  }
  return {
    frontCount: fronts.length,
    storeSize,
    storeAt,
    vectorAt,
    localAt,
    integersAt,
    integers,
    descriptionsAt: integersAt,
    bytes: integersAt + 4 * integers.length,
    extraDoublesAt,
    extraIntegersFrom: words,
  };
}
