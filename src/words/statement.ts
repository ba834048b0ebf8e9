/**
 * Sentences before they are written.
 *
 * A verdict, a warning or a note is made where a tray is solved, but read at the terminal in mm and on papers in mm
 * or inches. So what has to be said is an entry of the table of words with its figures, lengths still as numbers,
 * and whoever shows it writes it.
 */
import type { Words } from './english.ts';

/** A length that the reader's unit is still to be chosen for. */
export interface Length {
  readonly mm: number;
  /** Decimals of the mm; other units show as fine a length. */
  readonly decimals: number;
  /** A length that somebody gave: in mm it is written as it is, with the decimals it has. */
  readonly given?: true;
}

/** What a statement is filled with: text as it stands, a length, another statement as a phrase, or a list of them. */
export type Figure = string | Length | Statement | readonly Statement[];

/** An entry of the table and what it is filled with: plain data. */
export interface Statement {
  readonly entry: Entry;
  readonly figures: readonly Figure[];
}

/** Parts of the table that statements are made from. */
type Sayable = Pick<Words, 'verdict' | 'pattern' | 'plan' | 'parts' | 'hand' | 'cautions'> & {
  readonly material: Pick<Words['material'], 'families' | 'cues' | 'instead'>;
};
type Text = string | ((...figures: string[]) => string);

/** Where each text of a table stands: `verdict.stretch.good`. */
type PathIn<T> = {
  [K in keyof T & string]: T[K] extends Text ? K : T[K] extends object ? `${K}.${PathIn<T[K]>}` : never;
}[keyof T & string];
type TextAt<T, P extends string> = P extends `${infer K}.${infer Rest}`
  ? K extends keyof T
    ? TextAt<T[K], Rest>
    : never
  : P extends keyof T
    ? T[P]
    : never;
type FiguresOf<T> = T extends (...figures: infer F) => string ? { [I in keyof F]: Figure } : [];

export type Entry = PathIn<Sayable>;

/** A statement; it takes as many figures as its entry. */
export const statement = <E extends Entry>(
  entry: E,
  ...figures: FiguresOf<TextAt<Sayable, E>> & readonly Figure[]
): Statement => ({ entry, figures });

/** A length found by solving. @param decimals of the mm */
export const length = (mm: number, decimals: number): Length => ({ mm, decimals });

/** A length that was given, for example in the tray file. @param decimals for units in which it is no round number */
export const givenLength = (mm: number, decimals: number): Length => ({ mm, decimals, given: true });

/** Writes a length with its unit. */
export type LengthWriter = (length: Length) => string;

export const inMillimetres: LengthWriter = ({ mm, decimals, given }) =>
  `${given === true ? asGiven(mm) : mm.toFixed(decimals)} mm`;

/** A length that was given, in mm; one that was given in inches is no round number there, and is cut to 0.001 mm. */
export const asGiven = (mm: number): string => String(Number(mm.toFixed(3)));

const isList = (figure: Figure): figure is readonly Statement[] => Array.isArray(figure);

/** The sentence in the words of a table, in mm unless said otherwise. */
export function written(
  { entry, figures }: Statement,
  words: Words,
  lengths: LengthWriter = inMillimetres,
): string {
  let text: unknown = words;
  for (const key of entry.split('.')) text = (text as Readonly<Record<string, unknown>>)[key];
  if (typeof text === 'string') return text;
  const filled = figures.map((figure) => {
    if (typeof figure === 'string') return figure;
    if (isList(figure)) return sentences(figure, words, lengths).join(', ');
    return 'entry' in figure ? written(figure, words, lengths) : lengths(figure);
  });
  return (text as (...figures: readonly string[]) => string)(...filled);
}

/** Several statements, in the words of a table, in mm unless said otherwise. */
export const sentences = (
  statements: readonly Statement[],
  words: Words,
  lengths: LengthWriter = inMillimetres,
): string[] => statements.map((each) => written(each, words, lengths));

/** Plain data in which every statement has become its sentence. */
export type InWords<T> = T extends Statement
  ? string
  : T extends readonly (infer E)[]
    ? readonly InWords<E>[]
    : T extends object
      ? { readonly [K in keyof T]: InWords<T[K]> }
      : T;

/** Plain data with every statement in it written out: what JSON gives to a person or another program. */
export function inWords<T>(data: T, words: Words, lengths: LengthWriter = inMillimetres): InWords<T> {
  const spell = (value: unknown): unknown => {
    if (typeof value !== 'object' || value === null) return value;
    if (Array.isArray(value)) return value.map(spell);
    if (isStatement(value)) return written(value, words, lengths);
    return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, spell(each)]));
  };
  return spell(data) as InWords<T>;
}

const isStatement = (value: object): value is Statement =>
  'entry' in value && typeof value.entry === 'string' && 'figures' in value && Array.isArray(value.figures);
