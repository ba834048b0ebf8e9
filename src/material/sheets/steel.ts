/** Uncoated cold-rolled steel for cold forming (EN 10130) and hot-dip zinc-coated steel (EN 10346). */
import { HOSFORD_CADDELL, type SheetEntry } from './entry.ts';

const EN_10130 = 'EN 10130:2006 and 1999, transverse test pieces, as quoted in steel suppliers’ tables';

const STEEL_ANNEAL = {
  temperature: [600, 700],
  cue: 'steel',
} as const;

const INTERSTITIAL_FREE_ANNEAL = {
  temperature: [680, 750],
  cue: 'steelHotter',
} as const;

const STEEL_SOURCES = {
  density: 'from memory: 7.85 is the value steel standards use for masses',
  youngsModulus: 'from memory: 210 000 as in EN 1993-1-1',
  annealTemperature:
    'process anneal above about 600 °C and below A1 at about 720 °C, as quoted in a heat-treatment supplier’s notes; 10 to 20 °C below Ac1 in ASM Handbook vol. 4, from memory',
  annealWords: 'colour of that heat: common practice, no source',
  thicknessRange: 'EN 10131 covers 0.35 to 3 mm, from memory',
} as const;

const ZINC_ANNEAL = {
  temperature: null,
  cue: 'zinc',
  instead: 'zinc',
} as const;

export const STEEL: readonly SheetEntry[] = [
  {
    name: 'DC01',
    family: 'steel',
    coating: 'none',
    K: 550,
    epsilon0: 0.005,
    n: 0.2,
    r0: 1.2,
    r45: 1.0,
    r90: 1.5,
    density: 7.85,
    youngsModulus: 210_000,
    yieldStrength: 190,
    tensileStrength: 326,
    uniformElongation: 20,
    anneal: STEEL_ANNEAL,
    thicknessRange: [0.35, 3],
    sources: {
      ...STEEL_SOURCES,
      K: 'from memory: typical value, medium confidence',
      epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
      n: `${HOSFORD_CADDELL}: 0.20 to 0.25 for low-carbon steel; lower end, as EN 10130 promises no n for DC01`,
      lankford:
        'from memory: mean 1.0 to 1.4 for plain cold-rolled steel (Kalpakjian and Schmid, Manufacturing Engineering and Technology); the split by direction is typical; EN 10130 promises no r for DC01',
      yieldStrength: `from memory: typical; limit Re ≤ 280 from ${EN_10130}`,
      tensileStrength: `within 270 to 410 of ${EN_10130}; K nⁿ exp(−(n − ε0)) of the law`,
      uniformElongation: `from memory: typical; A80 ≥ 28 % from ${EN_10130} is elongation at break`,
    },
  },
  {
    name: 'DC04',
    family: 'steel',
    coating: 'none',
    K: 530,
    epsilon0: 0.005,
    n: 0.22,
    r0: 1.79,
    r45: 1.51,
    r90: 2.27,
    density: 7.85,
    youngsModulus: 210_000,
    yieldStrength: 165,
    tensileStrength: 306,
    uniformElongation: 23,
    anneal: STEEL_ANNEAL,
    thicknessRange: [0.35, 3],
    sources: {
      ...STEEL_SOURCES,
      K: 'from memory: typical 520 to 540, medium confidence',
      epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
      n: `${HOSFORD_CADDELL}: 0.20 to 0.25 for low-carbon steel; EN 10130 promises n90 ≥ 0.180`,
      lankford:
        'from memory: mild steel of the square-cup benchmark, Makinouchi et al. (eds), Proc. NUMISHEET ’93 (1993), a killed drawing steel of this class; EN 10130 promises r90 ≥ 1.6',
      yieldStrength: `from memory: typical; limit Re ≤ 210 from ${EN_10130}`,
      tensileStrength: `within 270 to 350 of ${EN_10130}; K nⁿ exp(−(n − ε0)) of the law`,
      uniformElongation: `from memory: typical; A80 ≥ 38 % from ${EN_10130} is elongation at break`,
    },
  },
  {
    name: 'DC06',
    family: 'steel',
    coating: 'none',
    K: 529.5,
    epsilon0: 0.0044,
    n: 0.268,
    r0: 2.53,
    r45: 1.84,
    r90: 2.72,
    density: 7.85,
    youngsModulus: 210_000,
    yieldStrength: 124,
    tensileStrength: 286,
    uniformElongation: 26,
    anneal: INTERSTITIAL_FREE_ANNEAL,
    thicknessRange: [0.35, 3],
    sources: {
      ...STEEL_SOURCES,
      annealTemperature:
        'interstitial-free steel recrystallises later than plain low-carbon steel: from 590 to 680 °C after heavy rolling (Na et al. (2004), Materials Science Forum 467–470, 299–304, titanium-stabilised extra low carbon steels, abstract); after the light work of the hand later still, from memory; it has next to no carbon, so no A1 to stay below',
      K: 'Padmanabhan, Baptista, Oliveira and Menezes (2007), J. Mater. Process. Technol. 184, 288–293, mild steel; value from memory, medium-high confidence',
      epsilon0: 'from the yield strength of the same paper (123.6 N/mm², from memory): Rp = K ε0ⁿ',
      n: 'same paper as K, from memory; EN 10130 promises n90 ≥ 0.220',
      lankford: 'same paper as K, from memory; EN 10130:2006 promises r90 ≥ 2.1',
      yieldStrength: `same paper as K, from memory; limit Re ≤ 170 from ${EN_10130}`,
      tensileStrength: `within 270 to 330 of ${EN_10130}; K nⁿ exp(−(n − ε0)) of the law`,
      uniformElongation: `from memory: typical; A80 ≥ 41 % from ${EN_10130} is elongation at break`,
    },
  },
  {
    name: 'DX51D+Z',
    family: 'steel',
    coating: 'zinc',
    K: 571,
    epsilon0: 0.0098,
    n: 0.17,
    r0: 1.0,
    r45: 0.9,
    r90: 1.2,
    density: 7.85,
    youngsModulus: 210_000,
    yieldStrength: 260,
    tensileStrength: 360,
    uniformElongation: 16,
    anneal: ZINC_ANNEAL,
    thicknessRange: [0.35, 3],
    sources: {
      ...STEEL_SOURCES,
      K: 'by Considère from tensile strength and n',
      epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
      n: 'from memory: typical, low confidence; the standard promises none, so bend a trial piece',
      lankford: 'from memory: typical, low confidence; the standard promises none',
      yieldStrength: 'from memory: typical; the standard sets no limit for this grade',
      tensileStrength:
        'from memory: typical; within 270 to 500 of EN 10346:2015 as quoted in a stockholder’s table',
      uniformElongation:
        'from memory: typical; A80 ≥ 22 % of EN 10346:2015, as quoted, is elongation at break',
      annealTemperature:
        'melting and boiling point of zinc (420 and 907 °C) and red heat above 600 °C, from memory',
      annealWords: 'from the melting point of zinc, from memory',
      thicknessRange:
        'EN 10346:2015 covers 0.20 to below 3.0 mm, coating included, as quoted in a standards catalogue; sold from about 0.35, common practice, no source',
    },
  },
];

export const STAINLESS: readonly SheetEntry[] = [
  {
    name: '1.4301',
    family: 'stainless steel',
    coating: 'none',
    K: 1400,
    epsilon0: 0.0258,
    n: 0.44,
    r0: 0.85,
    r45: 1.05,
    r90: 0.9,
    density: 7.9,
    youngsModulus: 193_000,
    yieldStrength: 280,
    tensileStrength: 645,
    uniformElongation: 47,
    anneal: {
      temperature: null,
      cue: 'stainless',
      instead: 'stainless',
    },
    thicknessRange: [0.3, 3],
    sources: {
      K: 'Callister, Fundamentals of Materials Science and Engineering, 2nd ed. (2005), p. 199, 304 annealed, as quoted in an encyclopedia; Kalpakjian prints 1275 with n 0.45, from memory',
      epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
      n: `same table as K; ${HOSFORD_CADDELL}: 0.40 to 0.55. It falls with temperature and changes with nickel content`,
      lankford: `mean within 0.9 to 1.0 of ${HOSFORD_CADDELL}; the split by direction from memory, low confidence`,
      density: 'as quoted in a stockholder’s data sheet to EN 10088-3; another prints 8.00',
      youngsModulus:
        'as quoted in a stockholder’s data sheet to EN 10088-2:2005; EN 10088-1 has 200 000, from memory',
      yieldStrength: 'from memory: typical; EN 10088-2 asks Rp0.2 ≥ 230 for cold-rolled strip, from memory',
      tensileStrength:
        'K nⁿ exp(−(n − ε0)) of the law; within 540 to 750 of EN 10088-2 for cold-rolled strip, from memory',
      uniformElongation: 'from memory: typical; A80 ≥ 45 % of EN 10088-2 is elongation at break',
      annealTemperature:
        'from memory: ASTM A480/A480M, annex on heat treatment, 304 at 1040 °C at least and cooled rapidly; EN 10088-2 has 1000 to 1100 °C; given as null because it is not a workshop anneal',
      annealWords: 'common practice, no source',
      thicknessRange: 'common practice, no source',
    },
  },
];
