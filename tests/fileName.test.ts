/** Names of files are made from any name a person gives. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileKey, fileNameOf, fileStem, trayNameFrom } from '../src/fileName.ts';
import { isPlainFileName } from '../src/jobs/plainFileName.ts';

describe('the name of a tray’s file', () => {
  it.each([
    ['potting-bench-drip-tray', 'potting-bench-drip-tray'],
    ['Größe 2 (links)', 'Grosse-2-links'],
    ['Østre bænk', 'Ostre-baenk'],
    ['苗床 2', '苗床-2'],
    ['лоток №3', 'лоток-No3'],
    ['が', 'が'],
    ['12" x 9"', '12-x-9'],
    ['../../etc/passwd', 'etc-passwd'],
    ['..', 'tray'],
    ['???', 'tray'],
    ['con', 'tray-con'],
    ['NUL.x', 'tray-NUL.x'],
    ['end. ', 'end'],
    [`${'x'.repeat(79)}-y`, 'x'.repeat(79)],
  ])('of %j is %j', (name, stem) => {
    expect(fileStem(name)).toBe(stem);
  });

  it('is one that every system takes, and stays as it is when it is made again (2,000 names)', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 120 }), (name) => {
        const stem = fileStem(name);
        const file = fileNameOf(name, 'dxf');
        expect(isPlainFileName(file), file).toBe(true);
        expect(new TextEncoder().encode(file).length).toBeLessThan(200);
        expect(file).not.toMatch(/\s/u);
        expect(fileStem(stem)).toBe(stem);
      }),
      { numRuns: 2_000, seed: 20 },
    );
  });

  it('is told from another as the least particular system tells it', () => {
    expect(fileKey('Tray.DXF')).toBe(fileKey('tray.dxf'));
    expect(fileKey('e\u0301')).toBe(fileKey('\u00e9'));
  });
});

describe('the name of a tray that came without one', () => {
  it.each([
    ['-', 'tray'],
    ['', 'tray'],
    ['...json', 'tray'],
    ['some/folder/Bench tray (2).json', 'Bench tray (2)'],
    ['C:\\trays\\links.formed.step', 'links'],
    ['Größe.stp', 'Größe'],
    ['a\u0000b.json', 'a b'],
  ])('from the file %j is %j', (file, name) => {
    expect(trayNameFrom(file)).toBe(name);
  });
});
