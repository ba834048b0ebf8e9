/** Kernel objects live outside of JavaScript's memory: what a scope keeps is freed when the scope ends. */
import type { Bound } from './instance.ts';

/** Hands an object to the scope, which frees it, and gives it back. */
export type Keep = <O extends Bound>(object: O) => O;

/** Runs `work`; every object passed to `keep` is freed afterwards, the last one first. */
export function scoped<T>(work: (keep: Keep) => T): T {
  const kept: Bound[] = [];
  try {
    return work((object) => {
      kept.push(object);
      return object;
    });
  } finally {
    for (const object of kept.reverse()) {
      try {
        object.delete();
      } catch {
        // After a fault of the kernel nothing can be freed; the whole instance goes.
      }
    }
  }
}
