/** The flat blank as a STEP solid. Needs no kernel. */

import type { Protocol } from '../../step/product.ts';
import { english, type Words } from '../../words/english.ts';
import { CONTRACT_VERSION, type Exporter } from '../contract.ts';
import { choice, yesOrNo } from '../parameterKinds.ts';

export const stepExporterIn = ({ exporters: { step } }: Words): Exporter => ({
  contract: CONTRACT_VERSION,
  id: 'step',
  label: step.label,
  extension: 'step',
  mediaType: 'model/step',
  parameters: [
    choice('protocol', ['AP214', 'AP242'], step.protocol),
    yesOrNo('scribeLines', false, step.scribeLines),
  ],
  async write(pattern, values) {
    const { writeFlatSolid } = await import('../../step/flatSolid.ts');
    return writeFlatSolid(pattern, {
      protocol: values.protocol as Protocol,
      scribeLines: values.scribeLines === true,
    });
  },
});

export const stepExporter = stepExporterIn(english);
