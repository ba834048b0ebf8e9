/** A sheet given in full in the tray file: checked, and made a `SheetMaterial` like any other. */
import { type Fault, GatherpanError } from '../../errors.ts';
import { percentFromLogStrain } from '../../units.ts';
import { english } from '../../words/english.ts';
import { words as said } from '../../words/language.ts';
import { NOT_STATED, type StatedFamily } from '../families.ts';
import type { SheetMaterial } from '../sheet.ts';
import type { CustomMaterial } from '../sheetSpec.ts';
import { completeStrengths, strengthFaults } from '../strengths.ts';
import { annealOf, SOURCED_PROPERTIES, STRAIN_BUDGET_SOURCE, strainBudget } from './entry.ts';

/** Thickness the method is offered for when the material's own range is not known, mm. */
export const CUSTOM_THICKNESS_RANGE: readonly [number, number] = [0.1, 10];

type NumberKey = Exclude<
  keyof CustomMaterial,
  'name' | 'family' | 'coating' | 'strengths' | 'annealTemperature'
>;

/** What each number may be, inclusive. The limits are wide; they are there to catch a wrong unit. */
const LIMITS: readonly (readonly [key: NumberKey, low: number, high: number, unit: string])[] = [
  ['K', 1, 1e6, 'N/mm²'],
  ['epsilon0', 0, 1, ''],
  ['n', 0.001, 1, ''],
  ['r0', 0.001, 1000, ''],
  ['r45', 0.001, 1000, ''],
  ['r90', 0.001, 1000, ''],
  ['density', 0.5, 25, 'kg/dm³'],
  ['youngsModulus', 1000, 1e6, 'N/mm²'],
  ['yieldStrength', 0.1, 1e4, 'N/mm²'],
  ['tensileStrength', 0.1, 1e4, 'N/mm²'],
  ['uniformElongation', 0.01, 300, '%'],
];

/**
 * The material behind a sheet that a tray file gives in full.
 *
 * Metal and coating are what the file states. What it leaves out is not guessed: the pattern has a note of it, and
 * the cautions of all that the sheet might be are given.
 *
 * @param path dotted path of the material in the file, for messages
 * @throws GatherpanError BAD_INPUT with every value that is out of its range
 */
export function completeCustomMaterial(material: CustomMaterial, path: string): SheetMaterial {
  const faults: Fault[] = [];
  const say = said().messages.material;
  const refuse = (key: string, sentence: (field: string) => string): void => {
    const field = `${path}.${key}`;
    faults.push({ path: field, message: sentence(field) });
  };
  for (const [key, low, high, unit] of LIMITS) {
    const value = material[key];
    if (!(typeof value === 'number' && value >= low && value <= high)) {
      const [found, least, most] = [String(value), String(low), String(high)];
      refuse(key, (field) =>
        unit === '' ? say.range(field, found, least, most) : say.rangeOf(field, found, least, most, unit),
      );
    }
  }
  const { tensileStrength, yieldStrength } = material;
  if (tensileStrength < yieldStrength) {
    refuse('tensileStrength', (field) =>
      say.tensileBelowYield(field, String(tensileStrength), String(yieldStrength)),
    );
  }
  const budget = material.strainBudget ?? strainBudget(material.uniformElongation);
  if (material.strainBudget !== undefined && !(budget > 0 && budget <= 5)) {
    refuse('strainBudget', (field) => say.strainBudget(field, String(budget)));
  }
  const anneal = material.annealTemperature;
  if (anneal !== undefined && !(anneal[0] >= 20 && anneal[0] <= anneal[1] && anneal[1] <= 1500)) {
    refuse('annealTemperature', (field) =>
      say.annealTemperature(field, String(anneal[0]), String(anneal[1])),
    );
  }
  faults.push(...softeningFaults(material, path));
  // A law is only fitted to figures that are some.
  if (faults.length === 0) faults.push(...strengthFaults(material, path));
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults);

  const { annealTemperature: _temperature, strainBudget: _budget, ...rest } = material;
  const { annealedStrainBudget: softBudget, family = NOT_STATED, coating = NOT_STATED, ...others } = rest;
  const { strengths, ...values } = others;
  return {
    ...values,
    ...(strengths === undefined ? {} : { strengths: completeStrengths(strengths, family) }),
    family,
    coating,
    anneal: annealOf(
      {
        temperature: anneal ?? null,
        cue: 'custom',
        ...(anneal === undefined ? { instead: isCoated(material) ? 'coated' : 'custom' } : {}),
        ...(softBudget === undefined
          ? {}
          : { soft: { strainBudget: softBudget, uniformElongation: percentFromLogStrain(softBudget) } }),
      },
      budget,
    ),
    thicknessRange: CUSTOM_THICKNESS_RANGE,
    sources: Object.fromEntries(
      [...SOURCED_PROPERTIES, ...(strengths === undefined ? [] : (['strengths'] as const))].map(
        (property) => [property, customSource(property, material)],
      ),
    ),
  };
}

const isCoated = ({ coating = 'none' }: CustomMaterial): boolean => coating !== 'none';

/** °C at which the pure metal melts; no alloy of it begins later. From memory, found in every book. */
const MELTS: Partial<Record<StatedFamily, number>> = { aluminium: 660, magnesium: 650 };

/** What is stated of the softening that cannot be so: a coated sheet that is heated, metal that would melt. */
export function softeningFaults(material: CustomMaterial, path: string): Fault[] {
  const say = said().messages.material;
  const faults: Fault[] = [];
  const { annealTemperature: anneal, annealedStrainBudget: soft, coating = 'none', family } = material;
  const field = `${path}.annealTemperature`;
  if (anneal !== undefined && isCoated(material)) {
    faults.push({ path: field, message: say.coatedNotAnnealed(field, `${path}.coating`, coating) });
  }
  const melts = family === undefined ? undefined : MELTS[family];
  if (anneal !== undefined && melts !== undefined && anneal[1] >= melts) {
    const message = say.annealMelts(
      field,
      String(anneal[1]),
      said().material.families[family!],
      String(melts),
    );
    faults.push({ path: field, message });
  }
  const budget = material.strainBudget ?? strainBudget(material.uniformElongation);
  if (soft !== undefined && !(soft > budget && soft <= 5)) {
    const own = `${path}.annealedStrainBudget`;
    faults.push({ path: own, message: say.annealedStrainBudget(own, String(soft), budget.toFixed(3)) });
  }
  return faults;
}

function customSource(
  property: (typeof SOURCED_PROPERTIES)[number] | 'strengths',
  material: CustomMaterial,
): string {
  const { given, notGiven, practice } = english.material.sources;
  switch (property) {
    case 'strainBudget':
      return material.strainBudget === undefined ? STRAIN_BUDGET_SOURCE : given;
    case 'annealTemperature':
      return material.annealTemperature === undefined ? notGiven : given;
    case 'annealCue':
    case 'thicknessRange':
      return practice;
    default:
      return given;
  }
}
