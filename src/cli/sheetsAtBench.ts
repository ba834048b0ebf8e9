/** The bench sheets at the terminal: the same content as the bench view, one part of the work a paragraph. */
import type { BenchFigure, BenchSheet } from '../papers/benchSheet.ts';
import type { BenchWords } from '../words/bench.ts';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

const figureLine = ({ title, value, note }: BenchFigure): string =>
  `${title}: ${value}${note === undefined ? '' : ` (${note})`}`;

const listed = (title: string, lines: readonly string[]): string[] =>
  lines.length === 0 ? [] : [`    ${title}`, ...lines.map((line) => `      ${line}`)];

export const sheetLines = (sheets: readonly BenchSheet[], words: BenchWords): string =>
  sheets
    .map(({ title, figures, groups, troubles, cautions }) =>
      plain(
        [
          `  ${title}`,
          ...figures.map((figure) => `    ${figureLine(figure)}`),
          ...groups.flatMap((group) => [
            `    ${group.title}`,
            ...group.figures.map((figure) => `      ${figureLine(figure)}`),
            ...group.lines.map((line) => `      [ ] ${line}`),
          ]),
          ...listed(words.troubles, troubles),
          ...listed(words.cautions, cautions),
        ]
          .map((line) => `${line}\n`)
          .join(''),
      ),
    )
    .join('\n');
