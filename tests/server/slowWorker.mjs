/** A thread for tests: does as the wanted format says. */
export default async function work(job) {
  const name = job.format ?? '';
  if (name === 'crash') throw new TypeError('a fault with a secret in it');
  if (name === 'grow') {
    const kept = [];
    for (;;) kept.push(Array.from({ length: 10_000 }, (_, i) => ({ i })));
  }
  if (name.startsWith('spin-')) {
    // As with a solve, no messages are looked at meanwhile; but without work for the processor.
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, Number(name.slice(5)));
  }
  return { ok: true, result: job.kind === 'warm' ? null : { name } };
}
