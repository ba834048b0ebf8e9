/** The HTTP interface, by real requests. */
import { createHash } from 'node:crypto';
import { Validator } from '@seriousme/openapi-schema-validator';
import { parseString } from 'dxf';
import JSZip from 'jszip';
import { describe, expect, test } from 'vitest';
import { nodeExporters } from '../../src/exporters/nodeExporters.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import type { ManifestTray } from '../../src/jobs/manifest.ts';
import { listSheets, sheetDocument } from '../../src/material/sheets.ts';
import { searchChanges } from '../../src/pattern/changes.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { english } from '../../src/words/english.ts';
import { inWords } from '../../src/words/statement.ts';
import { loopArea, loopLength } from '../exporters/loopGeometry.ts';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { circle, dxf, line } from '../support/drawnTags.ts';
import { LONG } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { commonService } from './common.ts';
import { json, postFile, postTray, problem, service, tray } from './service.ts';

const { url } = await commonService();

describe('what is served', () => {
  test('health and readiness', async () => {
    expect(await json(fetch(`${url}/api/health`))).toEqual({ status: 'ok' });
    expect((await fetch(`${url}/api/ready`)).status).toBe(200);
  });

  test('the sheets, as the table has them', async () => {
    expect(await json(fetch(`${url}/api/sheets`))).toEqual(
      JSON.parse(JSON.stringify(listSheets().map((sheet) => sheetDocument(sheet, english)))),
    );
  });

  test('the formats with their parameters, as the exporters declare them', async () => {
    const formats = await json(fetch(`${url}/api/formats`));
    expect(formats.map((format: { id: string }) => format.id)).toEqual(nodeExporters.map(({ id }) => id));
    expect(formats[0].parameters).toEqual(nodeExporters[0]!.parameters);
  });

  test('the page and its parts, from this host alone', async () => {
    const page = await (await fetch(url)).text();
    expect(page).toContain('<title>gatherpan');
    const parts = [...page.matchAll(/(?:src|href)="([^"#]+)"/g)].map((match) => match[1]!);
    expect(parts.length).toBeGreaterThan(4);
    for (const part of parts) {
      expect(part).not.toMatch(/^(https?:)?\/\//);
      expect((await fetch(`${url}/${part}`)).status).toBe(200);
    }
    expect((await fetch(`${url}/problems.html`)).status).toBe(200);
  });

  test('every kind of refusal is explained on the page its type leads to', async () => {
    const page = await (await fetch(`${url}/problems.html`)).text();
    const { components } = await json(fetch(`${url}/api/openapi.json`));
    for (const code of components.schemas.Problem.properties.code.enum)
      expect(page).toContain(`id="${code}"`);
  });
});

describe('the description of the interface', () => {
  test('is valid OpenAPI', async () => {
    const document = await json(fetch(`${url}/api/openapi.json`));
    const found = await new Validator().validate(document);
    expect(found.errors ?? []).toEqual([]);
    expect(found.valid).toBe(true);
  });

  test('names every address the app answers at, and none it does not', async () => {
    const { paths } = await json(fetch(`${url}/api/openapi.json`));
    for (const [path, methods] of Object.entries(paths)) {
      const address = url + path.replace('{format}', 'dxf');
      for (const method of ['get', 'post']) {
        const response = await fetch(address, { method: method.toUpperCase() });
        await response.arrayBuffer();
        if (method in (methods as object))
          expect([404, 405], `${method} ${path}`).not.toContain(response.status);
        else expect(response.status, `${method} ${path}`).toBe(405);
      }
    }
  });
});

describe('a tray', () => {
  test('preview has the figures of the library', async () => {
    const response = await postTray(`${url}/api/preview`);
    expect(response.status).toBe(200);
    const shown = await json(response);
    const { report, gather } = solved(readTray(tray()));
    // The last digits may differ: a thread reuses the order in which it solved a tray before.
    for (const key of ['length', 'width', 'area', 'mass', 'cutLength'] as const) {
      expect(shown.figures.blank[key] / report.blank[key]).toBeCloseTo(1, 9);
    }
    expect(shown.figures.corners.length).toBe(report.corners.length);
    for (const [i, corner] of report.corners.entries()) {
      expect(shown.figures.corners[i].rimToLose).toBeCloseTo(corner.rimToLose!, 6);
    }
    expect(shown.verdict.word).toBe(gather.verdict.word);
    expect(shown.tray).toEqual(readTray(tray()));
    for (const picture of Object.values(shown.pictures)) expect(picture).toMatch(/^(<\?xml[^>]*>\s*)?<svg /);
  });

  test('the changes that would turn the verdict are those of the library, and do turn it', async () => {
    const asked = tray({ section: { bottomRadius: 15, height: 33 }, forming: { trim: 0 } });
    const { cautions, ...found } = await json(postTray(`${url}/api/changes`, asked));
    expect(found).toEqual(JSON.parse(JSON.stringify(inWords(searchChanges(readTray(asked)), english))));
    // A lower wall is made up by a strip that is welded on.
    expect(found.changes.map(({ about }: { about: string }) => about)).toContain('height');
    expect(cautions.join(' ')).toContain('Welding fume');
    expect(found.verdict).not.toBe('can be worked');
    for (const change of found.changes) expect(change.verdict).not.toBe(found.verdict);
  });

  test('check completes it without solving', async () => {
    expect(await json(postTray(`${url}/api/check`))).toEqual(readTray(tray()));
  });

  /** Every format in the long form, else the first of each kind of file: all go the same way. */
  const formats = nodeExporters.filter(
    ({ mediaType }, i) => LONG || nodeExporters.findIndex((other) => other.mediaType === mediaType) === i,
  );

  test.each(formats.map((exporter) => [exporter.id, exporter] as const))(
    'file %s has the bytes of the library',
    async (id, exporter) => {
      const response = await postTray(`${url}/api/files/${id}`);
      expect(response.status).toBe(200);
      expect(response.headers.get('content-type')).toContain(exporter.mediaType);
      expect(response.headers.get('content-disposition')).toContain(`seedling-tray.${exporter.extension}`);
      const bytes = new Uint8Array(await response.arrayBuffer());
      const pattern = solved(readTray(tray()));
      const expected = await exporter.write(pattern, createRegistry([exporter]).values(exporter, {}));
      expect(Buffer.from(bytes).equals(expected)).toBe(true);
    },
  );

  test('the drawing, read by another program, has the size of the report', async () => {
    const bytes = await (await postTray(`${url}/api/files/dxf`)).arrayBuffer();
    const { blank } = (await json(postTray(`${url}/api/preview`))).figures;
    const { unit, loops } = readWithDxfParser(new Uint8Array(bytes));
    expect(unit).toBe('mm');
    expect(loops.length).toBe(1);
    expect(loops[0]!.closed).toBe(true);
    // Area and length of lines and arcs by formula (see loopGeometry.ts); the file has limited digits.
    expect(loopArea(loops[0]!.vertices) / blank.area).toBeCloseTo(1, 6);
    expect(loopLength(loops[0]!.vertices) / blank.cutLength).toBeCloseTo(1, 6);
  });

  test('a drawing with marks has a name that says not to cut it', async () => {
    const response = await postTray(`${url}/api/files/dxf?marks=scribe,text`);
    expect(response.headers.get('content-disposition')).toContain('seedling-tray.marks-do-not-cut.dxf');
    expect(response.headers.get('gatherpan-notes')).toBeNull();
    const named = await postTray(`${url}/api/files/dxf?marks=scribe&fileName=Tray`);
    expect(named.headers.get('content-disposition')).toContain('Tray.marks-do-not-cut.dxf');
    for (const each of [response, named]) await each.arrayBuffer();
  });

  test('a setting of version 0.1 is taken, with a note on what to set instead', async () => {
    const response = await postTray(`${url}/api/files/dxf?text=none`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-disposition')).toContain('seedling-tray.dxf');
    expect(decodeURIComponent(response.headers.get('gatherpan-notes')!)).toContain('dxf.marks=scribe,grain ');
    const layers = parseString(await response.text()).entities.map(({ layer }) => layer);
    expect(new Set(layers)).toEqual(new Set(['CUT', 'SCRIBE', 'GRAIN']));
  });

  test('the archive holds what its manifest says, and an order note that tells what to cut', async () => {
    const response = await postTray(`${url}/api/archive?formats=dxf,json,gauges-dxf&quantity=12`);
    expect(response.headers.get('content-type')).toContain('application/zip');
    const zip = await JSZip.loadAsync(await response.arrayBuffer());
    const manifest = JSON.parse(await zip.file('manifest.json')!.async('string'));
    const [entry] = manifest.trays;
    expect(entry.files.length).toBe(6);
    for (const { name, size, sha256 } of entry.files) {
      const content = await zip.file(name)!.async('uint8array');
      expect(content.length).toBe(size);
      expect(createHash('sha256').update(content).digest('hex')).toBe(sha256);
    }
    const note = await zip.file('seedling-tray-order-note.txt')!.async('string');
    expect(note).toContain('12 pieces');
    expect(note).toContain(
      `${entry.figures.blankLength.toFixed(1)} x ${entry.figures.blankWidth.toFixed(1)} mm`,
    );
    for (const word of ['DC04', 'Kerf', 'Grain', 'inside of the tray', 'sharp']) expect(note).toContain(word);
    for (const line of [/^Date +_{20,}$/m, /^Revision +_{20,}$/m, /^Contact +_{20,}$/m])
      expect(note).toMatch(line);
    expect(note).toMatch(/^Tolerance +We ask for ISO 9013, tolerance class 1/m);
    expect(note).toMatch(/^Edge finish +As cut, free of burr/m);
    expect(Math.max(...note.split('\n').map((line) => line.length))).toBeLessThanOrEqual(78);
    // Each file stands under one title, and layers only where the drawing has them, as another program reads it.
    const under = (title: string): string =>
      note.split('\n\n').find((text) => text.startsWith(`${title}\n`))!;
    const layers = async (name: string): Promise<Set<string>> =>
      new Set(parseString(await zip.file(name)!.async('string')).entities.map(({ layer }) => layer));
    expect(under('To be cut')).toContain('seedling-tray.cut.dxf');
    expect(await layers('seedling-tray.cut.dxf')).toEqual(new Set(['CUT']));
    expect(under('Not to be cut')).toContain('seedling-tray.marks-do-not-cut.dxf');
    const marked = await layers('seedling-tray.marks-do-not-cut.dxf');
    expect(marked).toEqual(new Set(['CUT', 'SCRIBE', 'GRAIN', 'TEXT']));
    for (const layer of ['SCRIBE', 'GATHER', 'TUCKS', 'GRAIN', 'TEXT']) {
      expect(under('To be cut')).not.toContain(layer);
      expect(under('Not to be cut').includes(`  ${layer} `)).toBe(marked.has(layer));
    }
    expect(under('Other files, not part of this order')).toContain('seedling-tray.gauges.dxf');
    expect(under('Other files, not part of this order')).not.toContain('cut.dxf');
    const file = JSON.parse(await zip.file('seedling-tray-tray.json')!.async('string'));
    expect(readTray(file)).toEqual(readTray(tray()));
  });

  test('the same tray gives the same archive, byte for byte', async () => {
    const bytes = async (asked = tray()): Promise<Buffer> =>
      Buffer.from(await (await postTray(`${url}/api/archive?formats=dxf`, asked)).arrayBuffer());
    const first = await bytes();
    // Another tray in between, so that the second time is a solve of its own.
    expect((await bytes(tray({ forming: { trim: 5 } }))).equals(first)).toBe(false);
    expect((await bytes()).equals(first)).toBe(true);
  });
});

describe('names of downloads (RFC 6266, RFC 8187)', () => {
  const name = async (wanted: string): Promise<string> => {
    const response = await postTray(`${url}/api/files/dxf?fileName=${encodeURIComponent(wanted)}`);
    await response.arrayBuffer();
    const header = response.headers.get('content-disposition')!;
    expect(header).toMatch(/^attachment; filename/);
    // The header itself must be ASCII.
    expect(header).toMatch(/^[ -~]+$/);
    const extended = /filename\*=UTF-8''([^;]+)/.exec(header);
    return extended ? decodeURIComponent(extended[1]!) : /filename="?([^";]+)"?/.exec(header)![1]!;
  };

  test('any letters', async () => {
    expect(await name('Töpferbank-Schale größer')).toBe('Töpferbank-Schale größer.dxf');
    expect(await name('植木鉢の受け皿')).toBe('植木鉢の受け皿.dxf');
  });

  test('no folders, no signs that do not show, no foreign ending', async () => {
    expect(await name('../../etc/passwd')).toBe('passwd.dxf');
    expect(await name('C:\\temp\\tray.exe')).toBe('tray.dxf');
    expect(await name('a\r\nSet-Cookie: x=1')).toBe('aSet-Cookie x=1.dxf');
    expect(await name('\u202etxt.exe')).toBe('txt.dxf');
    expect(await name('...')).toBe('tray.dxf');
    expect(await name('CON')).toBe('tray.dxf');
    expect((await name('x'.repeat(500))).length).toBeLessThan(120);
  });
});

describe('refusals', () => {
  test('a wrong value is told with its field, in words', async () => {
    const response = await postTray(
      `${url}/api/preview`,
      tray({ section: { bottomRadius: 'abc', height: 22 } }),
    );
    expect(response.status).toBe(422);
    const found = await problem(response);
    expect(found.code).toBe('BAD_INPUT');
    expect(found.errors).toEqual([
      {
        path: 'section.bottomRadius',
        pointer: '#/section/bottomRadius',
        detail: expect.stringMatching(/^section\.bottomRadius is "abc"; give a number/),
      },
    ]);
    expect(found.type).toBe('/problems.html#BAD_INPUT');
  });

  test('an unknown material is told with the nearest names', async () => {
    const response = await postTray(
      `${url}/api/preview`,
      tray({ sheet: { material: 'DC4', thickness: 1, grain: 0 } }),
    );
    const found = await problem(response);
    expect(found.errors[0]).toMatchObject({ path: 'sheet.material' });
    expect(found.detail).toContain('DC04');
  });

  test('text that is not JSON is told with its place', async () => {
    const found = await problem(await postTray(`${url}/api/preview`, '{"name": }'));
    expect(found.status).toBe(422);
    expect(found.detail).toMatch(/not JSON.*line 1/);
  });

  test.each([
    ['an unknown address', 'GET', '/api/nothing', 404, 'NO_SUCH_ADDRESS'],
    ['a page that is not there', 'GET', '/nothing.html', 404, 'NO_SUCH_ADDRESS'],
    ['a wrong method', 'DELETE', '/api/sheets', 405, 'METHOD'],
    ['an unknown format', 'POST', '/api/files/cake', 404, 'NOT_FOUND'],
    ['an unknown setting', 'POST', '/api/files/dxf?cake=1', 422, 'BAD_INPUT'],
    ['a setting given twice', 'POST', '/api/files/dxf?text=none&text=inside', 422, 'BAD_INPUT'],
    ['a wrong quantity', 'POST', '/api/archive?quantity=-1', 422, 'BAD_INPUT'],
    ['an unknown parameter', 'POST', '/api/archive?pieces=3', 422, 'BAD_INPUT'],
    ['a broken escape', 'POST', '/api/files/%zz', 400, 'BAD_INPUT'],
  ])('%s', async (_what, method, path, status, code) => {
    const response = await fetch(url + path, {
      method,
      ...(method === 'POST'
        ? { headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(tray()) }
        : {}),
    });
    expect(await problem(response)).toMatchObject({ status, code });
    if (status === 405) expect(response.headers.get('allow')).toBe('GET, HEAD');
  });

  test('another type of content', async () => {
    const response = await fetch(`${url}/api/preview`, { method: 'POST', body: JSON.stringify(tray()) });
    expect(await problem(response)).toMatchObject({ status: 415, code: 'MEDIA_TYPE' });
  });
});

describe('uploads', () => {
  test('a tray file, named after its file when it names no tray', async () => {
    const { name: _, ...nameless } = tray();
    const read = await json(postFile(`${url}/api/upload`, JSON.stringify(nameless), 'Größe 3.json'));
    expect(read.kind).toBe('tray');
    expect(read.tray).toEqual(readTray({ ...nameless, name: 'Größe 3' }));
  });

  test('a table of sizes is counted', async () => {
    const read = await json(
      postFile(`${url}/api/upload`, 'name,plan.length\na,240\nb,9\n', 'sizes.csv', {
        base: JSON.stringify(tray()),
      }),
    );
    expect(read).toEqual({ kind: 'table', rows: 2, wrong: 1 });
  });

  test('the content decides, not the name', async () => {
    const read = await json(postFile(`${url}/api/upload`, JSON.stringify(tray()), 'sizes.csv'));
    expect(read.kind).toBe('tray');
    const other = await postFile(`${url}/api/table`, JSON.stringify(tray()), 'sizes.csv');
    expect((await problem(other)).errors[0]!.path).toBe('file');
  });

  test('a drawing and a solid are known for what they are', async () => {
    const drawing = '  0\r\nSECTION\r\n  2\r\nENTITIES\r\n  0\r\nENDSEC\r\n  0\r\nEOF\r\n';
    const solid = 'ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\nENDSEC;\nEND-ISO-10303-21;\n';
    for (const content of [drawing, solid]) {
      // Neither holds a tray, so both are refused in words, as what they are.
      const found = await problem(await postFile(`${url}/api/upload`, content, 'x.json'));
      expect(found.status).toBe(422);
      expect(found.detail).not.toMatch(/JSON text|not JSON/);
    }
  });
});

describe('plans and solids', () => {
  test('a drawing of the plan becomes a tray, the rest comes from the tray on the page', async () => {
    // A rectangle of 300 × 200 mm with quarter arcs of 50 mm: bulge = tan(90° / 4).
    const bulge = Math.tan(Math.PI / 8);
    const corners = [
      [50, 0, 0],
      [250, 0, bulge],
      [300, 50, 0],
      [300, 150, bulge],
      [250, 200, 0],
      [50, 200, bulge],
      [0, 150, 0],
      [0, 50, bulge],
    ];
    const lines = [
      0,
      'SECTION',
      2,
      'HEADER',
      9,
      '$INSUNITS',
      70,
      4,
      0,
      'ENDSEC',
      0,
      'SECTION',
      2,
      'ENTITIES',
    ];
    lines.push(0, 'LWPOLYLINE', 8, '0', 90, corners.length, 70, 1);
    for (const [x, y, b] of corners) lines.push(10, x!, 20, y!, 42, b!);
    lines.push(0, 'ENDSEC', 0, 'EOF');
    const read = await json(
      postFile(`${url}/api/upload`, `${lines.join('\n')}\n`, 'Eck-Wanne.dxf', {
        base: JSON.stringify(tray()),
      }),
    );
    expect(read).toMatchObject({ kind: 'drawing', tray: { name: 'Eck-Wanne', section: { height: 22 } } });
    const drawn = await json(postTray(`${url}/api/preview`, read.tray));
    const typed = await json(
      postTray(`${url}/api/preview`, tray({ plan: { length: 300, width: 200, cornerRadius: 50 } })),
    );
    // The same tray, told in two ways; both within the stated accuracy of the outline, 0.05 mm.
    for (const key of ['length', 'width']) {
      expect(Math.abs(drawn.figures.blank[key] - typed.figures.blank[key])).toBeLessThan(0.1);
    }
  });

  test('what a drawing leaves open is asked, and nothing is assumed', async () => {
    const square = (unit?: number) =>
      dxf([line(0, 0, 59, 0), line(59, 0, 59, 39), line(59, 39, 0, 39), line(0, 39, 0, 0)], unit);
    const send = (content: string, fields: Record<string, string> = {}) =>
      postFile(`${url}/api/upload`, content, 'inch.dxf', { base: JSON.stringify(tray()), ...fields });
    const corners = [
      { x: 0, y: 0 },
      { x: 59, y: 0 },
      { x: 59, y: 39 },
      { x: 0, y: 39 },
    ];
    const read = await json(send(square()));
    expect(read).toEqual({
      kind: 'question',
      questions: [
        { about: 'units', sizes: expect.any(Array) },
        { about: 'cornerRadius', corners },
      ],
      picture: expect.stringMatching(/>59 × 39 in the unit of the drawing<.*>one square is 5</s),
    });
    expect(read.questions[0].sizes).toContainEqual({
      unit: 'in',
      drawn: [59, 39],
      millimetres: [1498.6, 990.6],
    });
    expect(read.questions[0].sizes).toContainEqual({ unit: 'mm', drawn: [59, 39], millimetres: [59, 39] });
    // Metres would make a tray of 59 m: no choice.
    expect(read.questions[0].sizes.map(({ unit }: { unit: string }) => unit)).toEqual(['mm', 'cm', 'in']);
    // One answer is not enough; the page's own radius is never taken.
    expect(await json(send(square(), { units: 'in' }))).toMatchObject({
      questions: [{ about: 'cornerRadius' }],
      picture: expect.stringMatching(/>1498.6 × 990.6 mm, 59 × 39 in<.*>one square is 5 in</s),
    });
    expect(await json(send(square(), { cornerRadius: '60' }))).toMatchObject({
      questions: [{ about: 'units' }],
    });
    expect(await json(send(square(), { units: 'in', cornerRadius: '60,5' }))).toMatchObject({
      kind: 'drawing',
      tray: { plan: { length: 1498.6, width: 990.6, cornerRadius: 60.5 } },
      notes: ['The plan is a rectangle: its sizes are in the form, and its middle is the origin.'],
    });
    const wrong = async (response: Promise<Response>) => (await problem(await response)).errors[0];
    expect(await wrong(send(square(1), { units: 'mm', cornerRadius: '60' }))).toMatchObject({
      path: 'plan.units',
      detail: expect.stringContaining('is in inches ($INSUNITS)'),
    });
    expect(await wrong(send(square(), { units: 'parsec' }))).toMatchObject({ path: 'plan.units' });
    expect(await wrong(send(square(), { units: 'in', cornerRadius: 'wide' }))).toMatchObject({
      path: 'plan.cornerRadius',
    });
    expect(await wrong(send(square(6), { cornerRadius: '60' }))).toMatchObject({
      detail: expect.stringContaining('59000'),
    });
  });

  test('holes and layers of a drawing are told and asked', async () => {
    const on = (layer: string) => [
      line(0, 0, 300, 0, 'PLAN'),
      line(300, 0, 300, 200, 'PLAN'),
      line(300, 200, 0, 200, 'PLAN'),
      line(0, 200, 0, 0, 'PLAN'),
      circle(100, 80, 10, layer),
    ];
    const send = (content: string, fields: Record<string, string>) =>
      json(postFile(`${url}/api/upload`, content, 'p.dxf', { base: JSON.stringify(tray()), ...fields }));
    expect(await send(dxf(on('BENDS'), 4), { cornerRadius: '40' })).toEqual({
      kind: 'question',
      questions: [{ about: 'layer', layers: ['PLAN', 'BENDS'] }],
      picture: null,
    });
    const plain = await send(dxf(on('BENDS'), 4), { cornerRadius: '40', layer: 'plan' });
    expect(plain.tray.holes).toBeUndefined();
    const holed = await send(dxf(on('PLAN'), 4), { cornerRadius: '40' });
    expect(holed.tray.plan).toMatchObject({ length: 300, width: 200 });
    expect(holed.tray.holes[0].place).toEqual({ on: 'base', x: -50, y: -20 });
    expect(holed.notes[0]).toContain('became holes in the base');
  });

  test('a path of a drawing in a tray file leads nowhere', async () => {
    for (const dxf of ['/etc/passwd', 'samples/column-side-tray.dxf']) {
      const response = await postTray(`${url}/api/preview`, tray({ plan: { dxf, cornerRadius: 40 } }));
      expect(await problem(response)).toMatchObject({ status: 422, code: 'BAD_INPUT' });
    }
  });

  test('a solid of a tray becomes that tray again', async () => {
    const solid = new Uint8Array(await (await postTray(`${url}/api/files/formed-step`)).arrayBuffer());
    const read = await json(
      postFile(`${url}/api/upload`, solid, 'part.stp', { base: JSON.stringify(tray()) }),
    );
    expect(read.kind).toBe('solid');
    const { blank } = (await json(postTray(`${url}/api/preview`, read.tray))).figures;
    const own = (await json(postTray(`${url}/api/preview`))).figures.blank;
    expect(Math.abs(blank.length - own.length)).toBeLessThan(0.1);
    expect(Math.abs(blank.width - own.width)).toBeLessThan(0.1);
  });
});

interface Line {
  readonly event: string;
  readonly tray?: ManifestTray;
  readonly made?: number;
  readonly failed?: number;
  readonly rows?: number;
}

describe('a tray without a flat', () => {
  const high = tray({
    plan: { length: 240, width: 160, cornerRadius: 8 },
    section: { bottomRadius: 8, height: 100 },
  });

  test('is an answer with the verdict', async () => {
    const answer = await postTray(`${url}/api/preview`, high);
    expect(answer.status).toBe(200);
    const found = await answer.json();
    expect(found).toMatchObject({
      kind: 'no flat',
      verdict: { word: 'not in one piece', reasons: [{ about: 'flat', weight: 'refuse' }] },
      figures: null,
      anneals: null,
      cautions: null,
      notes: [],
      pictures: null,
    });
    expect(found.tray.section.height).toBe(100);
  });

  test('has no file, and the reason is that of the verdict', async () => {
    const { verdict } = await json(postTray(`${url}/api/preview`, high));
    const found = await problem(await postTray(`${url}/api/files/dxf`, high));
    expect(found).toMatchObject({ status: 422, code: 'NO_FLAT' });
    expect(found.detail).toContain(verdict.reasons[0].sentence);
  });
});

describe('tables of sizes', () => {
  const csv = [
    'name;plan.length;sheet.material',
    '# comment',
    'a;240,5;',
    'b;9;',
    'c;300;',
    '"=1+1";260;',
  ].join('\n');
  const fields = { base: JSON.stringify(tray()) };
  const tight = { base: JSON.stringify(tray({ section: { bottomRadius: 8, height: 22 } })) };

  test('every row is told, with its line, and bad ones stop no other', async () => {
    const response = await postFile(`${url}/api/table`, csv, 'sizes.csv', fields);
    expect(response.headers.get('content-type')).toContain('application/x-ndjson');
    const lines = (await response.text())
      .trim()
      .split('\n')
      .map((line): Line => JSON.parse(line));
    expect(lines[0]).toEqual({ event: 'start', rows: 4 });
    expect(lines.at(-1)).toEqual({ event: 'end', made: 3, failed: 1 });
    const row = (name: string): ManifestTray | undefined =>
      lines.find((line) => line.tray?.name === name)?.tray;
    expect(row('b')).toMatchObject({ state: 'refused', verdict: null, figures: null, place: 'line 4' });
    expect(row('b')!.error!.faults[0]!.path).toBe('plan.length');
    expect(row('=1+1')).toMatchObject({ state: 'made', error: null });
    const alone = solved(readTray(tray({ plan: { length: 240.5, width: 160, cornerRadius: 40 } })));
    // Figures of rows have two decimals.
    expect(row('a')!.figures!.blankLength).toBeCloseTo(alone.report.blank.length, 2);
  });

  const noFlat = 'name,plan.cornerRadius,section.height\nhigh,8,100\n';

  test('a tray without a blank has its verdict in the row', async () => {
    const response = await postFile(`${url}/api/table`, noFlat, 'sizes.csv', tight);
    const [, row, end] = (await response.text())
      .trim()
      .split('\n')
      .map((line): Line => JSON.parse(line));
    expect(row).toMatchObject({
      tray: { name: 'high', state: 'no flat', verdict: 'not in one piece', figures: null, error: null },
    });
    expect(row).toHaveProperty('tray.reasons.0');
    expect(end).toEqual({ event: 'end', made: 0, failed: 1 });
    const both = `${noFlat}low,40,22\n`;
    const archive = await postFile(`${url}/api/table/archive?formats=dxf`, both, 'sizes.csv', tight);
    const zip = await JSZip.loadAsync(await archive.arrayBuffer());
    expect(Object.keys(zip.files)).toEqual(['low.dxf', 'manifest.csv', 'manifest.json']);
    expect(await zip.file('manifest.csv')!.async('string')).toContain('high,1,no flat,not in one piece,,,');
    const none = await problem(
      await postFile(`${url}/api/table/archive?formats=dxf`, noFlat, 'sizes.csv', tight),
    );
    expect(none).toMatchObject({ status: 422, code: 'NOT_MAKEABLE' });
  });

  test('the archive: files, manifest without formulas, the name of the table; the same with more threads than one', async () => {
    const archive = (at: string): Promise<Response> =>
      postFile(`${at}/api/table/archive?formats=dxf`, csv, 'Größen.csv', fields);
    const response = await archive(url);
    expect(response.headers.get('content-disposition')).toContain(
      `filename*=UTF-8''${encodeURIComponent('Größen.zip')}`,
    );
    const bytes = Buffer.from(await response.arrayBuffer());
    const more = await service({ threads: 2 });
    expect(Buffer.from(await (await archive(more.url)).arrayBuffer()).equals(bytes)).toBe(true);
    await more.stop();
    const zip = await JSZip.loadAsync(bytes);
    expect(Object.keys(zip.files)).toEqual(['a.dxf', 'c.dxf', '1-1.dxf', 'manifest.csv', 'manifest.json']);
    const manifest = await zip.file('manifest.csv')!.async('string');
    // CWE-1236: a spreadsheet takes a cell that begins with = + - @ for a formula.
    for (const cell of manifest.split(/[\r\n,]+/)) expect(cell).not.toMatch(/^"?[=+\-@\t]/);
    expect(manifest).toContain("'=1+1");
  });

  test('a table in which nothing can be made is refused with a reason', async () => {
    const found = await problem(
      await postFile(`${url}/api/table/archive?formats=dxf`, 'name,plan.length\nb,9\n', 's.csv', fields),
    );
    expect(found).toMatchObject({ status: 422, code: 'NOT_MAKEABLE' });
    expect(found.detail).toContain('plan.length is 9');
  });

  test('an unknown column is refused', async () => {
    const found = await problem(
      await postFile(`${url}/api/table`, 'name,plan.lenght\na,3\n', 's.csv', fields),
    );
    expect(found.detail).toContain('plan.lenght');
  });
});
