/** Which cautions a paper carries: each stands where the act is done. */
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';

/** What is done with the paper in hand. */
export type Act = 'cutting' | 'forming' | 'welding';

/** The sentences, the one that matters most first. */
export function cautionsFor(pattern: FlatPattern, act: Act, words: PaperWords): string[] {
  const zinc = pattern.sheet.material.family === 'zinc-coated steel';
  const thermal = pattern.spec.cut.process === 'laser' || pattern.spec.cut.process === 'plasma';
  switch (act) {
    case 'cutting':
      return [words.cautionEdges, ...(thermal ? [words.cautionCut] : [])];
    case 'forming':
      return [words.cautionEdges, words.cautionNoise, ...(zinc ? [words.cautionZinc] : [])];
    case 'welding':
      return [words.cautionWeld, ...(zinc ? [words.cautionZinc] : []), words.cautionHot];
  }
}

/** True when some corner is cut out and welded. */
export const hasWeldedCorners = ({ spec }: FlatPattern): boolean => {
  const { corners } = spec.forming;
  return corners === 'notch' || (Array.isArray(corners) && corners.includes('notch'));
};
