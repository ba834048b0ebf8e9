/** Clients that keep a service busy, in a process of their own; until they are ended. */

export interface Asked {
  readonly url: string;
  /** JSON, or what is none. */
  readonly body: string;
  readonly clients: number;
}

process.once('message', ({ url, body, clients }: Asked) => {
  const headers = { 'Content-Type': 'application/json' };
  const client = async (): Promise<never> => {
    for (;;) {
      const response = await fetch(url, { method: 'POST', headers, body });
      await response.arrayBuffer();
      // Told once that the service is at work.
      if (process.connected) process.send!('busy');
    }
  };
  // Ends with the process, or with the service that it asks.
  Promise.all(Array.from({ length: clients }, client)).catch(() => process.exit());
});
process.on('disconnect', () => process.exit());
