/** Aluminium sheet to EN 485-2: soft (O), and 1050A half hard (H14). */
import { HOSFORD_CADDELL, type SheetEntry, strainBudget } from './entry.ts';

const SOURCES = {
  annealWords:
    'soap that turns black as quoted in a metalworker’s notes; the heat at which it does: common practice, no source',
  thicknessRange: 'common practice, no source (EN 485-2 starts at 0.2 mm)',
  epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
  K: 'by Considère from tensile strength and n',
  n: `within 0.20 to 0.30 of ${HOSFORD_CADDELL} for aluminium alloys; the place in that range from memory`,
  lankford: `mean within 0.6 to 0.8 of ${HOSFORD_CADDELL} for aluminium alloys; the split by direction from memory, low confidence`,
  uniformElongation: 'from memory: typical',
  solidus: 'from memory: approximate melting ranges in Aluminum Association, Aluminum Standards and Data',
} as const;

/** 1050A as it is once annealed. */
const SOFT_1050A = { name: '1050A-O', strainBudget: strainBudget(25), uniformElongation: 25 };

const EN_485 = (limits: string): string => `EN 485-2, 0.5 to 1.5 mm, ${limits}`;
const SHEET_DATA = 'as quoted in a stockholder’s data sheet';

const IADICOLA =
  'Iadicola, Foecke and Banovic, Experimental observations of evolving yield loci in biaxially strained AA5754-O, Int. J. Plasticity 24 (2008) 2084–2101, table 2, sheet of 1 mm, as quoted';

export const ALUMINIUM: readonly SheetEntry[] = [
  {
    name: '1050A-O',
    family: 'aluminium',
    coating: 'none',
    K: 141,
    epsilon0: 0.002,
    n: 0.25,
    r0: 0.75,
    r45: 0.6,
    r90: 0.8,
    density: 2.71,
    youngsModulus: 71_000,
    yieldStrength: 30,
    tensileStrength: 78,
    uniformElongation: 25,
    anneal: { temperature: [320, 350], cue: 'aluminium', solidus: 646 },
    thicknessRange: [0.3, 5],
    sources: {
      ...SOURCES,
      density: SHEET_DATA,
      youngsModulus: SHEET_DATA,
      yieldStrength: `from memory: typical; ${EN_485(`Rp0.2 ≥ 20, ${SHEET_DATA}`)}`,
      tensileStrength: `from memory: typical; ${EN_485(`65 to 95, ${SHEET_DATA}`)}`,
      annealTemperature:
        '320 to 350 °C as quoted in a metal merchant’s table of EN AW-1050A; 350 °C in an alloy data sheet, as quoted',
    },
  },
  {
    name: '1050A-H14',
    family: 'aluminium',
    coating: 'none',
    K: 146,
    epsilon0: 0.0035,
    n: 0.05,
    r0: 0.5,
    r45: 0.9,
    r90: 0.7,
    density: 2.71,
    youngsModulus: 71_000,
    yieldStrength: 110,
    tensileStrength: 120,
    uniformElongation: 4,
    anneal: { temperature: [320, 350], cue: 'aluminium', solidus: 646, soft: SOFT_1050A },
    thicknessRange: [0.3, 5],
    sources: {
      ...SOURCES,
      n: 'from memory: about 0.05 for hard tempers (6061-T6 has 0.05 in tables after Kalpakjian, as quoted in an encyclopedia)',
      lankford:
        'from memory, low confidence: rolled texture, largest at 45°, mean as for aluminium alloys in general',
      density: SHEET_DATA,
      youngsModulus: SHEET_DATA,
      yieldStrength: `from memory: typical; ${EN_485(`Rp0.2 ≥ 85, ${SHEET_DATA}`)}`,
      tensileStrength: `from memory: typical; ${EN_485(`105 to 145, ${SHEET_DATA}`)}`,
      annealTemperature:
        '320 to 350 °C as quoted in a metal merchant’s table of EN AW-1050A; 350 °C in an alloy data sheet, as quoted',
    },
  },
  {
    name: '3003-O',
    family: 'aluminium',
    coating: 'none',
    K: 194,
    epsilon0: 0.00175,
    n: 0.23,
    r0: 0.65,
    r45: 0.6,
    r90: 0.75,
    density: 2.73,
    youngsModulus: 69_500,
    yieldStrength: 45,
    tensileStrength: 110,
    uniformElongation: 21,
    anneal: { temperature: [345, 415], cue: 'aluminium', solidus: 643 },
    thicknessRange: [0.3, 5],
    sources: {
      ...SOURCES,
      density: SHEET_DATA,
      youngsModulus: SHEET_DATA,
      yieldStrength: `from memory: typical; EN 485-2:2008 Rp0.2 ≥ 35, ${SHEET_DATA}`,
      tensileStrength: `from memory: typical; EN 485-2:2008 95 to 135, ${SHEET_DATA}`,
      annealTemperature:
        '345 to 415 °C as quoted in aluminium suppliers’ notes; 415 °C (775 °F) in ASM Handbook vol. 4, from memory',
    },
  },
  {
    name: '5052-O',
    family: 'aluminium',
    coating: 'none',
    K: 348,
    epsilon0: 0.0036,
    n: 0.24,
    r0: 0.65,
    r45: 0.7,
    r90: 0.7,
    density: 2.68,
    youngsModulus: 70_300,
    yieldStrength: 90,
    tensileStrength: 195,
    uniformElongation: 19,
    anneal: { temperature: [330, 350], cue: 'aluminium', solidus: 607 },
    thicknessRange: [0.3, 5],
    sources: {
      ...SOURCES,
      K: 'by Considère from tensile strength and n; tables after Kalpakjian print K 210, n 0.13, as quoted in an encyclopedia, but that pair gives a tensile strength of 141, below the minimum of this temper, so it is not used',
      density: SHEET_DATA,
      youngsModulus: 'Aluminum Design Manual, table 3.3-1M, as quoted in an online document',
      yieldStrength:
        'from memory: typical (Aluminum Association, Aluminum Standards and Data); minimum 65 in Aluminum Design Manual, table 3.3-1M, as quoted',
      tensileStrength:
        'from memory: typical (Aluminum Association, Aluminum Standards and Data); minimum 170 in Aluminum Design Manual, table 3.3-1M, as quoted, and 170 to 215 in EN 485-2 from memory',
      annealTemperature:
        'from memory: 345 °C (650 °F; ASM Handbook vol. 4, full annealing of wrought alloys)',
    },
  },
  {
    name: '5754-O',
    family: 'aluminium',
    coating: 'none',
    K: 389,
    epsilon0: 0.0044,
    n: 0.25,
    r0: 0.69,
    r45: 0.73,
    r90: 0.87,
    strengths: { exponent: 8, at45: 0.966, at90: 0.979, biaxialR: 1.13 },
    density: 2.67,
    youngsModulus: 70_500,
    yieldStrength: 100,
    tensileStrength: 215,
    uniformElongation: 20,
    anneal: { temperature: [330, 350], cue: 'aluminium', solidus: 595 },
    thicknessRange: [0.3, 5],
    sources: {
      ...SOURCES,
      lankford: `${IADICOLA}; Coër et al. (2018) print 0.663, 0.860, 0.717 for another sheet of 1 mm, as quoted`,
      strengths: `${IADICOLA}: Rp0.2 of 94.1 along, 90.9 at 45° and 92.1 across; biaxial strength: Hosford’s, as the paper’s grows from below the uniaxial one to above it with strain`,
      density: 'from memory',
      youngsModulus: 'from memory',
      yieldStrength: `from memory: typical; ${EN_485(`Rp0.2 ≥ 80, ${SHEET_DATA}`)}`,
      tensileStrength: `from memory: typical, middle of ${EN_485(`190 to 240, ${SHEET_DATA}`)}`,
      solidus: 'from memory: typical, 595 to 645 °C',
      uniformElongation: 'from memory: typical; the 5000 alloys neck sooner than Considère says',
      annealTemperature:
        'from memory: 345 °C (650 °F; ASM Handbook vol. 4, full annealing of wrought alloys)',
    },
  },
  {
    name: '6061-O',
    family: 'aluminium',
    coating: 'none',
    K: 205,
    epsilon0: 0.0014,
    n: 0.2,
    r0: 0.65,
    r45: 0.6,
    r90: 0.7,
    density: 2.7,
    youngsModulus: 68_900,
    yieldStrength: 55,
    tensileStrength: 122,
    uniformElongation: 19,
    anneal: { temperature: [405, 425], cue: 'aluminiumHotter', solidus: 582 },
    thicknessRange: [0.3, 5],
    sources: {
      ...SOURCES,
      K: 'tables after Kalpakjian, Manufacturing Engineering and Technology, 6061-O: 205, as quoted in an encyclopedia',
      n: 'same table as K: 0.20',
      density: 'as quoted in an alloy data sheet',
      youngsModulus: 'as quoted in an alloy data sheet',
      yieldStrength: 'typical 55, as quoted from a textbook’s appendix; EN 485-2 Rp0.2 ≤ 85 from memory',
      tensileStrength:
        'K nⁿ exp(−(n − ε0)) of the law; typical 124 as quoted from a textbook’s appendix; EN 485-2 ≤ 150 from memory',
      annealTemperature:
        '775 °F (413 °C) for 2 to 3 hours, cooled by 50 °F (28 °C) an hour down to 500 °F (260 °C), as quoted in a stockholder’s table of heat treatments; the same in ASM Handbook vol. 4, from memory',
      annealWords: 'holding time and cooling rate as above; the rest common practice, no source',
    },
  },
];
