/** The shop card as PDF and SVG. */
import { pdfBytes } from '../../drawing/pdf.ts';
import type { Picture } from '../../drawing/picture.ts';
import { svgText } from '../../drawing/svg.ts';
import { GatherpanError } from '../../errors.ts';
import { type WorkingPlan, workingPlan } from '../../gather/workingPlan.ts';
import { gatherOf } from '../../papers/gatherOf.ts';
import { shopCard } from '../../papers/shopCard.ts';
import { stripRows } from '../../papers/strip.ts';
import { english } from '../../papers/words.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Exporter, Parameter, ParameterValues } from '../contract.ts';
import { stripOptions } from './plates.ts';
import { choice, number, UNIT, unitOf, yesOrNo } from './settings.ts';
import { packageVersion } from './version.ts';

const PARAMETERS: readonly Parameter[] = [
  choice('paper', ['A4', 'Letter'], 'size of the sheet of paper'),
  yesOrNo('plan', true, 'stages and annealing, which take some more solving'),
  number('stages', '', 0, 0, 8, "number of stages; 0 for the tray's own"),
  number('strip', 'mm', 0, 0, 500, 'height of a strip to be welded on the rim; 0 for none'),
  UNIT,
];

function card(pattern: FlatPattern, values: ParameterValues): Picture {
  const height = Number(values.strip);
  const unit = unitOf(values);
  const plan = values.plan === true ? planOf(pattern, Math.round(Number(values.stages))) : undefined;
  return shopCard(pattern, {
    paper: values.paper as 'A4' | 'Letter',
    unit,
    version: packageVersion(),
    ...(plan === undefined ? {} : { plan }),
    ...(height > 0
      ? {
          strip: stripRows(
            pattern,
            stripOptions({
              height,
              thickness: 0,
              flush: 'inside',
              joint: 'butt',
              allowance: 1,
              stock: 2000,
            }),
            unit,
            english,
          ),
        }
      : {}),
  });
}

/** The plan of work; none for a pattern without gather, or where a stage has no solution. */
function planOf(pattern: FlatPattern, stages: number): WorkingPlan | undefined {
  const gather = gatherOf(pattern);
  if (gather === undefined || gather.zones.length === 0) return undefined;
  try {
    return workingPlan({ ...pattern, gather }, stages === 0 ? {} : { stages });
  } catch (error) {
    if (error instanceof GatherpanError && error.code === 'NOT_SOLVED') return undefined;
    throw error;
  }
}

export const cardPdfExporter: Exporter = {
  id: 'card-pdf',
  label: 'Shop card, one page for the bench (PDF)',
  extension: 'card.pdf',
  mediaType: 'application/pdf',
  parameters: PARAMETERS,
  write: async (pattern, values) =>
    pdfBytes([card(pattern, values)], `${english.cardTitle}: ${pattern.name}`),
};

export const cardSvgExporter: Exporter = {
  id: 'card-svg',
  label: 'Shop card, one page for the bench (SVG)',
  extension: 'card.svg',
  mediaType: 'image/svg+xml',
  parameters: PARAMETERS,
  write: async (pattern, values) => new TextEncoder().encode(svgText(card(pattern, values))),
};
