import { describe, expect, it } from 'vitest';
import { dxfExporter } from '../../src/exporters/dxf/dxfExporter.ts';
import { jsonExporter } from '../../src/exporters/json/jsonExporter.ts';
import { completeValues } from '../../src/exporters/parameters.ts';
import { zoneContours } from '../../src/gather/zones.ts';
import { english } from '../../src/words/english.ts';
import { inWords } from '../../src/words/statement.ts';
import { readWithDxf, readWithDxfParser } from '../exporters/readers/dxfReaders.ts';
import { solved } from '../support/solved.ts';
import { benchTray } from './benchTrays.ts';

const pattern = solved(benchTray());

/** Kinds and layers of what a foreign reader finds, one line each. */
async function layersFound(given: Record<string, unknown>): Promise<Map<string, number>> {
  const bytes = await dxfExporter.write(pattern, completeValues(dxfExporter, given));
  const text = new TextDecoder().decode(bytes);
  const found = new Map<string, number>();
  // Group 8 of every entity is its layer (DXF Reference, common group codes).
  const lines = text.split(/\r?\n/);
  const start = lines.indexOf('ENTITIES');
  for (let i = start + 1; i + 1 < lines.length && lines[i + 1] !== 'ENDSEC'; i += 2) {
    if (lines[i]!.trim() === '8') found.set(lines[i + 1]!, (found.get(lines[i + 1]!) ?? 0) + 1);
  }
  return found;
}

describe('gather marks in the drawing', () => {
  it('are off unless asked for', async () => {
    const plain = await layersFound({});
    expect(plain.has('GATHER')).toBe(false);
    expect(plain.has('TUCKS')).toBe(false);
  });

  it('are each on a layer of their own, and the cut layer stays as it was', async () => {
    const plain = await layersFound({});
    const marked = await layersFound({ marks: 'gather,tucks' });
    const contours = zoneContours(pattern).flatMap((each) => each.flatMap(({ paths }) => paths));
    const marks = pattern.gather.tucks.flatMap((tuck) => tuck.marks);
    // A contour that is closed is drawn in pieces.
    expect(marked.get('GATHER')).toBeGreaterThanOrEqual(contours.length);
    expect(marked.get('TUCKS')).toBe(marks.length);
    for (const [layer, count] of plain) expect(marked.get(layer)).toBe(count);
    // Foreign readers: the packages dxf and dxf-parser.
    const written = await Promise.all(
      [{}, { marks: 'gather,tucks' }].map((given) =>
        dxfExporter.write(pattern, completeValues(dxfExporter, given)),
      ),
    );
    for (const read of [readWithDxf, readWithDxfParser])
      expect(read(written[1]!).loops).toEqual(read(written[0]!).loops);
  });

  it('are left out of a drawing of what is cut only', async () => {
    expect([...(await layersFound({ contours: true, tucks: true, cutOnly: true })).keys()]).toEqual(['CUT']);
  });
});

describe('the gather in the report', () => {
  it('has zones with boundary, contours, rim and peak, the verdict and the tucks', async () => {
    const bytes = await jsonExporter.write(pattern, completeValues(jsonExporter, {}));
    const { gather } = JSON.parse(new TextDecoder().decode(bytes));
    expect(gather.zones).toHaveLength(4);
    expect(gather.zones[0].rim.toLose).toBe(pattern.gather.zones[0]!.rim!.toLose);
    expect(gather.zones[0].boundary[0].closed).toBe(true);
    expect(gather.verdict).toEqual(inWords(pattern.gather.verdict, english));
    expect(gather.tucks[0].marks).toHaveLength(gather.tucks[0].count);
    expect(gather.trimBand).toEqual(pattern.gather.trimBand);
  });
});
