import { configDefaults, defineConfig } from 'vitest/config';
import { toolCommand } from './support/tools.ts';

/** The files of these folders share their modules in a worker: warm code, trays that are solved once. */
const SHARED = [
  'batch',
  'drawing',
  'exporters',
  'gather',
  'geometry',
  'jobs',
  'layout',
  'material',
  'mesh',
  'papers',
  'pattern',
  'server',
  'solve',
  'step',
  'tray',
].map((folder) => `${folder}/**/*.test.ts`);
const WEB = ['web/**/*.test.ts'];

const project = (
  name: string,
  isolate: boolean,
  include: readonly string[],
  exclude: readonly string[],
  globalSetup: string[] = [],
) => ({
  test: {
    name,
    isolate,
    root: new URL('.', import.meta.url).pathname,
    include: [...include],
    exclude: [...configDefaults.exclude, ...exclude],
    globalSetup,
    // As src/cli/start.ts does: Node 20 optimises functions sooner than it pays.
    execArgv: process.versions.node.startsWith('20.') ? ['--interrupt-budget=1000000'] : [],
    // No test fails because the machine is busy; this only ends one that hangs.
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});

export default defineConfig({
  test: {
    root: new URL('.', import.meta.url).pathname,
    globalSetup: ['support/missingTools.ts'],
    // One more than the processors of a small machine: many tests wait for processes and browsers.
    maxWorkers: 3,
    projects: [
      project('alone', true, ['**/*.test.ts'], [...WEB, ...SHARED]),
      ...(toolCommand('browser') === null ? [] : [project('page', false, WEB, [], ['web/once.ts'])]),
      project('shared', false, SHARED, []),
    ],
  },
});
