/** The exporters that come with the package. A new one is added to this list and nowhere else. */
import type { Exporter } from './contract.ts';
import { dxfExporter } from './dxf/dxfExporter.ts';
import { jsonExporter } from './json/jsonExporter.ts';

export const builtInExporters: readonly Exporter[] = [dxfExporter, jsonExporter];
