/** The short note that goes to the cutting service with the drawing. Plain text, lines of at most 78 characters. */
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { cautions } from './cautions.ts';

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
): string {
  const { report, spec, sheet } = pattern;
  const { blank } = report;
  const rows: [string, string][] = [
    ['Part', report.name],
    ['Quantity', `${quantity} ${quantity === 1 ? 'piece' : 'pieces'}`],
    ['Sheet', `${sheet.material.name} (${sheet.material.title})`],
    ['Thickness', `${sheet.thickness} mm`],
    [
      'Overall size',
      `${blank.length.toFixed(1)} x ${blank.width.toFixed(1)} mm. The drawing is in millimetres at scale 1:1; if it measures otherwise on your screen, ask before cutting.`,
    ],
    ['Mass', `${blank.mass.toFixed(2)} kg each`],
    [
      'Cut length',
      `${(blank.cutLength / 1000).toFixed(2)} m each, pierced ${pattern.holes.length === 0 ? 'once' : `${pattern.holes.length + 1} times`}`,
    ],
    [
      'Grain',
      `Rolling direction at ${report.sheet.grain} degrees to the x axis of the drawing, as the arrow shows. Turn the part only with the arrow.`,
    ],
    [
      'Side',
      'The face drawn is the inside of the tray. Keep it free of scratches and of marks other than those drawn.',
    ],
    ['Kerf', kerf(spec.cut.compensate, spec.cut.kerf)],
    ['Edges', 'Free of burr. No tags in the rounded parts of the outline, where the metal is gathered.'],
  ];
  const width = Math.max(...rows.map(([title]) => title.length)) + 2;
  const lines = rows.flatMap(([title, text]) => wrapped(text, title.padEnd(width), ' '.repeat(width)));
  const paragraphs = [['Order note for cutting a flat blank'], lines];
  if (layers.length > 0) {
    const most = Math.max(...layers.map(({ name }) => name.length)) + 4;
    paragraphs.push([
      'Layers of the drawing',
      ...layers.flatMap(({ name, purpose }) =>
        wrapped(purpose, `  ${name.padEnd(most - 2)}`, ' '.repeat(most)),
      ),
    ]);
  }
  paragraphs.push(['Files', ...files.map((file) => `  ${file}`)]);
  paragraphs.push([
    'Take care',
    ...cautions(spec, sheet).cutting.flatMap((text) => wrapped(text, '- ', '  ')),
  ]);
  return `${paragraphs.map((paragraph) => paragraph.join('\n')).join('\n\n')}\n`;
}

const kerf = (compensated: boolean, width: number): string =>
  compensated
    ? `The outline is already moved out by half a kerf of ${width} mm: cut on the line, do not compensate.`
    : 'Yours: the outline is the finished size, so compensate for your own kerf.';

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
