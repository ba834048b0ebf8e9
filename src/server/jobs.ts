/** What the solving threads are asked, and what they answer. Plain data: it crosses a thread boundary. */
import type { RowSource } from '../batch/csvRows.ts';
import type { ErrorCode, Fault } from '../errors.ts';
import type { ManifestTray, RowError } from '../jobs/manifest.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import type { DrawnOutline } from '../tray/planDxf.ts';
import type { DrawingUnit } from '../tray/planSchema.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { TrayObject } from '../tray/writtenTray.ts';
import type { ServerLimits } from './limits.ts';
import type { Preview } from './preview.ts';
import type { FileKind } from './sniff.ts';
import type { PostedTrial } from './trialFields.ts';

/** What came, as it came: nothing of it is read before a thread does. */
export interface Upload {
  readonly bytes: Uint8Array;
  /** For the tray. */
  readonly name: string;
  /** A tray file as JSON for what a drawing, a solid or the rows of a table do not say. */
  readonly base: string | undefined;
}

/** A tray file as it came. */
type TrayText = Uint8Array;

export type Job =
  /** Solves the demo tray, so that the thread is warm before the first person comes. */
  | { readonly kind: 'warm' }
  /** The complete tray, without solving it. */
  | { readonly kind: 'check'; readonly tray: TrayText }
  /** Everything the page shows of a tray. */
  | { readonly kind: 'preview'; readonly tray: TrayText; readonly unit: LengthUnit }
  /** The answer to a tray as it was posted, as a part of a document. */
  | { readonly kind: 'answer'; readonly tray: TrayObject }
  /** The bench sheets as a part of a document. */
  | {
      readonly kind: 'bench';
      readonly tray: TrayText;
      readonly unit: LengthUnit;
      readonly trial: PostedTrial;
    }
  /** What to change so that the verdict turns. */
  | {
      readonly kind: 'changes';
      readonly tray: TrayText;
      /** After this the search ends with what it has. */
      readonly milliseconds: number;
      readonly unit: LengthUnit;
    }
  /** One file. */
  | {
      readonly kind: 'file';
      readonly tray: TrayText;
      readonly format: string;
      readonly values: Readonly<Record<string, string>>;
    }
  /** One archive: files, manifest, order note. */
  | {
      readonly kind: 'archive';
      readonly tray: TrayText;
      readonly unit: LengthUnit;
      readonly formats: readonly string[];
      readonly quantity: number;
    }
  /** What an uploaded file is, for the page: tray, table, drawing or solid. */
  | ({ readonly kind: 'upload' } & FileToRead)
  /** What one that is no table opens as on the page without scripts. */
  | ({ readonly kind: 'open' } & FileToRead)
  /** The rows of a table, of which there may be so many. */
  | ({ readonly kind: 'table'; readonly rows: number } & Upload)
  /** A row of a table. */
  | ({ readonly kind: 'row'; readonly row: GoodRow; readonly base: string | undefined } & WantedOfRows)
  /** The archive of a whole table. */
  | { readonly kind: 'tableArchive'; readonly rows: readonly FinishedRow[] }
  /** One file of a part that no tray file says. */
  | ({
      readonly kind: 'partFile';
      readonly format: string;
      readonly values: Readonly<Record<string, string>>;
    } & Upload)
  /** One archive of such a part. */
  | ({
      readonly kind: 'partArchive';
      readonly unit: LengthUnit;
      readonly formats: readonly string[];
      readonly quantity: number;
    } & Upload);

export interface FileToRead extends Upload {
  readonly file: FileKind;
  /** Of a table at most. */
  readonly rows: number;
  readonly said: DrawingAnswers;
  /** Of lengths that are said of a part. */
  readonly unit: LengthUnit;
}

/** Contents of a tray file, not checked, for what a drawing or a solid does not say. */
export type Base = Readonly<Record<string, unknown>>;

/** What a person says of a drawing that does not say it itself, as it came. */
export interface DrawingAnswers {
  readonly units?: string;
  /** Radius of corners that are drawn sharp. */
  readonly cornerRadius?: string;
  readonly layer?: string;
  readonly loop?: string;
}

/** What has to be said of a drawing before there is a tray. */
export type DrawingQuestion =
  /** It names no unit: its size in each that makes a tray of it. */
  | {
      readonly about: 'units';
      readonly sizes: readonly {
        readonly unit: DrawingUnit;
        /** Length and width in the unit, and in mm. */
        readonly drawn: readonly [number, number];
        readonly millimetres: readonly [number, number];
      }[];
    }
  /** Corners that are sharp, where they are in the drawing. */
  | {
      readonly about: 'cornerRadius';
      readonly corners: readonly { readonly x: number; readonly y: number }[];
    }
  /** It shows closed chains on several layers. */
  | { readonly about: 'layer'; readonly layers: readonly string[] }
  /** It shows several outlines beside each other, the largest first. */
  | { readonly about: 'loop'; readonly loops: readonly DrawnOutline[] };

interface Row {
  /** As in `BatchRow`. */
  readonly row: number;
  readonly place: string;
  /** Null where it is not known. */
  readonly name: string | null;
  readonly quantity: number | null;
}

/** A row that a tray was read from: its cells, which are read again where it is solved. */
export type GoodRow = Row & Pick<RowSource, 'cells' | 'fallback'>;

/** A row that no tray was read from, or that could not be solved. */
export type FaultyRow = Row & { readonly error: RowError };

export type TableRow = GoodRow | FaultyRow;

/** What is wanted of every row of a table. */
export interface WantedOfRows {
  /** Ids of the formats that there are to be files in, if any. */
  readonly formats: readonly string[];
  /** Of lengths in sentences and on papers; figures are mm. */
  readonly unit: LengthUnit;
}

/** A row that nothing more is done with but to pack it. */
export interface FinishedRow {
  /** As in the manifest of an archive. */
  readonly tray: ManifestTray;
  readonly files: readonly MadeFile[];
}

/** A file made of a tray. */
export interface MadeFile {
  /** Without folders. */
  readonly name: string;
  readonly mediaType: string;
  readonly bytes: Uint8Array;
}

/** A file in one format, with what its settings say of it. */
export interface MadeFormat extends MadeFile {
  /** Ending of the name, without the dot. */
  readonly extension: string;
  /** What to set instead of settings of an earlier version. */
  readonly notes: readonly string[];
}

/** A document of JSON as its bytes: made in the thread, so that the main one has only to send it. */
export type Json = Uint8Array;

/** A drawing: a tray, with what is to know of how it was read, or what has to be said first. */
export type ReadDrawing =
  | {
      readonly kind: 'drawing';
      readonly tray: TraySpec;
      readonly notes: readonly string[];
      /** The plan over a grid, SVG. */
      readonly picture: string | null;
    }
  | {
      readonly kind: 'question';
      readonly questions: readonly DrawingQuestion[];
      /** The same; null where no one plan is known. */
      readonly picture: string | null;
    };

/** What an uploaded file is. */
export type Read =
  | { readonly kind: 'tray'; readonly tray: TraySpec }
  | ReadDrawing
  | { readonly kind: 'table'; readonly rows: number; readonly wrong: number }
  | {
      readonly kind: 'solid';
      readonly tray: TraySpec;
      /** In what the part is another than the tray; usually none. */
      readonly notes: readonly string[];
    }
  | { readonly kind: 'part'; readonly preview: Preview };

/** What a file that is no table opens as on the page without scripts. */
export interface Opened {
  /** Null where there is none: of a drawing that leaves something open, and of a part. */
  readonly tray: TraySpec | null;
  /** Whether the page goes on with the file, to be asked about. */
  readonly asks: boolean;
  /** Above the tray's answer, or in its place. */
  readonly html: string;
}

export interface Results {
  readonly warm: null;
  readonly check: Json;
  readonly preview: Json;
  /** With the cautions of welding where a strip is proposed. */
  readonly changes: Json;
  readonly answer: string;
  readonly bench: string;
  readonly file: MadeFormat;
  readonly archive: MadeFile;
  readonly upload: Json;
  readonly open: Opened;
  readonly table: readonly TableRow[];
  readonly row: FinishedRow;
  readonly tableArchive: Uint8Array;
  readonly partFile: MadeFormat;
  readonly partArchive: MadeFile;
}

/** What a thread knows of the limits it works under. */
export type ThreadLimits = Pick<ServerLimits, 'jobTime'>;

/** An error does not keep its class between threads, so it travels as data. */
export type Answer<Kind extends Job['kind']> =
  | { readonly ok: true; readonly result: Results[Kind] }
  | { readonly ok: false; readonly code: ErrorCode; readonly faults: readonly Fault[] };
