/** The formats that the service has. */
import { nodeExportersIn } from '../exporters/nodeExporters.ts';
import { createRegistry, type Registry } from '../exporters/registry.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';

let formats: { readonly table: Words; readonly registry: Registry } | null = null;

/** The formats, in the words that are spoken. */
export function registry(): Registry {
  const table = words();
  if (formats?.table !== table) formats = { table, registry: createRegistry(nodeExportersIn(table)) };
  return formats.registry;
}
