/** A thread for tests: does as the tray's name says. */
export default async function work(job) {
  const name = job.tray?.name ?? '';
  if (name === 'crash') throw new TypeError('a fault with a secret in it');
  if (name.startsWith('spin-')) {
    const end = performance.now() + Number(name.slice(5));
    // Busy, as a solve is: it does not look at messages meanwhile.
    while (performance.now() < end);
  }
  return { ok: true, result: job.kind === 'warm' ? null : { name } };
}
