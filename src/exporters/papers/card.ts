/** The shop card as PDF and SVG, and the bench sheets. */
import type { Words } from '../../words/english.ts';
import {
  CONTRACT_VERSION,
  type Exporter,
  type Parameter,
  type ParameterValues,
  type Use,
} from '../contract.ts';
import type { Means } from '../means.ts';
import { choice, number, yesOrNo } from '../parameterKinds.ts';
import type { Courses } from './cardFile.ts';
import { sheetPaper, stages, trialBend, unitParameter } from './settings.ts';

const parameters = (said: Words['exporters']['cardPdf'], shared: Words['exporters']): Parameter[] => [
  choice('paper', ['A4', 'Letter'], said.paper),
  yesOrNo('plan', true, said.plan),
  stages(said.stages),
  number('strip', 'mm', 0, [0, 500], said.strip),
  trialBend(shared),
  unitParameter(shared),
];

const leadsTo = ({ strip }: ParameterValues): readonly Use[] =>
  Number(strip) > 0 ? ['form', 'weld'] : ['form'];

/** The formats of the card. */
export const cardExporters = (words: Words, { fonts }: Means): Exporter[] => {
  const courses: Courses = new WeakMap();
  const svg: Exporter = {
    contract: CONTRACT_VERSION,
    id: 'card-svg',
    label: words.exporters.cardSvg.label,
    extension: 'card.svg',
    mediaType: 'image/svg+xml',
    leadsTo,
    parameters: parameters(words.exporters.cardSvg, words.exporters),
    async write(pattern, values, context) {
      const { cardOptions, cardSvg } = await import('./cardFile.ts');
      return cardSvg(pattern, cardOptions(pattern, values, words, courses, context));
    },
  };
  if (fonts === undefined) return [svg];
  const pdf: Exporter = {
    contract: CONTRACT_VERSION,
    id: 'card-pdf',
    label: words.exporters.cardPdf.label,
    extension: 'card.pdf',
    mediaType: 'application/pdf',
    leadsTo,
    parameters: parameters(words.exporters.cardPdf, words.exporters),
    async write(pattern, values, context) {
      const { cardOptions, cardPdf } = await import('./cardFile.ts');
      return cardPdf(pattern, cardOptions(pattern, values, words, courses, context), fonts);
    },
  };
  const bench: Exporter = {
    contract: CONTRACT_VERSION,
    id: 'bench-pdf',
    label: words.exporters.bench.label,
    extension: 'bench.pdf',
    mediaType: 'application/pdf',
    leadsTo: () => ['form', 'weld'],
    parameters: [
      sheetPaper(words.exporters),
      stages(words.exporters.cardPdf.stages),
      trialBend(words.exporters),
      unitParameter(words.exporters),
    ],
    async write(pattern, values) {
      const { benchPdf } = await import('./benchFile.ts');
      return benchPdf(pattern, values, words, fonts);
    },
  };
  return [pdf, svg, bench];
};
