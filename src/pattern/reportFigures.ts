/** The figures of a report as plain data for another program: without the name and the long lists of vertices. */
import type { Words } from '../words/english.ts';
import { type InWords, inWords, type LengthWriter } from '../words/statement.ts';
import type { FlatPattern, Report } from './flatPattern.ts';

/** mm, kg, mm², per cent; warnings as sentences. */
export type Figures = InWords<Omit<Report, 'name' | 'rim' | 'outline'>>;

export function figures({ report }: FlatPattern, words: Words, lengths?: LengthWriter): Figures {
  const { name: _name, rim: _rim, outline: _outline, ...rest } = report;
  return inWords(rest, words, lengths);
}
