/** What the r-values leave open of the grain's effect: told as a band where strengths are not known, and only there. */
import { describe, expect, test } from 'vitest';
import { gatherLines } from '../../src/cli/gatherLines.ts';
import { builtInExporters } from '../../src/exporters/builtIn.ts';
import { createRegistry } from '../../src/exporters/registry.ts';
import { grainAdvice } from '../../src/gather/grain.ts';
import { trimBand } from '../../src/gather/trimBand.ts';
import { findSheet } from '../../src/material/sheets.ts';
import { equallyStrong } from '../../src/material/strengths.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { sentences } from '../../src/words/statement.ts';
import { closeTo } from '../support/closeTo.ts';
import { rimPoints } from '../support/measures.ts';
import { rectangle, solveSpec } from '../support/trays.ts';

const tray = (grain: number, material = 'DC04') => {
  const spec = rectangle(300, 200, 40, { bottomRadius: 20, height: 45, thickness: 1, grain });
  return { ...spec, sheet: { ...spec.sheet, material } };
};

/** Farthest that the rim's corner reaches along the diagonal. */
const corner = (grain: number, equal: boolean): number => {
  const sheet = findSheet('DC04');
  const solved = solveSpec(tray(grain), equal ? equallyStrong(sheet) : sheet);
  return Math.max(...rimPoints(solved).map(([x, y]) => (x + y) / Math.SQRT2));
};

describe('only r-values known', () => {
  test('the band is as wide as two solves say', () => {
    const { band, sentences: said } = grainAdvice(tray(0), []);
    // Along a side the quadratic law makes DC04 weaker than it is at 45°, where the corner is: too large a corner.
    const apart = corner(0, false) - corner(0, true);
    expect(apart).toBeGreaterThan(0.5);
    closeTo(
      band!.inwards,
      apart,
      { why: 'coarse mesh, across the rim and along the diagonal', absolute: 0.15 },
      'band',
    );
    expect(band!.outwards).toBeGreaterThanOrEqual(0);
    expect(sentences(said, english).join(' ')).toContain(
      'If DC04 is as strong every way, which its r-values do not tell, the grain may lie either way.',
    );
  });

  test('it stands in the band of the trim, which covers it, in the report, and in the notes of every surface', async () => {
    const pattern = flatPatternOf(developTray(tray(45)));
    const { strengths, outwards, trim } = pattern.gather.trimBand!;
    const { band } = grainAdvice(tray(45), []);
    const { better: _better, ...same } = band!;
    for (const side of ['outwards', 'inwards'] as const) {
      closeTo(strengths![side], same[side], { why: 'solved to 0.001 mm', absolute: 0.003 }, side);
    }
    expect(trim).toBeGreaterThanOrEqual(outwards + strengths!.outwards);
    const said = `The strength of DC04 by direction is taken from its r-values. If it is as strong every way, the rim moves by -${strengths!.inwards.toFixed(1)} mm to +${strengths!.outwards.toFixed(1)} mm.`;
    expect(sentences(pattern.notes, english).map((note) => note.replaceAll('\u00a0', ' '))).toContain(said);
    expect(gatherLines(pattern).replaceAll('\u00a0', ' ')).toMatch(
      new RegExp(
        `strengths that are not known -${strengths!.inwards.toFixed(1)} to \\+${strengths!.outwards.toFixed(1)} mm; ${trim.toFixed(1)} mm of trim\\s+covers both`,
      ),
    );
    const registry = createRegistry(builtInExporters);
    const json = JSON.parse(
      new TextDecoder().decode(
        await registry.get('json').write(pattern, registry.values(registry.get('json'), {})),
      ),
    ) as { notes: string[]; gather: { trimBand: unknown } };
    expect(json.gather.trimBand).toEqual(pattern.gather.trimBand);
    expect(json.notes.map((note) => note.replaceAll('\u00a0', ' '))).toContain(said);
  });

  test('at 45° the same sheet errs the other way', () => {
    const { band } = grainAdvice(tray(45), []);
    expect(band!.outwards).toBeGreaterThan(0.3);
    expect(band!.outwards).toBeGreaterThan(band!.inwards);
  });

  test('the card says it where it reaches a step of the trim, and nothing where it does not', async () => {
    const registry = createRegistry(builtInExporters);
    const card = registry.get('card-svg');
    const text = async (spec: TraySpec): Promise<string> => {
      const svg = await card.write(flatPatternOf(developTray(spec)), registry.values(card, {}));
      return new TextDecoder().decode(svg).replace(/<[^>]*>\s*/g, ' ');
    };
    const beginning = /strength\s+of\s+DC04\s+by\s+direction/;
    expect(await text(tray(45))).toMatch(beginning);
    expect(await text({ ...tray(45), section: { ...tray(45).section, height: 21 } })).not.toMatch(beginning);
    expect(await text(tray(45, '5754-O'))).not.toMatch(/by\s+direction/);
  });

  test('no band where strengths are known', () => {
    const { band, sentences: said } = grainAdvice(tray(0, '5754-O'), []);
    expect(band).toBeNull();
    expect(sentences(said, english).join(' ')).not.toContain('r-values');
    expect(trimBand(tray(0, '5754-O'))!.strengths).toBeNull();
  });

  test('its law has the sheet’s r-values', () => {
    const sheet = findSheet('DC04');
    expect(equallyStrong(sheet)).toEqual({ ...sheet, strengths: { exponent: 6, at45: 1, at90: 1 } });
    expect(equallyStrong(findSheet('1050A-O')).strengths!.exponent).toBe(8);
  });
});
