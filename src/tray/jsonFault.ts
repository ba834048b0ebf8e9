/**
 * Where a text stops being JSON.
 *
 * `JSON.parse` says whether a text is JSON; where the fault is, it tells in words of the JavaScript engine,
 * for some faults and in some versions only. A person with an editor needs line and column.
 */

import { words } from '../words/language.ts';

/** Grammar of the tokens: RFC 8259, sections 2 to 7. */
const SPACE = '[ \\t\\n\\r]*';
const MARK = '([{}[\\],:])';
const PLAIN = '[^"\\\\\\u0000-\\u001f]*';
const TEXT = `("${PLAIN}(?:\\\\(?:["\\\\/bfnrt]|u[0-9a-fA-F]{4})${PLAIN})*")`;
const OTHER = '(?:-?(?:0|[1-9]\\d*)(?:\\.\\d+)?(?:[eE][+-]?\\d+)?|true|false|null)(?![\\w.+-])';
const TOKEN = new RegExp(`${SPACE}(?:${MARK}|${TEXT}|${OTHER})`, 'y');

/** What may come next; inside which brackets one is, the stack says. */
type Expected = 'value' | 'valueOrEnd' | 'name' | 'nameOrEnd' | 'colon' | 'comma' | 'end';

/**
 * What is wrong with `text` first, for example `line 3, column 14: a comma or a closing bracket is expected
 * here`. An empty string when the text is JSON.
 */
export function jsonFault(text: string): string {
  const say = words().messages.tray.json;
  const open: ('{' | '[')[] = [];
  let expected: Expected = 'value';
  let position = 0;
  for (;;) {
    TOKEN.lastIndex = position;
    const match = TOKEN.exec(text);
    const next = nextCharacter(text, position);
    if (next === text.length) {
      if (expected === 'end') return '';
      return say.endsTooEarly(...place(text, next), say.expected[expected]);
    }
    const after: Expected | undefined =
      match === null ? undefined : step(expected, match[1], match[2] !== undefined, open);
    if (after === undefined) return say.at(...place(text, next), say.expected[expected]);
    expected = after;
    position = TOKEN.lastIndex;
  }
}

/**
 * What may follow a token, or undefined when the token may not stand here.
 *
 * @param mark  the token when it is one of the six structural characters
 * @param open  brackets not yet closed, innermost last; changed
 */
function step(
  expected: Expected,
  mark: string | undefined,
  isText: boolean,
  open: ('{' | '[')[],
): Expected | undefined {
  const closed = (): Expected => (open.length === 0 ? 'end' : 'comma');
  const inside = open.at(-1);
  if (mark === '}' || mark === ']') {
    const fits =
      mark === '}'
        ? inside === '{' && (expected === 'comma' || expected === 'nameOrEnd')
        : inside === '[' && (expected === 'comma' || expected === 'valueOrEnd');
    if (!fits) return undefined;
    open.pop();
    return closed();
  }
  switch (expected) {
    case 'value':
    case 'valueOrEnd':
      if (mark === '{' || mark === '[') {
        open.push(mark);
        return mark === '{' ? 'nameOrEnd' : 'valueOrEnd';
      }
      return mark === undefined ? closed() : undefined;
    case 'name':
    case 'nameOrEnd':
      return isText ? 'colon' : undefined;
    case 'colon':
      return mark === ':' ? 'value' : undefined;
    case 'comma':
      if (mark !== ',') return undefined;
      return inside === '{' ? 'name' : 'value';
    case 'end':
      return undefined;
  }
}

function nextCharacter(text: string, position: number): number {
  let at = position;
  while (at < text.length && ' \t\n\r'.includes(text[at]!)) at++;
  return at;
}

/** Line and column, both counted from 1. */
function place(text: string, position: number): readonly [line: string, column: string] {
  const before = text.slice(0, position);
  const line = before.split('\n').length;
  return [String(line), String(position - before.lastIndexOf('\n'))];
}
