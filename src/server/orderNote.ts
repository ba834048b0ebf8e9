/** The short note that goes to the cutting service with the drawing. Plain text, lines of at most 78 characters. */
import { cuttingActs } from '../gather/acts.ts';
import { cautionList } from '../material/cautions.ts';
import { titleOf } from '../material/sheets.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';

const WIDTH = 78;

/**
 * @param quantity pieces wanted
 * @param layers   the drawing's layers and what each means; empty when no drawing is in the archive
 * @param files    names of the files that go with the note
 */
export function orderNote(
  pattern: FlatPattern,
  quantity: number,
  layers: readonly { readonly name: string; readonly purpose: string }[],
  files: readonly string[],
  words: Words = english,
): string {
  const { report, spec, sheet } = pattern;
  const { blank } = report;
  const said = words.service.order;
  const metres = (blank.cutLength / 1000).toFixed(2);
  const pierced = pattern.holes.length + 1;
  const { compensate, kerf } = spec.cut;
  const rows: [string, string][] = [
    [said.part, report.name],
    [said.quantity, quantity === 1 ? said.onePiece : said.pieces(String(quantity))],
    [said.sheet, said.sheetNamed(sheet.material.name, titleOf(sheet.material, words))],
    [said.thickness, `${sheet.thickness} mm`],
    [said.size, said.sizeIs(blank.length.toFixed(1), blank.width.toFixed(1))],
    [said.mass, said.massEach(blank.mass.toFixed(2))],
    [said.cutLength, pierced === 1 ? said.cutOnce(metres) : said.cutTimes(metres, String(pierced))],
    [said.grain, said.grainIs(String(report.sheet.grain))],
    [said.side, said.sideIs],
    [said.kerf, compensate ? said.kerfCompensated(String(kerf)) : said.kerfLeft],
    [said.edges, said.edgesAre],
  ];
  const width = Math.max(...rows.map(([title]) => title.length)) + 2;
  const lines = rows.flatMap(([title, text]) => wrapped(text, title.padEnd(width), ' '.repeat(width)));
  const paragraphs = [[said.title], lines];
  if (layers.length > 0) {
    const most = Math.max(...layers.map(({ name }) => name.length)) + 4;
    paragraphs.push([
      said.layers,
      ...layers.flatMap(({ name, purpose }) =>
        wrapped(purpose, `  ${name.padEnd(most - 2)}`, ' '.repeat(most)),
      ),
    ]);
  }
  paragraphs.push([said.files, ...files.map((file) => `  ${file}`)]);
  paragraphs.push([
    said.care,
    ...sentences(cautionList(cuttingActs(spec), sheet.material), words).flatMap((text) =>
      wrapped(text, '- ', '  '),
    ),
  ]);
  return `${paragraphs.map((paragraph) => paragraph.join('\n')).join('\n\n')}\n`;
}

/** Breaks a text at spaces. */
function wrapped(text: string, first: string, others: string): string[] {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of text.split(' ')) {
    if (!empty && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = others;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line];
}
