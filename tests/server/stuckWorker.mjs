/** A thread for tests that never comes back from a job, without taking processor time. */
export default function work(job) {
  if (job.kind === 'warm') return { ok: true, result: null };
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
}
