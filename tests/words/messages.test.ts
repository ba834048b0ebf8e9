/**
 * What is wrong with a person's input is said in the words of the table: another table in its place leaves no English
 * behind, and every sentence of the table is said by something.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { trialsJsonSchema } from '../../src/gather/keptTrials.ts';
import { measurementsJsonSchema } from '../../src/gather/measurements.ts';
import { listSheets } from '../../src/material/sheets.ts';
import { trayJsonSchema } from '../../src/tray/schema.ts';
import { english, type Words } from '../../src/words/english.ts';
import { speak } from '../../src/words/language.ts';
import { complaints } from './faulty/work.ts';
import { faultyInputs } from './faultyInputs.ts';
import { sentencesIn } from './sentenceScan.ts';
import { entriesOf, telling } from './telling.ts';

/** The parts of the table that are looked at here. */
const PARTS = ['dxf', 'tray', 'material', 'solve', 'outline', 'gather', 'drawing', 'exporters'] as const;

/** Names of fields of a schema. */
function fieldsOf(schema: unknown): string[] {
  if (typeof schema !== 'object' || schema === null) return [];
  return Object.entries(schema).flatMap(([key, inner]) => [
    ...(key === 'properties' ? Object.keys(inner as object) : []),
    ...fieldsOf(inner),
  ]);
}

const said = new Set<string>();
/** What is said of every kind of input. */
const sentences = new Map<string, string[]>();

beforeAll(async () => {
  const before = speak(telling(english, '', said) as Words);
  try {
    for (const [kind, works] of Object.entries(faultyInputs)) {
      const all: string[] = [];
      for (const work of works) all.push(...(await complaints(work)));
      sentences.set(kind, all);
    }
    trayJsonSchema();
    measurementsJsonSchema();
    trialsJsonSchema();
  } finally {
    speak(before);
  }
});

describe('what is wrong, in another language,', () => {
  /** Names that a person writes: of fields and their values, of formats and their settings, of materials. */
  const names = new Set([
    ...fieldsOf(trayJsonSchema()),
    ...fieldsOf(measurementsJsonSchema()),
    ...fieldsOf(trialsJsonSchema()),
    ...['corner', 'rimHeight', 'rimThickness', 'middle', 'start', 'end', 'error'],
    ...['marks', 'direction', 'inset', 'before', 'after', 'startTangent', 'tolerance'],
    ...nodeExporters.flatMap(({ id, parameters, earlier }) => [
      id,
      ...[...parameters, ...(earlier?.parameters ?? [])].map(({ name }) => name),
      ...parameters.flatMap((each) => ('choices' in each ? each.choices : [])),
    ]),
    ...['id', 'label', 'extension', 'extensionFor', 'leadsTo', 'mediaType', 'parameters', 'earlier', 'write'],
    ...['help', 'minimum', 'maximum', 'unit', 'choices', 'default', 'usual', 'type'],
    ...listSheets().map(({ name }) => name),
    ...['TEXT', 'CUT', 'path', 'text'],
    // Letters of corners
    ...'ABCDEFGHIJKL',
    // Misspelt or made up by the inputs
    ...['lenght', 'rimHieght', 'dotPerInch', 'somethingElse', 'any'],
    ...['tin', 'blank', 'bad', 'BAD', 'Blank', 'Other', 'nothing.js'],
  ]);
  /** Units, axes, and values that are no text. */
  const SIGNS = new Set([
    ...['mm', 'cm', 'dm', 'm', 'ft', 'mm²', 'in', 'N', 'kg', 'dm³', '°C', 'x', 'y'],
    ...['null', 'true', 'false', 'NaN'],
  ]);

  /** What is left in Latin letters, apart from values as found (between quotation marks), names and signs. */
  const left = (sentence: string): string[] =>
    sentence
      .replace(/"(?:[^"\\]|\\.)*"/g, '')
      .split(/[^\p{L}\p{N}_$°.-]+/u)
      .map((word) => word.replace(/\.$/, ''))
      .filter((word) => /[A-Za-z]/.test(word) && !SIGNS.has(word) && !names.has(word))
      .filter((word) => word.split('.').some((name) => /[A-Za-z]/.test(name) && !names.has(name)));

  test.each(Object.keys(faultyInputs))('no English is left: %s', (kind) => {
    const all = sentences.get(kind)!;
    expect(all.length).toBeGreaterThan(2);
    // Each word with a sentence it stands in.
    expect(Object.fromEntries(all.flatMap((each) => left(each).map((word) => [word, each])))).toEqual({});
  });

  test('English would show, also where a sentence is given it', () => {
    const { tray } = telling(english.messages, '', new Set()) as Words['messages'];
    expect(left(tray.notAccepted('plan.length', '"12 mm"', 'a number'))).toEqual(['a', 'number']);
    expect(left('plan.length is missing.')).toEqual(['is', 'missing']);
  });

  test('every sentence of the table is said by something', () => {
    const entries = PARTS.flatMap((part) => entriesOf(english.messages[part], `.messages.${part}`));
    expect(entries.length).toBeGreaterThan(300);
    expect(entries.filter((entry) => !said.has(entry))).toEqual([]);
  });
});

describe('the sources', () => {
  const folders = [
    'dxf',
    'tray',
    'material',
    'mesh',
    'solve',
    'geometry',
    'pattern',
    'gather',
    'drawing',
    'exporters',
  ];

  /** Text that reads like a sentence and is none that a person is told, and why. */
  const EXCEPTIONS: readonly (readonly [file: RegExp, text: RegExp, why: string])[] = [
    [
      /material.sheets.(?:aluminium|copper|entry|steel)\.ts$/,
      /./,
      'sources: books, standards, who remembers',
    ],
    [/material.cautions\.ts$/, /./, 'sources: books, standards, laws, who remembers'],
    [/tray.gauge\.ts$/, /Gauge|gauge|15 U\.S\.C\./, 'sources: standards and laws'],
    [/tray.(gauge|writtenSize)\.ts$/, /^Brown and Sharpe$/, 'a name, as tray files have it'],
    [
      /(?:gather|pattern).\w+\.ts$/,
      /^(?:can be worked(?: with care)?|not in one piece)$/,
      'a value of the report',
    ],
    [/gather.\w+\.ts$/, /^strain between anneals$/, 'a value of the report'],
    [/gather.handFit\.ts$/, /^"forming": \{/, 'a line for the tray file'],
    [/drawing.svg\.ts$/, /^Arimo, Arial/, 'names of typefaces'],
    [/solve.kernel.kernel\.ts$/, /^the factors were given up/, 'a fault of the program, for who works on it'],
    [/material.neckingAndBuckling\.ts$/, /^bisect: /, 'a fault of the program, for who works on it'],
    [
      /solve.timeLimit\.ts$/,
      /^a thread does one piece of work/,
      'a fault of the program, for who works on it',
    ],
    [/pattern.notchRelief\.ts$/, /^notch: /, 'a fault of the program, for who works on it'],
  ];

  test('have no sentence of their own', () => {
    const found = sentencesIn(folders.map((folder) => `src/${folder}`));
    const needed = new Set<string>();
    const own = found.filter(({ file, text }) => {
      const exception = EXCEPTIONS.find(([files, texts]) => files.test(file) && texts.test(text));
      if (exception !== undefined) needed.add(exception.join(' '));
      return exception === undefined;
    });
    expect(own.map(({ file, line, text }) => `${file}:${line} ${text}`)).toEqual([]);
    expect(EXCEPTIONS.map((each) => each.join(' ')).filter((each) => !needed.has(each))).toEqual([]);
  });
});
