/** What is said of STEP parts taken as they are, and on the contact sheet of a batch, comes from the table too. */
import { beforeAll, describe, expect, it } from 'vitest';
import { contactSheets } from '../../src/batch/contactSheet.ts';
import type { FlatField } from '../../src/geometry/flatField.ts';
import { resolveSheet, titleOf } from '../../src/material/sheets.ts';
import { blankPicture } from '../../src/papers/blankPicture.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import { sheetNotes, stretchWarnings } from '../../src/pattern/blankReport.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { writeFormedSolid } from '../../src/step/formedSolid.ts';
import { developPart, type PartPattern } from '../../src/step/freeForm/developPart.ts';
import type { PartGiven } from '../../src/step/freeForm/partGiven.ts';
import { partNotes } from '../../src/step/freeForm/partReport.ts';
import { refuseForPart } from '../../src/step/partPattern.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { speak } from '../../src/words/language.ts';
import { sentences } from '../../src/words/statement.ts';
import { withLivePart } from '../step/occt.ts';
import { said, untranslated } from './pictureText.ts';
import { pseudo } from './pseudoLanguage.ts';

/** With a hole beside the bend. */
const spec = readTray({
  name: '0001',
  plan: { length: 200, width: 150, cornerRadius: 35 },
  section: { bottomRadius: 12, height: 20 },
  sheet: { material: 'DC04', thickness: 1 },
  holes: [{ name: 'drain', shape: { kind: 'round', diameter: 12 }, place: { on: 'base', x: 0, y: -55.4 } }],
});
const given: PartGiven = {
  name: '0001',
  material: 'DC04',
  grain: 0,
  thickness: null,
  trim: 3,
  cut: { process: 'laser', kerf: 0.2, compensate: true },
};

describe('a part taken as it is, in another language', () => {
  let pattern: PartPattern;
  beforeAll(async () => {
    const bytes = writeFormedSolid(spec, '0001', 'AP214');
    pattern = await withLivePart(bytes, (live) => flatPatternOf(developPart(live, given)));
  });

  it('has its notes, warnings and verdict in it', () => {
    const { report, notes, gather, sheet } = pattern;
    const reasons = gather.verdict.reasons.map(({ sentence }) => sentence);
    expect(report.warnings).toHaveLength(1);
    expect(notes).toHaveLength(3);
    expect(reasons.length).toBeGreaterThan(3);
    const said = [...report.warnings, ...notes, ...reasons, sheet.material.anneal.cue];
    const text = [...sentences(said, pseudo), titleOf(sheet.material, pseudo)];
    expect(untranslated(text.join('\n'))).toEqual([]);
  });

  it('has its papers in it, in inches when they are', () => {
    const words = pseudo;
    const pages = [
      blankPicture(pattern, { form: 'wide', unit: 'inch', words }),
      ...templatePages(pattern, { ...TEMPLATE_DEFAULTS, unit: 'inch', words }),
    ];
    expect(untranslated(said(pages))).toEqual([]);
    // The hole lies 1.6 mm from the bend.
    expect(said(pages)).toMatch(/0\.0[67]″/);
    expect(said(pages)).not.toMatch(/\d (?:mm|мм)/);
  });

  it('says so of what only some parts have', () => {
    const strains = Float64Array.of(0.1, 0.9);
    const field = {
      majorStrain: strains,
      thicknessStrain: strains.map((strain) => -strain),
    } as unknown as FlatField;
    const hard = resolveSheet({ material: '1050A-H14', thickness: 1, grain: 0 });
    const open = { ...hard.material, family: 'not stated', coating: 'not stated' } as const;
    const text = [
      ...stretchWarnings(field, resolveSheet({ material: 'DC04', thickness: 1, grain: 0 }), 1),
      ...sheetNotes({ ...hard, material: open }, 1),
      ...partNotes({ ...given, cut: { process: 'plasma', kerf: 1, compensate: false } }, true),
    ];
    expect(text).toHaveLength(7);
    expect(untranslated(sentences(text, pseudo).join('\n'))).toEqual([]);
  });

  it('is refused in it where a tray file is needed', () => {
    const before = speak(pseudo);
    try {
      expect(() => refuseForPart(pattern, 'gauges-pdf')).toThrow();
      let message = '';
      try {
        refuseForPart(pattern, 'gauges-pdf');
      } catch (error) {
        message = (error as Error).message;
      }
      expect(untranslated(message)).toEqual([]);
    } finally {
      speak(before);
    }
    expect(() => refuseForPart(pattern, 'gauges-pdf')).toThrow('The format gauges-pdf draws the section');
    expect(() => refuseForPart(pattern, 'dxf')).not.toThrow();
  });
});

describe('the contact sheet in another language', () => {
  const outline = [
    { x: 0, y: 0, bulge: 0 },
    { x: 100, y: 0, bulge: 0 },
    { x: 100, y: 80, bulge: 0 },
  ];
  const tray = (number: number): Parameters<typeof contactSheets>[0][number] => ({
    name: String(number),
    spec: number === 4 ? { shownIn: 'in' } : {},
    outline,
    report: { figures: { blankLength: 100, blankWidth: 80 }, warnings: number % 2 === 0 ? [] : ['!'] },
  });
  const text = (bytes: Uint8Array): string =>
    [...new TextDecoder().decode(bytes).matchAll(/<(?:text|title)[^>]*>([^<]*)</g)]
      .map((each) => each[1])
      .join('\n');

  it.each([1, 30])('has its title, heading and captions in it (%d trays)', async (count) => {
    const trays = Array.from({ length: count }, (_, i) => tray(i + 1));
    const [strange, plain] = [await contactSheets(trays, pseudo), await contactSheets(trays)];
    expect(untranslated(text(strange[0]!.bytes))).toEqual([]);
    expect(text(plain[0]!.bytes)).toContain(count === 1 ? '1 blank, scale 1:' : '30 blanks, scale 1:');
    expect(text(plain[0]!.bytes)).toContain('100.0 x 80.0 mm, see warnings');
    if (count > 3) expect(text(plain[0]!.bytes)).toContain('3.94″ x 3.15″\n');
  });
});
