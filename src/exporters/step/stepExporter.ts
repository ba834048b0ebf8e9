/** The flat blank as a STEP solid. Needs no kernel. */

import { writeFlatSolid } from '../../step/flatSolid.ts';
import type { Protocol } from '../../step/product.ts';
import type { Exporter } from '../contract.ts';

const PROTOCOL = {
  name: 'protocol',
  type: 'choice',
  default: 'AP214',
  choices: ['AP214', 'AP242'],
  help: 'application protocol of the file',
} as const;

export const stepExporter: Exporter = {
  id: 'step',
  label: 'Flat blank as a solid, STEP (AP214 or AP242)',
  extension: 'step',
  mediaType: 'model/step',
  parameters: [
    PROTOCOL,
    {
      name: 'scribeLines',
      type: 'boolean',
      default: false,
      help: 'the scribe lines too, as curves on the upper face',
    },
  ],
  async write(pattern, values) {
    return writeFlatSolid(pattern, {
      protocol: values.protocol as Protocol,
      scribeLines: values.scribeLines === true,
    });
  },
};
