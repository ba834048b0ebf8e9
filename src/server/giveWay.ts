/** Lets the thread that calls it, and those that it starts, give way to the one that answers clients. */
import { platform, setPriority } from 'node:os';

/** Niceness of working threads: they have what the others leave. */
export const WORKING_NICENESS = 10;

/** Only Linux gives each thread a priority of its own; elsewhere it would be that of the whole service. */
export function giveWay(): void {
  if (platform() === 'linux') setPriority(0, WORKING_NICENESS);
}
