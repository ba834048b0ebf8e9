/** The finished tray as a STEP solid. Needs no kernel. */
import { GatherpanError } from '../../errors.ts';
import type { Protocol } from '../../step/product.ts';
import { notchRoots } from '../../tray/notches.ts';
import type { Words } from '../../words/english.ts';
import { words } from '../../words/language.ts';
import { CONTRACT_VERSION, type Exporter } from '../contract.ts';
import { choice } from '../parameterKinds.ts';

export const formedStepExporterIn = ({ exporters: { formedStep } }: Words): Exporter => ({
  contract: CONTRACT_VERSION,
  id: 'formed-step',
  label: formedStep.label,
  extension: 'formed.step',
  mediaType: 'model/step',
  leadsTo: () => [],
  parameters: [choice('protocol', ['AP214', 'AP242'], formedStep.protocol)],
  async write(pattern, values) {
    if (pattern.kind === 'part') {
      throw new GatherpanError('BAD_INPUT', words().messages.exporters.partIsFinished);
    }
    const { writeFormedSolid } = await import('../../step/formedSolid.ts');
    const { min, max } = pattern.report.thickness;
    const [nominal, thin, thick] = [pattern.sheet.thickness, min, max].map((mm) =>
      String(Number(mm.toFixed(2))),
    );
    return writeFormedSolid(
      pattern.spec,
      pattern.name,
      values.protocol as Protocol,
      [
        formedStep.realThickness(nominal!, thin!, thick!),
        ...(notchRoots(pattern.spec).length > 0 ? [formedStep.withoutReliefs] : []),
      ].join(' '),
    );
  },
});
