/** The picture of the blank as SVG and PNG. */

import type { Picture } from '../../drawing/picture.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import { CONTRACT_VERSION, type Exporter, type Parameter, type ParameterValues } from '../contract.ts';
import type { Means } from '../means.ts';
import { choice, number, yesOrNo } from '../parameterKinds.ts';
import { unitOf, unitParameter } from './settings.ts';

const parameters = (said: Words['exporters']['svg'], shared: Words['exporters']): readonly Parameter[] => [
  choice('form', ['wide', 'narrow'], said.form),
  yesOrNo('contours', true, said.contours),
  yesOrNo('figures', true, said.figures),
  unitParameter(shared),
];

/** Loaded with the picture, so that what draws none does not load it. */
const drawing = () => import('../../papers/blankPicture.ts');

async function picture(pattern: FlatPattern, values: ParameterValues, words: Words): Promise<Picture> {
  const { blankPicture } = await drawing();
  return blankPicture(pattern, {
    form: values.form as 'wide' | 'narrow',
    contours: values.contours === true,
    figures: values.figures === true,
    unit: unitOf(values, pattern),
    words,
  });
}

/** The formats of the picture. */
export const pictureExporters = (words: Words, { png }: Means): Exporter[] => [
  {
    contract: CONTRACT_VERSION,
    id: 'svg',
    label: words.exporters.svg.label,
    extension: 'svg',
    mediaType: 'image/svg+xml',
    parameters: parameters(words.exporters.svg, words.exporters),
    write: async (pattern, values) => {
      const { svgText } = await drawing();
      return new TextEncoder().encode(svgText(await picture(pattern, values, words)));
    },
  },
  ...(png === undefined
    ? []
    : [
        {
          contract: CONTRACT_VERSION,
          id: 'png',
          label: words.exporters.png.label,
          extension: 'png',
          mediaType: 'image/png',
          parameters: [
            ...parameters(words.exporters.png, words.exporters),
            number('dotsPerInch', '', 150, [50, 600], words.exporters.png.dotsPerInch),
          ],
          write: async (pattern: FlatPattern, values: ParameterValues) =>
            png(await picture(pattern, values, words), Number(values.dotsPerInch)),
        },
      ]),
];
