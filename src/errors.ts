/**
 * The one family of errors the project throws on purpose.
 *
 * Every message is one sentence for the person in the workshop: the field, the value found, and what
 * would be accepted. Anything that is not a `GatherpanError` is a fault of ours.
 */

/** Stable codes; the table below fixes what each means for a shell and for HTTP. */
export type ErrorCode =
  | 'BAD_INPUT' // a value, a file or an option is not acceptable
  | 'NOT_FOUND' // a file, a material, an exporter of that name does not exist
  | 'TOO_LARGE' // more data than we take
  | 'NOT_MAKEABLE' // the input is well formed, but such a tray cannot be made in one piece
  | 'NO_FLAT' // the verdict is "not in one piece", because the tray has no flat pattern
  | 'NOT_SOLVED' // the equilibrium could not be found
  | 'BUSY' // no capacity now
  | 'TIMEOUT' // took longer than allowed; the same again would too
  | 'OUT_OF_MEMORY' // took more memory than allowed
  | 'CANCELLED' // the person stopped it
  | 'EXPORTER_FAILED'; // a third party's exporter threw, ended, did not answer, or gave no bytes

/** Exit code of the command and HTTP status for each error code. */
export const ERROR_TABLE: Readonly<Record<ErrorCode, { readonly exit: 1 | 2; readonly http: number }>> = {
  BAD_INPUT: { exit: 2, http: 422 },
  NOT_FOUND: { exit: 2, http: 404 },
  TOO_LARGE: { exit: 2, http: 413 },
  NOT_MAKEABLE: { exit: 1, http: 422 },
  NO_FLAT: { exit: 1, http: 422 },
  NOT_SOLVED: { exit: 1, http: 422 },
  BUSY: { exit: 1, http: 503 },
  TIMEOUT: { exit: 1, http: 422 },
  OUT_OF_MEMORY: { exit: 1, http: 422 },
  CANCELLED: { exit: 1, http: 499 },
  EXPORTER_FAILED: { exit: 1, http: 500 },
};

/** One thing that is wrong with the input. */
export interface Fault {
  /** Dotted path of the field, for example `section.bottomRadius`; empty for the file as a whole. */
  readonly path: string;
  /** One sentence: field, value found, what would be accepted. */
  readonly message: string;
}

export class GatherpanError extends Error {
  readonly code: ErrorCode;
  /** Every fault found, the first one is also the message. Never empty. */
  readonly faults: readonly Fault[];

  constructor(code: ErrorCode, faults: string | Fault | readonly Fault[]) {
    const list: readonly Fault[] =
      typeof faults === 'string'
        ? [{ path: '', message: faults }]
        : Array.isArray(faults)
          ? (faults as readonly Fault[])
          : [faults as Fault];
    super(list.map((fault) => fault.message).join('\n'));
    this.name = 'GatherpanError';
    this.code = code;
    this.faults = list;
  }

  /** Dotted path of the first faulty field, or an empty string. */
  get path(): string {
    return this.faults[0]?.path ?? '';
  }
}

/** What is made; null where it cannot be (NOT_MAKEABLE). */
export const ifMakeable = <Made>(make: () => Made): Made | null => unless(isNotMakeable, make);

/** What is solved, or null when no equilibrium was found. */
export const ifSolved = <Solved>(solve: () => Solved): Solved | null => unless(isUnsolved, solve);

function unless<Made>(failed: (error: unknown) => boolean, make: () => Made): Made | null {
  try {
    return make();
  } catch (error) {
    if (failed(error)) return null;
    throw error;
  }
}

export const isNotMakeable = (error: unknown): error is GatherpanError =>
  error instanceof GatherpanError && error.code === 'NOT_MAKEABLE';

/** Whether no equilibrium was found, which tells of the tray and not of the input. */
export const isUnsolved = (error: unknown): boolean =>
  error instanceof GatherpanError && error.code === 'NOT_SOLVED';
