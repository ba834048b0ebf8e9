/** The built-in exporters and those of a third party's modules. */
import { nodeExporters } from '../exporters/nodeExporters.ts';
import { createRegistry, type Registry } from '../exporters/registry.ts';
import { hostExporters } from '../jobs/exporterHost.ts';
import type { ExporterModules } from './plan.ts';

/**
 * @throws GatherpanError when a module cannot be loaded or two exporters have one id
 */
export async function registryWith({ names, folder, limit }: ExporterModules): Promise<Registry> {
  const others = await Promise.all(names.map((name) => hostExporters(name, folder, limit)));
  return createRegistry([...nodeExporters, ...others.flat()]);
}
