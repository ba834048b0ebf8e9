/** Soft copper and brass sheet to EN 1652. */
import { HALF_HARD_COPPER, HOSFORD_CADDELL, type SheetEntry } from './entry.ts';

const CALLISTER =
  'Callister, Fundamentals of Materials Science and Engineering, 2nd ed. (2005), p. 199, as quoted in an encyclopedia';
/** Below this nothing is seen, whatever the metal. */
const DRAPER = 'the first red is seen in the dark at about 525 °C (J. W. Draper, 1847, from memory)';
const EN_1652 = 'EN 1652, as quoted in suppliers’ tables';

export const COPPER: readonly SheetEntry[] = [
  {
    name: 'Cu-ETP-R220',
    family: 'copper',
    coating: 'none',
    K: 530,
    epsilon0: 0.0071,
    n: 0.44,
    r0: 0.85,
    r45: 0.6,
    r90: 0.85,
    density: 8.93,
    youngsModulus: 120_000,
    yieldStrength: 60,
    tensileStrength: 240,
    uniformElongation: 38,
    halfHard: HALF_HARD_COPPER,
    anneal: { temperature: [550, 650], cue: 'copper' },
    thicknessRange: [0.3, 3],
    sources: {
      K: `${CALLISTER}, copper annealed. Books disagree by 1.7 times: Kalpakjian prints 315 with n 0.54 (from memory), which by Considère means a tensile strength of 132, below every temper of EN 1652; K does not move the outline`,
      epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
      n: `same table as K; ${HOSFORD_CADDELL}: 0.35 to 0.45`,
      lankford: `mean within 0.6 to 0.9 of ${HOSFORD_CADDELL}; the split by direction from memory, low confidence`,
      density: 'from memory; EN 1652 calculates with 8.9, as quoted',
      youngsModulus: 'from memory: books print 117 000 to 124 000',
      yieldStrength: `from memory: typical; ${EN_1652}: Rp0.2 ≤ 140 for R220, ≤ 100 for R200, for information (read for Cu-DHP, the same rows)`,
      tensileStrength: `K nⁿ exp(−(n − ε0)) of the law; ${EN_1652}: 220 to 260 for R220, 200 to 250 for R200 (read for Cu-DHP, the same rows)`,
      uniformElongation: `from memory: typical; A50 ≥ 33 % of ${EN_1652} is elongation at break`,
      annealTemperature: `the part of 375 to 650 °C (ASM Handbook vol. 4E, C11000, from memory) that can be told by its glow: ${DRAPER}`,
      annealWords:
        'dull red, about 650 °C, as quoted in a metalworker’s notes; quenching: common practice, no source',
      thicknessRange: 'common practice, no source',
    },
  },
];

export const BRASS: readonly SheetEntry[] = [
  {
    name: 'CuZn37-R300',
    family: 'brass',
    coating: 'none',
    K: 750,
    epsilon0: 0.0187,
    n: 0.45,
    r0: 0.85,
    r45: 0.9,
    r90: 0.85,
    density: 8.44,
    youngsModulus: 110_000,
    yieldStrength: 125,
    tensileStrength: 340,
    uniformElongation: 42,
    halfHard: HALF_HARD_COPPER,
    anneal: { temperature: [525, 600], cue: 'brass' },
    thicknessRange: [0.3, 3],
    sources: {
      K: 'by Considère from tensile strength and n; books print 895 to 910 with n 0.49 for annealed 70/30 brass, as quoted and from memory',
      epsilon0: 'from yield strength and K: Rp = K ε0ⁿ',
      n: `within 0.40 to 0.60 of ${HOSFORD_CADDELL} for 70/30 brass; the place in that range from memory`,
      lankford: `mean within 0.8 to 0.9 of ${HOSFORD_CADDELL} for 70/30 brass; the split by direction from memory, low confidence`,
      density: 'as quoted in a brass mill’s data sheet',
      youngsModulus: 'annealed, as quoted in a brass mill’s data sheet',
      yieldStrength:
        'Copper Development Association, publication 120 (1998, 2004), table 16, CuZn37 annealed, as quoted; EN 1652 R300 Rp0.2 ≤ 180 for information, as quoted',
      tensileStrength: `within 300 to 370 of ${EN_1652} for R300; publication 120 has 355`,
      uniformElongation: `from memory: typical; A50 ≥ 38 % of ${EN_1652} is elongation at break`,
      annealTemperature: `the part of 425 to 700 °C (ASM Handbook vol. 4E, C27200, from memory; 450 to 680 °C for brass as quoted from a copper-industry data sheet) that shows the first glow: ${DRAPER}; upper end lowered to spare the grain, common practice, no source`,
      annealWords: 'common practice, no source',
      thicknessRange: 'common practice, no source',
    },
  },
];
