/** A tray file from a solid that was made elsewhere; what a solid does not say comes from the tray on the page. */
import { readStepTray } from '../step/readStepTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import type { Base } from './jobs.ts';

/**
 * @param name for the tray
 * @throws GatherpanError when the solid is not the solid of a tray
 */
export async function readSolid(bytes: Uint8Array, name: string, base: Base): Promise<TraySpec> {
  const { material, grain, thickness } = (base.sheet ?? {}) as Readonly<Record<string, unknown>>;
  const { trim } = (base.forming ?? {}) as Readonly<Record<string, unknown>>;
  const number = (value: unknown): number | undefined => (typeof value === 'number' ? value : undefined);
  const read = await readStepTray(bytes, {
    name,
    material: typeof material === 'string' ? material : undefined,
    grain: number(grain),
    thickness: number(thickness),
    trim: number(trim),
    path: 'recognise',
  });
  if (read.kind !== 'tray') throw new Error('asked for a tray file and got a pattern');
  return read.spec;
}
