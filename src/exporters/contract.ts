/** What an exporter is: a value that turns a finished flat pattern into the bytes of one file. */
import type { FlatPattern } from '../pattern/flatPattern.ts';

/** One setting of an exporter; drives the command line, the form and the check of values alike. */
export type Parameter =
  | { readonly name: string; readonly type: 'boolean'; readonly default: boolean; readonly help: string }
  | {
      readonly name: string;
      readonly type: 'number';
      readonly default: number;
      readonly minimum: number;
      readonly maximum: number;
      /** `mm`, `°`, `%` or empty. */
      readonly unit: string;
      readonly help: string;
    }
  | {
      readonly name: string;
      readonly type: 'choice';
      readonly default: string;
      readonly choices: readonly string[];
      readonly help: string;
    }
  | {
      /** Any of the choices, each once, separated by commas. The value is in the order of `choices`; empty is none. */
      readonly type: 'list';
      readonly name: string;
      readonly default: string;
      /** What is taken when some are wanted and nobody says which: a form starts from it. */
      readonly usual: string;
      readonly choices: readonly string[];
      readonly help: string;
    };

/** What an earlier version could be told and this one has another parameter for. */
export interface Earlier {
  /** Their defaults count for nothing: a value is there only when it was given. */
  readonly parameters: readonly Parameter[];
  /**
   * One sentence on what to set instead.
   *
   * @param given complete values, among them at least one of `parameters`
   * @throws GatherpanError BAD_INPUT when they cannot stand beside the other values
   */
  readonly instead: (given: ParameterValues) => string;
}

/** A value for every parameter of the exporter, checked and complete (see `registry.ts`). */
export type ParameterValues = Readonly<Record<string, boolean | number | string>>;

/** What a file may say that is neither the tray's nor a setting. */
export interface ExportContext {
  /** The day the file is made, as it is to be printed; papers leave a blank line without it. */
  readonly date?: string;
}

/**
 * Version of this contract and of the pattern that an exporter is given. It is raised when one written for the version
 * before could go wrong; those of 0.1 state none and count as 1.
 */
export const CONTRACT_VERSION = 2 as const;

/** What a file is for. */
export type Use = (typeof USES)[number];
export const USES = ['cut', 'form', 'weld', 'gauges'] as const;

export interface Exporter {
  /** The version of the contract that it is written for; one for another is refused. */
  readonly contract: typeof CONTRACT_VERSION;
  /** Lower case, unique: what `--format` takes. */
  readonly id: string;
  /** For the form and for --help. */
  readonly label: string;
  /** Ending of the file name, without the dot. */
  readonly extension: string;
  readonly mediaType: string;
  readonly parameters: readonly Parameter[];
  /** Still taken, each time with a note; in no form and no help. */
  readonly earlier?: Earlier;
  /** Ending of the file with these values, where it is not always `extension`; it ends with it. */
  extensionFor?(values: ParameterValues): string;
  /**
   * What the file is for, so that whoever has it made is told the cautions of just that: to cut the blank out, to
   * form the tray, to weld, or to cut gauges. To cut when left out.
   */
  leadsTo?(values: ParameterValues): readonly Use[];
  /**
   * The file's bytes. Deterministic: the same pattern, values and context give the same bytes; the pattern is
   * not changed.
   *
   * @throws GatherpanError only
   */
  write(pattern: FlatPattern, values: ParameterValues, context?: ExportContext): Promise<Uint8Array>;
}
