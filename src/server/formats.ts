/** The formats that the service has. */
import { nodeExportersIn } from '../exporters/nodeExporters.ts';
import { createRegistry, type Registry } from '../exporters/registry.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';

const made = new WeakMap<Words, Registry>();

/** The formats, in the words that are spoken. */
export function registry(): Registry {
  const table = words();
  const known = made.get(table) ?? createRegistry(nodeExportersIn(table));
  made.set(table, known);
  return known;
}
