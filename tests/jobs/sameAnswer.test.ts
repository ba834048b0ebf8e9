/** One table of sizes by the batch and by the service: the same manifest, field by field, and the same files. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import JSZip from 'jszip';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Engine } from '../../src/batch/engine.ts';
import { readBatch } from '../../src/batch/readBatch.ts';
import { runBatch } from '../../src/batch/runBatch.ts';
import { solveChunk } from '../../src/batch/solveChunk.ts';
import { dxfExporter } from '../../src/exporters/dxf/dxfExporter.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { MANIFEST_FORMAT, MANIFEST_VERSION, type ManifestTray } from '../../src/jobs/manifest.ts';
import { commonService } from '../server/common.ts';
import { postFile, tray } from '../server/service.ts';

const CSV = [
  'name,plan.length,plan.cornerRadius,quantity',
  'first,240,40,3',
  'no-flat,240,8,1',
  'too-short,2,40,1',
  'second,260,40,1',
].join('\n');

/** Walls for which a corner radius of 8 is far too tight. */
const BASE = tray({ section: { bottomRadius: 8, height: 100 } });

/** In this process. */
const engine: Engine = {
  async *solve(chunks) {
    for (const chunk of chunks)
      yield { chunk, results: await solveChunk(chunk, createRegistry([dxfExporter])) };
  },
  close: async () => {},
};

interface Manifest {
  readonly format: string;
  readonly version: number;
  readonly trays: readonly ManifestTray[];
}

const { url } = await commonService();
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'gatherpan-same-'));
});
afterAll(() => rm(folder, { recursive: true }));

test('a batch and the service give one answer', async () => {
  const formats = [{ id: 'dxf', extension: 'dxf', values: { marks: '', version: 'R2000' } }];
  const rows = readBatch(CSV, 'csv', BASE, 'sizes');
  await runBatch({
    rows,
    formats,
    target: { kind: 'folder', path: folder },
    resume: false,
    engine,
    signal: new AbortController().signal,
  });
  const own = JSON.parse(await readFile(join(folder, 'manifest.json'), 'utf8')) as Manifest;

  const response = await postFile(`${url}/api/table/archive?formats=dxf`, CSV, 'sizes.csv', {
    base: JSON.stringify(BASE),
  });
  const zip = await JSZip.loadAsync(await response.arrayBuffer());
  const served = JSON.parse(await zip.file('manifest.json')!.async('string')) as Manifest;

  expect([served.format, served.version]).toEqual([MANIFEST_FORMAT, MANIFEST_VERSION]);
  expect(own.trays.map(({ state }) => state)).toEqual(['made', 'no flat', 'refused', 'made']);
  // A batch starts each size from the one before, so later files may have other last digits.
  const withoutHashes = ({ files, ...rest }: ManifestTray): unknown => ({
    ...rest,
    files: files.map(({ name }) => name),
  });
  expect({ ...served, trays: served.trays.map(withoutHashes) }).toEqual({
    ...own,
    trays: own.trays.map(withoutHashes),
  });
  expect(served.trays[0]!.files).toEqual(own.trays[0]!.files);
});
