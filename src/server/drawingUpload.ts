/** A tray file from a drawing of its plan: everything but the plan comes from the tray on the page. */
import { readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { DEMO_TRAY } from './demoTray.ts';
import type { Base } from './jobs.ts';

/**
 * The plan is the drawing's closed chain; its corners without a radius get the base tray's, where that is one
 * number.
 *
 * @param name for the tray
 * @throws GatherpanError when no plan can be read from it, or the tray with this plan is not acceptable
 */
export function readDrawing(bytes: Uint8Array, name: string, base: Base): TraySpec {
  const given = Object.keys(base).length === 0 ? DEMO_TRAY : base;
  const { cornerRadius } = (given.plan ?? {}) as { cornerRadius?: unknown };
  const plan = {
    dxf: `${name}.dxf`,
    ...(typeof cornerRadius === 'number' ? { cornerRadius } : {}),
  };
  return readTray({ ...given, name, plan }, { planDxf: () => textOf(bytes) });
}

/** Drawings are ASCII but for names and remarks, and those may be in an older encoding. */
function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}
