/** Gauge numbers against printed tables, not against the formulas the code uses. */
import { describe, expect, test } from 'vitest';
import { gaugeSystemNames, gaugeSystems, gaugeThickness } from '../../src/tray/gauge.ts';
import { readTray } from '../../src/tray/readTray.ts';
import { refusal } from '../support/refusal.ts';
import { changed, goodFile } from './trayFiles.ts';

/** Inches by gauge number, as printed. */
const PRINTED: Readonly<Record<string, Readonly<Record<number, number>>>> = {
  // Sheet metal gauge tables in general use, column "standard steel" (Manufacturers' Standard Gauge).
  'Manufacturers Standard': {
    3: 0.2391,
    4: 0.2242,
    5: 0.2092,
    6: 0.1943,
    7: 0.1793,
    8: 0.1644,
    9: 0.1495,
    10: 0.1345,
    11: 0.1196,
    12: 0.1046,
    13: 0.0897,
    14: 0.0747,
    15: 0.0673,
    16: 0.0598,
    17: 0.0538,
    18: 0.0478,
    19: 0.0418,
    20: 0.0359,
    21: 0.0329,
    22: 0.0299,
    23: 0.0269,
    24: 0.0239,
    25: 0.0209,
    26: 0.0179,
    27: 0.0164,
    28: 0.0149,
  },
  // The same tables, column "galvanized steel" (galvanized sheet gauge).
  'Galvanized Sheet': {
    8: 0.1681,
    9: 0.1532,
    10: 0.1382,
    11: 0.1233,
    12: 0.1084,
    13: 0.0934,
    14: 0.0785,
    15: 0.071,
    16: 0.0635,
    17: 0.0575,
    18: 0.0516,
    19: 0.0456,
    20: 0.0396,
    21: 0.0366,
    22: 0.0336,
    23: 0.0306,
    24: 0.0276,
    25: 0.0247,
    26: 0.0217,
    27: 0.0202,
    28: 0.0187,
  },
  // 15 U.S.C. § 206, column "approximate thickness in decimal parts of an inch".
  'US Standard': {
    3: 0.25,
    4: 0.234375,
    5: 0.21875,
    6: 0.203125,
    7: 0.1875,
    8: 0.171875,
    9: 0.15625,
    10: 0.140625,
    11: 0.125,
    12: 0.109375,
    13: 0.09375,
    14: 0.078125,
    15: 0.0703125,
    16: 0.0625,
    17: 0.05625,
    18: 0.05,
    19: 0.04375,
    20: 0.0375,
    21: 0.034375,
    22: 0.03125,
    23: 0.028125,
    24: 0.025,
    25: 0.021875,
    26: 0.01875,
    27: 0.0171875,
  },
  // Wire tables in general use (American wire gauge), diameters in inches to the fourth decimal.
  'Brown and Sharpe': {
    0: 0.3249,
    1: 0.2893,
    2: 0.2576,
    3: 0.2294,
    4: 0.2043,
    5: 0.1819,
    6: 0.162,
    7: 0.1443,
    8: 0.1285,
    9: 0.1144,
    10: 0.1019,
    11: 0.0907,
    12: 0.0808,
    13: 0.072,
    14: 0.0641,
    15: 0.0571,
    16: 0.0508,
    17: 0.0453,
    18: 0.0403,
    19: 0.0359,
    20: 0.032,
    21: 0.0285,
    23: 0.0226,
    24: 0.0201,
    25: 0.0179,
    26: 0.0159,
    27: 0.0142,
    28: 0.0126,
    29: 0.0113,
    30: 0.01,
  },
  // Notes on Building Construction, part III: table "New Imperial Standard Wire Gauge".
  SWG: {
    0: 0.324,
    1: 0.3,
    2: 0.276,
    3: 0.252,
    4: 0.232,
    5: 0.212,
    6: 0.192,
    7: 0.176,
    8: 0.16,
    9: 0.144,
    10: 0.128,
    11: 0.116,
    12: 0.104,
    13: 0.092,
    14: 0.08,
    15: 0.072,
    16: 0.064,
    17: 0.056,
    18: 0.048,
    19: 0.04,
    20: 0.036,
    21: 0.032,
    22: 0.028,
    23: 0.024,
    24: 0.022,
    25: 0.02,
    26: 0.018,
    27: 0.0164,
    28: 0.0148,
    29: 0.0136,
    30: 0.0124,
    31: 0.0116,
    32: 0.0108,
    33: 0.01,
    34: 0.0092,
    35: 0.0084,
  },
  // Birmingham Gauge for sheet and hoop, Order in Council of 10 July 1914.
  BG: {
    1: 0.3532,
    2: 0.3147,
    3: 0.2804,
    4: 0.25,
    5: 0.2225,
    6: 0.1981,
    7: 0.1764,
    8: 0.157,
    9: 0.1398,
    10: 0.125,
    11: 0.1113,
    12: 0.0991,
    13: 0.0882,
    14: 0.0785,
    15: 0.0699,
    16: 0.0625,
    17: 0.0556,
    18: 0.0495,
    19: 0.044,
    20: 0.0392,
    21: 0.0349,
    22: 0.03125,
  },
};

describe('gauge systems', () => {
  test('every system has its printed table here', () => {
    expect(Object.keys(PRINTED)).toEqual(gaugeSystemNames);
  });

  test.each(Object.entries(PRINTED))('%s agrees with the printed table', (name, table) => {
    for (const [gauge, inches] of Object.entries(table)) {
      expect(Math.abs(gaugeThickness(Number(gauge), name) / 25.4 - inches), `number ${gauge}`).toBeLessThan(
        1e-9,
      );
    }
  });

  // The 1914 gauge halves in six steps: 4 is 1/4 in, 10 is 1/8, 16 is 1/16, 22 is 1/32. The numbers above 22
  // were written down from memory; this law, to one per cent, is what they are held to.
  test('BG halves every six numbers', () => {
    for (let gauge = 1; gauge + 6 <= 30; gauge++) {
      const ratio = gaugeThickness(gauge, 'BG') / gaugeThickness(gauge + 6, 'BG');
      expect(Math.abs(ratio / 2 - 1), `number ${gauge}`).toBeLessThan(0.01);
    }
  });

  test.each(gaugeSystems.map((system) => [system.name, system] as const))(
    '%s: thinner with every number, no number left out, within the limits of a tray file, a source named',
    (_, { inches, source, usedFor }) => {
      const entries = [...inches];
      entries.slice(1).forEach(([gauge, thickness], i) => {
        expect(gauge).toBe(entries[i]![0] + 1);
        expect(thickness).toBeLessThan(entries[i]![1]);
      });
      for (const [, thickness] of entries) {
        expect(thickness * 25.4).toBeGreaterThanOrEqual(0.2);
        expect(thickness * 25.4).toBeLessThanOrEqual(10);
      }
      expect(source.length).toBeGreaterThan(20);
      expect(usedFor).not.toBe('');
    },
  );

  test('one number means different thicknesses', () => {
    const thicknesses = gaugeSystemNames.map((name) => gaugeThickness(18, name).toFixed(3));
    expect(new Set(thicknesses).size).toBe(gaugeSystemNames.length);
  });

  test('a tray file may give a gauge, whatever its units', () => {
    const thickness = { gauge: 20, system: 'Galvanized Sheet' };
    expect(readTray(changed({ 'sheet.thickness': thickness })).sheet.thickness).toBeCloseTo(1.00584, 12);
    const inches = changed({
      units: 'in',
      plan: { length: 16, width: 10, cornerRadius: 2 },
      section: { bottomRadius: 1, height: 2 },
      'sheet.thickness': thickness,
    });
    expect(readTray(inches).sheet.thickness).toBeCloseTo(1.00584, 12);
    expect(goodFile().sheet.thickness).toBe(1.2);
  });

  test('an unknown system or number is refused in one sentence', () => {
    const unknown = refusal(() => gaugeThickness(18, 'swg'));
    expect(unknown.message).toContain('"swg", which is not known (the nearest is "SWG")');
    expect(unknown.path).toBe('sheet.thickness.system');
    const number = refusal(() => gaugeThickness(2, 'US Standard'));
    expect(number.message).toBe(
      'sheet.thickness.gauge is 2; give a whole number from 3 to 34 for the system "US Standard".',
    );
  });
});
