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

/** What a statement is filled with: text as it stands, a length, or another statement as a phrase. */
export type Figure = string | Length | Statement;

/** An entry of the table and what it is filled with: plain data. */
export interface Statement {
  readonly entry: Entry;
  readonly figures: readonly Figure[];
}

/** Parts of the table that statements are made from. */
type Sayable = Pick<Words, 'verdict' | 'pattern' | 'plan' | 'parts'> & {
  readonly material: Pick<Words['material'], 'families'>;
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
  `${given === true ? String(mm) : mm.toFixed(decimals)} mm`;

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
    return 'entry' in figure ? written(figure, words, lengths) : lengths(figure);
  });
  return (text as (...figures: readonly string[]) => string)(...filled);
}

/** What sentences were written from, by sentence. */
export type Statements = Readonly<Record<string, Statement>>;

/** Writes a statement down in mm. */
export type Say = (statement: Statement) => string;

/** Says statements in one language, in mm, and remembers what it said. */
export function sayer(words: Words): { readonly say: Say; readonly statements: Statements } {
  const statements: Record<string, Statement> = {};
  const say: Say = (each) => {
    const sentence = written(each, words);
    statements[sentence] = each;
    return sentence;
  };
  return { say, statements };
}

/**
 * Sentences once more, in another unit or language; one that no statement is known of stands as it is.
 *
 * @param statements what `sayer` remembered
 */
export const rewritten = (
  sentences: readonly string[],
  statements: Statements | undefined,
  words: Words,
  lengths: LengthWriter,
): string[] =>
  sentences.map((sentence) => {
    // A sentence is no name of a property that every object has.
    const known = Object.hasOwn(statements ?? {}, sentence) ? statements?.[sentence] : undefined;
    return known === undefined ? sentence : written(known, words, lengths);
  });
