/**
 * What the commands need from outside: the terminal, and the heavy modules, each loaded on first use so that
 * `--help` and `sheets` answer at once. Tests pass their own.
 */

import type { Exporter } from '../exporters/contract.ts';
import type { Registry } from '../exporters/registry.ts';
import type { fitHand } from '../gather/handFit.ts';
import type * as Trials from '../gather/keptTrials.ts';
import type { readMeasurements } from '../gather/measurements.ts';
import type { workingPlan } from '../gather/workingPlan.ts';
import type { SheetMaterial } from '../material/sheet.ts';
import type { searchChanges } from '../pattern/changes.ts';
import type { Developed } from '../pattern/flatPattern.ts';
import type { readStepTray } from '../step/readStepTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';

export interface Dependencies {
  readonly version: string;
  /** The day, as papers print it; they leave a blank line without it. */
  readonly today?: string;
  /** Folder relative paths start from. */
  readonly folder: string;
  readonly stdin: AsyncIterable<Uint8Array>;
  /** Writes to standard output and standard error; the text brings its own line ends. */
  readonly out: (text: string) => void;
  readonly error: (text: string) => void;
  /** Whether a person watches standard error, so that a progress line makes sense. */
  readonly isTerminal: boolean;
  /** Tells the time in ms, for `--limit`; the process's own clock when left out. */
  readonly now?: () => number;
  /** Told of every error that is a fault of the program and not of its input. */
  readonly fault: (error: unknown) => void;
  readonly load: {
    developTray(): Promise<(spec: TraySpec) => Developed>;
    /** The built-in exporters and these. */
    registry(others: readonly Exporter[]): Promise<Registry>;
    /** The exporters of a third party's module or package. @param limit most seconds for loading and for each file */
    exporter(name: string, folder: string, limit: number): Promise<readonly Exporter[]>;
    sheets(): Promise<readonly SheetMaterial[]>;
    /** Reading STEP parts; the kernel itself is loaded when the first one is read. */
    step?(): Promise<{ readonly readStepTray: typeof readStepTray }>;
    /** Plan, changes and hand. */
    gather(): Promise<GatherTools>;
  };
}

/** What can be asked of a tray's gather beyond its pattern. */
export interface GatherTools {
  readonly workingPlan: typeof workingPlan;
  readonly searchChanges: typeof searchChanges;
  readonly fitHand: typeof fitHand;
  readonly readMeasurements: typeof readMeasurements;
  readonly trials: typeof Trials;
}

/** The real modules. */
export const modules: Dependencies['load'] = {
  async developTray() {
    return (await import('../pattern/developTray.ts')).developTray;
  },
  async registry(others) {
    const [{ createRegistry }, { nodeExportersIn }] = await Promise.all([
      import('../exporters/registry.ts'),
      import('../exporters/nodeExporters.ts'),
    ]);
    return createRegistry([...nodeExportersIn(words()), ...others]);
  },
  async exporter(name, folder, limit) {
    return (await import('../jobs/exporterHost.ts')).hostExporters(name, folder, limit);
  },
  async sheets() {
    return (await import('../material/sheets.ts')).listSheets();
  },
  async step() {
    return import('../step/readStepTray.ts');
  },
  async gather() {
    const [plan, changes, hand, measurements, trials] = await Promise.all([
      import('../gather/workingPlan.ts'),
      import('../pattern/changes.ts'),
      import('../gather/handFit.ts'),
      import('../gather/measurements.ts'),
      import('../gather/keptTrials.ts'),
    ]);
    return { ...plan, ...changes, ...hand, ...measurements, trials };
  },
};
