/**
 * The WebAssembly kernel of the solver, where the machine has WebAssembly with SIMD.
 *
 * A thread has one instance with one memory. Who uses it writes in what it needs when it is its turn; what was
 * there before, factors included, is gone then.
 */
import { once } from '../../once.ts';
import type { Factors } from '../factors.ts';
import type { FrontTree } from '../fronts.ts';
import { KERNEL_BASE64 } from './kernelBytes.ts';
import { type KernelLayout, treeLayout } from './layout.ts';

interface Exports {
  firstFree(): number;
  factorise(fronts: number, count: number): number;
  solve(fronts: number, count: number, vector: number, local: number): void;
  assemble(job: number, derivatives: number): number;
}

const PAGE = 65536;

/** Up to here a memory is kept though little of it is used, bytes: that of every usual tray. */
const SMALL = 32 * 2 ** 20;
/** A larger one is given back when less than this part of it is used. */
const LEAST_USE = 0.25;

/** The one instance of a thread. */
export class Kernel {
  private readonly module: WebAssembly.Module;
  private memory: WebAssembly.Memory;
  private functions: Exports;
  private owner: object | null = null;

  constructor(module: WebAssembly.Module) {
    this.module = module;
    [this.memory, this.functions] = instanceOf(module);
  }

  get exports(): Exports {
    return this.functions;
  }

  /** Size of the memory, bytes. */
  get bytes(): number {
    return this.memory.buffer.byteLength;
  }

  /**
   * Makes the memory the owner's.
   *
   * @param fill called when it was another's: writes the owner's own data
   */
  claim(owner: object, layout: KernelLayout, fill?: () => void): void {
    if (this.owner === owner) return;
    this.owner = owner;
    // A memory cannot shrink: after an unusually large tray a server would keep its size for ever.
    if (this.bytes > SMALL && layout.bytes < LEAST_USE * this.bytes) {
      [this.memory, this.functions] = instanceOf(this.module);
    }
    const missing = layout.bytes - this.bytes;
    if (missing > 0) this.memory.grow(Math.ceil(missing / PAGE));
    new Int32Array(this.memory.buffer, layout.integersAt, layout.integers.length).set(layout.integers);
    fill?.();
  }

  owns(owner: object): boolean {
    return this.owner === owner;
  }

  doubles(at: number, count: number): Float64Array {
    return new Float64Array(this.memory.buffer, at, count);
  }

  words(at: number, count: number): Int32Array {
    return new Int32Array(this.memory.buffer, at, count);
  }
}

function instanceOf(module: WebAssembly.Module): [WebAssembly.Memory, Exports] {
  const memory = new WebAssembly.Memory({ initial: 1 });
  const instance = new WebAssembly.Instance(module, { env: { memory, abort: () => {} } });
  return [memory, instance.exports as unknown as Exports];
}

/** The kernel of this thread, or null where it cannot be had. */
export const theKernel = once((): Kernel | null => {
  try {
    const bytes = Uint8Array.from(atob(KERNEL_BASE64), (character) => character.charCodeAt(0));
    return new Kernel(new WebAssembly.Module(bytes));
  } catch {
    return null;
  }
});

/** The factors of one tree of fronts in the kernel's memory, or null where there is no kernel. */
export function kernelFactors(tree: FrontTree): Factors | null {
  const own = theKernel();
  if (own === null) return null;
  const layout = treeLayout(tree, own.exports.firstFree());
  const owner = {};
  return factorsIn(own, owner, layout, () => own.claim(owner, layout));
}

/**
 * @param claim makes the memory the owner's; called before the fronts are filled
 */
export function factorsIn(own: Kernel, owner: object, layout: KernelLayout, claim: () => void): Factors {
  const mustOwn = (): void => {
    if (!own.owns(owner)) throw new Error('the factors were given up for those of another system');
  };
  return {
    get store() {
      claim();
      return own.doubles(layout.storeAt, layout.storeSize);
    },
    factorise: () => {
      mustOwn();
      return own.exports.factorise(layout.descriptionsAt, layout.frontCount) !== 0;
    },
    solve: (vector) => {
      mustOwn();
      const inside = own.doubles(layout.vectorAt, vector.length);
      inside.set(vector);
      own.exports.solve(layout.descriptionsAt, layout.frontCount, layout.vectorAt, layout.localAt);
      vector.set(inside);
    },
  };
}
