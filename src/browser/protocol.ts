/**
 * What a page asks the thread that solves for it, and what it is answered. All of it is plain data, which crosses a
 * thread's boundary as it is.
 *
 * The thread first says what it has (`Ready`). Then it answers each `Asked` with one `Answered` of the same id, one after
 * the other. Work that nobody waits for any more is ended by ending the thread.
 */
import type { ErrorCode, Fault } from '../errors.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import type { Developed } from '../pattern/flatPattern.ts';
import type { AnnealCourse } from '../server/anneals.ts';
import type { AtPoint } from '../server/atPoint.ts';
import type { BenchView } from '../server/benchView.ts';
import type { ChangesFound } from '../server/changes.ts';
import type { HandFound } from '../server/handFound.ts';
import type {
  Base,
  DrawingAnswers,
  FinishedRow,
  MadeFile,
  MadeFormat,
  ReadDrawing,
  TableRow,
  WantedOfRows,
} from '../server/jobs.ts';
import type { Preview } from '../server/preview.ts';
import type { TrialForTray } from '../server/trialsKept.ts';
import type { TraySpec } from '../tray/spec.ts';

/** A tray file as JSON text. */
type TrayText = string;

/** Of lengths in sentences, pictures and papers; mm when left out. */
interface InUnit {
  readonly unit?: LengthUnit;
}

export type Question =
  /** The same as a preview, soon and nearly right, while sizes are typed: see `developLive`. */
  | ({ readonly kind: 'live'; readonly tray: TrayText } & InUnit)
  /** Everything a page shows of a tray, but for its picture from an angle. */
  | ({ readonly kind: 'preview'; readonly tray: TrayText } & InUnit)
  /** That picture, an SVG document. */
  | { readonly kind: 'formed'; readonly tray: TrayText }
  /** What the metal does at a point of the blank's picture, given in parts of its width and height from the upper left. */
  | { readonly kind: 'at'; readonly tray: TrayText; readonly across: number; readonly down: number }
  /** When it is annealed. */
  | { readonly kind: 'course'; readonly tray: TrayText }
  /** How it is worked at the bench, from before the first blow to after the last. */
  | ({ readonly kind: 'bench'; readonly tray: TrayText } & InUnit)
  /** The hand that a trial corner tells: what was measured on it, as the JSON of a measurements file. */
  | { readonly kind: 'hand'; readonly tray: TrayText; readonly measurements: string; readonly name: string }
  /** Trials kept, as a file of trials has them, with more in the places of those of their names. */
  | { readonly kind: 'trials'; readonly tray: TrayText; readonly kept: unknown; readonly more: unknown }
  /** The tray solved: its flat pattern, or the verdict where there is none. */
  | { readonly kind: 'pattern'; readonly tray: TrayText }
  /** What to change so that the verdict turns. */
  | ({
      readonly kind: 'changes';
      readonly tray: TrayText;
      /** After this the search ends with what it has. */
      readonly milliseconds: number;
    } & InUnit)
  /** What is in a file, and what a person says of it if it is a drawing; the rest of the tray from `base`. */
  | {
      readonly kind: 'upload';
      readonly file: Blob;
      readonly name: string;
      readonly base: Base;
      readonly said: DrawingAnswers;
    }
  /** The rows of a table, at most so many; what they do not say from `base`. */
  | {
      readonly kind: 'table';
      readonly file: Blob;
      readonly name: string;
      readonly base: Base;
      readonly most: number;
    }
  /** One of them, solved. */
  | ({ readonly kind: 'row'; readonly row: TableRow; readonly base: Base } & WantedOfRows)
  /** The archive of all. */
  | { readonly kind: 'tableArchive'; readonly rows: readonly FinishedRow[] }
  /** One file; values of the format's parameters as text, the others as they are when left out. */
  | {
      readonly kind: 'file';
      readonly tray: TrayText;
      readonly format: string;
      readonly values: Readonly<Record<string, string>>;
    }
  /** All files in one archive, with manifest and order note. */
  | ({
      readonly kind: 'archive';
      readonly tray: TrayText;
      /** All when left out. */
      readonly formats?: readonly string[];
      readonly quantity: number;
    } & InUnit);

export interface LivePreview extends Preview {
  /** How far the outline may be off, mm. */
  readonly accuracy: number;
}

/** A table is solved when it is asked for, and a solid by somebody else. */
export type ReadUpload =
  | { readonly kind: 'tray'; readonly tray: TraySpec }
  | ReadDrawing
  | { readonly kind: 'table' }
  | { readonly kind: 'solid' };

export interface Answers {
  readonly live: LivePreview;
  readonly preview: Preview;
  readonly formed: { readonly svg: string };
  readonly at: { readonly point: AtPoint | null };
  readonly course: AnnealCourse;
  readonly bench: BenchView;
  readonly hand: HandFound;
  readonly trials: { readonly trials: readonly TrialForTray[] };
  readonly pattern: Developed;
  readonly changes: ChangesFound;
  readonly upload: ReadUpload;
  readonly table: { readonly rows: readonly TableRow[] };
  readonly row: FinishedRow;
  readonly tableArchive: { readonly bytes: Uint8Array };
  readonly file: MadeFormat;
  readonly archive: MadeFile;
}

export type Asked = Question & { readonly id: number };

export type Answered =
  | { readonly id: number; readonly ok: true; readonly result: Answers[Question['kind']] }
  | { readonly id: number; readonly ok: false; readonly code: ErrorCode; readonly faults: readonly Fault[] }
  /** A fault of the program, or a part of it that could not be loaded. */
  | { readonly id: number; readonly ok: false; readonly fault: string };

export interface Ready {
  readonly ready: true;
  /** Whether the solver runs in WebAssembly; without, it takes several times as long. */
  readonly webAssembly: boolean;
  /** In which it says what it has to say (BCP 47). */
  readonly language: string;
  /** Ids of the formats that it writes. */
  readonly formats: readonly string[];
}
