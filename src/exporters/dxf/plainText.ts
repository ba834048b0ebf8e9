/** Text for a DXF file of the ASCII kind. */

/** Letters that do not fall apart into a base letter and a mark. */
const LETTERS: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  Æ: 'AE',
  œ: 'oe',
  Œ: 'OE',
  ø: 'o',
  Ø: 'O',
  ł: 'l',
  Ł: 'L',
  đ: 'd',
  Đ: 'D',
  ð: 'd',
  þ: 'th',
  Þ: 'Th',
  ı: 'i',
  '×': 'x',
  '°': ' deg',
  '‐': '-',
  '‑': '-',
  '–': '-',
  '—': '-',
  '−': '-',
  '‘': "'",
  '’': "'",
  '‚': "'",
  '“': '"',
  '”': '"',
  '„': '"',
  '«': '"',
  '»': '"',
};

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
  return [...text.replaceAll('″', '"').normalize('NFKD')]
    .map((sign) => {
      if (/\p{M}/u.test(sign)) return '';
      const likeness = LETTERS[sign] ?? sign;
      if (/[\p{Z}\p{C}]/u.test(likeness)) return ' ';
      return /^[ -~]+$/.test(likeness) ? likeness : '?';
    })
    .join('')
    .replaceAll(/%{2,}/g, '%')
    .replaceAll('^', "'")
    .replaceAll('\\', '/')
    .replaceAll(/ +/g, ' ')
    .trim();
}
