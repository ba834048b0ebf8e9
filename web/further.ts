/** What follows the result while nobody changes anything: the picture, when it is annealed, what would help. */
import type { Preview } from '../src/server/preview.ts';
import { byId, image, picture } from './page.ts';
import { showChanges, showFigures } from './result.ts';
import { type Asked, changes, course, formed } from './solving.ts';

/** Advice takes time from live answers while somebody types: it is looked for after such a pause, ms. */
const THOUGHT = 300;

export interface Further {
  /** All of it; nobody waits for these. */
  look(shown: Preview, question: Asked, signal: AbortSignal): Promise<void>;
  /** The picture, where it is open. */
  showFormed(shown: Preview, question: Asked, signal: AbortSignal): Promise<void>;
  /** What would turn the verdict, where it is seen: the search may keep a processor busy for seconds. */
  lookForChanges(shown: Preview, question: Asked, signal: AbortSignal): Promise<void>;
}

/** @param use makes a change that is proposed */
export function further(use: (path: string, to: number | string) => void): Further {
  /** The answer that changes have been looked for. */
  let sought: Preview | null = null;

  const lookForChanges: Further['lookForChanges'] = async (shown, question, signal) => {
    const { word } = shown.verdict;
    const seen = word === 'not in one piece' || byId<HTMLDetailsElement>('why').open;
    if (!seen || word === 'can be worked' || sought === shown) return;
    sought = shown;
    showChanges(null, question.unit, use);
    // No advice is not an error: the verdict stands without it.
    const found = await changes(question, signal).catch(() => undefined);
    if (!signal.aborted) showChanges(found, question.unit, use);
  };

  const showFormed: Further['showFormed'] = async (shown, question, signal) => {
    const target = image('picture-formed');
    if (!byId<HTMLDetailsElement>('formed-block').open || shown.figures === null) return;
    const svg = await formed(question, shown, signal);
    if (!signal.aborted && svg !== '') picture(target, svg, 'image/svg+xml', target.alt);
  };

  return {
    lookForChanges,
    showFormed,
    async look(shown, question, signal) {
      showChanges(undefined, question.unit, use);
      try {
        await showFormed(shown, question, signal);
        await new Promise((resolve) => setTimeout(resolve, THOUGHT));
        if (signal.aborted) return;
        if (shown.anneals !== null && shown.anneals.count !== 0 && shown.anneals.count !== null) {
          const found = await course(question, signal).catch(() => null);
          if (signal.aborted) return;
          showFigures(shown, question.unit, found);
        }
        await lookForChanges(shown, question, signal);
      } catch {
        // The verdict stands without the picture and the anneals.
      }
    },
  };
}
