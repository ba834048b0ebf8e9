/** The commands take their words from the table: help, what they print, what they say is wrong. */
import { mkdir, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { decodeResults } from '../../src/batch/queueMessages.ts';
import { rowError } from '../../src/batch/solveChunk.ts';
import { progressText } from '../../src/cli/batchProgress.ts';
import { type Dependencies, modules } from '../../src/cli/dependencies.ts';
import { errorLines } from '../../src/cli/errorText.ts';
import { sheetLines } from '../../src/cli/sheetLines.ts';
import { GatherpanError } from '../../src/errors.ts';
import type { Exporter } from '../../src/exporters/contract.ts';
import { nodeExportersIn } from '../../src/exporters/nodeExporters.ts';
import { writeArchive } from '../../src/jobs/archive.ts';
import { refuseClashes } from '../../src/jobs/fileNames.ts';
import { runInterruptibly } from '../../src/layout/interruptible.ts';
import type { LaidSheet, SheetLayout } from '../../src/layout/sheetLayout.ts';
import { solveParts } from '../../src/layout/solveParts.ts';
import { english } from '../../src/words/english.ts';
import { speak } from '../../src/words/language.ts';
import { inFolder, realCommand, writeFiles } from '../cli/fakes.ts';
import { refusalOf } from '../support/refusal.ts';
import { pseudo } from './pseudoLanguage.ts';
import { literals, readsLikeSentence, sentencesIn } from './sentenceScan.ts';

let before: typeof english;
beforeAll(() => {
  before = speak(pseudo);
});
afterAll(() => {
  speak(before);
});

const TRAY = {
  name: 'seedling',
  measured: 'outside',
  plan: { length: 240, width: 160, cornerRadius: 40 },
  section: { bottomRadius: 15, height: 22 },
  sheet: { material: 'DC04', thickness: 1, grain: 0 },
  forming: { trim: 3 },
};

type Said = Awaited<ReturnType<typeof realCommand>>;

const said = (
  folder: string,
  argv: readonly string[],
  load: Partial<Dependencies['load']> = {},
  stdin = '',
): Promise<Said> =>
  realCommand(folder, argv, { stdin: [new TextEncoder().encode(stdin)], isTerminal: true, load });

/** What is left in Latin letters when these have been taken away. */
const latin = (text: string, ...known: readonly RegExp[]): string[] =>
  known.reduce((rest, pattern) => rest.replace(pattern, ''), text).match(/.*[A-Za-z].*/g) ?? [];

const COMMANDS = [
  'make',
  'check',
  'plan',
  'hand',
  'recognise',
  'sheets',
  'serve',
  'batch',
  'worker',
  'layout',
];

describe('help in another language', () => {
  const ids = nodeExportersIn(english).map(({ id }) => id);
  const names = [
    // In the usage, and at the start of a line of the list of commands or formats.
    new RegExp(`gatherpan(?: (?:${COMMANDS.join('|')}))?`, 'g'),
    new RegExp(`^ {2}(?:${[...COMMANDS, 'help', ...ids].join('|')})(?= )`, 'gm'),
    // Options, with units and values as they are typed, and defaults.
    /(?<=[ ,])-{1,2}[a-z][a-z-]*/g,
    /^ {2}-h/gm,
    /<(?:mm|along\|free|copy\|block|R2000\|R12)>/g,
    /"(?:dxf|DC04)"/g,
  ];

  test.each([[], ...COMMANDS.map((name) => [name])])('of %s', async (...command) => {
    const { exit, out } = await said('.', [...command, '--help']);
    expect(exit).toBe(0);
    expect(out.split('\n').length).toBeGreaterThan(5);
    expect(latin(out, ...names)).toEqual([]);
  });

  test('has an entry of the table for everything commander says by itself in English', async () => {
    speak(english);
    try {
      const { out } = await said('.', ['make', '--help']);
      for (const text of [
        'Usage: gatherpan make [options] <file...>',
        'Arguments:',
        'Options:',
        '(default: "dxf")',
      ])
        expect(out).toContain(text);
    } finally {
      speak(pseudo);
    }
  });
});

/** Names of files and what the terminal is told to do are no words. */
const FILES = [
  /\b(?:[\w-]+\.(?:json|csv|step|dxf|svg|zip)|out|seedling|large|small)\b/g,
  // biome-ignore lint/suspicious/noControlCharactersInRegex: clears the line, see src/cli/progress.ts
  /\r\u001b\[K/g,
];

/** Work that takes longer than anybody waits. */
function* endless(): Generator<void, never> {
  for (;;) yield;
}

/** A layout with every kind of sheet there is a word for. */
function layout(): [SheetLayout, { sheet: LaidSheet; file: string }[]] {
  const sheet = {
    parts: [{}],
    utilisation: 0.5,
    cutLength: 1234,
    pierces: 1,
    partsMass: 1,
    mass: 2,
    offcut: null,
    cost: null,
  } as unknown as LaidSheet;
  const other = {
    ...sheet,
    parts: [{}, {}],
    pierces: 3,
    offcut: { length: 300, width: 200 },
    cost: 12.5,
  } as unknown as LaidSheet;
  return [
    { leastSheets: 1 } as SheetLayout,
    [
      { sheet, file: 'sheet-1.dxf' },
      { sheet: other, file: 'sheet-2.dxf' },
    ],
  ];
}

describe('what the commands print in another language', () => {
  const printed = (argv: readonly string[], files: Readonly<Record<string, unknown>> = {}): Promise<Said> =>
    inFolder(async (folder) => {
      await writeFiles(folder, { 'tray.json': TRAY, ...files });
      return said(folder, argv);
    });

  test.each([
    ['make', 'tray.json', '--out', 'out'],
    ['check', 'tray.json', '--changes'],
    ['plan', 'tray.json'],
  ])('%s %s', async (...argv) => {
    const { exit, out, error } = await printed(argv);
    expect(exit).toBe(0);
    expect(out.split('\n').length).toBeGreaterThan(8);
    expect(latin(out + error, ...FILES)).toEqual([]);
  });

  test('hand, all but the line for the tray file and the names of measurements', async () => {
    const { exit, out, error } = await printed(['hand', 'tray.json', 'm.json'], {
      'm.json': { corner: 0, rimHeight: { middle: 23.5, error: 0.3 } },
    });
    expect(exit).toBe(0);
    expect(latin(out + error, ...FILES)).toEqual([]);
  });

  test('sheets, all but names and sources', async () => {
    const { out } = await printed(['sheets']);
    const names = (await modules.sheets()).map(({ name }) => name);
    const first = new RegExp(
      `^(?:${names.map((name) => name.replace(/[.+]/g, '\\$&')).join('|')})(?= )`,
      'gm',
    );
    // A source is in brackets at the end of its line and may hold brackets itself.
    expect(latin(out, first, / {2}\[.*\]$/gm, / (?:N\/mm²|kg\/dm³)(?=\s)/g)).toEqual([]);
  });

  test('batch and layout, from a table with a bad row, and of a bad table nothing', async () => {
    await inFolder(async (folder) => {
      await writeFiles(folder, {
        'base.json': TRAY,
        't.csv': 'name,plan.length\nsmall,200\nlarge,300\n,-5\n',
        'bad.csv': 'name,plan.length\nsmall,-200\n',
      });
      const options = ['--base', 'base.json', '--sheet', '1000x500', '--jobs', '1', '--out', 'out'];
      const all = [
        await said(folder, ['batch', 't.csv', ...options, '--rate-metre', '2']),
        await said(folder, ['batch', 't.csv', ...options, '--resume']),
        await said(folder, ['layout', 't.csv', ...options]),
        await said(folder, ['layout', 'bad.csv', ...options]),
      ];
      expect(all.map(({ exit }) => exit)).toEqual([2, 2, 2, 2]);
      expect(all[0]!.out.split('\n').length).toBeGreaterThan(4);
      expect(latin(all.map(({ out, error }) => out + error).join('\n'), ...FILES)).toEqual([]);
    });
  });

  test('a layout of every kind, and the line of progress near and far from its end', () => {
    const [whole, sheets] = layout();
    const text = [
      sheetLines(whole, sheets, {}),
      sheetLines(whole, sheets.slice(1), { shownIn: 'in' }),
      ...[0, 1000, 1e6, 1e9].map((elapsed) =>
        progressText({ done: 1, total: 30, name: '' } as Parameters<typeof progressText>[0], elapsed),
      ),
    ].join('\n');
    expect(latin(text, ...FILES)).toEqual([]);
  });

  test('a fault of the program', () => {
    expect(latin(errorLines(new TypeError('what it was'), 'tray.json'), ...FILES)).toEqual([]);
  });
});

describe('faults in another language', () => {
  /** Files that the faults name. */
  const INPUTS: Readonly<Record<string, unknown>> = {
    'tray.json': TRAY,
    'same.json': { ...TRAY, name: 'Seedling' },
    'seedling.json': TRAY,
    'layout.json': TRAY,
    'list.json': [],
    'dxf.json': { ...TRAY, plan: { dxf: 'nosuch.dxf' } },
    'dxfFolder.json': { ...TRAY, plan: { dxf: 'out' } },
    'empty.json': '',
    'blank.json': ' '.repeat(9e5),
    'broken.json': '{"corner":',
    't.csv': 'name,plan.length\nsmall,200\n',
    'manifest.csv': 'name,plan.length\nsmall,200\n',
    'twice.csv': 'name,plan.length\nsmall,200\nsmall,300\n',
    'empty.csv': '',
    'header.csv': 'name,nosuch,plan.length,plan.length\n',
    'part.step': '',
    'quote.csv': 'name,plan.length\n"small,200\n',
    'quoteWithin.csv': 'name,plan.length\nsm"all,200\n',
    'behindQuote.csv': 'name,plan.length\n"small"er,200\n',
    'cells.csv': 'name,plan.length,quantity\nsmall,200,3,4\nlarge,200,0\n',
    'own.csv': 'name,plan.length\nmanifest,200\n',
    'six.csv': `name,plan.length\n${'small,200\n'.repeat(6)}`,
    'noTrays.json': {},
    'wrong.json': {
      name: 1,
      quantity: 0,
      base: 1,
      trays: 1,
      ranges: { 'plan.length': 1, 'plan.width': [], 'section.height': { from: 1, to: 2, count: 1 } },
      other: 1,
    },
    'ranges.json': { base: TRAY, ranges: { 'plan.lenth': [1], quite: [1] } },
    'downwards.json': { base: TRAY, ranges: { 'plan.length': { from: 300, to: 200, step: 10 } } },
    'tooMany.json': { base: TRAY, ranges: { 'plan.length': { from: 100, to: 900, step: 0.001 } } },
    'rows.json': {
      base: TRAY,
      trays: [
        { name: 'small', quantity: 'many' },
        { name: 'large', plan: { length: -1 } },
      ],
      ranges: { 'plan.length': [-1, 'long'] },
    },
  };
  /** Sizes of empty ones, bytes. */
  const LARGE = [
    ['large.json', 2e6],
    ['large.step', 40e6],
    ['large.csv', 70e6],
  ] as const;

  /** argv, and what standard input holds. */
  const faults: readonly (readonly [argv: string, stdin?: string])[] = [
    // Typed wrongly
    ['mak'],
    ['--nosuch'],
    ['make'],
    ['make tray.json --outt'],
    ['make tray.json --format'],
    ['worker'],
    ['layout tray.json'],
    ['sheets extra'],
    ['hand a b c'],
    ['plan tray.json --stages 99'],
    ['serve --port 99999999'],
    ['check part.step --thickness thick'],
    ['make tray.json --format ,'],
    ['make tray.json --format nosuch'],
    ['make tray.json --set x'],
    ['make tray.json --set json.compact=true'],
    ['make tray.json --set dxf.text=none --set dxf.text=none'],
    ['make tray.json --set dxf.text=nosuch'],
    ['make tray.json --set dxf.nosuch=1'],
    ['batch t.csv --out out --zip out.zip'],
    ['batch t.csv --queue redis://localhost --jobs 1'],
    ['batch t.csv --queue nosuch'],
    ['batch t.csv --jobs 1000'],
    ['batch t.csv --sheet 3'],
    ['batch t.csv --spacing 3'],
    ['batch t.csv --sheet 900x900 --spacing wide'],
    ['batch t.csv --sheet 900x900 --grain wide'],
    ['batch t.csv --base tray.json --sheet 900x900 --quantity many'],
    ['batch t.csv --base tray.json --sheet 900x900 --quantity nosuch=3'],
    // Files
    ['check nosuch.json'],
    ['check out'],
    ['check - -', JSON.stringify(TRAY)],
    ['check -', '{'],
    ['check empty.json'],
    ['check utf16.json'],
    ['check large.json'],
    ['check dxf.json'],
    ['check dxfFolder.json'],
    ['check large.step'],
    ['check folder.step'],
    ['check nosuch.step'],
    ['recognise -', '{}'],
    ['hand - -', JSON.stringify(TRAY)],
    ['hand tray.json empty.json'],
    ['hand tray.json broken.json'],
    ['hand tray.json blank.json'],
    ['hand tray.json tray.json'],
    ['batch nosuch.csv'],
    ['batch nosuch.xml'],
    ['batch empty.csv'],
    ['batch header.csv'],
    ['batch t.csv --base list.json'],
    ['batch quote.csv'],
    ['batch quoteWithin.csv'],
    ['batch behindQuote.csv'],
    ['batch cells.csv --base tray.json --out out'],
    ['batch broken.json'],
    ['batch list.json'],
    ['batch noTrays.json'],
    ['batch wrong.json'],
    ['batch ranges.json'],
    ['batch downwards.json'],
    ['batch tooMany.json'],
    ['batch rows.json --out out'],
    ['batch t.csv --base tray.json --queue redis://127.0.0.1:1'],
    ['batch large.csv'],
    // What would be written
    ['make tray.json same.json'],
    ['make seedling.json --format json --out .'],
    ['batch manifest.csv --base tray.json --out .'],
    ['batch twice.csv --base tray.json --out out'],
    ['layout layout.json --sheet 900x900 --out .'],
    ['layout tray.json --sheet 90x90 --jobs 1 --out out'],
    ['layout tray.json --sheet 90x90 --grain free --jobs 1 --out out'],
    ['layout t.csv --base tray.json --sheet 900x900 --quantity small=999999 --out out'],
    ['batch own.csv --base tray.json --format json --out out'],
    ['batch t.csv --base tray.json --sheet 90x90 --jobs 1 --out out'],
    ['batch six.csv --base tray.json --out out'],
    ['make tray.json --out tray.json'],
  ];

  test.each(faults.map(([argv, stdin = '']) => [argv, stdin] as const))(
    'gatherpan %s',
    async (argv, stdin) => {
      await inFolder(async (folder) => {
        const named = argv.split(' ');
        const among = ([name]: readonly [string, unknown]): boolean => named.includes(name);
        await writeFiles(folder, Object.fromEntries(Object.entries(INPUTS).filter(among)));
        if (named.includes('utf16.json'))
          await writeFile(join(folder, 'utf16.json'), Buffer.from([0xff, 0xfe, 0x7b, 0]));
        await Promise.all(['out', 'folder.step'].map((name) => mkdir(join(folder, name))));
        for (const [name, size] of LARGE.filter(among)) {
          await writeFile(join(folder, name), '');
          await truncate(join(folder, name), size);
        }
        const { exit, out, error } = await said(folder, named, {}, stdin);
        expect(exit).toBeGreaterThan(0);
        expect(error.length).toBeGreaterThan(10);
        expect(latin(out + error, ...FILES)).toEqual([]);
      });
    },
  );

  test.each<[string, () => unknown]>([
    [
      'trays whose files would be one',
      () =>
        refuseClashes(
          ['seedling', 'seedling.large'].map((name) => ({ name, place: '1' })),
          ['large.dxf', 'dxf'].map((extension) => ({ id: 'small', extension })),
          () => false,
        ),
    ],
    [
      'a name that no archive takes',
      () => writeArchive('x.zip', '.', ['../x'], new AbortController().signal),
    ],
    [
      'results that are none',
      () => decodeResults({ results: '' }, { rows: [{ row: 1, wanted: true }] } as never),
    ],
    ['a layout that is stopped', () => runInterruptibly(endless(), AbortSignal.abort())],
    [
      'trays that are stopped',
      () => solveParts([], 'along', { async *solve() {} } as never, AbortSignal.abort()),
    ],
    [
      'a fault of the program in a row',
      () => {
        const [fault] = rowError(new TypeError('1')).faults;
        throw new GatherpanError('NOT_SOLVED', fault!);
      },
    ],
  ])('%s', async (_, work) => {
    expect(latin((await refusalOf((async () => work())())).message)).toEqual([]);
  });

  test.each([
    ['that throws', async () => Promise.reject(new Error('no ink'))],
    ['without bytes', async () => 'text' as never],
  ])('an exporter %s', async (_, write) => {
    const exporter: Exporter = {
      contract: 2,
      id: 'foreign',
      label: '1',
      extension: 'svg',
      mediaType: 'text/plain',
      parameters: [],
      write,
    };
    await inFolder(async (folder) => {
      await writeFiles(folder, { 'tray.json': TRAY });
      const argv = ['make', 'tray.json', '--format', 'foreign', '--exporter', './foreign.js'];
      const { exit, error } = await said(folder, argv, { exporter: async () => [exporter] });
      expect(exit).toBe(1);
      expect(latin(error, ...FILES)).toEqual([]);
    });
  });
});

describe('the sources of commands, batches, layouts and service', () => {
  /** Text that is no sentence for a person, and why. */
  const EXCEPTIONS: readonly (readonly [file: RegExp, text: RegExp, reason: string])[] = [
    [/./, /^(?:not in one piece|can be worked(?: with care)?)$/, 'verdicts as data'],
    [/^src\/server\/openapi\.ts$/, /./, 'the OpenAPI document is for programmers and in English'],
    [/^src\/server\/server\.ts$/, /^Request Header Fields Too Large$/, 'reason phrase of RFC 6585'],
    [/^src\/server\/server\.ts$/, /^Method Not Allowed$/, 'reason phrase of RFC 9110'],
    [/^src\/server\/pageFiles\.ts$/, /^the page has no text §$/, 'a fault of the program, for its log'],
    [/^src\/server\/pageWords\.ts$/, /^export const words = /, 'a line of JavaScript'],
    [/^src\/batch\/journalLines\.ts$/, /^gatherpan batch journal$/, 'the name of a format'],
  ];

  test('hold no sentence: those are in the table', () => {
    const found = sentencesIn(['src/batch', 'src/cli', 'src/layout', 'src/server']);
    const excepted = (file: string, text: string): boolean =>
      EXCEPTIONS.some(([files, texts]) => files.test(file) && texts.test(text));
    expect(found.filter(({ file, text }) => !excepted(file, text))).toEqual([]);
    // An exception that is of no use any more goes.
    const idle = EXCEPTIONS.filter(
      ([files, texts]) => !found.some(({ file, text }) => files.test(file) && texts.test(text)),
    );
    expect(idle.map(([, , reason]) => reason)).toEqual([]);
  });

  test('would be found out', () => {
    const source = [
      "const half = list[i]! / 2; // it's a remark of many words",
      "import { a } from './no/sentence/here.ts'; // a remark of many words",
      "/* and one of many words more */ const x = \"one two three\" + 'it\\'s four, or five';",
      'const y = /no "sentence of words" here/.test(b / c / `there are $[d ? `$[e} of them` : "six of them all"} left`);',
    ]
      .join('\n')
      .replaceAll('$[', '${');
    expect(literals(source).filter(({ text }) => readsLikeSentence(text))).toEqual([
      { line: 3, text: 'one two three' },
      { line: 3, text: "it\\'s four, or five" },
      { line: 4, text: 'six of them all' },
      { line: 4, text: 'there are § left' },
    ]);
  });
});
