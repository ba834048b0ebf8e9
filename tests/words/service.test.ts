/** What the service says is wrong comes from the table of words. */
import { request } from 'node:http';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import { createPool } from '../../src/server/pool.ts';
import { PROBLEM_CODES } from '../../src/server/problem.ts';
import { startServer } from '../../src/server/server.ts';
import { english } from '../../src/words/english.ts';
import { speak } from '../../src/words/language.ts';
import {
  type Problem,
  postFile,
  postTray,
  problem,
  service,
  type TestService,
  tray,
} from '../server/service.ts';
import { pseudo } from './pseudoLanguage.ts';

const WORKER = new URL('./pseudoWorker.mjs', import.meta.url);

let before: typeof english;
let running: TestService;
beforeAll(async () => {
  before = speak(pseudo);
  running = await service(
    {
      trayBytes: 20_000,
      tableBytes: 20_000,
      tableRows: 3,
      drawingBytes: 20_000,
      solidBytes: 30_000,
    },
    { workerFile: WORKER },
  );
});
afterAll(async () => {
  speak(before);
  await running?.stop();
  expect(running?.faults).toEqual([]);
});

const untranslated = ({ title, detail }: Pick<Problem, 'title' | 'detail'>): string[] =>
  [title, detail].filter((text) => text === '' || /[A-Za-z]/.test(text));

const json = { 'Content-Type': 'application/json' };
const form = (body: string, boundary = 'b') => ({
  method: 'POST',
  headers: { 'Content-Type': `multipart/form-data; boundary=${boundary}` },
  body,
});
const part = (name: string, content: string, file = '; filename="x"'): string =>
  `--b\r\nContent-Disposition: form-data; name="${name}"${file}\r\n\r\n${content}\r\n`;

/** What is asked, by the code of the problem that answers it. */
const asked: readonly (readonly [code: string, what: string, ask: (url: string) => Promise<Response>])[] = [
  ['NO_SUCH_ADDRESS', 'an address there is not', (url) => fetch(`${url}/api/nosuch`)],
  ['METHOD', 'another method', (url) => fetch(`${url}/api/preview`)],
  ['METHOD', 'another method, where two are taken', (url) => fetch(`${url}/api/about`, { method: 'PUT' })],
  ['BAD_INPUT', 'a broken escape', (url) => postTray(`${url}/api/files/%zz`)],
  [
    'REFUSED',
    'from another site',
    (url) => fetch(`${url}/api/check`, { method: 'POST', headers: { 'Sec-Fetch-Site': 'cross-site' } }),
  ],
  ['MEDIA_TYPE', 'another type', (url) => fetch(`${url}/api/check`, { method: 'POST', body: '{}' })],
  [
    'MEDIA_TYPE',
    'compressed',
    (url) =>
      fetch(`${url}/api/check`, {
        method: 'POST',
        body: '{}',
        headers: { ...json, 'Content-Encoding': 'gzip' },
      }),
  ],
  ['TOO_LARGE', 'a large body', (url) => postTray(`${url}/api/check`, `"${'x'.repeat(30_000)}"`)],
  ['BAD_INPUT', 'an empty body', (url) => postTray(`${url}/api/check`, '')],
  ['BAD_INPUT', 'no JSON', (url) => postTray(`${url}/api/check`, '{')],
  [
    'BAD_INPUT',
    'bytes that are no text',
    (url) => fetch(`${url}/api/check`, { method: 'POST', headers: json, body: new Uint8Array([0xff, 0xff]) }),
  ],
  [
    'BAD_INPUT',
    'a field out of range',
    (url) => postTray(`${url}/api/check`, tray({ sheet: { material: 'DC04', thickness: -1 } })),
  ],
  [
    'NO_FLAT',
    'a file of a tray without a flat',
    (url) =>
      postTray(
        `${url}/api/files/dxf`,
        tray({
          plan: { length: 200, width: 100, cornerRadius: 8 },
          section: { bottomRadius: 8, height: 120 },
          sheet: { material: 'DC04', thickness: 1 },
        }),
      ),
  ],
  ['NOT_FOUND', 'a format there is not', (url) => postTray(`${url}/api/files/nosuch`)],
  ['BAD_INPUT', 'a setting there is not', (url) => postTray(`${url}/api/files/dxf?nosuch=1`)],
  ['BAD_INPUT', 'a parameter there is not', (url) => postTray(`${url}/api/archive?nosuch=1`)],
  [
    'BAD_INPUT',
    'a parameter there is not, where one is known',
    (url) => postFile(`${url}/api/table/archive?nosuch=1`, 'name\nx'),
  ],
  ['BAD_INPUT', 'a parameter twice', (url) => postTray(`${url}/api/archive?quantity=1&quantity=2`)],
  ['BAD_INPUT', 'a wrong quantity', (url) => postTray(`${url}/api/archive?quantity=many`)],
  ['BAD_INPUT', 'no formats', (url) => postFile(`${url}/api/table/archive?formats=`, 'name\nx')],
  ['BAD_INPUT', 'a tray where a table is taken', (url) => postFile(`${url}/api/table`, '{}')],
  ['BAD_INPUT', 'a tray where a solid is taken', (url) => postFile(`${url}/api/part/files/dxf`, '{}')],
  [
    'BAD_INPUT',
    'a base that is no tray',
    (url) => postFile(`${url}/api/table`, 'name,plan.length\nx,1', 'x.csv', { base: '[]' }),
  ],
  [
    'TOO_LARGE',
    'too many rows',
    (url) => postFile(`${url}/api/table`, `name\n${'x\n'.repeat(4)}`.replaceAll('\n', ',plan.length\n')),
  ],
  [
    'BAD_INPUT',
    'a table that is no text',
    (url) => postFile(`${url}/api/table`, new Uint8Array([0x61, 0x2c, 0xff, 0x0a, 0x62])),
  ],
  [
    'NOT_MAKEABLE',
    'a table of bad rows',
    (url) => postFile(`${url}/api/table/archive`, 'name,plan.length\nx,-1'),
  ],
  ['BAD_INPUT', 'an empty file', (url) => postFile(`${url}/api/upload`, '')],
  ['BAD_INPUT', 'an archive', (url) => postFile(`${url}/api/upload`, 'PK\x03\x04')],
  ['BAD_INPUT', 'a compressed file', (url) => postFile(`${url}/api/upload`, new Uint8Array([0x1f, 0x8b, 8]))],
  ['BAD_INPUT', 'UTF-16', (url) => postFile(`${url}/api/upload`, new Uint8Array([0xff, 0xfe, 0x7b, 0]))],
  ['BAD_INPUT', 'no text', (url) => postFile(`${url}/api/upload`, 'a\0b')],
  ['BAD_INPUT', 'nothing but space', (url) => postFile(`${url}/api/upload`, ' \n ')],
  ['BAD_INPUT', 'no kind that is known', (url) => postFile(`${url}/api/upload`, 'hello')],
  ['TOO_LARGE', 'a large upload', (url) => postFile(`${url}/api/upload`, 'x'.repeat(90_000))],
  ['TOO_LARGE', 'a large tray', (url) => postFile(`${url}/api/upload`, `{${' '.repeat(25_000)}`)],
  ['TOO_LARGE', 'a large table', (url) => postFile(`${url}/api/upload`, `a,b\n${'1,2\n'.repeat(6_000)}`)],
  [
    'TOO_LARGE',
    'a large drawing',
    (url) => postFile(`${url}/api/upload`, `0\nSECTION\n${'0\n'.repeat(12_000)}`),
  ],
  [
    'TOO_LARGE',
    'a large solid',
    (url) => postFile(`${url}/api/upload`, `ISO-10303-21;${' '.repeat(31_000)}`),
  ],
  ['MEDIA_TYPE', 'no form', (url) => postTray(`${url}/api/upload`)],
  [
    'BAD_INPUT',
    'a form without boundary',
    (url) =>
      fetch(`${url}/api/upload`, {
        method: 'POST',
        headers: { 'Content-Type': 'multipart/form-data; charset=x' },
        body: 'x',
      }),
  ],
  [
    'BAD_INPUT',
    'another field',
    (url) => fetch(`${url}/api/upload`, form(`${part('other', '{}')}--b--\r\n`)),
  ],
  ['BAD_INPUT', 'no file', (url) => fetch(`${url}/api/upload`, form(`${part('base', '{}', '')}--b--\r\n`))],
  ['BAD_INPUT', 'a form that ends too early', (url) => fetch(`${url}/api/upload`, form(part('file', '{}')))],
  [
    'BAD_INPUT',
    'two files',
    (url) => fetch(`${url}/api/upload`, form(`${part('file', '{}')}${part('file', '{}')}--b--\r\n`)),
  ],
  [
    'TOO_LARGE',
    'a long field',
    (url) => fetch(`${url}/api/upload`, form(`${part('base', 'x'.repeat(25_000), '')}--b--\r\n`)),
  ],
];

describe('what the service refuses', () => {
  test.each(asked)('%s: %s', async (code, _what, ask) => {
    const found = await problem(await ask(running.url));
    expect(found.code).toBe(code);
    expect(untranslated(found)).toEqual([]);
  });

  test('a host name that is not its own', async () => {
    const { hostname, port } = new URL(running.url);
    const body = await new Promise<string>((resolve) => {
      request({ hostname, port, path: '/', headers: { Host: 'other.example' } }, async (response) => {
        let text = '';
        for await (const chunk of response) text += chunk;
        resolve(text);
      }).end();
    });
    expect(JSON.parse(body).status).toBe(421);
    expect(untranslated(JSON.parse(body))).toEqual([]);
  });

  test.each([
    ['malformed', 'nonsense\r\n\r\n'],
    ['with large headers', `GET / HTTP/1.1\r\nHost: localhost\r\nX: ${'x'.repeat(20_000)}\r\n\r\n`],
  ])('a request that is %s', async (_what, bytes) => {
    const { hostname, port } = new URL(running.url);
    const text = await new Promise<string>((resolve) => {
      let all = '';
      const socket = connect(Number(port), hostname, () => socket.write(bytes));
      socket.on('data', (chunk) => {
        all += chunk;
      });
      socket.on('close', () => resolve(all));
    });
    expect(untranslated(JSON.parse(text.slice(text.indexOf('\r\n\r\n'))))).toEqual([]);
  });

  test('more than it has room or time for', async () => {
    const small = await service(
      { waiting: 0, tables: 0, uploadMemory: 10, requestsPerMinute: 4, leaveTime: 1 },
      { workerFile: WORKER },
    );
    try {
      const found = [
        await problem(await postFile(`${small.url}/api/table`, 'a,b\n1,2')),
        await problem(await postFile(`${small.url}/api/upload`, JSON.stringify(tray()))),
      ];
      const [one, other] = await Promise.all([1, 2].map(() => postTray(`${small.url}/api/preview`)));
      found.push(
        await problem(one!.ok ? other! : one!),
        await problem(await postTray(`${small.url}/api/preview`)),
      );
      expect(found.map(({ code }) => code)).toEqual(['BUSY', 'BUSY', 'BUSY', 'TOO_MANY']);
      expect(found.flatMap(untranslated)).toEqual([]);
    } finally {
      await small.stop();
    }
  });

  test('a job that takes too long, one that waits too long, and one that is stopped', async () => {
    const pool = createPool(
      { threads: 1, waiting: 1, waitTime: 5, jobTime: 30, jobMemory: 64, abandonedTime: 10 },
      new URL('../server/slowWorker.mjs', import.meta.url),
      { warm: false },
    );
    const spin = (signal: AbortSignal): Promise<unknown> =>
      pool
        .run<'file'>({ kind: 'file', tray: new Uint8Array(), format: 'spin-400', values: {} }, signal)
        .catch((error) => error);
    const stopped = AbortSignal.abort();
    const never = new AbortController().signal;
    const [late, waited, gone] = await Promise.all([spin(never), spin(never), spin(stopped)]);
    await pool.close();
    for (const [error, code] of [
      [late, 'TIMEOUT'],
      [waited, 'BUSY'],
      [gone, 'CANCELLED'],
    ] as const) {
      expect(error).toBeInstanceOf(GatherpanError);
      expect((error as GatherpanError).code).toBe(code);
      expect((error as GatherpanError).message).not.toMatch(/[A-Za-z]/);
    }
  });

  test('an address that it cannot listen at', async () => {
    const error = await startServer({
      version: '1',
      port: Number(new URL(running.url).port),
      workerFile: WORKER,
      warm: false,
      limits: { threads: 1 },
    }).catch((reason: unknown) => reason);
    expect((error as GatherpanError).code).toBe('BAD_INPUT');
    expect((error as GatherpanError).message).not.toMatch(/[A-Za-z]/);
  });
});

describe('what the service answers', () => {
  test('formats and sheets have their words from the table', async () => {
    const formats = await (await fetch(`${running.url}/api/formats`)).json();
    const sheets = await (await fetch(`${running.url}/api/sheets`)).json();
    const texts = [
      ...formats.flatMap(({ label, parameters }: { label: string; parameters: { help: string }[] }) => [
        label,
        ...parameters.map(({ help }) => help),
      ]),
      ...sheets.flatMap(({ title, anneal }: { title: string; anneal: { cue: string } }) => [
        title,
        anneal.cue,
      ]),
    ];
    expect(texts.length).toBeGreaterThan(60);
    expect(texts.filter((text) => /[A-Za-z]/.test(text))).toEqual([]);
  });

  test('so has the order note of an archive', async () => {
    const { default: JSZip } = await import('jszip');
    const answer = await postTray(`${running.url}/api/archive?formats=dxf`);
    const zip = await JSZip.loadAsync(await answer.arrayBuffer());
    const note = await zip.file('seedling-tray-order-note.txt')!.async('string');
    // Names of files, layers and the tray stay.
    const rest = note.replace(
      /seedling-tray[\w.-]*|manifest\.\w+|\b(?:CUT|SCRIBE|GATHER|TUCKS|GRAIN|TEXT|mm)\b/g,
      '',
    );
    expect(note.length).toBeGreaterThan(800);
    expect(rest.match(/.*[A-Za-z].*/g)).toBeNull();
  });

  test('every code of a problem has a title, and a sentence on the page of codes', () => {
    expect(Object.keys(english.messages.server.titles)).toEqual(PROBLEM_CODES);
    expect(Object.keys(english.page.problems.codes).sort()).toEqual([...PROBLEM_CODES].sort());
  });
});
