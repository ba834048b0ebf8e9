/**
 * Finds text in sources that reads like a sentence: what a person may get to read has to be in the table of words.
 *
 * It reads strings and templates of TypeScript and JavaScript and leaves out comments and regular expressions.
 */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

export interface Literal {
  /** From 1. */
  readonly line: number;
  /** As written; what a template puts in is `§`. */
  readonly text: string;
}

/** What may stand before a regular expression; after anything else, as after `x!`, a slash divides. */
const BEFORE_REGULAR_EXPRESSION =
  /(?:^|[([{,;=:&|?+\-*%~^<>}]|(?<![\w)\]])!|\b(?:return|typeof|case|in|of|await))\s*$/;

/** Every string and every template of a source, those inside a template on their own. */
export function literals(source: string): Literal[] {
  const found: Literal[] = [];
  let at = 0;
  const lineAt = (position: number): number => source.slice(0, position).split('\n').length;

  function quoted(quote: string): void {
    const start = at++;
    while (at < source.length && source[at] !== quote) at += source[at] === '\\' ? 2 : 1;
    found.push({ line: lineAt(start), text: source.slice(start + 1, at++) });
  }

  function template(): void {
    const start = at++;
    let text = '';
    while (at < source.length && source[at] !== '`') {
      if (source.startsWith('${', at)) {
        at += 2;
        code('}');
        text += '§';
      } else {
        const step = source[at] === '\\' ? 2 : 1;
        text += source.slice(at, at + step);
        at += step;
      }
    }
    at++;
    found.push({ line: lineAt(start), text });
  }

  function regularExpression(): void {
    let inClass = false;
    for (at++; at < source.length; at++) {
      if (source[at] === '\\') at++;
      else if (source[at] === '[') inClass = true;
      else if (source[at] === ']') inClass = false;
      else if (source[at] === '/' && !inClass) break;
    }
    at++;
  }

  /** Reads until the brace that ends a template's expression, or to the end of the source. */
  function code(end: '}' | ''): void {
    const begin = at;
    let depth = 0;
    while (at < source.length) {
      const sign = source[at]!;
      if (source.startsWith('//', at)) at = (source.indexOf('\n', at) + 1 || source.length + 1) - 1;
      else if (source.startsWith('/*', at)) at = source.indexOf('*/', at) + 2;
      else if (sign === "'" || sign === '"') quoted(sign);
      else if (sign === '`') template();
      else if (sign === '/' && BEFORE_REGULAR_EXPRESSION.test(source.slice(Math.max(begin, at - 40), at)))
        regularExpression();
      else {
        at++;
        if (sign === '{') depth++;
        else if (sign === '}' && depth-- === 0 && end === '}') return;
      }
    }
  }
  code('');
  return found;
}

/** Three words or more, one after the other or with figures between them. */
export const readsLikeSentence = (text: string): boolean =>
  text
    .replaceAll('\\n', ' ')
    .replaceAll('§', ' ')
    .split(/\s+/)
    .filter((word) => /^["'(]*[A-Za-z](?:[a-z]|['-](?=[a-z]))*["'),.;:!?]*$/.test(word)).length >= 3;

export interface Sentence extends Literal {
  /** Path from the project's folder. */
  readonly file: string;
}

/**
 * The sentences in the sources of folders.
 *
 * @param places folders or files, as paths from the project's folder
 */
export function sentencesIn(places: readonly string[]): Sentence[] {
  const files = places.flatMap((place) =>
    statSync(join(ROOT, place)).isDirectory()
      ? readdirSync(join(ROOT, place), { recursive: true, encoding: 'utf8' }).map((file) => join(place, file))
      : [place],
  );
  return files
    .filter((file) => /(?<!\.d|\.as)\.(?:ts|js)$/.test(file))
    .sort()
    .flatMap((file) =>
      literals(readFileSync(join(ROOT, file), 'utf8'))
        .filter(({ text }) => readsLikeSentence(text))
        .map((literal) => ({ file, ...literal })),
    );
}
