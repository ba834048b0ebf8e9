/** The WebAssembly kernel of the factorisation, where the machine has WebAssembly with SIMD. */
import type { FrontTree } from '../dissection.ts';
import { FRONTAL_KERNEL_BASE64 } from './frontalKernelBytes.ts';

interface Kernel {
  factorise(fronts: number, count: number): number;
  solve(fronts: number, count: number, vector: number, local: number): void;
}

const PAGE = 65536;
const FRONT_WORDS = 7;

let compiled: WebAssembly.Module | null | undefined;

/** The compiled module, or null where it cannot be had; compiled on first use and then kept. */
function kernelModule(): WebAssembly.Module | null {
  if (compiled !== undefined) return compiled;
  try {
    const bytes = Uint8Array.from(atob(FRONTAL_KERNEL_BASE64), (character) => character.charCodeAt(0));
    compiled = new WebAssembly.Module(bytes);
  } catch {
    compiled = null;
  }
  return compiled;
}

/** Room for the factors of one tree, and the two operations on it. */
export interface KernelFactors {
  readonly store: Float64Array;
  factorise(): boolean;
  solve(vector: Float64Array): void;
}

/** Puts the description of a tree into WebAssembly memory, or null where there is no WebAssembly. */
export function kernelFactors(tree: FrontTree): KernelFactors | null {
  const module = kernelModule();
  if (module === null) return null;
  const { fronts, storeSize } = tree;
  const integers = fronts.reduce(
    (sum, front) => sum + FRONT_WORDS + front.intoParent.length + front.unknowns.length,
    0,
  );
  const unknownCount = fronts.reduce((sum, front) => sum + front.pivots, 0);
  const largest = fronts.reduce((most, front) => Math.max(most, front.unknowns.length), 0);
  // Doubles first, so that all are aligned: the fronts, the vector, the work space; then the integers.
  const storeAt = 64;
  const vectorAt = storeAt + 8 * storeSize;
  const localAt = vectorAt + 8 * unknownCount;
  const integersAt = localAt + 8 * largest;
  const bytes = integersAt + 4 * integers;
  const memory = new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE) + 1 });
  const words = new Int32Array(memory.buffer);
  const descriptionsAt = integersAt;
  let free = (descriptionsAt >> 2) + FRONT_WORDS * fronts.length;
  const put = (values: Int32Array): number => {
    words.set(values, free);
    free += values.length;
    return 4 * (free - values.length);
  };
  for (const [number, front] of fronts.entries()) {
    const parent = front.parent < 0 ? null : fronts[front.parent]!;
    words.set(
      [
        storeAt + 8 * front.offset,
        front.unknowns.length,
        front.pivots,
        parent === null ? 0 : storeAt + 8 * parent.offset,
        parent === null ? 0 : parent.unknowns.length,
        put(front.intoParent),
        put(front.unknowns),
      ],
      (descriptionsAt >> 2) + FRONT_WORDS * number,
    );
  }
  const instance = new WebAssembly.Instance(module, { env: { memory, abort: () => {} } });
  const kernel = instance.exports as unknown as Kernel;
  const store = new Float64Array(memory.buffer, storeAt, storeSize);
  const inside = new Float64Array(memory.buffer, vectorAt, unknownCount);
  return {
    store,
    factorise: () => kernel.factorise(descriptionsAt, fronts.length) !== 0,
    solve: (vector) => {
      inside.set(vector);
      kernel.solve(descriptionsAt, fronts.length, vectorAt, localAt);
      vector.set(inside);
    },
  };
}
