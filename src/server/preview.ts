/** Everything the page shows of a solved tray. */
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { type Figures, figures } from '../pattern/reportFigures.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { sentences } from '../words/statement.ts';
import { type Cautions, cautions } from './cautions.ts';
import { type Anneals, anneals, type Judgement, judgement } from './judgement.ts';
import { blankSvg, formedSvg } from './pictures.ts';

export interface Preview {
  /** The complete tray file, in mm and degrees. */
  readonly tray: TraySpec;
  readonly figures: Figures;
  readonly judgement: Judgement;
  readonly anneals: Anneals;
  readonly cautions: Cautions;
  readonly notes: readonly string[];
  /** SVG documents. */
  readonly pictures: { readonly blank: string; readonly formed: string };
}

export function preview(pattern: FlatPattern): Preview {
  return {
    tray: pattern.spec,
    figures: figures(pattern, words()),
    judgement: judgement(pattern, words()),
    anneals: anneals(pattern, words()),
    cautions: cautions(pattern.spec, pattern.sheet, words()),
    notes: sentences(pattern.notes, words()),
    pictures: { blank: blankSvg(pattern, words()), formed: formedSvg(pattern, words()) },
  };
}
