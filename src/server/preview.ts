/** Everything the page shows of a solved tray. */
import type { FlatPattern, Report } from '../pattern/flatPattern.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { type Cautions, cautions } from './cautions.ts';
import { type Anneals, anneals, type Judgement, judgement } from './judgement.ts';
import { blankSvg, formedSvg } from './pictures.ts';

/** The report without the name and the long lists of vertices. mm, kg, mm², per cent. */
export type Figures = Omit<Report, 'name' | 'rim' | 'outline'>;

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
    figures: figures(pattern),
    judgement: judgement(pattern),
    anneals: anneals(pattern, words()),
    cautions: cautions(pattern.spec, pattern.sheet, words()),
    notes: pattern.notes,
    pictures: { blank: blankSvg(pattern, words()), formed: formedSvg(pattern, words()) },
  };
}

export function figures({ report }: FlatPattern): Figures {
  const { name: _name, rim: _rim, outline: _outline, ...rest } = report;
  return rest;
}
