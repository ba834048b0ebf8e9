/** The manifest, read back with a CSV reader, and its cells against formula injection. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { harmless, type ManifestTray, manifestCsv, manifestJson } from '../../src/jobs/manifest.ts';

const tray = (over: Partial<ManifestTray>): ManifestTray => ({
  row: 1,
  place: 'line 2',
  name: 'a',
  quantity: 1,
  state: 'made',
  verdict: 'can be worked with care',
  reasons: ['The free edge will pucker.'],
  warnings: [],
  figures: {
    material: 'DC04',
    thickness: 1.2,
    blankLength: 376.71,
    blankWidth: 277.65,
    area: 95675,
    mass: 0.9013,
    cutLength: 1138,
    segments: 44,
    rimToLose: -2.5,
    peakGather: 0,
    peakStretch: 12.5,
    thickest: 1.4,
    thinnest: 1.18,
    anneals: null,
  },
  files: [{ name: 'a.dxf', size: 3, sha256: 'ab' }],
  missing: [],
  error: null,
  ...over,
});

const readBack = (trays: readonly ManifestTray[]): Record<string, string>[] =>
  parse(new TextDecoder().decode(manifestCsv(trays)), { columns: true }) as Record<string, string>[];

describe('manifest', () => {
  it('is read back with its figures, quotation marks, commas and line ends', () => {
    const error = { code: 'NOT_SOLVED', faults: [{ path: '', message: 'He said "no", and\nleft.' }] };
    const [made, failed] = readBack([
      tray({}),
      tray({ name: 'b', state: 'failed', verdict: null, figures: null, files: [], error }),
    ]);
    expect(made).toMatchObject({
      name: 'a',
      blank_length_mm: '376.71',
      rim_to_lose_mm: '-2.5',
      files: 'a.dxf',
      anneals: '',
      reasons: 'The free edge will pucker.',
    });
    expect(failed).toMatchObject({ state: 'failed', area_mm2: '', error: 'He said "no", and\nleft.' });
  });

  it.each(['=1+1', '+1', '-1', '@x', ' =1', '\t=1', '\r\n=1'])('a text cell %j is no formula', (text) => {
    const figures = { ...tray({}).figures!, material: text };
    expect(readBack([tray({ figures })])[0]!.material).toBe(`'${text}`);
  });

  it('no text begins with a sign that starts a formula', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(String(harmless(text))).not.toMatch(/^\s*[=+\-@]/);
      }),
    );
  });

  it('numbers stay numbers', () => {
    expect(harmless(-2.5)).toBe(-2.5);
  });

  it('JSON holds the same trays', () => {
    const document = JSON.parse(new TextDecoder().decode(manifestJson([tray({})])));
    expect(document).toMatchObject({ format: 'gatherpan manifest', version: 2, trays: [tray({})] });
  });
});
