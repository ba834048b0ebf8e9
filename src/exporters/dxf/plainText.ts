/** Text for a DXF file of the ASCII kind. */
import { plainLatin } from '../../latinLetters.ts';

/**
 * `text` in printable ASCII: letters lose their marks, what has no ASCII likeness becomes `?`, line breaks
 * and other control characters become a space.
 *
 * A version AC1015 file has no encoding that every reader agrees on, so only ASCII is safe. Three signs are
 * replaced because they begin codes inside DXF text: `%%` (special characters), `^` (control characters) and
 * `\` (Unicode escapes). Source: DXF Reference, TEXT and "String group codes".
 */
export function plainText(text: string): string {
  // The inch mark would fall apart into two signs that ASCII has not.
  return [...plainLatin(text.replaceAll('″', '"'))]
    .map((sign) => {
      if (/\p{M}/u.test(sign)) return '';
      if (/[\p{Z}\p{C}]/u.test(sign)) return ' ';
      return /^[ -~]+$/.test(sign) ? sign : '?';
    })
    .join('')
    .replaceAll(/%{2,}/g, '%')
    .replaceAll('^', "'")
    .replaceAll('\\', '/')
    .replaceAll(/ +/g, ' ')
    .trim();
}
