/** Ctrl-C for commands that have to end what they are writing first. */

/**
 * Runs `work` with a signal that the first SIGINT or SIGTERM aborts. A second one ends the process at once, as
 * it would without this.
 */
export async function untilInterrupted<T>(work: (signal: AbortSignal) => Promise<T>): Promise<T> {
  const controller = new AbortController();
  const stop = (): void => {
    release();
    controller.abort();
  };
  const release = (): void => {
    process.off('SIGINT', stop);
    process.off('SIGTERM', stop);
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
  try {
    return await work(controller.signal);
  } finally {
    release();
  }
}

/**
 * Ends when a signal comes.
 *
 * @param ready says that the command is there: from then on a signal stops it in order, however soon it comes
 */
export const interrupted = (ready: () => void): Promise<void> =>
  untilInterrupted(
    (signal) =>
      new Promise((resolve) => {
        signal.addEventListener('abort', () => resolve(), { once: true });
        ready();
      }),
  );
