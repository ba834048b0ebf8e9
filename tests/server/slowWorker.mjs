/** A thread for tests: does as the wanted format says. */
export default async function work(job) {
  const name = job.format ?? '';
  if (name === 'crash') throw new TypeError('a fault with a secret in it');
  if (name === 'grow') {
    const kept = [];
    for (;;) kept.push(Array.from({ length: 10_000 }, (_, i) => ({ i })));
  }
  if (name.startsWith('spin-')) {
    const end = performance.now() + Number(name.slice(5));
    // Busy, as a solve is: it does not look at messages meanwhile.
    while (performance.now() < end);
  }
  return { ok: true, result: job.kind === 'warm' ? null : { name } };
}
