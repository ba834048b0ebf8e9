/**
 * The files of the page that hold words: two documents with places for them, and a module for the scripts. They are
 * made once, when the service starts, so that nobody ever sees a page without its words.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Words } from '../words/english.ts';

export interface PageFile {
  /** Media type. */
  readonly type: string;
  readonly body: string;
}

/**
 * @param folder of the page's files
 * @returns by the path they are asked for
 * @throws Error for a place in a document that the table has no text for
 */
export function pageFiles(folder: string, table: Words): ReadonlyMap<string, PageFile> {
  const { index, problems, scripts, language } = table.page;
  const file = (name: string, texts: object): PageFile => ({
    type: 'text/html',
    body: filled(readFileSync(join(folder, name), 'utf8'), texts, language),
  });
  const start = file('index.html', index);
  return new Map([
    ['/', start],
    ['/index.html', start],
    ['/problems.html', file('problems.html', problems)],
    ['/words.js', { type: 'text/javascript', body: scriptWords(table, scripts) }],
  ]);
}

/** The texts of the scripts, and the words for what the service answers with. */
function scriptWords(table: Words, scripts: Words['page']['scripts']): string {
  const words = {
    language: table.page.language,
    ...scripts,
    verdicts: table.verdict.words,
    families: table.material.families,
    changes: table.plan.change.about,
  };
  return `export const words = ${JSON.stringify(words)};\n`;
}

/** A document with its texts: `{{form.title}}` is where the one of that path goes. */
const filled = (template: string, texts: object, language: string): string =>
  template
    .replace('<html lang="en">', () => `<html lang="${escaped(language)}">`)
    .replace(/(=")?\{\{([\w.]+)\}\}/g, (_, attribute: string | undefined, path: string) => {
      const text = escaped(textAt(texts, path));
      return attribute === undefined ? marked(text) : `${attribute}${text}`;
    });

function textAt(texts: object, path: string): string {
  let at: unknown = texts;
  for (const part of path.split('.')) at = (at as Readonly<Record<string, unknown>> | undefined)?.[part];
  if (typeof at !== 'string') throw new Error(`the page has no text ${path}`);
  return at;
}

const ESCAPES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => ESCAPES[sign]!);

/** `code`, and the address of a link on this service, as in Markdown. The page may stand below the root: the link is relative. */
const marked = (text: string): string =>
  text.replace(/`([^`]+)`/g, '<code>$1</code>').replace(/&lt;\/([^\s&]+)&gt;/g, '<a href="$1">/$1</a>');
