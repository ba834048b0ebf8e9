/** Answers what the page asks about a tray: in threads of the page, or from the service where the browser cannot. */
import type { LivePreview } from '../src/browser/protocol.ts';
import { trayNameFrom } from '../src/fileName.ts';
import type { LengthUnit } from '../src/papers/lengths.ts';
import type { AnnealCourse } from '../src/server/anneals.ts';
import type { AtPoint } from '../src/server/atPoint.ts';
import type { BenchView } from '../src/server/benchView.ts';
import type { ChangesFound } from '../src/server/changes.ts';
import type { HandFound } from '../src/server/handFound.ts';
import type { ReadDrawing } from '../src/server/jobs.ts';
import type { Preview } from '../src/server/preview.ts';
import type { TrialForTray } from '../src/server/trialsKept.ts';
import type { TraySpec } from '../src/tray/spec.ts';
import type { TrayObject } from '../src/tray/writtenTray.ts';
import { Failure, isAbort, postFile, postTray } from './service.ts';
import { type Refused, type Solver, startSolver } from './solver.ts';
import { words } from './words.js';

/** Longest search for changes, ms; the service has a limit of its own. */
const SEARCH = 30_000;

export let solver: Solver | null = null;

/** Starts the threads. @returns what to say where the service has to solve; nothing where it has not */
export async function startSolving(): Promise<string> {
  const found = await startSolver(words.language);
  if (typeof found === 'string') return words.lacking[found];
  solver = found;
  return '';
}

/** @returns what a thread answers; null when somebody else has to */
export async function here<T>(answer: (threads: Solver) => Promise<T>): Promise<T | null> {
  if (solver === null) return null;
  try {
    return await answer(solver);
  } catch (error) {
    if (isAbort(error)) throw error;
    // A refusal is an answer; a thread that failed is none.
    const { faults, code } = error as Partial<Refused>;
    if (faults === undefined) return null;
    throw new Failure(
      faults.map(({ path, message }) => ({ path, detail: message })),
      code ?? 'UNKNOWN',
    );
  }
}

/** A tray file as JSON, and the unit of what is said and saved of it. */
export interface Asked {
  readonly tray: string;
  readonly unit: LengthUnit;
}

const json = async <T>(response: Promise<Response>): Promise<T> => (await (await response).json()) as T;

/** A preview that comes soon and is nearly right; null where there is none, and the preview has to do. */
export const live = (asked: Asked, signal: AbortSignal): Promise<LivePreview | null> =>
  here(({ askLive }) => askLive({ kind: 'live', ...asked }, signal)).catch((error: unknown) => {
    if (isAbort(error)) throw error;
    return null;
  });

export const preview = async (asked: Asked, signal: AbortSignal): Promise<Preview> =>
  (await here(({ ask }) => ask({ kind: 'preview', ...asked }, signal))) ??
  json<Preview>(postTray(`api/preview?unit=${asked.unit}`, asked.tray, signal));

export const changes = async (asked: Asked, signal: AbortSignal): Promise<ChangesFound> =>
  (await here(({ askBeside }) => askBeside({ kind: 'changes', ...asked, milliseconds: SEARCH }, signal))) ??
  json<ChangesFound>(postTray(`api/changes?unit=${asked.unit}`, asked.tray, signal));

/** What is read from a file. */
export type ReadFile =
  | ReadDrawing
  | { readonly kind: 'table' }
  | { readonly kind: 'part'; readonly preview: Preview }
  | {
      readonly kind: 'tray' | 'solid';
      readonly tray: TraySpec | TrayObject;
      readonly notes?: readonly string[];
    };

/** Largest file that may be a tray file, bytes. */
const TRAY_FILE = 1_000_000;

/** A tray file, which needs nobody else to be read; null for any other. */
async function trayIn(file: File): Promise<TrayObject | null> {
  if (file.size > TRAY_FILE) return null;
  try {
    const value: unknown = JSON.parse(await file.text());
    return typeof value === 'object' && value !== null && !Array.isArray(value)
      ? { name: trayNameFrom(file.name), ...(value as TrayObject) }
      : null;
  } catch {
    return null;
  }
}

/** What a file is, and the tray in it: a solid is read by the service, any other here. */
export async function readFile(
  file: File,
  base: TrayObject,
  said: Readonly<Record<string, string>>,
  unit: LengthUnit,
): Promise<ReadFile> {
  const own = await trayIn(file);
  if (own !== null) return { kind: 'tray', tray: own };
  const read = await here(({ ask }) =>
    ask({ kind: 'upload', file, name: trayNameFrom(file.name), base, said }),
  );
  return read === null || read.kind === 'solid'
    ? json(postFile(`api/upload?unit=${unit}`, file, base, undefined, said))
    : read;
}

/** What the metal does at a point of the picture; null beside the blank, and where only the service solves. */
export const atPoint = async ({ tray }: Asked, across: number, down: number): Promise<AtPoint | null> =>
  (await here(({ ask }) => ask({ kind: 'at', tray, across, down })))?.point ?? null;

/** When it is annealed; null where only the service solves, which says how often. */
export const course = ({ tray }: Asked, signal: AbortSignal): Promise<AnnealCourse | null> =>
  here(({ ask }) => ask({ kind: 'course', tray }, signal));

/** How it is worked at the bench; null where only the service solves. */
export const bench = ({ tray, unit }: Asked, signal?: AbortSignal): Promise<BenchView | null> =>
  here(({ ask }) => ask({ kind: 'bench', tray, unit }, signal));

/** The hand that a trial corner tells; null where only the service solves. @param measurements as in a measurements file */
export const hand = ({ tray }: Asked, measurements: object, name: string): Promise<HandFound | null> =>
  here(({ ask }) => ask({ kind: 'hand', tray, measurements: JSON.stringify(measurements), name }));

/** Trials kept, with more in the places of those of their names; null where only the service solves. */
export const trials = async (
  { tray }: Asked,
  kept: unknown,
  more: unknown,
): Promise<readonly TrialForTray[] | null> =>
  (await here(({ ask }) => ask({ kind: 'trials', tray, kept, more })))?.trials ?? null;

/** The tray from an angle. @param shown may have the picture already */
export async function formed({ tray }: Asked, { pictures }: Preview, signal: AbortSignal): Promise<string> {
  return pictures?.formed ?? (await here(({ ask }) => ask({ kind: 'formed', tray }, signal)))?.svg ?? '';
}

export const asDownload = ({
  name,
  mediaType,
  bytes,
}: {
  readonly name: string;
  readonly mediaType: string;
  readonly bytes: Uint8Array;
}): Response =>
  new Response(bytes as Uint8Array<ArrayBuffer>, {
    headers: {
      'Content-Type': mediaType,
      'Content-Disposition': `attachment; filename*=UTF-8''${encodeURIComponent(name)}`,
    },
  });

export interface WantedFile {
  readonly format: string;
  readonly values: Readonly<Record<string, string>>;
}

/** One file of a tray. */
export async function fileOf({ tray }: Asked, { format, values }: WantedFile): Promise<Response> {
  const made = solver?.formats.includes(format)
    ? await here(({ ask }) => ask({ kind: 'file', tray, format, values }))
    : null;
  return made === null
    ? postTray(`api/files/${format}?${new URLSearchParams(values)}`, tray)
    : asDownload(made);
}

/** All files of a tray with their order note. @param quantity as it is written */
export async function archiveOf({ tray, unit }: Asked, quantity: string): Promise<Response> {
  // What is no number of pieces is told by the service, or by nobody: here it is one.
  const pieces = /^\d{1,6}$/.test(quantity) ? Number(quantity) : null;
  const made =
    pieces === null || pieces < 1
      ? null
      : await here(({ ask }) => ask({ kind: 'archive', tray, unit, quantity: pieces }));
  return made === null
    ? postTray(`api/archive?${new URLSearchParams({ quantity, unit })}`, tray)
    : asDownload(made);
}
