/** A sheet given in full in the tray file: checked, and made a `SheetMaterial` like any other. */
import { type Fault, GatherpanError } from '../../errors.ts';
import { english, type Words } from '../../words/english.ts';
import type { SheetMaterial } from '../sheet.ts';
import type { CustomMaterial } from '../sheetSpec.ts';
import { annealOf, SOURCED_PROPERTIES, STRAIN_BUDGET_SOURCE, strainBudget } from './entry.ts';

/** Thickness the method is offered for when the material's own range is not known, mm. */
export const CUSTOM_THICKNESS_RANGE: readonly [number, number] = [0.1, 10];

type NumberKey = Exclude<keyof CustomMaterial, 'name' | 'annealTemperature'>;

/** What each number may be, inclusive. The limits are wide; they are there to catch a wrong unit. */
const LIMITS: readonly (readonly [key: NumberKey, low: number, high: number, unit: string])[] = [
  ['K', 1, 1e6, ' N/mm²'],
  ['epsilon0', 0, 1, ''],
  ['n', 0.001, 1, ''],
  ['r0', 0.001, 1000, ''],
  ['r45', 0.001, 1000, ''],
  ['r90', 0.001, 1000, ''],
  ['density', 0.5, 25, ' kg/dm³'],
  ['youngsModulus', 1000, 1e6, ' N/mm²'],
  ['yieldStrength', 0.1, 1e4, ' N/mm²'],
  ['tensileStrength', 0.1, 1e4, ' N/mm²'],
  ['uniformElongation', 0.01, 300, ' %'],
];

/**
 * The material behind a sheet that a tray file gives in full.
 *
 * The file does not say what metal it is, so the family is read off the density (below 4 kg/dm³ aluminium,
 * above 8.2 copper, else steel); it only chooses which notes apply.
 *
 * @param path dotted path of the material in the file, for messages
 * @throws GatherpanError BAD_INPUT with every value that is out of its range
 */
export function completeCustomMaterial(
  material: CustomMaterial,
  path: string,
  words: Words = english,
): SheetMaterial {
  const faults: Fault[] = [];
  const refuse = (key: string, message: string): void => {
    faults.push({ path: `${path}.${key}`, message: `${path}.${key} ${message}.` });
  };
  for (const [key, low, high, unit] of LIMITS) {
    const value = material[key];
    if (!(typeof value === 'number' && value >= low && value <= high)) {
      refuse(key, `is ${value}; it must be a number from ${low} to ${high}${unit}`);
    }
  }
  if (material.tensileStrength < material.yieldStrength) {
    refuse(
      'tensileStrength',
      `is ${material.tensileStrength} N/mm², less than the yield strength of ${material.yieldStrength} N/mm²; it must be at least that`,
    );
  }
  const budget = material.strainBudget ?? strainBudget(material.uniformElongation);
  if (material.strainBudget !== undefined && !(budget > 0 && budget <= 5)) {
    refuse('strainBudget', `is ${budget}; it must be a logarithmic strain above 0 and up to 5`);
  }
  const anneal = material.annealTemperature;
  if (anneal !== undefined && !(anneal[0] >= 20 && anneal[0] <= anneal[1] && anneal[1] <= 1500)) {
    refuse(
      'annealTemperature',
      `is ${anneal[0]} to ${anneal[1]} °C; it must rise from its first to its second value, between 20 and 1500 °C`,
    );
  }
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);

  const { annealTemperature: _temperature, strainBudget: _budget, ...values } = material;
  return {
    ...values,
    title: material.name,
    family: material.density < 4 ? 'aluminium' : material.density > 8.2 ? 'copper' : 'steel',
    anneal: annealOf(
      {
        temperature: anneal ?? null,
        cue: 'custom',
        cautions: ['customCoated', 'customAluminium'],
        ...(anneal === undefined ? { instead: 'custom' } : {}),
      },
      budget,
      words,
    ),
    thicknessRange: CUSTOM_THICKNESS_RANGE,
    sources: Object.fromEntries(
      SOURCED_PROPERTIES.map((property) => [property, customSource(property, material)]),
    ),
  };
}

function customSource(property: (typeof SOURCED_PROPERTIES)[number], material: CustomMaterial): string {
  switch (property) {
    case 'strainBudget':
      return material.strainBudget === undefined ? STRAIN_BUDGET_SOURCE : 'given in the tray file';
    case 'annealTemperature':
      return material.annealTemperature === undefined ? 'not given' : 'given in the tray file';
    case 'annealCue':
    case 'annealCautions':
    case 'thicknessRange':
      return 'common practice, no source';
    default:
      return 'given in the tray file';
  }
}
