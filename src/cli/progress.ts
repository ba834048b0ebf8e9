/** One line that says what is being done, for a person at a terminal; nothing at all otherwise. */
import type { Dependencies } from './dependencies.ts';

export interface Progress {
  /** Replaces the line. */
  show(text: string): void;
  /** Removes the line, before something else is written. */
  clear(): void;
}

/** Back to the start of the line and clear it: ECMA-48, control functions CR and EL. */
const CLEAR_LINE = '\r\u001b[K';

export function progressLine(dependencies: Dependencies): Progress {
  if (!dependencies.isTerminal) return { show() {}, clear() {} };
  let visible = false;
  return {
    show(text) {
      dependencies.error(`${CLEAR_LINE}${text}`);
      visible = true;
    },
    clear() {
      if (visible) dependencies.error(CLEAR_LINE);
      visible = false;
    },
  };
}
