import { configDefaults, defineConfig } from 'vitest/config';
import { toolCommand } from './support/tools.ts';

export default defineConfig({
  test: {
    root: new URL('.', import.meta.url).pathname,
    include: ['**/*.test.ts'],
    exclude: [...configDefaults.exclude, ...(toolCommand('browser') === null ? ['web/**'] : [])],
    globalSetup: ['support/missingTools.ts'],
    maxWorkers: 2,
    // No test fails because the machine is busy; this only ends one that hangs.
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});
