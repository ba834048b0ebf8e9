/** A language that nobody speaks: English with every letter of the table's own text replaced, so that text from elsewhere shows. */
import { english, type Words } from '../../src/words/english.ts';
import { strangeTable } from './strange.mjs';

export { strange } from './strange.mjs';

export const pseudo: Words = strangeTable(english);
