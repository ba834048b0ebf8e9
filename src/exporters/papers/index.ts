/** All exporters of pictures and papers. */
import type { Exporter } from '../contract.ts';
import { cardPdfExporter, cardSvgExporter } from './card.ts';
import { pngExporter, svgExporter } from './picture.ts';
import { formerExporters, gaugeExporters, stripExporters } from './plates.ts';
import { markingPdfExporter, templatePdfExporter } from './template.ts';

export const paperExporters: readonly Exporter[] = [
  svgExporter,
  pngExporter,
  templatePdfExporter,
  markingPdfExporter,
  cardPdfExporter,
  cardSvgExporter,
  ...gaugeExporters,
  ...formerExporters,
  ...stripExporters,
];
