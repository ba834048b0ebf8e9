/**
 * What the page says. It is text, not functions, because the service writes it into the page's files: figures go
 * where `{name}` stands. In the parts for `index.html`, `bench.html` and `problems.html`, `code` stands in backquotes and the
 * address of a link in angle brackets, as in Markdown.
 */
import { bench } from './bench.ts';
import { form } from './form.ts';
import { problems } from './problems.ts';
import { result } from './result.ts';
import { scripts } from './scripts.ts';
import { top } from './top.ts';

export const page = {
  /** The language's tag (BCP 47), for screen readers and for the plural of what is counted. */
  language: 'en',
  index: { ...top, form, ...result },
  bench,
  problems,
  scripts,
};
