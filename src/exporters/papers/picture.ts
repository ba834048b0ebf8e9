/** The picture of the blank as SVG and PNG. */

import type { Picture } from '../../drawing/picture.ts';
import { pngBytes } from '../../drawing/png.ts';
import { svgText } from '../../drawing/svg.ts';
import { blankPicture } from '../../papers/blankPicture.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Exporter, Parameter, ParameterValues } from '../contract.ts';
import { choice, number, UNIT, unitOf, yesOrNo } from './settings.ts';

const PARAMETERS: readonly Parameter[] = [
  choice('form', ['wide', 'narrow'], 'figures beside the blank (A4 across) or below it (for a telephone)'),
  yesOrNo('contours', true, 'lines of equal gather with their levels'),
  yesOrNo('figures', true, 'the figures beside or below the blank'),
  UNIT,
];

const picture = (pattern: FlatPattern, values: ParameterValues): Picture =>
  blankPicture(pattern, {
    form: values.form as 'wide' | 'narrow',
    contours: values.contours === true,
    figures: values.figures === true,
    unit: unitOf(values),
  });

export const svgExporter: Exporter = {
  id: 'svg',
  label: 'Picture of the blank with its gather (SVG)',
  extension: 'svg',
  mediaType: 'image/svg+xml',
  parameters: PARAMETERS,
  write: async (pattern, values) => new TextEncoder().encode(svgText(picture(pattern, values))),
};

export const pngExporter: Exporter = {
  id: 'png',
  label: 'Picture of the blank with its gather (PNG)',
  extension: 'png',
  mediaType: 'image/png',
  parameters: [
    ...PARAMETERS,
    number('dotsPerInch', '', 150, 50, 600, 'dots per inch; 300 for print, 96 for a screen'),
  ],
  write: (pattern, values) => pngBytes(picture(pattern, values), Number(values.dotsPerInch)),
};
