/** The exporters that come with the package. A new one is added to this list and nowhere else. */

import type { Exporter } from './contract.ts';
import { dxfExporter } from './dxf/dxfExporter.ts';
import { jsonExporter } from './json/jsonExporter.ts';
import { paperExporters } from './papers/index.ts';
import { formedStepExporter } from './step/formedStepExporter.ts';
import { stepExporter } from './step/stepExporter.ts';

export const builtInExporters: readonly Exporter[] = [
  dxfExporter,
  jsonExporter,
  stepExporter,
  formedStepExporter,
  ...paperExporters,
];
