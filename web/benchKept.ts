/** What is ticked off and noted at the bench, by tray, in the browser's own storage. */
import type { TrayObject } from '../src/tray/writtenTray.ts';

const KEY = 'gatherpan:bench';
/** Trays whose work is kept; the one that was touched longest ago goes first. */
const MOST = 30;

export interface Work {
  /** Marks of the lines that are ticked off. */
  readonly ticks: readonly string[];
  /** What was noted, by the note's id. */
  readonly notes: Readonly<Record<string, string>>;
}

const NONE: Work = { ticks: [], notes: {} };

/** A short mark of a text (FNV-1a, 32 bits): the same line has the same mark, and one with other figures another. */
export function markOf(text: string): string {
  let sum = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(text)) sum = Math.imul(sum ^ byte, 0x01000193);
  return (sum >>> 0).toString(36);
}

/** The same for both ways of gathering, so that what is ticked of the sides stays when one changes to the other. */
export function trayKey(tray: TrayObject): string {
  const { forming, ...rest } = tray as { forming?: { gathering?: unknown } };
  const { gathering: _, ...others } = forming ?? {};
  return markOf(JSON.stringify({ ...rest, forming: others }));
}

const isWork = (value: unknown): value is Work => {
  const { ticks, notes } = (value ?? {}) as Partial<Work>;
  return (
    Array.isArray(ticks) &&
    ticks.every((tick) => typeof tick === 'string') &&
    typeof notes === 'object' &&
    notes !== null &&
    Object.values(notes).every((note) => typeof note === 'string')
  );
};

/** All that is kept; another tab, an older page or a person may have written it. */
function kept(): [string, Work][] {
  const value: unknown = JSON.parse(localStorage.getItem(KEY) ?? '[]');
  return Array.isArray(value)
    ? value.filter(
        (each): each is [string, Work] =>
          Array.isArray(each) && typeof each[0] === 'string' && isWork(each[1]),
      )
    : [];
}

/** @throws DOMException where the browser keeps nothing */
export const workOf = (key: string): Work => kept().find(([each]) => each === key)?.[1] ?? NONE;

/** @throws DOMException where the browser keeps nothing */
export function keepWork(key: string, work: Work): void {
  const others = kept().filter(([each]) => each !== key);
  localStorage.setItem(KEY, JSON.stringify([[key, work], ...others].slice(0, MOST)));
}
