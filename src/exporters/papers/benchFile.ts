/** Makes the bench sheets as PDF. */
import type { Fonts } from '../../drawing/fonts.ts';
import { pdfBytes } from '../../drawing/pdf.ts';
import { benchPages } from '../../papers/benchPages.ts';
import { benchWork } from '../../papers/benchWork.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import type { ParameterValues } from '../contract.ts';
import { paperOf, unitOf } from './settings.ts';

/** @throws GatherpanError NOT_SOLVED when a stage has no equilibrium */
export async function benchPdf(
  pattern: FlatPattern,
  values: ParameterValues,
  words: Words,
  fonts: Fonts,
): Promise<Uint8Array> {
  const bench = await words.bench();
  const stages = Math.round(Number(values.stages));
  const { sheets, shapes } = benchWork(pattern, {
    unit: unitOf(values, pattern),
    words,
    bench,
    trialBend: Number(values.trialBend),
    ...(stages === 0 ? {} : { stages }),
  });
  const pages = benchPages(pattern, sheets, shapes, { paper: paperOf(values), bench });
  return pdfBytes(pages, bench.title(pattern.name), fonts);
}
