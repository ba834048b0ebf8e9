/** The cautions of the trade, said where the act is. Common practice, no source, unless the sheet names one. */
import type { Sheet } from '../material/sheet.ts';
import type { TraySpec } from '../tray/spec.ts';

export interface Cautions {
  /** Beside the download, for whoever cuts and handles the blank. */
  readonly cutting: readonly string[];
  /** Beside the working figures. */
  readonly forming: readonly string[];
  /** Beside the anneals; with what to do instead where the sheet must not be heated. */
  readonly annealing: readonly string[];
}

export function cautions(spec: TraySpec, sheet: Sheet): Cautions {
  const { family, anneal } = sheet.material;
  const cutting = [
    'Check the overall size on the drawing against the size given here before anything is cut.',
    'Cut edges are sharp: wear gloves, and take the burr off before the blank is handled.',
  ];
  if (spec.cut.process !== 'hand') {
    cutting.push('A blank fresh from thermal cutting is hot, and hot metal does not look hot: let it cool.');
  }
  if (family === 'zinc-coated steel' && spec.cut.process !== 'hand' && spec.cut.process !== 'water jet') {
    cutting.push('Cutting zinc-coated sheet with heat gives off zinc fumes: it needs extraction at the cut.');
  }
  return {
    cutting,
    forming: [
      'Hammering sheet is loud enough to harm: wear hearing protection, and eye protection for scale and chips.',
    ],
    annealing: [...anneal.cautions],
  };
}
