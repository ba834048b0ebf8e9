import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: new URL('.', import.meta.url).pathname,
    include: ['**/*.test.ts'],
    maxWorkers: 2,
    // No test fails because the machine is busy; this only ends one that hangs.
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});
