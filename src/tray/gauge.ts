/**
 * Sheet gauge numbers and the thickness they stand for.
 *
 * One number means different thicknesses in different systems (18 is 1.02 mm in one and 1.31 mm in another),
 * so a gauge is only accepted together with its system. Inches here, because all of these systems were fixed
 * in inches; `gaugeThickness` answers in mm. Only numbers between the thinnest and the thickest sheet a tray
 * file takes are listed.
 */
import { pow } from '../elementary.ts';
import { GatherpanError } from '../errors.ts';
import { nearest } from '../spelling.ts';
import { words } from '../words/language.ts';
import { millimetresFrom } from './writtenSize.ts';

/** A named series of sheet thicknesses. */
export interface GaugeSystem {
  /** What a tray file writes. */
  readonly name: string;
  /** The sheets it is used for, in the language of the moment. */
  readonly usedFor: string;
  readonly source: string;
  /** Nominal thickness in inches by gauge number. */
  readonly inches: ReadonlyMap<number, number>;
}

/**
 * Ounces per square foot by gauge number, from 3: the law that fixed the gauge fixed the weight of a square
 * foot; the thickness follows from the density one reckons with.
 * Source: Act of Congress of 3 March 1893, 15 U.S.C. § 206, fifth column.
 */
const OUNCES_FROM_GAUGE_3: readonly number[] = [
  160, 150, 140, 130, 120, 110, 100, 90, 80, 70, 60, 50, 45, 40, 36, 32, 28, 24, 22, 20, 18, 16, 14, 12, 11,
  10, 9, 8, 7, 6.5, 6, 5.5,
];

/** Wrought iron, 480 lb a cubic foot: a sheet an inch thick weighs 640 ounces a square foot (the Act of 1893). */
const IRON_OUNCES_PER_INCH = 640;

/** Rolled steel as the Manufacturers' Standard Gauge reckons it: 41.82 lb a square foot and inch. */
const STEEL_OUNCES_PER_INCH = 16 * 41.82;

/** What the zinc of both faces adds in the galvanized sheet gauge, ounces a square foot. */
const ZINC_OUNCES = 2.5;

/** Printed tables of these systems stop at the fourth decimal of an inch, and that is the nominal thickness. */
const fourDecimals = (inches: number): number => Math.round(inches * 1e4) / 1e4;

function byWeight(from: number, to: number, inches: (ounces: number) => number): ReadonlyMap<number, number> {
  const table = new Map<number, number>();
  for (let gauge = from; gauge <= to; gauge++) table.set(gauge, inches(OUNCES_FROM_GAUGE_3[gauge - 3]!));
  return table;
}

const counted = (first: number, inches: readonly number[]): ReadonlyMap<number, number> =>
  new Map(inches.map((value, position) => [first + position, value]));

const usedFor = () => words().messages.tray.fields.gauges.usedFor;

/** Every system a tray file may name. */
export const gaugeSystems: readonly GaugeSystem[] = [
  {
    name: 'Manufacturers Standard',
    get usedFor() {
      return usedFor()['Manufacturers Standard'];
    },
    source:
      "Manufacturers' Standard Gauge for sheet steel: the weights of 15 U.S.C. § 206 at 41.82 lb a square foot and inch",
    inches: byWeight(3, 34, (ounces) => fourDecimals(ounces / STEEL_OUNCES_PER_INCH)),
  },
  {
    name: 'Galvanized Sheet',
    get usedFor() {
      return usedFor()['Galvanized Sheet'];
    },
    source:
      'Galvanized sheet gauge: the weights of 15 U.S.C. § 206 and 2.5 oz a square foot of zinc, at 41.82 lb a square foot and inch (that the zinc is 2.5 oz: from memory)',
    inches: byWeight(8, 30, (ounces) => fourDecimals((ounces + ZINC_OUNCES) / STEEL_OUNCES_PER_INCH)),
  },
  {
    name: 'US Standard',
    get usedFor() {
      return usedFor()['US Standard'];
    },
    source: 'United States Standard Gauge, Act of Congress of 3 March 1893, 15 U.S.C. § 206',
    inches: byWeight(3, 34, (ounces) => ounces / IRON_OUNCES_PER_INCH),
  },
  {
    name: 'Brown and Sharpe',
    get usedFor() {
      return usedFor()['Brown and Sharpe'];
    },
    source:
      'Brown and Sharpe (American wire) gauge, ASTM B258: 0.46 in at number 0000 and 0.005 in at number 36, in equal ratios (standard number from memory)',
    inches: counted(
      0,
      Array.from({ length: 33 }, (_, gauge) => fourDecimals(0.005 * pow(92, (36 - gauge) / 39))),
    ),
  },
  {
    name: 'SWG',
    get usedFor() {
      return usedFor().SWG;
    },
    source:
      'Imperial Standard Wire Gauge, Order in Council of 23 August 1883, as printed in Notes on Building Construction, part III',
    inches: counted(
      0,
      [
        0.324, 0.3, 0.276, 0.252, 0.232, 0.212, 0.192, 0.176, 0.16, 0.144, 0.128, 0.116, 0.104, 0.092, 0.08,
        0.072, 0.064, 0.056, 0.048, 0.04, 0.036, 0.032, 0.028, 0.024, 0.022, 0.02, 0.018, 0.0164, 0.0148,
        0.0136, 0.0124, 0.0116, 0.0108, 0.01, 0.0092, 0.0084,
      ],
    ),
  },
  {
    name: 'BG',
    get usedFor() {
      return usedFor().BG;
    },
    source:
      'Birmingham Gauge for sheet and hoop, Order in Council of 10 July 1914 (numbers above 22 from memory)',
    inches: counted(
      1,
      [
        0.3532, 0.3147, 0.2804, 0.25, 0.2225, 0.1981, 0.1764, 0.157, 0.1398, 0.125, 0.1113, 0.0991, 0.0882,
        0.0785, 0.0699, 0.0625, 0.0556, 0.0495, 0.044, 0.0392, 0.0349, 0.03125, 0.02782, 0.02476, 0.02204,
        0.01961, 0.01745, 0.015625, 0.0139, 0.0123,
      ],
    ),
  },
];

/** Names of the systems, in the order of the table. */
export const gaugeSystemNames: readonly string[] = gaugeSystems.map((system) => system.name);

/**
 * Nominal thickness of a sheet of this gauge, mm.
 *
 * @throws GatherpanError BAD_INPUT, path `sheet.thickness.system` or `sheet.thickness.gauge`, when the system
 *   has no such name or does not have that number
 */
export function gaugeThickness(gauge: number, systemName: string): number {
  const say = words().messages.tray;
  const system = gaugeSystems.find((candidate) => candidate.name === systemName);
  if (system === undefined) {
    const near = nearest(systemName, gaugeSystemNames);
    const given = JSON.stringify(systemName);
    const known = gaugeSystemNames.map((name) => JSON.stringify(name)).join(', ');
    throw new GatherpanError('BAD_INPUT', {
      path: 'sheet.thickness.system',
      message:
        near === undefined
          ? say.gaugeSystemUnknown(given, known)
          : say.gaugeSystemNear(given, JSON.stringify(near), known),
    });
  }
  const inches = system.inches.get(gauge);
  if (inches === undefined) {
    const numbers = [...system.inches.keys()];
    throw new GatherpanError('BAD_INPUT', {
      path: 'sheet.thickness.gauge',
      message: say.gaugeUnknown(
        String(gauge),
        String(numbers[0]),
        String(numbers.at(-1)),
        JSON.stringify(system.name),
      ),
    });
  }
  return millimetresFrom(inches, 'in');
}
