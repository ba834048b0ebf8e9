/**
 * Every limit of the HTTP interface, in one place: enforced by the code, told to people by the OpenAPI document
 * and by the sentence of each refusal. Sizes in bytes, times in ms.
 */
import { availableParallelism } from 'node:os';
import { MAXIMUM_FILE_SIZE } from '../tray/limits.ts';

export interface ServerLimits {
  /** A tray file, also one that is uploaded. */
  readonly trayBytes: number;
  /** A table of sizes. */
  readonly tableBytes: number;
  /** Rows of a table of sizes. */
  readonly tableRows: number;
  /** A drawing of a plan. */
  readonly drawingBytes: number;
  /** A solid. */
  readonly solidBytes: number;
  /** All uploads held in memory at one time; more are told to come back. */
  readonly uploadMemory: number;
  /** Pieces in one archive order: how many blanks a person may ask for. */
  readonly quantity: number;
  /** Threads that solve. */
  readonly threads: number;
  /** Jobs that may wait for a thread; one more is told to come back. */
  readonly waiting: number;
  /**
   * Longest time that a job may wait for a thread; then it is told to come back. With the job's own time it stays below
   * `LONGEST_ANSWER`.
   */
  readonly waitTime: number;
  /** The same for solids, which have a thread of their own. */
  readonly solids: Pick<ServerLimits, 'threads' | 'waiting' | 'waitTime' | 'jobTime'>;
  /** Tables of sizes dealt with at one time. */
  readonly tables: number;
  /** Longest time of one job: reading and checking a file, or one solve with its files. */
  readonly jobTime: number;
  /** Memory that a thread may fill with what is not plain numbers, MB; the solver's arrays are bounded by the mesh. */
  readonly jobMemory: number;
  /** How long a job whose client has gone may go on before its thread is ended. A new thread has to warm up. */
  readonly abandonedTime: number;
  /** Longest time of a whole table. */
  readonly tableTime: number;
  /** Files of one table's archive. */
  readonly archiveBytes: number;
  /** Longest time a client may take to read its answer, once that is made. */
  readonly sendTime: number;
  /** Answers held in memory that clients have not taken yet; the oldest give way to new ones. */
  readonly sendMemory: number;
  /** Longest time a client may take to send its headers, and its whole request. */
  readonly headersTime: number;
  readonly requestTime: number;
  /** How long an open connection may be idle; longer than a balancer keeps it, so that this end never closes first. */
  readonly idleTime: number;
  /** After the signal to stop, how long requests are still taken. */
  readonly leaveTime: number;
  /** How long running jobs get after the signal to stop. */
  readonly stopTime: number;
  /** Open connections. */
  readonly connections: number;
  /** Requests a minute from one address; 0 for no limit. */
  readonly requestsPerMinute: number;
}

/** After this nobody is left without an answer, ms; a table, which is told or made row by row, has a time of its own. */
export const LONGEST_ANSWER = 60_000;

export const DEFAULT_LIMITS: ServerLimits = {
  trayBytes: MAXIMUM_FILE_SIZE,
  tableBytes: 1_000_000,
  tableRows: 500,
  drawingBytes: 5_000_000,
  solidBytes: 20_000_000,
  uploadMemory: 96_000_000,
  quantity: 10_000,
  threads: availableParallelism(),
  waiting: 32,
  waitTime: 25_000,
  solids: { threads: 1, waiting: 4, waitTime: 10_000, jobTime: 45_000 },
  tables: 4,
  jobTime: 30_000,
  jobMemory: 384,
  abandonedTime: 1_500,
  tableTime: 600_000,
  archiveBytes: 256_000_000,
  sendTime: 120_000,
  sendMemory: 256_000_000,
  headersTime: 10_000,
  requestTime: 30_000,
  idleTime: 65_000,
  leaveTime: 200,
  stopTime: 1_500,
  connections: 1_000,
  requestsPerMinute: 1_200,
};

/** A size as a person reads it. */
export const megabytes = (bytes: number): string => `${Number((bytes / 1e6).toPrecision(2))} MB`;
