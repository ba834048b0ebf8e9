/** The full-size template and the tables for marking out, as PDF. */
import { pdfBytes } from '../../drawing/pdf.ts';
import { markingPages } from '../../papers/markingPages.ts';
import { templatePages } from '../../papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../papers/templateOptions.ts';
import { english } from '../../papers/words.ts';
import type { Exporter } from '../contract.ts';
import { choice, number, paperOf, SHEET_PAPER, UNIT, unitOf, yesOrNo } from './settings.ts';

export const templatePdfExporter: Exporter = {
  id: 'template-pdf',
  label: 'Full-size template to print, on sheets or on a roll (PDF)',
  extension: 'template.pdf',
  mediaType: 'application/pdf',
  parameters: [
    choice('paper', ['A4', 'A3', 'Letter', 'roll'], 'sheets of a size, or a roll'),
    number('rollWidth', 'mm', TEMPLATE_DEFAULTS.rollWidth, 200, 2000, 'width of the roll'),
    number('margin', 'mm', TEMPLATE_DEFAULTS.margin, 0, 25, 'what the printer leaves free on each side'),
    number('overlap', 'mm', TEMPLATE_DEFAULTS.overlap, 5, 40, 'how far pages lie over one another'),
    yesOrNo('contours', true, 'lines of equal gather'),
    yesOrNo('tucks', true, 'marks where the tucks are set'),
    yesOrNo('tables', true, 'tables for marking out without a printer'),
    UNIT,
  ],
  async write(pattern, values) {
    const pages = templatePages(pattern, {
      paper: values.paper as 'A4' | 'A3' | 'Letter' | 'roll',
      rollWidth: Number(values.rollWidth),
      margin: Number(values.margin),
      overlap: Number(values.overlap),
      contours: values.contours === true,
      tucks: values.tucks === true,
      markingOut: values.tables === true,
      unit: unitOf(values),
    });
    return pdfBytes(pages, english.templateTitle(pattern.name));
  },
};

export const markingPdfExporter: Exporter = {
  id: 'marking-pdf',
  label: 'Tables for marking out with square and dividers (PDF)',
  extension: 'marking.pdf',
  mediaType: 'application/pdf',
  parameters: [SHEET_PAPER, UNIT],
  write: (pattern, values) =>
    pdfBytes(
      markingPages(pattern, { paper: paperOf(values), unit: unitOf(values), words: english }),
      english.markingTitle(pattern.name),
    ),
};
