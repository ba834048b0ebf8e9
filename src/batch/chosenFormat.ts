/** A format as a batch is asked for it. */
import type { Exporter, ParameterValues } from '../exporters/contract.ts';
import { extensionOf } from '../exporters/parameters.ts';
import { sourceOf } from '../jobs/exporterHost.ts';
import type { ChosenFormat } from './plan.ts';

/**
 * @param exporter built in, or of a third party and loaded by `hostExporters`
 * @param values complete, as the registry gives them
 */
export function chosenFormat(exporter: Exporter, values: ParameterValues): ChosenFormat {
  const source = sourceOf(exporter);
  return {
    id: exporter.id,
    extension: extensionOf(exporter, values),
    ...(source === undefined ? {} : { source }),
    values,
  };
}
