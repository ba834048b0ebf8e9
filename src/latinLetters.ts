/** Latin letters and signs without their marks: what every reader, keyboard and file system shows alike. */

/** Letters and signs that do not fall apart into a base letter and a mark. */
const LIKENESS: Readonly<Record<string, string>> = {
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
 * A text with its Latin letters in plain form: marks fall away ("ü" is "u"), "ß" is "ss". Everything else stays.
 * The decomposition is Unicode's (NFKD); the likenesses are common practice, no source.
 */
export const plainLatin = (text: string): string =>
  [...text.normalize('NFC')]
    .map((sign) =>
      /[\p{Script=Latin}\p{Script=Common}]/u.test(sign)
        ? sign.normalize('NFKD').replace(/\p{M}/gu, '')
        : sign,
    )
    .flatMap((plain) => [...plain])
    .map((sign) => LIKENESS[sign] ?? sign)
    .join('');
