/** The short note that goes to the cutting service with the drawing. Plain text, lines of at most 78 characters. */
import { cuttingActs } from '../gather/acts.ts';
import { cautionList } from '../material/cautions.ts';
import { titleOf } from '../material/sheets.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { english, type Words } from '../words/english.ts';
import { sentences } from '../words/statement.ts';

const WIDTH = 78;

/** To be written on. */
const BLANK_LINE = '_'.repeat(30);

/** A drawing that goes with the note. */
export interface OrderedDrawing {
  readonly file: string;
  /** Whether it holds what is cut and nothing else; the other one is for marking out. */
  readonly cut: boolean;
  /** The layers it has, the one that is cut first. */
  readonly layers: readonly { readonly name: string; readonly purpose: string }[];
}

/**
 * Date, revision and contact are lines to be filled in: the same tray gives the same note.
 *
 * @param quantity pieces wanted
 * @param drawings the one that is cut, then the one with marks; none when no drawing is in the archive
 * @param files    names of all files that go with the note, the drawings too
 */
export function orderNote(
  pattern: FlatPattern,
  quantity: number,
  drawings: readonly OrderedDrawing[],
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
    [said.date, BLANK_LINE],
    [said.revision, BLANK_LINE],
    [said.contact, BLANK_LINE],
    [said.part, report.name],
    [said.quantity, quantity === 1 ? said.onePiece : said.pieces(String(quantity))],
    [said.sheet, said.sheetNamed(sheet.material.name, titleOf(sheet.material, words))],
    [said.thickness, `${sheet.thickness} mm`],
    [said.size, said.sizeIs(blank.length.toFixed(1), blank.width.toFixed(1))],
    [said.mass, said.massEach(blank.mass.toFixed(2))],
    [said.cutLength, pierced === 1 ? said.cutOnce(metres) : said.cutTimes(metres, String(pierced))],
    [said.grain, said.grainIs(String(report.sheet.grain))],
    [said.side, said.sideIs],
    [said.tolerance, said.tolerances[spec.cut.process]],
    [said.kerf, compensate ? said.kerfCompensated(String(kerf)) : said.kerfLeft],
    [said.edges, said.edgesAre],
  ];
  const width = Math.max(...rows.map(([title]) => title.length)) + 2;
  const lines = rows.flatMap(([title, text]) => wrapped(text, title.padEnd(width), ' '.repeat(width)));
  const paragraphs = [[said.title], lines];
  for (const { file, cut, layers } of drawings) {
    const named = cut ? layers : layers.slice(1);
    const most = Math.max(...layers.map(({ name }) => name.length)) + 4;
    paragraphs.push([
      cut ? said.toCut : said.notToCut,
      `  ${file}`,
      ...wrapped(cut ? said.cutAlone : said.sameCut(layers[0]!.name), '  ', '  '),
      ...named.flatMap(({ name, purpose }) =>
        wrapped(purpose, `  ${name.padEnd(most - 2)}`, ' '.repeat(most)),
      ),
    ]);
  }
  const others = files.filter((name) => drawings.every(({ file }) => file !== name));
  paragraphs.push([
    drawings.length === 0 ? said.files : said.otherFiles,
    ...others.map((file) => `  ${file}`),
  ]);
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
