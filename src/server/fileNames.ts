/** Names of files: from what a person sent, and for what is sent back. */

/** Longest name of a download, in characters, without its ending. */
const LONGEST = 100;

/** Without folders, whichever system wrote them. */
const lastPart = (name: string): string => name.split(/[\\/]/).at(-1) ?? '';

/** Without the ending. */
const stem = (name: string): string => name.replace(/(?<=.)\.[A-Za-z0-9]{1,8}$/, '');

/**
 * A tray's name from that of the file it came in: what a tray's name may not contain becomes a hyphen.
 *
 * Letters with marks lose the marks (NFKD), so that "Größe" stays readable.
 */
export function trayNameFrom(fileName: string): string {
  const name = stem(lastPart(fileName))
    .replaceAll('ß', 'ss')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/^[^A-Za-z0-9]+/, '')
    .slice(0, 80)
    .replace(/[^A-Za-z0-9_]+$/, '');
  return name === '' ? 'tray' : name;
}

/**
 * The name a download is given: any letters, but no folders, nothing that does not show, nothing that a system
 * refuses in a file name. An ending that was given is left out.
 *
 * @param extension may have a dot inside, as `card.pdf`
 */
export function downloadName(wanted: string, extension: string): string {
  const whole = lastPart(wanted.normalize('NFC'));
  const own = `.${extension}`.toLowerCase();
  const name = (whole.toLowerCase().endsWith(own) ? whole.slice(0, -own.length) : stem(whole))
    .replace(/[\p{C}\p{Zl}\p{Zp}<>:"|?*]/gu, '')
    .replace(/^[.\s]+|[.\s]+$/gu, '');
  const short = [...name].slice(0, LONGEST).join('').trim();
  const base = short === '' || /^(con|prn|aux|nul|com\d|lpt\d)$/i.test(short) ? 'tray' : short;
  return `${base}.${extension}`;
}
