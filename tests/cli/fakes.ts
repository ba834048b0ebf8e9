/** A command line without a process: its output in strings, its modules replaced where a test wants that. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Dependencies, type GatherTools, modules } from '../../src/cli/dependencies.ts';
import { run } from '../../src/cli/program.ts';
import type { Exporter } from '../../src/exporters/contract.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import type { SheetMaterial } from '../../src/material/sheet.ts';
import type { Developed, FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { statement } from '../../src/words/statement.ts';
import { NO_GATHER } from '../support/noGather.ts';

/** What a command did. */
export interface Ran {
  readonly exit: number;
  readonly out: string;
  readonly error: string;
  /** Errors reported as faults of the program. */
  readonly faults: readonly unknown[];
  /** Names of the trays that were solved, in order. */
  readonly solved: readonly string[];
}

export interface Replacements {
  readonly stdin?: string | AsyncIterable<Uint8Array>;
  readonly isTerminal?: boolean;
  readonly today?: string;
  /** The clock of `--limit`. */
  readonly now?: () => number;
  readonly developTray?: (spec: TraySpec) => Developed;
  /** In the place of the modules' own. */
  readonly gather?: Partial<GatherTools>;
  readonly exporters?: readonly Exporter[];
  readonly exporter?: Dependencies['load']['exporter'];
}

/** The command with all that it has, but without a process: for what is not about one. */
export async function realCommand(
  folder: string,
  argv: readonly string[],
  given: {
    readonly stdin?: AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
    readonly isTerminal?: boolean;
    readonly today?: string;
    readonly now?: () => number;
    readonly load?: Partial<Dependencies['load']>;
  } = {},
): Promise<Omit<Ran, 'solved'>> {
  const { stdin = [], isTerminal = false, load, ...rest } = given;
  let out = '';
  let error = '';
  const faults: unknown[] = [];
  const exit = await run(argv, {
    version: '1.2.3',
    folder,
    stdin: (async function* () {
      yield* stdin;
    })(),
    out: (text) => {
      out += text;
    },
    error: (text) => {
      error += text;
    },
    isTerminal,
    fault: (each) => faults.push(each),
    load: { ...modules, ...load },
    ...rest,
  });
  return { exit, out, error, faults };
}

/** A folder of its own that is gone when `work` has ended. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'gatherpan-cli-'));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Writes tray files into `folder`: a text as it is, anything else as JSON. */
export async function writeFiles(folder: string, files: Readonly<Record<string, unknown>>): Promise<void> {
  for (const [name, content] of Object.entries(files)) {
    await writeFile(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content));
  }
}

export async function command(
  folder: string,
  argv: readonly string[],
  replace: Replacements = {},
): Promise<Ran> {
  const solved: string[] = [];
  const { stdin = '', isTerminal, today, now } = replace;
  const ran = await realCommand(folder, argv, {
    stdin: typeof stdin === 'object' ? stdin : [bytes(stdin)],
    ...(isTerminal === undefined ? {} : { isTerminal }),
    ...(today === undefined ? {} : { today }),
    ...(now === undefined ? {} : { now }),
    load: {
      developTray: async () => (spec) => {
        solved.push(spec.name);
        return (replace.developTray ?? patternOf)(spec);
      },
      registry: async (others) =>
        createRegistry([...(replace.exporters ?? [nameExporter, sizeExporter]), ...others]),
      exporter:
        replace.exporter ??
        (async (name) => {
          throw new Error(`no module ${name} in this test`);
        }),
      sheets: async () => [material],
      step: modules.step!,
      gather: async () => ({ ...(await modules.gather()), ...replace.gather }),
    },
  });
  return { ...ran, solved };
}

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Writes the tray's name, with settings to try. */
export const nameExporter: Exporter = {
  contract: 2,
  id: 'dxf',
  label: 'Name of the tray',
  extension: 'dxf',
  mediaType: 'text/plain',
  parameters: [
    {
      name: 'mark',
      type: 'choice',
      default: 'none',
      choices: ['none', 'star'],
      help: 'what to put behind the name',
    },
    { name: 'times', type: 'number', default: 1, minimum: 1, maximum: 9, unit: '', help: 'how often' },
    { name: 'loud', type: 'boolean', default: false, help: 'in capitals' },
  ],
  async write(pattern, values) {
    const text = `${pattern.name}${values.mark === 'star' ? '*' : ''}\n`.repeat(values.times as number);
    return bytes(values.loud ? text.toUpperCase() : text);
  },
};

/** Writes the blank's size. */
export const sizeExporter: Exporter = {
  contract: 2,
  id: 'json',
  label: 'Size of the blank',
  extension: 'json',
  mediaType: 'application/json',
  parameters: [],
  async write({ report }) {
    return bytes(JSON.stringify(report.blank));
  },
};

export const material: SheetMaterial = {
  name: 'DC04',
  family: 'steel',
  coating: 'none',
  K: 520,
  epsilon0: 0.004,
  n: 0.22,
  r0: 1.6,
  r45: 1.3,
  r90: 1.9,
  density: 7.85,
  youngsModulus: 210000,
  yieldStrength: 180,
  tensileStrength: 320,
  uniformElongation: 24,
  anneal: {
    temperature: [650, 700],
    cue: statement('material.cues.steel'),
    strainBudget: 0.2,
  },
  thicknessRange: [0.5, 3],
  sources: {
    K: 'invented for this test',
    annealTemperature: 'from a test',
    annealCue: 'from memory of a test',
  },
};

/** A pattern with invented figures: the commands must carry them, not make them. */
export function patternOf(spec: TraySpec): FlatPattern {
  const empty = new Float64Array();
  const corner = {
    at: { x: 1, y: 2 },
    cornerRadius: 45,
    flatRimLength: 100,
    formedRimLength: 87.7,
    arcRimToLose: 12.3,
    rimToLose: 12.34,
    netFlatRimLength: 95,
    netFormedRimLength: 85,
    netRimThickness: 1.4,
    flatCornerRadius: 81.06,
    arcLengthCornerRadius: 83.4,
    equalAreaCornerRadius: 79.2,
    peakGather: 18.26,
    peakStretch: 3.14,
    thickest: 1.456,
    thinnest: 1.111,
  };
  return {
    kind: 'tray',
    name: spec.name,
    spec,
    sheet: { material, thickness: spec.sheet.thickness, grain: 0 },
    rim: { vertices: [], closed: true },
    workedRim: { vertices: [], closed: true },
    outline: { vertices: [], closed: true },
    holes: [],
    scribeLines: [],
    notes: [statement('pattern.kerfLeft')],
    report: {
      name: spec.name,
      sheet: {
        material: String(spec.sheet.material),
        thickness: spec.sheet.thickness,
        grain: spec.sheet.grain,
      },
      rim: [{ x: 0, y: 0, bulge: 0 }],
      outline: [{ x: 0, y: 0, bulge: 0 }],
      blank: {
        length: 512.34,
        width: 372.19,
        area: 180123.4,
        mass: 1.69765,
        cutLength: 1691.2,
        segments: 36,
      },
      developed: { alongLength: 61.23, alongWidth: 61.45 },
      bounds: { arcLengthCornerRadius: 83.4, equalAreaCornerRadius: 79.2 },
      corners: [...'ABCD'].map((letter, index) => ({ index, letter, ...corner, rimToLoseCorners: [index] })),
      thickness: { min: 1.111, max: 1.456 },
      solver: { triangles: 700, unknowns: 2800, steps: 8, residual: 3.2e-11 },
      warnings: spec.name.includes('warned') ? [statement('parts.rimBroken')] : [],
    },
    gather: NO_GATHER,
    field: {
      flat: empty,
      formed: empty,
      triangles: new Uint32Array(),
      majorStrain: empty,
      minorStrain: empty,
      thicknessStrain: empty,
      equivalentStrain: empty,
      rimNodes: new Uint32Array(),
      rimCorner: new Int32Array(),
    },
  };
}
