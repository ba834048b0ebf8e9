/** From the bytes of a request to a checked tray, in a working thread. */
import { GatherpanError } from '../errors.ts';
import { parseTray, readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';

/** The contents of a tray file, not yet checked. @throws GatherpanError BAD_INPUT, TOO_LARGE */
export function trayContents(bytes: Uint8Array): unknown {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new GatherpanError('BAD_INPUT', words().messages.server.upload.trayNoText);
  }
  return parseTray(text);
}

/** A checked tray. @param name for one that names itself not @throws GatherpanError BAD_INPUT, TOO_LARGE */
export const trayFrom = (bytes: Uint8Array, name = 'tray'): TraySpec =>
  readTray(trayContents(bytes), { name });

/** Contents for what the rows of a table share. @throws GatherpanError BAD_INPUT */
export function baseFrom(text: string | undefined): Readonly<Record<string, unknown>> {
  if (text === undefined || text === '') return {};
  const value = parseTray(text);
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    throw new GatherpanError('BAD_INPUT', {
      path: 'base',
      message: words().messages.server.baseNoTray,
    });
  }
  return value as Record<string, unknown>;
}
