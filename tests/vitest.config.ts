import { configDefaults, defineConfig } from 'vitest/config';
import { toolCommand } from './support/tools.ts';

export default defineConfig({
  test: {
    root: new URL('.', import.meta.url).pathname,
    include: ['**/*.test.ts'],
    exclude: [...configDefaults.exclude, ...(toolCommand('browser') === null ? ['web/**'] : [])],
    globalSetup: ['support/missingTools.ts'],
    // One more than the processors of a small machine: many tests wait for processes and browsers.
    maxWorkers: 3,
    // No test fails because the machine is busy; this only ends one that hangs.
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});
