/** Compiles the AssemblyScript of the solver's kernel. */

/**
 * @param entry path of the AssemblyScript file
 * @returns the WebAssembly module's bytes; the same for the same source and compiler
 * @throws Error with the compiler's messages
 */
export async function compileKernel(entry: string): Promise<Uint8Array> {
  // Only contributors have the compiler, so it is not loaded before it is needed.
  const { main } = await import('assemblyscript/asc');
  let binary: Uint8Array | undefined;
  const { error, stderr } = await main(
    [
      entry,
      '-o',
      'kernel.wasm',
      '-O3',
      '--runtime',
      'stub',
      '--enable',
      'simd',
      '--importMemory',
      '--noAssert',
    ],
    {
      writeFile: (name: string, contents: Uint8Array | string) => {
        if (name === 'kernel.wasm' && typeof contents !== 'string') binary = contents;
      },
    },
  );
  if (error !== null || binary === undefined) throw new Error(`kernel not compiled: ${stderr.toString()}`);
  return binary;
}
