/** STEP parts that no tray file says, over HTTP: looked at, and taken away as files. */
import JSZip from 'jszip';
import { beforeAll, describe, expect, test } from 'vitest';
import { readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { SMALL_PLAN, SMALL_SECTION, solidPart, surfacePart, writtenPart } from '../step/parts.ts';
import { commonService } from './common.ts';
import { json, postFile, postTray, problem, service, tray } from './service.ts';

const { url } = await commonService();
let part: Uint8Array<ArrayBuffer>;
beforeAll(async () => {
  part = Uint8Array.from(await solidPart(SMALL_SECTION, SMALL_PLAN, 1));
});

const base = {
  sheet: { material: '1050A-O', thickness: 3, grain: 90 },
  forming: { trim: 2 },
  cut: { process: 'laser', kerf: 0.4, compensate: true },
};
const fields = (value: unknown): Record<string, string> => ({ base: JSON.stringify(value) });

describe('a part that is no plan loop with one section', () => {
  test('is solved as it is, with sheet, trim and cut from the tray on the page, and gives the files that need no tray file, the same bytes each time', async () => {
    const dxf = async (): Promise<Response> =>
      postFile(`${url}/api/part/files/dxf?fileName=Blech`, part, 'Saat Schale.stp', fields(base));
    const read = await json(postFile(`${url}/api/upload`, part, 'Saat Schale.stp', fields(base)));
    expect(read.kind).toBe('part');
    const { preview } = read;
    expect(preview.tray).toMatchObject({ name: 'Saat Schale', forming: { trim: 2 }, cut: base.cut });
    // The solid has a thickness of its own.
    expect(preview.figures.sheet).toEqual({ material: '1050A-O', thickness: 1, grain: 90 });
    expect(preview.figures.corners).toHaveLength(4);
    expect(preview.verdict.reasons.length).toBeGreaterThan(2);
    expect(preview.notes.join(' ')).toMatch(/as it is.*half the kerf/);
    for (const picture of [preview.pictures.blank, preview.pictures.formed])
      expect(picture).toMatch(/^<svg|^<\?xml/);
    const first = await dxf();
    expect(first.status).toBe(200);
    expect(first.headers.get('content-disposition')).toContain('Blech.dxf');
    const bytes = Buffer.from(await first.arrayBuffer());
    // The same sheet, without trim and kerf: 2 · (2 + 0.2) mm smaller.
    const net = await json(
      postFile(`${url}/api/upload`, part, 'a.stp', fields({ sheet: base.sheet, forming: { trim: 0 } })),
    );
    for (const size of ['length', 'width']) {
      expect(preview.figures.blank[size] - net.preview.figures.blank[size]).toBeCloseTo(4.4, 6);
    }
    // Another part was in between, so that the second time is a solve of its own.
    expect(Buffer.from(await (await dxf()).arrayBuffer()).equals(bytes)).toBe(true);
    const drawing = readWithDxfParser(bytes);
    expect(drawing).toBeTruthy();

    const refused = await problem(
      await postFile(`${url}/api/part/files/card-pdf`, part, 'Saat Schale.stp', fields(base)),
    );
    expect(refused).toMatchObject({ status: 422, code: 'NOT_MAKEABLE' });
    expect(refused.detail).toMatch(/card-pdf.*as it is/);
    expect(
      await problem(await postFile(`${url}/api/part/files/cutlist`, part, 'Saat Schale.stp')),
    ).toMatchObject({
      status: 404,
    });
  });

  test('gives one archive, with what cannot be made of it named in the manifest, and no tray file', async () => {
    const response = await postFile(
      `${url}/api/part/archive?quantity=3&formats=dxf,json,card-pdf`,
      part,
      'Saat Schale.stp',
      fields(base),
    );
    expect(response.status).toBe(200);
    const zip = await JSZip.loadAsync(await response.arrayBuffer());
    expect(Object.keys(zip.files).sort()).toEqual([
      'Saat-Schale-order-note.txt',
      'Saat-Schale.cut.dxf',
      'Saat-Schale.json',
      'Saat-Schale.marks-do-not-cut.dxf',
      'manifest.csv',
      'manifest.json',
    ]);
    const manifest = JSON.parse(await zip.file('manifest.json')!.async('string'));
    expect(JSON.stringify(manifest)).toMatch(/card/i);
  });

  test('a surface takes its thickness from the tray on the page, and is refused without one', async () => {
    const surface = Uint8Array.from(await surfacePart(SMALL_SECTION, SMALL_PLAN));
    const read = await json(
      postFile(
        `${url}/api/upload`,
        surface,
        'a.stp',
        fields({ sheet: { material: 'DC04', thickness: 0.8 } }),
      ),
    );
    expect(read).toMatchObject({ kind: 'part', preview: { figures: { sheet: { thickness: 0.8 } } } });
    const refused = await problem(await postFile(`${url}/api/upload`, surface, 'a.stp'));
    expect(refused).toMatchObject({ status: 422, code: 'BAD_INPUT' });
    expect(refused.detail).toMatch(/sheet\.thickness/);
  });
});

describe('refusals', () => {
  test('what is no sheet, what is no solid, and a sheet that is not known: one sentence each', async () => {
    const block = Uint8Array.from(await writtenPart((k) => new k.BRepPrimAPI_MakeBox_1(100, 80, 30).Shape()));
    const found = await problem(await postFile(`${url}/api/upload`, block, 'a.stp'));
    expect(found).toMatchObject({ status: 422, code: 'NOT_MAKEABLE' });
    expect(found.errors).toHaveLength(1);
    for (const path of ['part/files/dxf', 'part/archive']) {
      const other = await problem(await postFile(`${url}/api/${path}`, JSON.stringify(tray()), 'a.json'));
      expect(other).toMatchObject({ status: 422, code: 'BAD_INPUT' });
      expect(other.detail).toMatch(/STEP/);
    }
    const sheet = await problem(
      await postFile(`${url}/api/upload`, part, 'a.stp', fields({ sheet: { material: 'unobtainium' } })),
    );
    expect(sheet.errors[0]!.path).toBe('sheet.material');
  });

  test('a part that takes too long is given up, and the service goes on', async () => {
    const short = await service({
      threads: 1,
      solids: { threads: 1, waiting: 4, waitTime: 600_000, jobTime: 50 },
    });
    try {
      const found = await problem(await postFile(`${short.url}/api/upload`, part, 'a.stp'));
      expect(found).toMatchObject({ status: 422, code: 'TIMEOUT' });
      expect(found.detail).toMatch(/^[A-Z][^\n]*\.$/);
      expect((await postTray(`${short.url}/api/preview`)).status).toBe(200);
    } finally {
      await short.stop();
    }
  });
});
