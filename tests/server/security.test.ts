/** What hostile or unlucky clients do: too much, too slow, too little, the wrong thing. Nothing may crash. */
import { createConnection } from 'node:net';
import { gzipSync } from 'node:zlib';
import { parse } from 'csv-parse/sync';
import JSZip from 'jszip';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fileStem, trayNameFrom } from '../../src/fileName.ts';
import { failedTray, manifestCsv } from '../../src/jobs/manifest.ts';
import { archiveOf } from '../../src/jobs/zip.ts';
import { kindOf } from '../../src/server/sniff.ts';
import { LONG } from '../support/long.ts';
import { postFile, postTray, problem, service, type TestService, tray, until } from './service.ts';

let running: TestService;
let url: string;
beforeAll(async () => {
  running = await service({
    headersTime: 700,
    requestTime: 1_200,
    solidBytes: 3_000_000,
    drawingBytes: 2_000_000,
  });
  url = running.url;
});
afterAll(async () => {
  await running.stop();
  expect(running.faults).toEqual([]);
});

const alive = async (): Promise<void> => {
  expect((await postTray(`${url}/api/preview`)).status).toBe(200);
};

/** What a raw connection is answered until it is closed; `pieces` are sent with a pause between them. */
function raw(pieces: Iterable<string>, pause = 0): Promise<string> {
  return new Promise((resolve) => {
    const { port, hostname } = new URL(url);
    const socket = createConnection(Number(port), hostname);
    let answer = '';
    socket.on('data', (chunk) => {
      answer += chunk.toString('latin1');
    });
    socket.on('error', () => {});
    socket.on('close', () => resolve(answer));
    void (async () => {
      for (const piece of pieces) {
        if (socket.destroyed) return;
        socket.write(piece, 'latin1');
        await new Promise((next) => setTimeout(next, pause));
      }
    })();
  });
}

const host = (): string => new URL(url).host;

describe('headers', () => {
  test.each(['/', '/api/sheets', '/api/nothing'])('of %s', async (path) => {
    const { headers } = await fetch(url + path);
    const policy = headers.get('content-security-policy')!;
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("frame-ancestors 'none'");
    // What the solver needs: WebAssembly, in threads whose address one policy names.
    expect(policy).toContain("script-src 'self' 'wasm-unsafe-eval';");
    expect(policy).toContain("worker-src 'self';");
    expect(policy).toContain('trusted-types gatherpan');
    expect(policy.replace("'wasm-unsafe-eval'", '')).not.toMatch(/unsafe|\*|data:|https?:/);
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
    expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
    expect(headers.get('x-powered-by')).toBeNull();
    expect(headers.get('access-control-allow-origin')).toBeNull();
  });
});

describe('other sites', () => {
  test('a foreign host name is refused (DNS rebinding)', async () => {
    const answer = await raw([
      'GET /api/health HTTP/1.1\r\nHost: elsewhere.example:80\r\nConnection: close\r\n\r\n',
    ]);
    expect(answer).toMatch(/^HTTP\/1\.1 421 /);
  });

  test('what a page of another site sends is refused', async () => {
    const response = await postTray(`${url}/api/preview`, tray(), {
      headers: { 'Content-Type': 'application/json', 'Sec-Fetch-Site': 'cross-site' },
    });
    expect(await problem(response)).toMatchObject({ status: 403, code: 'REFUSED' });
  });
});

describe('too much', () => {
  test('a tray file over 1 MB', async () => {
    const response = await postTray(`${url}/api/preview`, ' '.repeat(1_000_001));
    expect(await problem(response)).toMatchObject({ status: 413, code: 'TOO_LARGE' });
  });

  test('an upload whose declared size is over every limit', async () => {
    const response = await postFile(`${url}/api/upload`, new Uint8Array(6_000_000));
    expect(await problem(response)).toMatchObject({ status: 413, code: 'TOO_LARGE' });
  });

  test.each([
    ['tray file', `{"name":"${'x'.repeat(1_000_100)}"}`],
    ['table of sizes', `name,plan.length\n${'a,1\n'.repeat(260_000)}`],
    ['drawing', `0\nSECTION\n${'0\nLINE\n'.repeat(300_000)}`],
    ['solid', `ISO-10303-21;\n${'#1=X();\n'.repeat(400_000)}`],
  ])('a %s over the limit of its kind', async (kind, content) => {
    const found = await problem(await postFile(`${url}/api/upload`, content));
    expect(found).toMatchObject({ status: 413, code: 'TOO_LARGE' });
    expect(found.detail).toContain(kind);
  });

  test('more rows than are taken', async () => {
    const rows = Array.from({ length: 501 }, (_, i) => `r${i},240`).join('\n');
    const found = await problem(
      await postFile(`${url}/api/table`, `name,plan.length\n${rows}\n`, 's.csv', {
        base: JSON.stringify(tray()),
      }),
    );
    expect(found).toMatchObject({ status: 413, code: 'TOO_LARGE' });
  });

  test('many files, many fields, a foreign field', async () => {
    const files = new FormData();
    files.append('file', new Blob(['{}']), 'a.json');
    files.append('file', new Blob(['{}']), 'b.json');
    const fields = new FormData();
    for (let i = 0; i < 50; i++) fields.append(`f${i}`, 'x');
    const foreign = new FormData();
    foreign.append('other', new Blob(['{}']), 'a.json');
    const none = new FormData();
    none.append('base', '{}');
    for (const body of [files, fields, foreign, none]) {
      const response = await fetch(`${url}/api/upload`, { method: 'POST', body });
      expect(await problem(response)).toMatchObject({ status: 422, code: 'BAD_INPUT' });
    }
  });

  test('headers of 32 kB', async () => {
    const answer = await raw([`GET / HTTP/1.1\r\nHost: ${host()}\r\nX-Long: ${'x'.repeat(32_000)}\r\n\r\n`]);
    expect(answer).toMatch(/^HTTP\/1\.1 431 .*\r\n[\s\S]*application\/problem\+json/);
  });

  test('a deeply nested tray file', async () => {
    const deep = `${'[['.repeat(120_000)}${']]'.repeat(120_000)}`;
    for (const body of [
      deep,
      `{"plan":${deep}}`,
      `{"name":${'{"a":'.repeat(100_000)}1${'}'.repeat(100_000)}}`,
    ]) {
      expect(await problem(await postTray(`${url}/api/preview`, body))).toMatchObject({ status: 422 });
    }
    await alive();
  });

  test('keys that would change what objects inherit', async () => {
    const body = `{"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},${JSON.stringify(tray()).slice(1)}`;
    expect((await postTray(`${url}/api/preview`, body)).status).toBe(422);
    const table = 'name,__proto__.polluted,constructor.prototype.polluted\na,1,1\n';
    expect((await postFile(`${url}/api/table`, table)).status).toBe(422);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    await alive();
  });

  test('compressed bodies are not unpacked', async () => {
    const response = await fetch(`${url}/api/preview`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'Content-Encoding': 'gzip' },
      body: gzipSync(Buffer.alloc(50_000_000, 0x20)),
    });
    expect(await problem(response)).toMatchObject({ status: 415, code: 'MEDIA_TYPE' });
  });

  test('more requests in a minute than an address may send', async () => {
    const strict = await service({ requestsPerMinute: 5 });
    try {
      const statuses: number[] = [];
      for (let i = 0; i < 8; i++) statuses.push((await fetch(`${strict.url}/api/about`)).status);
      expect(statuses).toEqual([200, 200, 200, 200, 200, 429, 429, 429]);
      const response = await fetch(`${strict.url}/api/about`);
      expect(await problem(response)).toMatchObject({ code: 'TOO_MANY' });
      expect(Number(response.headers.get('retry-after'))).toBeGreaterThan(0);
      // A balancer goes on asking, and the page itself can be had.
      expect((await fetch(`${strict.url}/api/health`)).status).toBe(200);
      expect((await fetch(strict.url)).status).toBe(200);
    } finally {
      await strict.stop();
    }
  });
});

describe('too slow', () => {
  /** Drops of a tenth of a second each: fewer than Node by itself, which waits a minute, would take. */
  const DROPS = 500;

  /** What drips in is cut off before its end. */
  async function cutOff(head: string, drop: (i: number) => string): Promise<string> {
    let sent = 0;
    const pieces = function* (): Generator<string> {
      yield head;
      for (; sent < DROPS; sent++) yield drop(sent);
    };
    const answer = await raw(pieces(), 100);
    expect(sent).toBeLessThan(DROPS);
    return answer;
  }

  test('headers that drip in', async () => {
    expect(await cutOff('GET / HTTP/1.1\r\n', (i) => `X-${i}: 1\r\n`)).toMatch(/^HTTP\/1\.1 408 /);
  });

  test('an upload that drips in', async () => {
    const head =
      `POST /api/upload HTTP/1.1\r\nHost: ${host()}\r\nContent-Type: multipart/form-data; boundary=b\r\n` +
      'Content-Length: 100000\r\n\r\n--b\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\n';
    await cutOff(head, () => '{');
    await alive();
  });
});

describe('too little', () => {
  const head = (length: number): string =>
    `POST /api/upload HTTP/1.1\r\nHost: ${host()}\r\nContent-Type: multipart/form-data; boundary=b\r\nContent-Length: ${length}\r\nConnection: close\r\n\r\n`;
  const part = '--b\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\n{"name":';

  test('an upload whose last boundary is missing', async () => {
    const answer = await raw([head(part.length) + part]);
    expect(answer).toMatch(/^HTTP\/1\.1 422 /);
    expect(answer).toContain('ends too early');
  });

  test('an upload that is broken off', async () => {
    await new Promise<void>((resolve) => {
      const { port, hostname } = new URL(url);
      const socket = createConnection(Number(port), hostname, () => {
        socket.write(head(10_000) + part);
        setTimeout(() => {
          socket.destroy();
          resolve();
        }, 50);
      });
    });
    await alive();
  });

  test.each([
    ['no boundary', 'multipart/form-data'],
    ['another type', 'text/plain'],
    ['none', ''],
  ])('a form with %s', async (_what, type) => {
    const response = await fetch(`${url}/api/upload`, {
      method: 'POST',
      body: new Uint8Array([1, 2, 3]),
      ...(type === '' ? {} : { headers: { 'Content-Type': type } }),
    });
    expect((await problem(response)).code).toMatch(/MEDIA_TYPE|BAD_INPUT/);
  });

  test('an empty body', async () => {
    expect((await problem(await postTray(`${url}/api/preview`, ''))).detail).toContain('empty');
    expect(await problem(await postFile(`${url}/api/upload`, ''))).toMatchObject({ status: 422 });
  });
});

describe('the wrong thing', () => {
  const bytes = (...list: number[]): Uint8Array<ArrayBuffer> => new Uint8Array(list);

  test.each([
    ['an archive', bytes(0x50, 0x4b, 3, 4, 20, 0, 0, 0), 'archive'],
    ['a compressed file', gzipSync('{}') as Uint8Array<ArrayBuffer>, 'compressed'],
    ['a picture', bytes(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13), 'not a text file'],
    ['UTF-16', bytes(0xff, 0xfe, 0x7b, 0), 'UTF-16'],
    ['a page', '<!doctype html><script>alert(1)</script>', 'no kind'],
    ['a vector picture', '<svg xmlns="http://www.w3.org/2000/svg" onload="x()"/>', 'no kind'],
    ['a document', '%PDF-1.7\n%âãÏÓ\n1 0 obj', 'no kind'],
    ['blanks', '   \n \n', 'no content'],
    ['a sentence', 'Please make me a tray', 'no kind'],
  ])('%s under the name of a tray file', async (_what, content, word) => {
    const found = await problem(await postFile(`${url}/api/upload`, content, 'tray.json'));
    expect(found).toMatchObject({ status: 422, code: 'BAD_INPUT' });
    expect(found.detail).toContain(word);
    expect(found.detail).toContain('tray file (JSON)');
  });

  test('bytes that are not UTF-8, and lone surrogates', async () => {
    const broken = bytes(0x7b, 0x22, 0xc3, 0x28, 0x22, 0x7d);
    expect((await problem(await postFile(`${url}/api/upload`, broken))).detail).toContain('UTF-8');
    expect((await postTray(`${url}/api/preview`, '{"name":"\\ud800"}')).status).toBe(422);
  });

  test('a kind is told from 4 kB of comments before a drawing begins', () => {
    const comments = '999\nmade by hand\n'.repeat(50);
    expect(kindOf(new TextEncoder().encode(`${comments}  0\nSECTION\n`))).toBe('drawing');
  });

  test('text made to stall a search ends soon', () => {
    // Time of the processor, which a busy machine does not add to.
    const before = process.cpuUsage();
    for (const text of [`999\n${' '.repeat(4_000)}`, '999\n\n'.repeat(800), '\n'.repeat(4_000)]) {
      expect(() => kindOf(new TextEncoder().encode(text))).toThrow(/no kind|no content/);
    }
    expect(process.cpuUsage(before).user).toBeLessThan(200_000);
  });
});

describe('names', () => {
  test('a tray gets no path from its file', () => {
    expect(trayNameFrom('../../etc/passwd')).toBe('passwd');
    expect(trayNameFrom('..\\..\\win.ini')).toBe('win');
    expect(fileStem(trayNameFrom('.hidden'))).toBe('hidden');
    expect(trayNameFrom('')).toBe('tray');
    expect(trayNameFrom('\0')).toBe('tray');
  });

  test.each(['../a', '/a', 'a/b', 'a\\b', '..', '.a', '', 'a..b', 'a\0b', 'C:a'])(
    'an archive never has the entry %j',
    async (name) => {
      await expect(archiveOf([{ name, bytes: new Uint8Array() }])).rejects.toThrow(
        'cannot be a name in an archive',
      );
    },
  );

  test('a tray name with a path leads nowhere', async () => {
    const formats = LONG ? '' : '?formats=dxf,json';
    const answer = await postTray(`${url}/api/archive${formats}`, tray({ name: '../x' }));
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-disposition')).toMatch(/filename="?x\.zip"?$/);
    const zip = await JSZip.loadAsync(await answer.arrayBuffer());
    for (const name of Object.keys(zip.files)) expect(name).toMatch(/^[a-zA-Z][a-zA-Z0-9.-]*$/);
  });

  test('cells that a spreadsheet would run are made text', () => {
    const cells = ['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1'];
    const trays = cells.map((name, i) =>
      failedTray({ row: i + 1, place: name, name, quantity: null }, 'refused', {
        code: 'BAD_INPUT',
        faults: [{ path: '', message: name }],
      }),
    );
    const text = new TextDecoder().decode(manifestCsv(trays));
    const rows = parse(text, { columns: true }) as Record<string, string>[];
    expect(rows.map(({ name }) => name)).toEqual(cells.map((cell) => `'${cell}`));
    for (const row of rows) for (const cell of Object.values(row)) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
  });
});

describe('connections', () => {
  test('that are opened and left are closed', async () => {
    const { port, hostname } = new URL(url);
    const sockets = Array.from({ length: 100 }, () => createConnection(Number(port), hostname));
    for (const socket of sockets) socket.on('error', () => {}).resume();
    await alive();
    await until(() => (sockets.every((socket) => socket.closed) ? true : undefined));
    for (const socket of sockets) socket.destroy();
    await alive();
  });
});
