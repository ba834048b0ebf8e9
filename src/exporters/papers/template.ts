/** The full-size template and the tables for marking out, as PDF. */
import { MARKING_DEFAULTS, TEMPLATE_DEFAULTS } from '../../papers/templateOptions.ts';
import type { Words } from '../../words/english.ts';
import { CONTRACT_VERSION, type Exporter } from '../contract.ts';
import type { Means } from '../means.ts';
import { choice, number, yesOrNo } from '../parameterKinds.ts';
import { paperOf, sheetPaper, unitOf, unitParameter } from './settings.ts';

/** Template and tables. */
export const templateExporters = (words: Words, { fonts }: Means): Exporter[] => {
  if (fonts === undefined) return [];
  const { papers, exporters } = words;
  const said = exporters.template;
  return [
    {
      contract: CONTRACT_VERSION,
      id: 'template-pdf',
      label: said.label,
      extension: 'template.pdf',
      mediaType: 'application/pdf',
      parameters: [
        choice('paper', ['A4', 'A3', 'Letter', 'roll'], said.paper),
        number('rollWidth', 'mm', TEMPLATE_DEFAULTS.rollWidth, [200, 2000], said.rollWidth),
        number('margin', 'mm', TEMPLATE_DEFAULTS.margin, [0, 25], said.margin),
        number('overlap', 'mm', TEMPLATE_DEFAULTS.overlap, [5, 40], said.overlap),
        yesOrNo('contours', true, said.contours),
        yesOrNo('tucks', true, said.tucks),
        yesOrNo('dots', false, said.dots),
        yesOrNo('tables', true, said.tables),
        yesOrNo('rehearsal', true, said.rehearsal),
        unitParameter(exporters),
      ],
      async write(pattern, values) {
        const { templatePages } = await import('../../papers/template.ts');
        const { pdfBytes } = await import('../../drawing/pdf.ts');
        const pages = templatePages(pattern, {
          paper: values.paper as 'A4' | 'A3' | 'Letter' | 'roll',
          rollWidth: Number(values.rollWidth),
          margin: Number(values.margin),
          overlap: Number(values.overlap),
          contours: values.contours === true,
          tucks: values.tucks === true,
          dots: values.dots === true,
          markingOut: values.tables === true,
          rehearsal: values.rehearsal === true,
          unit: unitOf(values, pattern),
          words,
        });
        return pdfBytes(pages, papers.templateTitle(pattern.name), fonts);
      },
    },
    {
      contract: CONTRACT_VERSION,
      id: 'marking-pdf',
      label: exporters.marking.label,
      extension: 'marking.pdf',
      mediaType: 'application/pdf',
      parameters: [
        sheetPaper(exporters),
        number('tolerance', 'mm', MARKING_DEFAULTS.tolerance, [0.15, 2], exporters.marking.tolerance),
        number('trammel', 'mm', MARKING_DEFAULTS.trammel, [150, 5000], exporters.marking.trammel),
        unitParameter(exporters),
      ],
      async write(pattern, values) {
        const { markingPages } = await import('../../papers/markingPages.ts');
        const { pdfBytes } = await import('../../drawing/pdf.ts');
        return pdfBytes(
          markingPages(pattern, {
            paper: paperOf(values),
            unit: unitOf(values, pattern),
            words: papers,
            tolerance: Number(values.tolerance),
            trammel: Number(values.trammel),
          }),
          papers.markingTitle(pattern.name),
          fonts,
        );
      },
    },
    {
      contract: CONTRACT_VERSION,
      id: 'rehearsal-pdf',
      label: exporters.rehearsal.label,
      extension: 'rehearsal.pdf',
      mediaType: 'application/pdf',
      leadsTo: () => ['gauges'],
      parameters: [sheetPaper(exporters), unitParameter(exporters)],
      async write(pattern, values) {
        const { rehearsalPages } = await import('../../papers/rehearsal.ts');
        const { pdfBytes } = await import('../../drawing/pdf.ts');
        const pages = rehearsalPages(pattern, {
          paper: paperOf(values),
          unit: unitOf(values, pattern),
          words: papers,
        });
        return pdfBytes(pages, papers.rehearsal.title(pattern.name), fonts);
      },
    },
    {
      contract: CONTRACT_VERSION,
      id: 'trial-pdf',
      label: exporters.trial.label,
      extension: 'trial.pdf',
      mediaType: 'application/pdf',
      leadsTo: () => ['form'],
      parameters: [sheetPaper(exporters), unitParameter(exporters)],
      async write(pattern, values) {
        const { trialPages } = await import('../../papers/trialPages.ts');
        const { pdfBytes } = await import('../../drawing/pdf.ts');
        const pages = trialPages(pattern, {
          paper: paperOf(values),
          unit: unitOf(values, pattern),
          words: papers,
        });
        return pdfBytes(pages, papers.trial.title(pattern.name), fonts);
      },
    },
  ];
};
