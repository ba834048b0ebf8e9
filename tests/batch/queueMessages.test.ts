/** What a stranger puts on the queue, or sends back, is refused in one sentence. Nothing is solved here. */
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { type Chunk, planChunks } from '../../src/batch/plan.ts';
import {
  decodeChunk,
  decodeResults,
  encodeResults,
  RefusedChunk,
  refuseOtherFormats,
} from '../../src/batch/queueMessages.ts';
import { readBatch, traysOf } from '../../src/batch/readBatch.ts';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { sha256 } from '../../src/jobs/manifest.ts';
import { refusal } from '../support/refusal.ts';
import { DXF, family, instantResults } from './batches.ts';

const PROGRAM = sha256(Buffer.from('this program'));
const OTHER = sha256(Buffer.from('another program'));
const CHUNK: Chunk = planChunks(traysOf(readBatch(family(2), 'json', {}, 'tray')), {
  formats: DXF,
  program: PROGRAM,
})[0]!;
const SOUND = encodeResults(instantResults(CHUNK), PROGRAM);

/** The rows of a message as they are packed. */
// biome-ignore lint/suspicious/noExplicitAny: what a stranger makes of them has no type.
type Rows = any;
const plain = (): Rows =>
  structuredClone(instantResults(CHUNK)).map((result) => ({
    ...result,
    files: result.files.map(({ name, bytes }) => ({
      name,
      size: bytes.length,
      sha256: sha256(bytes),
      bytes: Buffer.from(bytes).toString('base64'),
    })),
  }));
const packed = (rows: unknown): string => gzipSync(JSON.stringify(rows)).toString('base64');

/** A message with its first row changed. */
const changed = (change: (row: Rows, rows: Rows) => unknown): unknown => {
  const rows = plain();
  const other = change(rows[0], rows);
  return { program: PROGRAM, results: packed(Array.isArray(other) ? other : rows) };
};
const renamed = (name: string): unknown =>
  changed((row) => {
    row.files[0].name = name;
  });

const results: readonly (readonly [what: string, message: unknown, says: RegExp])[] = [
  ['nothing', null, /form of such a message/],
  ['a text', 'results', /form/],
  ['no results', { program: PROGRAM }, /form/],
  ['another program', { ...SOUND, program: OTHER }, /another version of gatherpan/],
  ['a further field', { ...SOUND, also: 1 }, /form/],
  ['what is not packed', { program: PROGRAM, results: 'AAAA' }, /cannot be unpacked/],
  ['what is not base64', { program: PROGRAM, results: '../../etc' }, /form/],
  ['packed, but no JSON', { program: PROGRAM, results: gzipSync('rows').toString('base64') }, /unpacked/],
  [
    'four hundred megabytes in four hundred kilobytes',
    { program: PROGRAM, results: gzipSync(Buffer.alloc(400_000_001)).toString('base64') },
    /unpacked, or is too large/,
  ],
  ['a path upwards for a name', renamed('../../x'), /names that were asked for/],
  ['a whole path for a name', renamed('/etc/passwd'), /names that were asked for/],
  ['a path of another system', renamed('..\\x.dxf'), /names that were asked for/],
  ['the journal for a name', renamed('batch-journal.jsonl'), /names that were asked for/],
  ['the name of another tray', renamed(`${CHUNK.rows[1]!.spec.name}.dxf`), /names that were asked for/],
  [
    'no file',
    changed((row) => {
      row.files = [];
    }),
    /names that were asked for/,
  ],
  [
    'one file too many',
    changed((row) => {
      row.files.push(row.files[0]);
    }),
    /names that were asked for/,
  ],
  [
    'a row that does not exist',
    changed((row) => {
      row.row = 4000;
    }),
    /other rows/,
  ],
  [
    'a row with a number that is none',
    changed((row) => {
      row.row = -1;
    }),
    /form/,
  ],
  [
    'the key of another row',
    changed((row, rows) => {
      row.key = rows[1].key;
    }),
    /other rows/,
  ],
  ['rows in another order', changed((_, rows) => [...rows].reverse()), /other rows/],
  ['a row too few', changed((_, rows) => rows.slice(1)), /other rows/],
  [
    'a size that does not fit',
    changed((row) => {
      row.files[0].size++;
    }),
    /size or the hash/,
  ],
  [
    'a hash that does not fit',
    changed((row) => {
      row.files[0].sha256 = OTHER;
    }),
    /size or the hash/,
  ],
  [
    'other bytes',
    changed((row) => {
      row.files[0].bytes = 'AAAA';
    }),
    /size or the hash/,
  ],
  [
    'figures that are none',
    changed((row) => {
      row.report.figures.mass = 'heavy';
    }),
    /form/,
  ],
  [
    'a verdict nobody gives',
    changed((row) => {
      row.report.verdict = 'splendid';
    }),
    /form/,
  ],
  [
    'an outline without numbers',
    changed((row) => {
      row.outline = [{ x: null }];
    }),
    /form/,
  ],
  [
    'a warning that moves the cursor',
    changed((row) => {
      row.report.warnings = ['\u001b[2J'];
    }),
    /form/,
  ],
  [
    'a blank nobody asked for',
    changed((row) => {
      row.blank = {};
    }),
    /form/,
  ],
  [
    'an error of an unknown kind',
    changed(({ row, key }, rows) => [
      { row, key, ok: false, error: { code: 'NO', faults: [] } },
      ...rows.slice(1),
    ]),
    /form/,
  ],
];

describe('results from the queue', () => {
  it('that are those of the chunk are taken, errors of rows too', () => {
    expect(decodeResults(SOUND, CHUNK)).toEqual(instantResults(CHUNK));
    const failed = instantResults(CHUNK).map(({ row, key }) => ({
      row,
      key,
      ok: false as const,
      error: { code: 'NOT_SOLVED', faults: [{ path: '', message: 'It does not settle.' }] },
    }));
    expect(decodeResults(encodeResults(failed, PROGRAM), CHUNK)).toEqual(failed);
  });

  it.each(results)('that are %s are refused in one sentence', (_, message, says) => {
    const { message: sentence } = refusal(() => decodeResults(message, CHUNK));
    expect(sentence).toMatch(
      /^What a worker on the queue returned for rows 1 to 8 was refused: [^.\n]*\. Nothing of it was written\.$/,
    );
    expect(sentence).toMatch(says);
  });
});

it('trays and files of any name come back as they were asked for', () => {
  const [tray] = JSON.parse(JSON.stringify(CHUNK.rows)).map(({ spec }: { spec: object }) => spec);
  const names = ['Tray 2 / left', 'Überlauf', 'con', 'поднос', '.x'];
  const rows = readBatch(
    JSON.stringify({ trays: names.map((name) => ({ ...tray, name })) }),
    'json',
    {},
    'tray',
  );
  const formats = [{ ...DXF[0]!, extension: 'marks-do-not-cut.dxf' }];
  const [chunk] = planChunks(traysOf(rows), { formats, program: PROGRAM });
  const received = decodeChunk(JSON.parse(JSON.stringify(chunk)), PROGRAM);
  expect(received).toEqual(chunk);
  const results = instantResults(received);
  expect(results.map(({ files }) => files[0]!.name)).toEqual(
    ['Tray-2-left', 'Uberlauf', 'tray-con', 'поднос', 'x'].map((name) => `${name}.marks-do-not-cut.dxf`),
  );
  expect(decodeResults(encodeResults(results, PROGRAM), chunk!)).toEqual(results);
});

describe('a chunk from the queue', () => {
  const own = { ...nodeExporters[0]!, id: 'note', source: OTHER };
  const registry = createRegistry([...nodeExporters, own]);
  const asking = (id: string, source?: string): Chunk => ({
    ...CHUNK,
    formats: [...DXF, { id, extension: 'txt', ...(source === undefined ? {} : { source }), values: {} }],
  });

  it('with formats that this worker has is taken, whatever order its fields have', () => {
    for (const chunk of [CHUNK, asking('note', OTHER), asking('json')]) refuseOtherFormats(chunk, registry);
    const [chunk] = planChunks(traysOf(readBatch(family(1), 'json', {}, 'tray')), {
      formats: asking('note', OTHER).formats,
      program: PROGRAM,
    });
    const shuffled = JSON.parse(JSON.stringify(chunk));
    shuffled.formats = shuffled.formats.map(({ id, source, ...rest }: Rows) => ({ ...rest, source, id }));
    expect(decodeChunk(shuffled, PROGRAM)).toEqual(chunk);
  });

  it.each([
    [
      'a format that this worker does not have',
      asking('stations', OTHER),
      'does not have the format stations;',
    ],
    ['a format that is built in nowhere', asking('stations'), 'does not have the format stations;'],
    [
      'a format of another state of its module',
      asking('note', PROGRAM),
      'has the format note from another state',
    ],
    ['a format that is built in here', asking('json', PROGRAM), 'has the format json from another state'],
  ])('with %s is left to others', (_, chunk, says) => {
    let error: unknown;
    try {
      refuseOtherFormats(chunk, registry);
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(RefusedChunk);
    expect((error as RefusedChunk).forOthers).toBe(true);
    expect((error as RefusedChunk).message).toMatch(/^this worker [^.\n]*\.$/);
    expect((error as RefusedChunk).message).toContain(says);
  });

  const sent = (): Rows => JSON.parse(JSON.stringify(CHUNK));
  const refusal = (data: unknown): RefusedChunk => {
    let error: unknown;
    try {
      decodeChunk(data, PROGRAM);
    } catch (thrown) {
      error = thrown;
    }
    expect(error).toBeInstanceOf(RefusedChunk);
    return error as RefusedChunk;
  };
  const altered = (change: (chunk: Rows) => unknown): unknown => {
    const chunk = sent();
    change(chunk);
    return chunk;
  };

  it('of this program is taken as it was sent', () => {
    expect(decodeChunk(sent(), PROGRAM)).toEqual(CHUNK);
  });

  it('of another program is left to others, whatever else it says', () => {
    for (const data of [
      altered((chunk) => {
        chunk.program = OTHER;
      }),
      { program: OTHER, rows: 'other' },
    ]) {
      const { message, forOthers } = refusal(data);
      expect(message).toContain('another version of gatherpan');
      expect(forOthers).toBe(true);
    }
  });

  it.each<[string, unknown]>([
    ['nothing', undefined],
    ['a text', 'chunk'],
    [
      'no rows',
      altered((chunk) => {
        chunk.rows = [];
      }),
    ],
    [
      'more rows than a chunk has',
      altered((chunk) => {
        chunk.rows = Array(33).fill(chunk.rows[0]);
      }),
    ],
    [
      'a further field',
      altered((chunk) => {
        chunk.modules = ['./mine.js'];
      }),
    ],
    [
      'a tray that is none',
      altered((chunk) => {
        chunk.rows[0].spec = { name: 'x' };
      }),
    ],
    [
      'a name with a folder',
      altered((chunk) => {
        chunk.rows[0].spec.name = '../x';
      }),
    ],
    [
      'a tray beyond the limits',
      altered((chunk) => {
        chunk.rows[0].spec.plan.length = 1e9;
      }),
    ],
    [
      'a tray that is not complete',
      altered((chunk) => {
        delete chunk.rows[0].spec.cut;
      }),
    ],
    [
      'the tray of another row',
      altered((chunk) => {
        chunk.rows[0].spec = chunk.rows[1].spec;
      }),
    ],
    [
      'a key that is reckoned otherwise',
      altered((chunk) => {
        chunk.rows[3].key = chunk.rows[2].key;
      }),
    ],
    [
      'an ending with a folder',
      altered((chunk) => {
        chunk.formats[0].extension = 'dxf/../x';
      }),
    ],
    [
      'another setting of its format',
      altered((chunk) => {
        chunk.formats[0].values.cutOnly = true;
      }),
    ],
    [
      'a limit that is none',
      altered((chunk) => {
        chunk.limit = -1;
      }),
    ],
  ])('that is %s is refused for good, in one sentence', (_, data) => {
    const { message, forOthers } = refusal(data);
    expect(message).toMatch(/^A chunk on the queue was refused: [^.\n]*\.$/);
    expect(forOthers).toBe(false);
  });
});
