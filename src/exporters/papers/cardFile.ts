/** Makes the shop card, as PDF and as SVG. */
import type { Fonts } from '../../drawing/fonts.ts';
import { pdfBytes } from '../../drawing/pdf.ts';
import { svgText } from '../../drawing/svg.ts';
import { ifSolved } from '../../errors.ts';
import { courseOf } from '../../gather/workingPlan.ts';
import { type ShopCardOptions, shopCard, shopCardPages } from '../../papers/shopCard.ts';
import { type StripOptions, stripRows } from '../../papers/strip.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { VERSION } from '../../version.ts';
import type { Words } from '../../words/english.ts';
import type { ExportContext, ParameterValues } from '../contract.ts';
import { stripOptions } from './plateFiles.ts';
import { unitOf } from './settings.ts';

/** What of a card is solved beside the pattern. */
type Planned = Required<Pick<ShopCardOptions, 'plan'>>;

/** By pattern and number of stages: the card as PDF and as SVG has one and the same. */
export type Courses = WeakMap<FlatPattern, Map<number, Planned | undefined>>;

type CardOptions = ShopCardOptions & { readonly words: Words };

export const cardPdf = (pattern: FlatPattern, options: CardOptions, fonts: Fonts): Promise<Uint8Array> =>
  pdfBytes(shopCardPages(pattern, options), `${options.words.papers.cardTitle}: ${pattern.name}`, fonts);

export const cardSvg = (pattern: FlatPattern, options: CardOptions): Uint8Array =>
  new TextEncoder().encode(svgText(shopCard(pattern, options)));

/** What the values ask for. */
export function cardOptions(
  pattern: FlatPattern,
  values: ParameterValues,
  words: Words,
  courses: Courses,
  { date }: ExportContext = {},
): CardOptions {
  const height = Number(values.strip);
  const unit = unitOf(values, pattern);
  const plan =
    values.plan === true ? planned(pattern, Math.round(Number(values.stages)), courses) : undefined;
  return {
    paper: values.paper as 'A4' | 'Letter',
    unit,
    words,
    version: VERSION,
    trialBend: Number(values.trialBend),
    ...(date === undefined ? {} : { date }),
    ...plan,
    ...(height > 0 ? { strip: stripRows(pattern, cardStrip(height, words), unit, words.papers) } : {}),
  };
}

/** The strip of the card: of the tray's sheet, butt-welded, from stock of the usual length. */
const cardStrip = (height: number, words: Words): StripOptions =>
  stripOptions({ height, thickness: 0, flush: 'inside', joint: 'butt', allowance: 1, stock: 2000 }, words);

/** The course of work; none without gather, or where a stage has no solution. */
function planned(pattern: FlatPattern, stages: number, courses: Courses): Planned | undefined {
  const known = courses.get(pattern) ?? new Map<number, Planned | undefined>();
  courses.set(pattern, known);
  if (!known.has(stages)) known.set(stages, planFor(pattern, stages));
  return known.get(stages);
}

function planFor(pattern: FlatPattern, stages: number): Planned | undefined {
  if (pattern.gather.zones.length === 0) return undefined;
  const plan = ifSolved(() => courseOf(pattern, stages === 0 ? {} : { stages }));
  return plan === null ? undefined : { plan };
}
