/**
 * The one table of cautions: which holds for which act, on which metal, under which coating.
 *
 * Page, card, template, gauges, plan, strip papers, order note and the command all ask here, so that none can say
 * less than another. A row holds codes only; the sentences are in `words/cautions.ts`. A metal or coating that is
 * not stated gets the cautions of all that it might be.
 */
import type { Words } from '../words/english.ts';
import { type Statement, statement } from '../words/statement.ts';
import {
  COATINGS,
  type Coating,
  FAMILIES,
  type Family,
  type Metal,
  NOT_STATED,
  type StatedCoating,
  type StatedFamily,
} from './families.ts';
import type { SheetMaterial } from './sheet.ts';

/** What is done with the sheet, in the order of the work. */
export const ACTS = [
  'laser',
  'plasma',
  'water jet',
  'hand cutting',
  'grind',
  'handle',
  'hammer',
  'anneal',
  'quench',
  'pickle',
  'weld',
] as const;
export type Act = (typeof ACTS)[number];

export type CautionCode = keyof Words['cautions']['sentences'];

interface Row {
  readonly code: CautionCode;
  readonly acts: readonly Act[];
  /** All of them when left out. */
  readonly families?: readonly StatedFamily[];
  readonly coatings?: readonly StatedCoating[];
  /** At the anneal: only for a sheet that may be heated in the workshop, or only for one that must not be. */
  readonly heat?: 'heated' | 'never';
  readonly source: string;
}

const PRACTICE = 'common practice, no source';
const CUTTING = ['laser', 'plasma', 'water jet', 'hand cutting'] as const;
const THERMAL = ['laser', 'plasma'] as const;

/** The weightiest first: what burns or poisons, then what hurts, then what spoils the work. */
const TABLE: readonly Row[] = [
  { code: 'checkSize', acts: CUTTING, source: PRACTICE },
  { code: 'neverHeat', acts: ['anneal'], heat: 'never', source: PRACTICE },

  // Fire
  {
    code: 'magnesiumNoTorch',
    acts: ['anneal', 'weld'],
    families: ['magnesium'],
    source:
      'T.O. 1-1A-9, Engineering series for aircraft repair: metallic materials, section IV: AZ31B is annealed at 650 °F (343 °C) in a furnace and begins to melt at 1120 °F (604 °C); that it burns in air near its melting point is from memory (NFPA 484)',
  },
  {
    code: 'magnesiumFire',
    acts: [...CUTTING, 'handle', 'anneal', 'weld'],
    families: ['magnesium'],
    source:
      'from memory: NFPA 484, Standard for Combustible Metals (dry extinguishing agent, no water, chips swept up dry)',
  },
  {
    code: 'titaniumFire',
    acts: [...CUTTING, 'handle', 'weld'],
    families: ['titanium'],
    source: 'from memory: NFPA 484, Standard for Combustible Metals',
  },
  {
    code: 'aluminiumDust',
    acts: ['laser', 'plasma', 'hand cutting'],
    families: ['aluminium'],
    source: 'from memory: NFPA 484, Standard for Combustible Metals',
  },
  {
    code: 'waterTable',
    acts: ['plasma', 'water jet'],
    families: ['aluminium', 'magnesium'],
    source: 'from memory: hydrogen from fine metal in the water tables of cutting machines',
  },
  {
    code: 'fireWatch',
    acts: ['anneal', 'weld'],
    heat: 'heated',
    source: 'from memory: 29 CFR 1910.252 (half an hour at least), NFPA 51B (an hour since 2019)',
  },

  // Fumes
  {
    code: 'zincNoHeat',
    acts: ['anneal'],
    coatings: ['zinc'],
    source: 'melting and boiling point of zinc (420 and 907 °C) and red heat above 600 °C, from memory',
  },
  {
    code: 'zincFume',
    acts: ['anneal', 'weld', ...THERMAL],
    coatings: ['zinc'],
    source: 'metal fume fever from zinc-coated sheet as quoted in safety training notes',
  },
  { code: 'zincStrip', acts: ['weld'], coatings: ['zinc'], source: PRACTICE },
  { code: 'paintFume', acts: ['anneal', 'weld', ...THERMAL], coatings: ['paint'], source: PRACTICE },
  {
    code: 'coatingUnknown',
    acts: ['anneal', 'weld', ...THERMAL, 'hand cutting'],
    coatings: ['other'],
    source: PRACTICE,
  },
  {
    code: 'stainlessChromium',
    acts: ['weld', ...THERMAL],
    families: ['stainless steel'],
    source:
      'Keane, Siert, Stone, Chen, Slaven, Cumpston and Antonini (2012), Selecting processes to minimize hexavalent chromium from stainless steel welding, Welding Journal 91(9), 241s–246s; IARC Monographs vol. 49 on chromium(VI) and nickel from memory',
  },
  {
    code: 'brassFume',
    acts: ['anneal', 'weld', ...THERMAL],
    families: ['brass', 'nickel silver'],
    source: PRACTICE,
  },
  {
    code: 'nickelFume',
    acts: ['weld', ...THERMAL],
    families: ['nickel silver'],
    source: 'from memory: IARC Monographs vol. 49 on nickel compounds',
  },
  { code: 'copperFume', acts: ['weld', ...THERMAL], families: ['copper'], source: 'from memory' },
  { code: 'otherMetal', acts: ['anneal', 'weld', ...THERMAL], families: ['other'], source: PRACTICE },
  {
    code: 'film',
    acts: THERMAL,
    source:
      'Hills, Burt and Moss (1991), Take precautions when cutting PVC-coated steel, Welding Journal 70(2), 55–56, as abstracted; hydrogen chloride from PVC from memory',
  },
  { code: 'cuttingFume', acts: THERMAL, source: PRACTICE },
  { code: 'bareOnly', acts: ['anneal'], heat: 'heated', source: PRACTICE },
  { code: 'ventilate', acts: ['anneal'], heat: 'heated', source: PRACTICE },
  {
    code: 'weldingFume',
    acts: ['weld'],
    source: 'from memory: IARC Monographs vol. 118 (2018), welding fume and ultraviolet light of the arc',
  },

  // Burns and wounds
  { code: 'hotProtection', acts: ['anneal'], heat: 'heated', source: PRACTICE },
  { code: 'hotLooksCold', acts: ['anneal', 'weld'], heat: 'heated', source: PRACTICE },
  { code: 'arc', acts: ['weld'], source: PRACTICE },
  { code: 'freshFromHeat', acts: THERMAL, source: PRACTICE },
  { code: 'jet', acts: ['water jet'], source: 'from memory: injection wounds of high-pressure water' },
  { code: 'handTools', acts: ['hand cutting', 'grind'], source: PRACTICE },
  { code: 'quenchOpen', acts: ['quench'], source: PRACTICE },
  { code: 'magnesiumNoWater', acts: ['quench'], families: ['magnesium'], source: 'as magnesiumFire' },
  { code: 'acid', acts: ['pickle'], source: PRACTICE },
  {
    code: 'pickleHydrogen',
    acts: ['pickle'],
    families: ['steel', 'aluminium', 'magnesium'],
    source: 'from memory: these metals give off hydrogen in acid, aluminium in lye too',
  },
  {
    code: 'pickleFluoride',
    acts: ['pickle'],
    families: ['stainless steel', 'titanium'],
    source: 'from memory: pickling baths of both hold hydrofluoric acid',
  },
  { code: 'edges', acts: [...CUTTING, 'handle', 'hammer'], source: PRACTICE },
  {
    code: 'noise',
    acts: ['hammer'],
    source: 'Control of Noise at Work Regulations 2005 (Great Britain) and 29 CFR 1910.95 (USA), from memory',
  },

  // What spoils the metal
  {
    code: 'steelTooHot',
    acts: ['anneal'],
    families: ['steel'],
    heat: 'heated',
    source: PRACTICE,
  },
  {
    code: 'stainlessRust',
    acts: ['anneal'],
    families: ['stainless steel'],
    source: 'sensitisation range from memory (found in every book on stainless steel)',
  },
  { code: 'stainlessHard', acts: ['hammer'], families: ['stainless steel'], source: PRACTICE },
  {
    code: 'aluminiumNoGlow',
    acts: ['anneal'],
    families: ['aluminium'],
    heat: 'heated',
    source:
      'from memory: approximate melting ranges in Aluminum Association, Aluminum Standards and Data; the lowest of common sheet is 7075, from 477 °C',
  },
  { code: 'aluminiumFlame', acts: ['anneal'], families: ['aluminium'], heat: 'heated', source: PRACTICE },
  {
    code: 'copperFlame',
    acts: ['anneal'],
    families: ['copper'],
    heat: 'heated',
    source: 'steam brittleness of copper that holds oxygen from memory',
  },
  {
    code: 'coarseGrain',
    acts: ['anneal'],
    families: ['copper', 'brass', 'nickel silver'],
    heat: 'heated',
    source: PRACTICE,
  },
  {
    code: 'brittleHot',
    acts: ['anneal'],
    families: ['brass', 'nickel silver'],
    heat: 'heated',
    source: PRACTICE,
  },
  { code: 'coolToBlack', acts: ['quench'], families: ['brass', 'nickel silver'], source: PRACTICE },
  {
    code: 'titaniumSkin',
    acts: ['anneal'],
    families: ['titanium'],
    source: 'from memory: titanium takes up oxygen above about 550 °C',
  },
  {
    code: 'magnesiumCold',
    acts: ['hammer'],
    families: ['magnesium'],
    source: 'T.O. 1-1A-9 as above: hot working of AZ31B from 450 °F (232 °C); cracking when cold from memory',
  },
  {
    code: 'seasonCracks',
    acts: ['hammer'],
    families: ['brass', 'nickel silver'],
    source: 'from memory: season cracking; stress relief at about 250 °C',
  },
  { code: 'zincCracks', acts: ['hammer'], coatings: ['zinc'], source: PRACTICE },
  {
    code: 'reflects',
    acts: ['laser'],
    families: ['aluminium', 'copper', 'brass', 'nickel silver', 'magnesium'],
    source: PRACTICE,
  },

  { code: 'localRules', acts: ACTS, source: PRACTICE },
];

/** The row that goes to the end of whatever it stands in. */
const LAST: CautionCode = 'localRules';

const holds = (list: readonly string[] | undefined, value: Family | Coating): boolean =>
  list === undefined || value === NOT_STATED || list.includes(value);

/** What the table needs to know of a sheet. */
export interface Worked extends Metal {
  /** Whether the sheet may be annealed in the workshop. */
  readonly heated: boolean;
}

/** Codes of one act, the weightiest first. */
export function cautionCodes(act: Act, { family, coating, heated }: Worked): CautionCode[] {
  return TABLE.filter(
    ({ acts, families, coatings, heat }) =>
      acts.includes(act) &&
      holds(families, family) &&
      holds(coatings, coating) &&
      (act !== 'anneal' || heat === undefined || (heat === 'heated') === heated),
  ).map(({ code }) => code);
}

/** Where a caution comes from, by code. */
export const CAUTION_SOURCES: Readonly<Record<CautionCode, string>> = Object.fromEntries(
  TABLE.map(({ code, source }) => [code, source]),
) as Record<CautionCode, string>;

/** The cautions of one act. */
export interface ActCautions {
  readonly act: Act;
  readonly sentences: readonly Statement[];
}

/**
 * The cautions of several acts in the order given. A sentence that holds for more than one stands with the first of
 * them, the line on local rules at the very end.
 */
export function cautionsOf(acts: readonly Act[], material: SheetMaterial): ActCautions[] {
  const { family, coating, anneal } = material;
  const worked: Worked = { family, coating, heated: anneal.temperature !== null };
  const told = new Set<CautionCode>([LAST]);
  const list = [...new Set(acts)].map((act) => {
    const codes = cautionCodes(act, worked).filter((code) => !told.has(code));
    for (const code of codes) told.add(code);
    return { act, sentences: codes.map((code) => sentenceOf(code, material)) };
  });
  const said = list.filter(({ sentences }) => sentences.length > 0);
  const last = said.at(-1);
  return last === undefined
    ? []
    : [...said.slice(0, -1), { ...last, sentences: [...last.sentences, sentenceOf(LAST, material)] }];
}

/** The same as one list. */
export const cautionList = (acts: readonly Act[], material: SheetMaterial): Statement[] =>
  cautionsOf(acts, material).flatMap(({ sentences }) => sentences);

function sentenceOf(code: CautionCode, { name, anneal }: SheetMaterial): Statement {
  const { solidus } = anneal;
  return code === 'aluminiumNoGlow' && solidus !== undefined
    ? statement('cautions.noGlowBefore', name, String(solidus))
    : statement(`cautions.sentences.${code}`);
}

/** The act of cutting the blank out, from what the tray file calls it. */
export const cutAct = (process: 'laser' | 'plasma' | 'water jet' | 'hand'): Act =>
  process === 'hand' ? 'hand cutting' : process;

/** All metals with all coatings, those left open too; for tests and lists. */
export const ALL_METALS: readonly Metal[] = [...FAMILIES, NOT_STATED].flatMap((family) =>
  [...COATINGS, NOT_STATED].map((coating) => ({ family, coating }) as Metal),
);
