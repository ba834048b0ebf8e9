/**
 * Programs that some tests read our files and pages with. A test without its program is skipped, and the run ends
 * with a line that says what was skipped and what to install; where `CI` is set a missing program is a failure.
 */
import { spawnSync } from 'node:child_process';
import { chromiumPlace, lightChromiumPlace } from '../../src/tools/chromium.ts';
import { LONG } from './long.ts';

const runs = (command: string, ...options: string[]): string | null =>
  spawnSync(command, options, { stdio: 'ignore' }).status === 0 ? command : null;

interface Tool {
  /** What is not tested without it. */
  readonly reads: string;
  /** Debian's package. */
  readonly install: string;
  /** Its command, or null. */
  readonly find: () => string | null;
}

export const TOOLS = {
  browser: {
    reads: 'the page in a browser',
    install: 'chromium-headless-shell',
    // The long form has the browser as people have it.
    find: LONG ? chromiumPlace : lightChromiumPlace,
  },
  firefox: {
    reads: 'the page in a second browser',
    install: 'firefox-esr',
    find: () => runs('firefox-esr', '--version') ?? runs('firefox', '--version'),
  },
  redis: {
    reads: 'batches on a queue',
    install: 'redis-server',
    find: () => runs('redis-server', '--version'),
  },
  poppler: {
    reads: 'PDF files as another program reads them',
    install: 'poppler-utils',
    find: () => (runs('pdftotext', '-v') === null ? null : runs('pdftocairo', '-v')),
  },
  // Debian's own Python has the package; one that comes first in the path may not.
  ezdxf: {
    reads: 'DXF files as a third program reads them',
    install: 'python3-ezdxf',
    find: () =>
      runs('/usr/bin/python3', '-c', 'import ezdxf; ezdxf.readfile') ??
      runs('python3', '-c', 'import ezdxf; ezdxf.readfile'),
  },
} as const satisfies Readonly<Record<string, Tool>>;

export type ToolName = keyof typeof TOOLS;

const found = new Map<ToolName, string | null>();

/** The command of a program; null where it is not installed. @throws Error where it is missing and `CI` is set */
export function toolCommand(name: ToolName): string | null {
  let command = found.get(name);
  if (command === undefined) {
    command = TOOLS[name].find();
    found.set(name, command);
  }
  if (command === null && (process.env.CI ?? '') !== '') throw new Error(missingLine(name));
  return command;
}

export const missingLine = (name: ToolName): string =>
  `Not tested here: ${TOOLS[name].reads}. Install it for that (Debian: apt-get install ${TOOLS[name].install}).`;
