/** The JSON report: the set of keys is a promise to other programs. */
import { describe, expect, it } from 'vitest';
import { jsonExporter } from '../../src/exporters/json/jsonExporter.ts';
import { SAMPLE_AREA, samplePattern } from './samplePattern.ts';

const decoded = async (compact = false, pattern = samplePattern()): Promise<string> =>
  new TextDecoder().decode(await jsonExporter.write(pattern, { compact }));

describe('the report', () => {
  it('has every key, in the documented order', async () => {
    const report = JSON.parse(await decoded());
    expect(Object.keys(report)).toEqual([
      ...[
        'format',
        'version',
        'units',
        'name',
        'tray',
        'sheet',
        'rim',
        'workedRim',
        'outline',
        'holes',
        'scribeLines',
      ],
      ...['blank', 'developed', 'bounds', 'corners', 'thickness', 'gather', 'solver', 'notes', 'warnings'],
    ]);
    expect(Object.keys(report.blank)).toEqual(['length', 'width', 'area', 'mass', 'cutLength', 'segments']);
    expect(Object.keys(report.corners[0])).toEqual([
      ...[
        'index',
        'letter',
        'at',
        'cornerRadius',
        'flatRimLength',
        'formedRimLength',
        'arcRimToLose',
        'rimToLose',
      ],
      ...['rimToLoseCorners', 'netFlatRimLength', 'netFormedRimLength', 'netRimThickness'],
      ...['peakGather', 'peakStretch', 'thickest', 'thinnest'],
    ]);
    expect(Object.keys(report.solver)).toEqual([...['triangles', 'unknowns', 'steps', 'residual']]);
    expect(report).toMatchObject({ format: 'gatherpan report', version: 2 });
  });

  it('keeps numbers to the last bit and the tray as it was', async () => {
    const report = JSON.parse(await decoded());
    expect(report.blank.area).toBe(SAMPLE_AREA);
    expect(report.tray).toEqual(samplePattern().spec);
    expect(report.outline).toEqual(samplePattern().outline.vertices);
  });

  it('keeps a bound that the plan does not have as null', async () => {
    const pattern = samplePattern();
    const bounds = { arcLengthCornerRadius: null, equalAreaCornerRadius: null };
    const text = await decoded(false, { ...pattern, report: { ...pattern.report, bounds } });
    expect(JSON.parse(text).bounds).toEqual(bounds);
  });

  it('is one line when compact, with the same content', async () => {
    const compact = await decoded(true);
    expect(compact.trimEnd()).not.toContain('\n');
    expect(JSON.parse(compact)).toEqual(JSON.parse(await decoded()));
  });

  it('refuses a figure that JSON cannot hold', async () => {
    const pattern = samplePattern();
    const thickness = { min: Number.NaN, max: 1.3 };
    await expect(decoded(false, { ...pattern, report: { ...pattern.report, thickness } })).rejects.toThrow(
      'min is NaN; a finite number is needed',
    );
  });
});
