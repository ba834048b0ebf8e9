/** What a file is, by its content: names and declared types are not trusted. */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';

export type FileKind = 'tray' | 'table' | 'drawing' | 'solid';

/** Bytes from the start of a file that are looked at. */
export const SNIFFED = 4096;

/**
 * The kind of a file.
 *
 * - solid: begins with `ISO-10303-21;` (ISO 10303-21, clause on the exchange structure)
 * - drawing: group code 0 with SECTION first, after any comments of group code 999 (DXF Reference)
 * - tray: begins with `{`
 * - table: text of another kind, with a separator in its first line that is no comment
 *
 * @param start the file's first bytes, at most `SNIFFED`
 * @throws GatherpanError BAD_INPUT for anything else
 */
export function kindOf(start: Uint8Array): FileKind {
  const said = words().messages.server.upload;
  const refuse = (message: string): GatherpanError =>
    new GatherpanError('BAD_INPUT', { path: 'file', message });
  if (start.length === 0) throw refuse(said.empty);
  const [a, b] = start;
  // Local file header of an archive (APPNOTE 4.3.7), gzip (RFC 1952, 2.3.1).
  if (a === 0x50 && b === 0x4b) throw refuse(said.archive);
  if (a === 0x1f && b === 0x8b) throw refuse(said.compressed);
  if ((a === 0xff && b === 0xfe) || (a === 0xfe && b === 0xff)) throw refuse(said.utf16);
  if (start.includes(0)) throw refuse(said.noText);
  // Drawings and solids may be in an older encoding; their first signs are ASCII all the same.
  const text = new TextDecoder('latin1').decode(start).replace(/^(\u00ef\u00bb\u00bf|\s)+/, '');
  if (text === '') throw refuse(said.noContent);
  if (text.startsWith('ISO-10303-21;')) return 'solid';
  if (/^(?:999[ \t]*\r?\n[^\n]*\n\s*)*0[ \t]*\r?\n[ \t]*SECTION\b/.test(text)) return 'drawing';
  if (text.startsWith('{')) return 'tray';
  const first = text.split(/\r?\n/).find((line) => line.trim() !== '' && !line.startsWith('#')) ?? '';
  if (/^[^<[%]/.test(first) && /[,;\t]/.test(first)) return 'table';
  throw refuse(said.unknownKind);
}
