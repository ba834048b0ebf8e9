/** Everything the page shows of a solved tray. */
import { cuttingActs, formingActs, hasWeldedCorners } from '../gather/acts.ts';
import type { Verdict } from '../gather/report.ts';
import { type Act, cautionList, cautionsOf } from '../material/cautions.ts';
import { type LengthUnit, writerOf } from '../papers/lengths.ts';
import { verdictOn } from '../pattern/developed.ts';
import type { Developed, FlatPattern } from '../pattern/flatPattern.ts';
import { type Figures, figures } from '../pattern/reportFigures.ts';
import type { TraySpec } from '../tray/spec.ts';
import { english, type Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { type InWords, inWords, sentences } from '../words/statement.ts';
import { type Anneals, anneals } from './anneals.ts';
import { blankSvg } from './pictures.ts';

/** The cautions of this tray, by where the page shows them. */
export interface Cautions {
  /** Beside the download, for whoever cuts and handles the blank. */
  readonly cutting: readonly string[];
  /** Beside the working figures, welding too where corners are cut out. */
  readonly forming: readonly string[];
  /** Beside the anneals; for a sheet that must not be heated, why. */
  readonly annealing: readonly string[];
}

const HEAT: readonly Act[] = ['anneal', 'quench', 'pickle'];

export function cautions(
  { spec, sheet, gather }: Pick<FlatPattern, 'spec' | 'sheet' | 'gather'>,
  table: Words = english,
): Cautions {
  const { material } = sheet;
  const bench = cautionsOf(formingActs(material, gather.anneals, hasWeldedCorners(spec)), material);
  const all = (hot: boolean): string[] =>
    bench
      .filter(({ act }) => HEAT.includes(act) === hot)
      .flatMap(({ sentences: list }) => sentences(list, table));
  return {
    cutting: sentences(cautionList(cuttingActs(spec), material), table),
    forming: all(false),
    annealing: all(true),
  };
}

export interface Preview {
  readonly kind: Developed['kind'];
  /** The complete tray file, in mm and degrees. */
  readonly tray: TraySpec;
  /** Its word, and the reasons, the weightiest first. */
  readonly verdict: InWords<Verdict>;
  /** Null, as what follows, for a tray that has no flat. */
  readonly figures: Figures | null;
  readonly anneals: Anneals | null;
  readonly cautions: Cautions | null;
  readonly notes: readonly string[];
  /** SVG documents; the tray from an angle where it was asked for. */
  readonly pictures: { readonly blank: string; readonly formed: string | null } | null;
}

export interface Shown {
  /** Of lengths in sentences and pictures; figures are mm. */
  readonly unit: LengthUnit;
  /** Draws the tray from an angle too, which takes as long as all the rest. */
  readonly formed: ((pattern: FlatPattern, words: Words) => string) | null;
}

export function preview(developed: Developed, { unit, formed }: Shown): Preview {
  const lengths = writerOf(unit);
  const common = {
    kind: developed.kind,
    tray: developed.spec,
    verdict: inWords(verdictOn(developed), words(), lengths),
  };
  return developed.kind === 'no flat'
    ? { ...common, figures: null, anneals: null, cautions: null, notes: [], pictures: null }
    : { ...common, ...ofTheFlat(developed, { unit, formed }) };
}

function ofTheFlat(
  pattern: FlatPattern,
  { unit, formed }: Shown,
): Omit<Preview, 'kind' | 'tray' | 'verdict'> {
  const lengths = writerOf(unit);
  return {
    figures: figures(pattern, words(), lengths),
    anneals: anneals(pattern, words()),
    cautions: cautions(pattern, words()),
    notes: sentences(pattern.notes, words(), lengths),
    pictures: {
      blank: blankSvg(pattern, words(), unit),
      formed: formed === null ? null : formed(pattern, words()),
    },
  };
}
