/** Names of files, made from names that persons gave: one rule for every file this program writes. */
import { plainLatin } from './latinLetters.ts';

/** Longest stem, in characters and in bytes: most systems take 255 bytes with ending and temporary marks. */
const LONGEST = 80;
const MOST_BYTES = 180;
/** Source: Microsoft, "Naming Files, Paths, and Namespaces". */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;
const UNNAMED = 'tray';

/**
 * The name of a tray's file, without its ending.
 *
 * Letters and digits of any script stay, Latin letters lose their marks, and spaces and every other sign become a
 * hyphen, because services that cut ask for names without spaces (common practice, no source). No system refuses
 * the result; equal but for capitals are still two names that some systems take for one.
 */
export function fileStem(name: string): string {
  const plain = plainLatin(name)
    .replace(/[^\p{L}\p{M}\p{N}._-]+/gu, '-')
    .replace(/\.{2,}/g, '.')
    .replace(/^[^\p{L}\p{N}]+/u, '');
  let stem = '';
  let bytes = 0;
  for (const sign of [...plain].slice(0, LONGEST)) {
    bytes += new TextEncoder().encode(sign).length;
    if (bytes > MOST_BYTES) break;
    stem += sign;
  }
  stem = stem.replace(/[^\p{L}\p{M}\p{N}_]+$/u, '');
  if (stem === '') return UNNAMED;
  return DEVICE.test(stem) ? `${UNNAMED}-${stem}` : stem;
}

/** The name of one of a tray's files. @param extension without its first dot */
export const fileNameOf = (trayName: string, extension: string): string =>
  `${fileStem(trayName)}.${extension}`;

/** Two files of one folder that some system takes for one have the same key. */
export const fileKey = (fileName: string): string => fileName.normalize('NFC').toLowerCase();

/** Without folders, whichever system wrote them. */
const lastPart = (path: string): string => path.split(/[\\/]/).at(-1) ?? '';

/** The name of a tray that came without one: that of its file, without folders and ending; "tray" if nothing is left. */
export function trayNameFrom(path: string): string {
  const name = lastPart(path)
    .replace(/((?<=.)\.formed)?(?<=.)\.[A-Za-z0-9]{1,8}$/i, '')
    .replace(/\p{C}+/gu, ' ')
    .trim();
  return /[\p{L}\p{N}]/u.test(name) ? [...name].slice(0, LONGEST).join('').trim() : UNNAMED;
}

/**
 * The name a download is given when the person asks for one: as it was given, spaces too, but no folders, nothing
 * that does not show, nothing that a system refuses. An ending that was given is left out.
 *
 * @param extension may have a dot inside, as `card.pdf`
 */
export function downloadName(wanted: string, extension: string): string {
  const whole = lastPart(wanted.normalize('NFC'));
  const own = `.${extension}`.toLowerCase();
  const stem = whole.toLowerCase().endsWith(own)
    ? whole.slice(0, -own.length)
    : whole.replace(/(?<=.)\.[A-Za-z0-9]{1,8}$/, '');
  const shown = stem.replace(/[\p{C}\p{Zl}\p{Zp}<>:"|?*]/gu, '').replace(/^[.\s]+|[.\s]+$/gu, '');
  const short = [...shown].slice(0, LONGEST).join('').trim();
  return `${short === '' || DEVICE.test(short) ? UNNAMED : short}.${extension}`;
}
