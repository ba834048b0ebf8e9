/** The little of the WebAssembly interface that we use; the library's types come only with those of a browser. */
declare namespace WebAssembly {
  type Imports = Record<string, Record<string, unknown>>;
  class Memory {
    constructor(descriptor: { initial: number; maximum?: number });
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module, imports: Imports);
    readonly exports: Record<string, unknown>;
  }
  function instantiate(module: Module, imports: Imports): Promise<Instance>;
}
