/** A thread of the service for tests: the built one, in the language that nobody speaks. */
import work from '../../dist/server/worker.js';
import { english } from '../../dist/words/english.js';
import { speak } from '../../dist/words/language.js';
import { strangeTable } from './strange.mjs';

speak(strangeTable(english));

export default work;
