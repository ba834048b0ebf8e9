/** The table of sheets: agrees with itself, with the standards' limits, with published ranges; finds names. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { GatherpanError } from '../../src/errors.ts';
import type { SheetMaterial } from '../../src/material/sheet.ts';
import type { CustomMaterial } from '../../src/material/sheetSpec.ts';
import { CUSTOM_THICKNESS_RANGE } from '../../src/material/sheets/custom.ts';
import { SOURCED_PROPERTIES } from '../../src/material/sheets/entry.ts';
import { findSheet, listSheets, resolveSheet, titleOf } from '../../src/material/sheets.ts';
import { strengthFaults } from '../../src/material/strengths.ts';
import { english } from '../../src/words/english.ts';
import { written } from '../../src/words/statement.ts';
import { refusal } from '../support/refusal.ts';

const TABLE = listSheets();
const NAMES = TABLE.map((material) => material.name);

const meanLankford = ({ r0, r45, r90 }: SheetMaterial): number => (r0 + 2 * r45 + r90) / 4;

/** Tensile strength of Swift's law by Considère: true stress K nⁿ at the strain n − ε0, on the area left. */
const considere = (K: number, n: number, epsilon0: number): number => K * n ** n * Math.exp(epsilon0 - n);

describe('the table', () => {
  it('holds the sheets the tray file promises, each name once', () => {
    for (const name of [
      'DC01',
      'DC04',
      'DC06',
      'DX51D+Z',
      '1050A-O',
      '1050A-H14',
      '3003-O',
      '5052-O',
      '5754-O',
      '6061-O',
      'Cu-ETP-R220',
      'CuZn37-R300',
      '1.4301',
    ]) {
      expect(NAMES).toContain(name);
    }
    expect(new Set(NAMES).size).toBe(NAMES.length);
  });

  it.each(NAMES)(
    '%s: every value has a source that says published, from memory or common practice',
    (name) => {
      const { sources, anneal, strengths } = findSheet(name);
      const own = [
        ...(anneal.solidus === undefined ? [] : ['solidus']),
        ...(strengths === undefined ? [] : ['strengths']),
      ];
      expect(Object.keys(sources).sort()).toEqual([...SOURCED_PROPERTIES, ...own].sort());
      for (const [property, source] of Object.entries(sources)) {
        expect(source, property).toMatch(
          /from memory|common practice, no source|as quoted|by Considère|from (the )?yield strength|of the law|same (paper|table) as K/,
        );
      }
    },
  );

  it.each(NAMES)('%s: values are in their right units', (name) => {
    const sheet = findSheet(name);
    expect(sheet.density).toBeGreaterThan(2.6);
    expect(sheet.density).toBeLessThan(9);
    expect(sheet.youngsModulus).toBeGreaterThan(60_000);
    expect(sheet.youngsModulus).toBeLessThan(215_000);
    expect(sheet.yieldStrength).toBeLessThan(sheet.tensileStrength);
    expect(sheet.tensileStrength).toBeLessThan(sheet.K);
    expect(sheet.thicknessRange[0]).toBeGreaterThan(0);
    expect(sheet.thicknessRange[1]).toBeGreaterThan(sheet.thicknessRange[0]);
    // (E/ρ) is the same for steel, aluminium within 5 %, and lower for copper alloys (physics)
    const specific = sheet.youngsModulus / sheet.density / 1000;
    if (sheet.family === 'copper' || sheet.family === 'brass') expect(specific).toBeLessThan(15);
    else expect(Math.abs(specific - 25.8)).toBeLessThan(1.9);
  });
});

describe('hardening law against the tensile test', () => {
  it.each(NAMES)('%s: K nⁿ exp(ε0 − n) is its tensile strength within 2 %%', (name) => {
    const { K, n, epsilon0, tensileStrength } = findSheet(name);
    expect(Math.abs(considere(K, n, epsilon0) / tensileStrength - 1)).toBeLessThan(0.02);
  });

  it.each(NAMES)('%s: K ε0ⁿ is its yield strength within 3 %%', (name) => {
    const { K, n, epsilon0, yieldStrength } = findSheet(name);
    expect(Math.abs((K * epsilon0 ** n) / yieldStrength - 1)).toBeLessThan(0.03);
  });

  it.each(NAMES)('%s: uniform elongation is 0.7 to 1.15 times Considère’s n − ε0', (name) => {
    const { n, epsilon0, uniformElongation } = findSheet(name);
    const ratio = Math.log1p(uniformElongation / 100) / (n - epsilon0);
    expect(ratio).toBeGreaterThan(0.7);
    expect(ratio).toBeLessThan(1.15);
  });

  it('keeps to book pairs K, n where they fit the tensile strength, and shows where they do not', () => {
    // Callister (2005), p. 199: copper annealed 530/0.44, 304 annealed 1400/0.44, low-carbon steel 600/0.21
    expect([findSheet('Cu-ETP-R220').K, findSheet('Cu-ETP-R220').n]).toEqual([530, 0.44]);
    expect([findSheet('1.4301').K, findSheet('1.4301').n]).toEqual([1400, 0.44]);
    // Kalpakjian as quoted: 6061-O 205/0.20
    expect([findSheet('6061-O').K, findSheet('6061-O').n]).toEqual([205, 0.2]);
    // Kalpakjian: copper 315/0.54 (from memory), 5052-O 210/0.13 (as quoted): below every standard's minimum
    expect(considere(315, 0.54, 0)).toBeLessThan(200); // EN 1652 R200
    expect(considere(210, 0.13, 0)).toBeLessThan(170); // EN 485-2, 5052-O
    // K of the drawing steels within 15 % of Callister's low-carbon steel, 600
    for (const name of ['DC01', 'DC04', 'DC06']) {
      expect(Math.abs(findSheet(name).K / 600 - 1)).toBeLessThan(0.15);
    }
  });
});

describe('limits of the standards', () => {
  // EN 10130:2006 and 1999 (transverse, above 0.7 mm), EN 10346:2015, EN 485-2 (0.5 to 1.5 mm), EN 1652: as
  // quoted in suppliers' tables. 5052-O, 6061-O and 1.4301 (EN 10088-2): from memory. null: no limit set.
  const limits: Record<
    string,
    readonly [ReMin: number | null, ReMax: number | null, RmMin: number | null, RmMax: number]
  > = {
    DC01: [null, 280, 270, 410],
    DC04: [null, 210, 270, 350],
    DC06: [null, 170, 270, 330],
    'DX51D+Z': [null, null, 270, 500],
    '1050A-O': [20, null, 65, 95],
    '1050A-H14': [85, null, 105, 145],
    '3003-O': [35, null, 95, 135],
    '5052-O': [65, null, 170, 215],
    '5754-O': [80, null, 190, 240],
    '6061-O': [null, 85, null, 150],
    'Cu-ETP-R220': [null, 140, 220, 260],
    'CuZn37-R300': [null, 180, 300, 370],
    '1.4301': [230, null, 540, 750],
  };

  it.each(NAMES)('%s', (name) => {
    const { yieldStrength, tensileStrength } = findSheet(name);
    const row = limits[name];
    expect(row, 'a new sheet needs its standard’s limits here').toBeDefined();
    const [ReMin, ReMax, RmMin, RmMax] = row!;
    expect(yieldStrength).toBeGreaterThanOrEqual(ReMin ?? 0);
    expect(yieldStrength).toBeLessThanOrEqual(ReMax ?? Infinity);
    expect(tensileStrength).toBeGreaterThanOrEqual(RmMin ?? 0);
    expect(tensileStrength).toBeLessThanOrEqual(RmMax);
  });

  it('EN 10130: r90 and n90 of DC04 and DC06, mean r and n of the 1999 DC06', () => {
    expect(findSheet('DC04').r90).toBeGreaterThanOrEqual(1.6);
    expect(findSheet('DC04').n).toBeGreaterThanOrEqual(0.18);
    expect(findSheet('DC06').r90).toBeGreaterThanOrEqual(2.1);
    expect(findSheet('DC06').n).toBeGreaterThanOrEqual(0.22);
    expect(meanLankford(findSheet('DC06'))).toBeGreaterThanOrEqual(1.8);
  });
});

describe('Hosford and Caddell, Metal Forming, 3rd ed. (2007), table 19.1', () => {
  // ranges of n and of the mean Lankford coefficient, as quoted by an online library
  it.each([
    ['DC04', 0.2, 0.25, 1.4, 2.0], // low-carbon steel
    ['DC06', 0.26, 0.34, 1.8, 2.5], // interstitial-free steel, printed n 0.30
    ['1050A-O', 0.2, 0.3, 0.6, 0.8], // aluminium alloys
    ['3003-O', 0.2, 0.3, 0.6, 0.8],
    ['5052-O', 0.2, 0.3, 0.6, 0.8],
    ['5754-O', 0.2, 0.3, 0.6, 0.8],
    ['6061-O', 0.2, 0.3, 0.6, 0.8],
    ['Cu-ETP-R220', 0.35, 0.45, 0.6, 0.9], // copper
    ['CuZn37-R300', 0.4, 0.6, 0.8, 0.9], // brass 70/30
    ['1.4301', 0.4, 0.55, 0.9, 1.0], // austenitic stainless steel
  ])('%s: n and mean r', (name, nMin, nMax, rMin, rMax) => {
    const sheet = findSheet(name);
    expect(sheet.n).toBeGreaterThanOrEqual(nMin);
    expect(sheet.n).toBeLessThanOrEqual(nMax);
    expect(meanLankford(sheet)).toBeGreaterThanOrEqual(rMin);
    expect(meanLankford(sheet)).toBeLessThanOrEqual(rMax);
  });

  it('n falls with cold work: half-hard 1050A far below soft', () => {
    expect(findSheet('1050A-H14').n).toBeLessThan(findSheet('1050A-O').n / 3);
  });
});

describe('annealing', () => {
  it('keeps every range below the melting point and above recrystallisation', () => {
    // melting begins, °C: 1050A 646, 3003 643, 5052 607, 5754 595, 6061 582, Cu 1083, CuZn37 900 (from memory)
    const melts: Record<string, number> = { aluminium: 582, copper: 1083, brass: 900, steel: 1450 };
    for (const { name, family, anneal } of TABLE) {
      if (anneal.temperature === null) continue;
      const [low, high] = anneal.temperature;
      expect(high, name).toBeLessThan(melts[family]! - 100);
      expect(low, name).toBeLessThan(high);
      expect(low, name).toBeGreaterThanOrEqual(320);
    }
  });

  it('stays under A1 (about 720 °C) for plain low-carbon steel, and goes above for one without carbon', () => {
    for (const name of ['DC01', 'DC04']) expect(findSheet(name).anneal.temperature![1]).toBeLessThan(720);
    // Na et al. (2004), Materials Science Forum 467–470, 299–304: recrystallised from 590 to 680 °C after heavy
    // rolling; hand work leaves less to drive it.
    expect(findSheet('DC06').anneal.temperature![0]).toBeGreaterThanOrEqual(680);
  });

  it('asks for a glow only where metal glows (Draper: seen from 525 °C), and for none below', () => {
    for (const { name, anneal } of TABLE) {
      if (anneal.temperature === null) continue;
      const glows = /red/.test(written(anneal.cue, english));
      expect(anneal.temperature[0] >= 525, name).toBe(glows);
    }
  });

  it('begins to melt where the alloy does, not pure aluminium, and well above its anneal', () => {
    for (const { name, family, anneal } of TABLE) {
      expect(anneal.solidus !== undefined, name).toBe(family === 'aluminium');
      if (anneal.solidus === undefined) continue;
      expect(anneal.solidus, name).toBeLessThan(660);
      expect(anneal.solidus - anneal.temperature![1], name).toBeGreaterThan(150);
    }
    const onsets = ['1050A-O', '3003-O', '5052-O', '5754-O', '6061-O'].map(
      (name) => findSheet(name).anneal.solidus!,
    );
    expect(onsets).toEqual([...onsets].sort((a, b) => b - a));
    expect(new Set(onsets).size).toBe(5);
  });

  it('never sends zinc-coated or stainless sheet to the torch, and says what to do instead', () => {
    for (const { family, coating, anneal } of TABLE) {
      const forbidden = coating === 'zinc' || family === 'stainless steel';
      expect(anneal.temperature === null).toBe(forbidden);
      expect(anneal.instead !== undefined).toBe(forbidden);
    }
  });

  it('never allows more than the neck of a tensile bar', () => {
    for (const { anneal, n } of TABLE) {
      expect(anneal.strainBudget).toBeGreaterThan(0);
      expect(anneal.strainBudget).toBeLessThanOrEqual(n);
    }
  });
});

describe('findSheet', () => {
  it.each([
    ['dc04', 'DC04'],
    ['  DC 04 ', 'DC04'],
    ['DC-04', 'DC04'],
    ['dx51d', 'DX51D+Z'],
    ['DX51D + Z', 'DX51D+Z'],
    ['DX51D+Z275-M-A-C', 'DX51D+Z'],
    ['EN AW-1050A O', '1050A-O'],
    ['1050a h14', '1050A-H14'],
    ['AA 5754-O', '5754-O'],
    ['5754-H111', '5754-O'],
    ['cu-etp soft', 'Cu-ETP-R220'],
    ['Cu-ETP R220', 'Cu-ETP-R220'],
    ['CuZn37 soft', 'CuZn37-R300'],
    ['304', '1.4301'],
    ['x5crni18-10', '1.4301'],
  ])('takes %j for %s', (written, name) => {
    expect(findSheet(written).name).toBe(name);
  });

  it.each([
    ['DC4', 'DC04'],
    ['DC05', 'DC04'],
    ['1050-O', '1050A-O'],
    ['1.4303', '1.4301'],
    ['CuZn36', 'CuZn37-R300'],
  ])('does not take %j, but names %s', (written, near) => {
    const fault = refusal(() => findSheet(written));
    expect(fault.code).toBe('NOT_FOUND');
    expect(fault.message).toContain(`'${written}'`);
    expect(fault.message).toContain(near);
  });

  it('answers any text with a sheet or one short sentence', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300 }), (text) => {
        try {
          expect(NAMES).toContain(findSheet(text).name);
        } catch (error) {
          expect(error).toBeInstanceOf(GatherpanError);
          expect((error as Error).message.length).toBeLessThan(260);
        }
      }),
    );
    expect(refusal(() => findSheet('x'.repeat(5_000_000))).message.length).toBeLessThan(260);
    for (const hostile of ['__proto__', 'constructor', 'toString']) {
      expect(refusal(() => findSheet(hostile)).code).toBe('NOT_FOUND');
    }
  });
});

const OWN: CustomMaterial = {
  name: 'Nursery offcut',
  K: 520,
  epsilon0: 0.004,
  n: 0.22,
  r0: 1.8,
  r45: 1.4,
  r90: 2.1,
  density: 7.85,
  youngsModulus: 210_000,
  yieldStrength: 160,
  tensileStrength: 300,
  uniformElongation: 22,
};

describe('strengths', () => {
  it.each([
    ['steel', undefined, 6],
    ['aluminium', undefined, 8],
    ['copper', undefined, 8],
    ['brass', undefined, 8],
    ['nickel silver', undefined, 8],
    ['stainless steel', 'fcc', 8],
    ['stainless steel', 'bcc', 6],
    [undefined, 'bcc', 6],
    ['other', 'fcc', 8],
  ] as const)('of %s, crystal %s, have the exponent %i', (family, crystal, exponent) => {
    const material: CustomMaterial = {
      ...OWN,
      ...(family === undefined ? {} : { family }),
      strengths: { at45: 1.02, at90: 0.99, ...(crystal === undefined ? {} : { crystal }) },
    };
    const { strengths, sources } = resolveSheet({ material, thickness: 1, grain: 0 }).material;
    expect(strengths).toEqual({ exponent, at45: 1.02, at90: 0.99 });
    expect(sources.strengths).toBe('given in the tray file');
  });

  it('of the table fit a law exactly, and the rest have none', () => {
    const known = TABLE.filter(({ strengths }) => strengths !== undefined);
    expect(known.map(({ name }) => name)).toEqual(['5754-O']);
    for (const { strengths, ...sheet } of known) {
      const { exponent, ...ratios } = strengths!;
      expect(strengthFaults({ ...sheet, family: 'aluminium', strengths: ratios }, 'x')).toEqual([]);
      expect(exponent).toBe(8);
    }
  });

  it('are refused beyond their range by the library too, with every fault', () => {
    const strengths = { at45: Number.NaN, at90: 3, biaxialR: 0 };
    const error = refusal(() =>
      resolveSheet({ material: { ...OWN, family: 'steel', strengths }, thickness: 1, grain: 0 }),
    );
    for (const key of ['at45', 'at90', 'biaxialR']) expect(error.message).toContain(`strengths.${key}`);
  });
});

describe('resolveSheet', () => {
  it('turns the grain into radians, counter-clockwise positive', () => {
    const sheet = resolveSheet({ material: 'DC04', thickness: 1.2, grain: 90 });
    expect(sheet.grain).toBeCloseTo(Math.PI / 2, 15);
    expect(sheet.thickness).toBe(1.2);
    expect(sheet.material).toBe(findSheet('DC04'));
    expect(resolveSheet({ material: 'DC04', thickness: 1.2, grain: -30 }).grain).toBeCloseTo(
      -Math.PI / 6,
      15,
    );
  });

  it.each([0, -1, Number.NaN, 0.2, 3.5, 1e308, Infinity])(
    'refuses DC04 %d mm thick, naming the range',
    (thickness) => {
      const fault = refusal(() => resolveSheet({ material: 'DC04', thickness, grain: 0 }));
      expect(fault.code).toBe('BAD_INPUT');
      expect(fault.path).toBe('sheet.thickness');
      expect(fault.message).toBe(`sheet.thickness is ${thickness} mm; DC04 is taken from 0.35 to 3 mm.`);
    },
  );

  it('takes thickness at both ends of the range', () => {
    for (const { name, thicknessRange } of TABLE) {
      for (const thickness of thicknessRange) {
        expect(resolveSheet({ material: name, thickness, grain: 0 }).thickness).toBe(thickness);
      }
    }
  });

  it('names the path it was given', () => {
    const unknown = refusal(() =>
      resolveSheet({ material: 'tin', thickness: 1, grain: 0 }, 'trays[2].sheet'),
    );
    expect([unknown.code, unknown.path]).toEqual(['NOT_FOUND', 'trays[2].sheet.material']);
    const grain = refusal(() => resolveSheet({ material: 'DC01', thickness: 1, grain: Number.NaN }));
    expect([grain.code, grain.path]).toEqual(['BAD_INPUT', 'sheet.grain']);
  });

  it('takes a sheet in full, computes the strain between anneals, and says where values come from', () => {
    const { material } = resolveSheet({ material: OWN, thickness: 1, grain: 0 });
    expect(material).toMatchObject({ K: 520, n: 0.22, r45: 1.4 });
    expect([material.family, material.coating]).toEqual(['not stated', 'not stated']);
    expect(titleOf(material, english)).toBe('Nursery offcut');
    expect(material.anneal.strainBudget).toBeCloseTo(Math.log(1.22), 12);
    expect(material.anneal.temperature).toBeNull();
    expect(written(material.anneal.instead!, english)).toMatch(/ask its supplier/);
    expect(Object.keys(material.sources).sort()).toEqual([...SOURCED_PROPERTIES].sort());
    expect(material.sources.K).toBe('given in the tray file');
    expect(material.thicknessRange).toBe(CUSTOM_THICKNESS_RANGE);
  });

  it('keeps a strain budget and an anneal range that are given', () => {
    const own = { ...OWN, strainBudget: 0.5, annealTemperature: [600, 680] as const };
    const { anneal, sources } = resolveSheet({ material: own, thickness: 1, grain: 0 }).material;
    expect(anneal.strainBudget).toBe(0.5);
    expect(anneal.temperature).toEqual([600, 680]);
    expect(anneal.instead).toBeUndefined();
    expect(sources.strainBudget).toBe('given in the tray file');
  });

  it.each([
    ['n', 0],
    ['n', 1.5],
    ['K', -5],
    ['K', Number.NaN],
    ['r45', 0],
    ['density', 7850],
    ['youngsModulus', 210],
    ['uniformElongation', 0],
    ['tensileStrength', 100],
    ['strainBudget', -0.1],
    ['annealTemperature', [700, 600]],
    ['annealTemperature', [Number.NaN, 600]],
  ])('refuses a sheet of its own with %s %s', (property, value) => {
    const own = { ...OWN, [property]: value } as CustomMaterial;
    const fault = refusal(() => resolveSheet({ material: own, thickness: 1, grain: 0 }));
    expect(fault.code).toBe('BAD_INPUT');
    expect(fault.path).toBe(`sheet.material.${property}`);
    expect(fault.faults.length).toBe(1);
    expect(fault.message).toMatch(/^sheet\.material\.\w+ is .*; it must .*\.$|less than the yield strength/);
  });

  it('reports all faults of a sheet at once', () => {
    const own = { ...OWN, n: 0, r0: -1, density: 7850 };
    const fault = refusal(() => resolveSheet({ material: own, thickness: 1, grain: 0 }));
    expect(fault.faults.map((each) => each.path.split('.').at(-1))).toEqual(['n', 'r0', 'density']);
  });
});
