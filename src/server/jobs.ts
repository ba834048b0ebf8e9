/** What the solving threads are asked, and what they answer. Plain data: it crosses a thread boundary. */
import type { ErrorCode, Fault } from '../errors.ts';
import type { ChangeSearch } from '../gather/changes.ts';
import type { DrawingUnit } from '../tray/planSchema.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { InWords } from '../words/statement.ts';
import type { Preview } from './preview.ts';
import type { RowResult } from './rowResult.ts';

export type Job =
  /** Solves the demo tray, so that the thread is warm before the first person comes. */
  | { readonly kind: 'warm' }
  /** Everything the page shows of a tray. */
  | { readonly kind: 'preview'; readonly tray: TraySpec }
  /** What to change so that the verdict turns. */
  | { readonly kind: 'changes'; readonly tray: TraySpec }
  /** One file. */
  | {
      readonly kind: 'file';
      readonly tray: TraySpec;
      readonly format: string;
      readonly values: Readonly<Record<string, string>>;
    }
  /** One archive: files, manifest, order note. */
  | {
      readonly kind: 'archive';
      readonly tray: TraySpec;
      readonly formats: readonly string[];
      readonly quantity: number;
    }
  /** A row of a table: its figures and, where formats are given, its files. */
  | {
      readonly kind: 'row';
      readonly tray: TraySpec;
      readonly formats: readonly string[];
    }
  /** A tray file from a solid, or what is known of a part that no tray file says. */
  | {
      readonly kind: 'solid';
      readonly bytes: Uint8Array;
      readonly name: string;
      readonly base: Base;
    }
  /** One file of such a part. */
  | {
      readonly kind: 'partFile';
      readonly bytes: Uint8Array;
      readonly name: string;
      readonly base: Base;
      readonly format: string;
      readonly values: Readonly<Record<string, string>>;
    }
  /** One archive of such a part. */
  | {
      readonly kind: 'partArchive';
      readonly bytes: Uint8Array;
      readonly name: string;
      readonly base: Base;
      readonly formats: readonly string[];
      readonly quantity: number;
    }
  /** A tray file from a drawing of a plan. */
  | {
      readonly kind: 'drawing';
      readonly bytes: Uint8Array;
      readonly name: string;
      readonly base: Base;
      readonly said: DrawingAnswers;
    };

/** Contents of a tray file, not checked, for what a drawing or a solid does not say. */
export type Base = Readonly<Record<string, unknown>>;

/** What a person says of a drawing that does not say it itself, as it came. */
export interface DrawingAnswers {
  readonly units?: string;
  /** Radius of corners that are drawn sharp. */
  readonly cornerRadius?: string;
  readonly layer?: string;
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
  | { readonly about: 'layer'; readonly layers: readonly string[] };

/** A drawing: a tray, with what is to know of how it was read, or what has to be said first. */
export type ReadDrawing =
  | { readonly kind: 'drawing'; readonly tray: TraySpec; readonly notes: readonly string[] }
  | { readonly kind: 'question'; readonly questions: readonly DrawingQuestion[] };

/** A file made of a tray. */
export interface MadeFile {
  /** Without folders. */
  readonly name: string;
  readonly mediaType: string;
  readonly bytes: Uint8Array;
}

/** A solid: recognised as a tray, or solved as it is. */
export type ReadSolid =
  | {
      readonly kind: 'solid';
      readonly tray: TraySpec;
      /** In what the part is another than the tray; usually none. */
      readonly notes: readonly string[];
    }
  | { readonly kind: 'part'; readonly preview: Preview };

export interface Results {
  readonly warm: null;
  readonly preview: Preview;
  readonly changes: InWords<ChangeSearch>;
  readonly file: MadeFile;
  readonly archive: MadeFile;
  readonly row: RowResult;
  readonly solid: ReadSolid;
  readonly partFile: MadeFile;
  readonly partArchive: MadeFile;
  readonly drawing: ReadDrawing;
}

/** An error does not keep its class between threads, so it travels as data. */
export type Answer<Kind extends Job['kind']> =
  | { readonly ok: true; readonly result: Results[Kind] }
  | { readonly ok: false; readonly code: ErrorCode; readonly faults: readonly Fault[] };
