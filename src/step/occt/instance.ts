/**
 * Loads the geometry kernel (opencascade.js 1.1.4, Open CASCADE 7.4 compiled to WebAssembly). Node only.
 *
 * The package's loader ends in `export default` but uses `require` and `__dirname`, so it is neither a module nor
 * a script to Node: it is read as text and run as a function. The kernel has no C++ exceptions in this build: one
 * shows as an ordinary error of WebAssembly, after which the instance must be thrown away.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { invokeInside } from './invokes.ts';
import { LateClasses } from './lateClasses.ts';

/** A class, object or value of the kernel; its binding has no types that hold for this build. */
// biome-ignore lint/suspicious/noExplicitAny: the one place where the kernel's untyped binding comes in
export type Bound = any;

type Factory = (options: {
  instantiateWasm: (imports: WebAssembly.Imports, done: (instance: WebAssembly.Instance) => void) => object;
  wasmMemory: WebAssembly.Memory;
  locateFile: (name: string) => string;
  print: (text: string) => void;
  printErr: (text: string) => void;
}) => Bound;

/** Memory for a kernel that grows so far and no further. */
export interface BoundedMemory {
  readonly memory: WebAssembly.Memory;
  /** Whether the kernel asked for more than there is when it last asked. */
  readonly refused: boolean;
}

/** Unit in which such memory grows, bytes, and what the package's kernel begins with, MB. */
const PAGE = 65_536;
const FIRST = 64;

/** @param most MB, 64 to 2048: no more can be addressed in this build */
export function boundedMemory(most: number): BoundedMemory {
  const pages = (megabytes: number): number => (megabytes * 2 ** 20) / PAGE;
  const memory = new WebAssembly.Memory({ initial: pages(FIRST), maximum: pages(most) });
  let refused = false;
  // The kernel's loader asks for growth by this method; the kernel itself is only told that there is no more.
  const grow = memory.grow.bind(memory);
  memory.grow = (delta) => {
    refused = true;
    const before = grow(delta);
    refused = false;
    return before;
  };
  return {
    memory,
    get refused() {
      return refused;
    },
  };
}

/** A new instance of the kernel: half a second to 2 s and some 250 MB. */
export async function loadOcct({ memory } = boundedMemory(2048)): Promise<Bound> {
  const require = createRequire(import.meta.url);
  const file = require.resolve('opencascade.js/dist/opencascade.wasm.js');
  const folder = dirname(file);
  const source = readFileSync(file, 'utf8').replace(/export default (\w+);?\s*$/, 'return $1;');
  const factory: Factory = new Function('require', '__dirname', '__filename', source)(
    createRequire(file),
    folder,
    file,
  );
  // The loader makes every rejected promise of the process end it; that is not its business.
  const events = ['uncaughtException', 'unhandledRejection'] as const;
  const before = events.map((event) => process.listeners(event as 'exit'));
  const compiled = compile(readFileSync(join(folder, 'opencascade.wasm.wasm')));
  const occt: Bound = await new Promise((resolve, reject) => {
    let classes: LateClasses;
    factory({
      instantiateWasm: (imports, done) => {
        classes = new LateClasses(imports, memory);
        const setStack = invokeInside(imports);
        WebAssembly.instantiate(compiled, imports)
          .then((instance) => {
            setStack((name) => instance.exports[exported(source, name)]);
            done(instance);
          })
          .catch(reject);
        return {};
      },
      wasmMemory: memory,
      locateFile: (name) => join(folder, name),
      print: () => {},
      printErr: () => {},
    }).then((loaded: Bound) => {
      // What comes is itself a promise-like that never settles: without its `then` it is a plain object.
      delete loaded.then;
      resolve(classes.of(loaded));
    });
  });
  for (const [i, event] of events.entries()) {
    for (const listener of process.listeners(event as 'exit')) {
      if (!before[i]!.includes(listener)) process.removeListener(event, listener);
    }
  }
  return occt;
}

/** The short name by which the kernel exports what the loader's source has by its own. */
const exported = (source: string, name: string): string =>
  new RegExp(`Module\\["${name}"\\]=Module\\["asm"\\]\\["(\\w+)"\\]`).exec(source)![1]!;

/**
 * Compiles the kernel, function by function as they are first called. V8 compiles one again, optimised, after some work
 * in it. What reads STEP files has functions of 200 kB, which one file calls often enough for that, and half of the time of
 * a first reading goes into compiling them: for the kernel it takes a thousand times the work. After sixty readings there is
 * no difference. The budget belongs to V8 11, that of Node 20, and is asked for when a module is compiled.
 */
function compile(bytes: Uint8Array<ArrayBuffer>): WebAssembly.Module {
  const isKnown = process.versions.v8.startsWith('11.');
  const usual = 1_800_000;
  if (isKnown) setFlagsFromString(`--wasm-tiering-budget=${1000 * usual}`);
  try {
    return new WebAssembly.Module(bytes);
  } finally {
    if (isKnown) setFlagsFromString(`--wasm-tiering-budget=${usual}`);
  }
}

/** Bytes of memory the instance holds. */
export const occtMemory = (occt: Bound): number => occt.HEAP8.length;
