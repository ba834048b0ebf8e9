/** What the service, or the build, writes into `words.js`: the texts of a language and what is on offer. */
import type { PageFacts, PageWords } from '../src/server/pageWords.ts';

export const words: PageWords;
export const facts: PageFacts;
