import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { jsonFault } from '../../src/tray/jsonFault.ts';
import { parseTray, readTray } from '../../src/tray/readTray.ts';
import { orRefusal, refusal } from '../support/refusal.ts';

describe('a text that is a tray file', () => {
  test('is parsed', () => {
    expect(parseTray('{"name": "x"}')).toEqual({ name: 'x' });
    expect(parseTray(' [1, 2]\r\n')).toEqual([1, 2]);
  });

  test('may begin with a byte order mark', () => {
    expect(parseTray('\uFEFF{}')).toEqual({});
  });
});

describe('a text that is not', () => {
  test.each([
    ['empty', ''],
    ['only blanks', ' \n\t\r\n'],
    ['only a byte order mark', '\uFEFF'],
  ])('%s', (_, text) => {
    expect(refusal(() => parseTray(text)).message).toBe(
      'The tray file is empty; give a JSON object with name, plan, section and sheet.',
    );
  });

  test.each([
    ['a word', 'tray', 'line 1, column 1: a value is expected here'],
    [
      'a comma too many',
      '{\n  "name": "x",\n}',
      'line 3, column 1: a name in double quotation marks is expected here (no comma before a closing bracket)',
    ],
    [
      'a comma too few',
      '{\n  "name": "x"\n  "plan": 1}',
      'line 3, column 3: a comma or a closing bracket is expected here',
    ],
    ['a comma too few in a list', '[1 2]', 'line 1, column 4: a comma or a closing bracket is expected here'],
    [
      'a name without quotation marks',
      '{name: 1}',
      'line 1, column 2: a name in double quotation marks or } is expected here',
    ],
    [
      'single quotation marks',
      "{'name': 1}",
      'line 1, column 2: a name in double quotation marks or } is expected here',
    ],
    ['a unit behind a number', '{"length": 420mm}', 'line 1, column 12: a value is expected here'],
    [
      'a decimal comma',
      '{"length": 42,5}',
      'line 1, column 15: a name in double quotation marks is expected here (no comma before a closing bracket)',
    ],
    ['NaN', '{"length": NaN}', 'line 1, column 12: a value is expected here'],
    [
      'a comment',
      '{ // large\n}',
      'line 1, column 3: a name in double quotation marks or } is expected here',
    ],
    [
      'no end',
      '{"plan": {"length": 420',
      'the text ends too early (line 1, column 24): a comma or a closing bracket is expected here',
    ],
    ['a text without an end', '{"name": "x', 'line 1, column 10: a value is expected here'],
    ['two objects', '{} {}', 'line 1, column 4: nothing more is expected here'],
    ['a wrong bracket', '[1}', 'line 1, column 3: a comma or a closing bracket is expected here'],
    ['a colon missing', '{"name" "x"}', 'line 1, column 9: a colon is expected here'],
    ['binary rubbish', '\u0000\u0001\uFFFD', 'line 1, column 1: a value is expected here'],
  ])('%s', (_, text, where) => {
    const error = refusal(() => parseTray(text));
    expect(error.code).toBe('BAD_INPUT');
    expect(error.message).toBe(`The tray file is not JSON: ${where}.`);
  });

  test('too large', () => {
    const error = refusal(() => parseTray(`"${'x'.repeat(1_000_000)}"`));
    expect(error.code).toBe('TOO_LARGE');
    expect(error.message).toBe('The tray file is 1.0 MB; a tray file of at most 1 MB is accepted.');
  });

  test('as large and as deep as may be, without harm', () => {
    for (const text of [
      '['.repeat(999_999),
      '{"a":'.repeat(199_999),
      `"${'\\n'.repeat(499_000)}`,
      `{"name":"${'x'.repeat(900_000)}"}`,
      '9'.repeat(900_000),
    ]) {
      const read = orRefusal(() => readTray(parseTray(text)));
      if (read instanceof GatherpanError) expect(read.message.length).toBeLessThan(2000);
    }
    const deep = `${'['.repeat(400_000)}${']'.repeat(400_000)}`;
    expect(refusal(() => readTray(parseTray(deep))).message).toContain('The tray file is a list of 1');
    const inside = `{"name":"x","plan":${'['.repeat(400_000)}${']'.repeat(400_000)}}`;
    expect(refusal(() => readTray(parseTray(inside))).faults[0]!.message).toContain('plan is a list of 1');
  });
});

describe('where a text stops being JSON', () => {
  const isJson = (text: string): boolean => {
    try {
      JSON.parse(text);
      return true;
    } catch {
      return false;
    }
  };

  // The engine's own parser is the independent judge.
  test('is found exactly when the parser of the engine refuses it', () => {
    const pieces = fc.constantFrom(
      '{',
      '}',
      '[',
      ']',
      ',',
      ':',
      '"a"',
      '"',
      '1',
      '-',
      '0',
      '01',
      '1.',
      '.5',
      '1e5',
      '1e',
      'true',
      'nul',
      ' ',
      '\n',
      '"\\u00e9"',
      '"\\x"',
      '\u00a0',
      'x',
    );
    const texts = fc.oneof(
      fc.json(),
      fc.array(pieces, { maxLength: 12 }).map((list) => list.join('')),
      // sound JSON with one character changed, left out or put in
      fc.tuple(fc.json(), fc.nat(), fc.nat(2), pieces).map(([text, where, cut, piece]) => {
        const at = where % (text.length + 1);
        return text.slice(0, at) + piece + text.slice(at + cut);
      }),
    );
    fc.assert(
      fc.property(texts, (text) => {
        expect(jsonFault(text) === '').toBe(isJson(text));
      }),
      { seed: 1, numRuns: 5000 },
    );
  });

  test('is never after the place where the engine sees it', () => {
    // Everything before the place can be completed to JSON: the prefix alone only ends too early.
    fc.assert(
      fc.property(
        fc.json(),
        fc.nat(),
        fc.constantFrom('@', ']', '}', ',', ':', '"'),
        (text, where, piece) => {
          const at = where % (text.length + 1);
          const broken = text.slice(0, at) + piece + text.slice(at);
          const match = /^line (\d+), column (\d+)/.exec(jsonFault(broken));
          if (match === null) return;
          const lines = broken.split('\n').slice(0, Number(match[1]));
          const prefix = [...lines.slice(0, -1), lines.at(-1)!.slice(0, Number(match[2]) - 1)].join('\n');
          if (prefix.trim() === '' || isJson(prefix)) return;
          expect(jsonFault(prefix)).toMatch(/^the text ends too early/);
        },
      ),
      { seed: 2, numRuns: 2000 },
    );
  });
});
