/**
 * The inner loops of the solver in AssemblyScript, compiled by `npm run kernel` into `kernelBytes.ts`; a test
 * compiles it again and compares.
 */
export { factorise, solve } from './factorKernel.as';
export { assemble } from './assemblyKernel.as';

/** First byte that the kernel itself does not use. */
export function firstFree(): usize {
  return __heap_base;
}
