/** The cautions of the trade, said where the act is. Common practice, no source, unless the sheet names one. */
import type { Sheet } from '../material/sheet.ts';
import type { TraySpec } from '../tray/spec.ts';
import { english, type Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';

export interface Cautions {
  /** Beside the download, for whoever cuts and handles the blank. */
  readonly cutting: readonly string[];
  /** Beside the working figures. */
  readonly forming: readonly string[];
  /** Beside the anneals; with what to do instead where the sheet must not be heated. */
  readonly annealing: readonly string[];
}

export function cautions(spec: TraySpec, sheet: Sheet, words: Words = english): Cautions {
  const { service } = words;
  const { family, anneal } = sheet.material;
  const said = service.cautions;
  const cutting = [said.checkSize, said.edges];
  if (spec.cut.process !== 'hand') cutting.push(said.hot);
  if (family === 'zinc-coated steel' && spec.cut.process !== 'hand' && spec.cut.process !== 'water jet') {
    cutting.push(said.zinc);
  }
  return { cutting, forming: [said.noise], annealing: sentences(anneal.cautions, words) };
}
