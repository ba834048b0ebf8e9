/** The shop card as PDF and SVG. */
import { pdfBytes } from '../../drawing/pdf.ts';
import { svgText } from '../../drawing/svg.ts';
import { isUnsolved } from '../../errors.ts';
import { type Course, courseOf } from '../../gather/workingPlan.ts';
import { type ShopCardOptions, shopCard, shopCardPages } from '../../papers/shopCard.ts';
import { type StripOptions, stripRows } from '../../papers/strip.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import type { ExportContext, Exporter, Parameter, ParameterValues, Use } from '../contract.ts';
import { stripOptions } from './plates.ts';
import { choice, number, unitOf, unitParameter, yesOrNo } from './settings.ts';
import { packageVersion } from './version.ts';

const parameters = (said: Words['exporters']['cardPdf'], shared: Words['exporters']): Parameter[] => [
  choice('paper', ['A4', 'Letter'], said.paper),
  yesOrNo('plan', true, said.plan),
  number('stages', '', 0, 0, 8, said.stages),
  number('strip', 'mm', 0, 0, 500, said.strip),
  unitParameter(shared),
];

/** What the values ask for. */
function cardOptions(
  pattern: FlatPattern,
  values: ParameterValues,
  words: Words,
  courses: Courses,
  { date }: ExportContext = {},
): ShopCardOptions {
  const height = Number(values.strip);
  const unit = unitOf(values);
  const plan =
    values.plan === true ? knownCourse(pattern, Math.round(Number(values.stages)), courses) : undefined;
  return {
    paper: values.paper as 'A4' | 'Letter',
    unit,
    words,
    version: packageVersion(),
    ...(date === undefined ? {} : { date }),
    ...(plan === undefined ? {} : { plan }),
    ...(height > 0 ? { strip: stripRows(pattern, cardStrip(height, words), unit, words.papers) } : {}),
  };
}

/** The strip of the card: of the tray's sheet, butt-welded, from stock of the usual length. */
const cardStrip = (height: number, words: Words): StripOptions =>
  stripOptions({ height, thickness: 0, flush: 'inside', joint: 'butt', allowance: 1, stock: 2000 }, words);

/** Courses of work by pattern and number of stages: the card as PDF and as SVG has one and the same. */
type Courses = WeakMap<FlatPattern, Map<number, Course | undefined>>;

/** The course of work; none without gather, or where a stage has no solution. */
function knownCourse(pattern: FlatPattern, stages: number, courses: Courses): Course | undefined {
  const known = courses.get(pattern) ?? new Map<number, Course | undefined>();
  courses.set(pattern, known);
  if (!known.has(stages)) known.set(stages, courseFor(pattern, stages));
  return known.get(stages);
}

function courseFor(pattern: FlatPattern, stages: number): Course | undefined {
  if (pattern.gather.zones.length === 0) return undefined;
  try {
    return courseOf(pattern, stages === 0 ? {} : { stages });
  } catch (error) {
    if (isUnsolved(error)) return undefined;
    throw error;
  }
}

const leadsTo = ({ strip }: ParameterValues): readonly Use[] =>
  Number(strip) > 0 ? ['form', 'weld'] : ['form'];

/** Both formats of the card. */
export const cardExporters = (words: Words): Exporter[] => {
  const courses: Courses = new WeakMap();
  return [
    {
      id: 'card-pdf',
      label: words.exporters.cardPdf.label,
      extension: 'card.pdf',
      mediaType: 'application/pdf',
      leadsTo,
      parameters: parameters(words.exporters.cardPdf, words.exporters),
      write: async (pattern, values, context) =>
        pdfBytes(
          shopCardPages(pattern, cardOptions(pattern, values, words, courses, context)),
          `${words.papers.cardTitle}: ${pattern.name}`,
        ),
    },
    {
      id: 'card-svg',
      label: words.exporters.cardSvg.label,
      extension: 'card.svg',
      mediaType: 'image/svg+xml',
      leadsTo,
      parameters: parameters(words.exporters.cardSvg, words.exporters),
      write: async (pattern, values, context) =>
        new TextEncoder().encode(
          svgText(shopCard(pattern, cardOptions(pattern, values, words, courses, context))),
        ),
    },
  ];
};
