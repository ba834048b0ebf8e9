import { configDefaults, defineConfig } from 'vitest/config';
import { BUILT_AS_IT_IS, builtModules } from './support/builtModules.ts';
import { LONG } from './support/long.ts';
import { toolCommand } from './support/tools.ts';

const WEB = ['web/**/*.test.ts'];
/** Speak another language, or listen to all that is said. */
const WORDS = ['words/**/*.test.ts'];
/** Put something else in a module's place, begin it anew or give one of their own to be loaded. */
const FROM_SOURCES = [
  'exporters/thirdParty/**/*.test.ts',
  'pattern/interleaved.test.ts',
  'words/step.test.ts',
];

/** Minutes after which a test is said to hang, in ms: in the long form one may solve for half an hour. */
const HANGS = (LONG ? 180 : 10) * 60_000;

interface Choice {
  readonly include: readonly string[];
  readonly exclude?: readonly string[];
  /** Whether each file has modules of its own; else those that follow each other in a worker find warm code and solved trays. */
  readonly isolate?: boolean;
  /** Whether what was built is tested, or the sources. */
  readonly built?: boolean;
  readonly globalSetup?: string[];
}

const project = (
  name: string,
  { include, exclude = [], isolate = false, built = true, globalSetup = [] }: Choice,
) => ({
  plugins: built ? [builtModules] : [],
  test: {
    name,
    isolate,
    server: built ? BUILT_AS_IT_IS : {},
    root: new URL('.', import.meta.url).pathname,
    include: [...include],
    exclude: [...configDefaults.exclude, ...exclude],
    globalSetup,
    // As src/cli/start.ts does: Node 20 optimises functions sooner than it pays. More room for what is young saves collecting it.
    execArgv: process.versions.node.startsWith('20.')
      ? ['--interrupt-budget=1000000', '--max-semi-space-size=64']
      : [],
    // No test fails because the machine is busy; this only ends one that hangs.
    testTimeout: HANGS,
    hookTimeout: HANGS,
  },
});

export default defineConfig({
  test: {
    root: new URL('.', import.meta.url).pathname,
    globalSetup: ['support/builtModules.ts', 'support/missingTools.ts'],
    // One more than the processors of a small machine: many tests wait for processes and browsers. Two more are slower.
    maxWorkers: 3,
    projects: [
      project('words', { include: WORDS, exclude: FROM_SOURCES }),
      project('sources', { include: FROM_SOURCES, isolate: true, built: false }),
      ...(toolCommand('browser') === null
        ? []
        : [project('page', { include: WEB, globalSetup: ['web/once.ts'] })]),
      project('all others', { include: ['**/*.test.ts'], exclude: [...WORDS, ...FROM_SOURCES, ...WEB] }),
    ],
  },
});
