/**
 * The layers of the drawing, declared once: name, colour, what each holds and how it is filled.
 *
 * A new kind of mark is one more entry here. Names are plain words; colours are DXF colour numbers (group code
 * 62) far enough apart to be told from each other. Both are ours, and a cutting service is told them in words.
 */
import { zoneContours } from '../../gather/zones.ts';
import type { Path, Point } from '../../geometry/path.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import { trialDots } from '../../pattern/trialDots.ts';
import type { Words } from '../../words/english.ts';
import type { Mark } from './choices.ts';
import { type Label, label } from './label.ts';
import { openMarks } from './openMarks.ts';
import { pathShape, type Shape } from './shape.ts';

export interface Layer {
  /** Letters, digits, hyphen and underscore only: safe in every version and reader. */
  readonly name: string;
  /** DXF colour number (group code 62), 1 to 255. */
  readonly colour: number;
  /** For people: what the layer holds. */
  readonly purpose: string;
}

export interface FilledLayer {
  readonly layer: Layer;
  readonly shapes: readonly Shape[];
}

/** What a mark draws from, and the layer it has. */
interface MarkLayer extends Layer {
  readonly mark: Mark;
  /** Lines, closed ones too; they are opened before they are drawn. */
  readonly lines?: (pattern: FlatPattern) => readonly Path[];
  readonly labels?: (label: Label) => readonly Shape[];
}

export const cutLayer = ({ drawings }: Words): Layer => ({
  name: 'CUT',
  colour: 7, // black on white, white on black
  purpose: drawings.layers.CUT,
});

export const markLayers = ({ drawings }: Words): readonly MarkLayer[] => [
  {
    name: 'SCRIBE',
    colour: 30, // orange: seen on white and on black
    purpose: drawings.layers.SCRIBE,
    mark: 'scribe',
    lines: (pattern) => pattern.scribeLines.map((line) => line.path),
  },
  {
    name: 'GATHER',
    colour: 210, // violet
    purpose: drawings.layers.GATHER,
    mark: 'gather',
    lines: (pattern) => zoneContours(pattern).flatMap((contours) => contours.flatMap(({ paths }) => paths)),
  },
  {
    name: 'TUCKS',
    colour: 94, // green
    purpose: drawings.layers.TUCKS,
    mark: 'tucks',
    lines: (pattern) => pattern.gather.tucks.flatMap(({ marks }) => marks),
  },
  {
    name: 'DOTS',
    colour: 10, // red
    purpose: drawings.layers.DOTS,
    mark: 'dots',
    lines: (pattern) => trialDots(pattern).flatMap(({ points }) => points.flatMap(crossAt)),
  },
  {
    name: 'GRAIN',
    colour: 8, // grey
    purpose: drawings.layers.GRAIN,
    mark: 'grain',
    labels: ({ arrow }) => arrow,
  },
  {
    name: 'TEXT',
    colour: 140, // sky blue
    purpose: drawings.layers.TEXT,
    mark: 'text',
    labels: ({ text }) => text,
  },
];

/** Half the length of the lines that cross at a dot, mm. */
const CROSS = 1.5;

const crossAt = ({ x, y }: Point): Path[] => [
  {
    vertices: [
      { x: x - CROSS, y, bulge: 0 },
      { x: x + CROSS, y, bulge: 0 },
    ],
    closed: false,
  },
  {
    vertices: [
      { x, y: y - CROSS, bulge: 0 },
      { x, y: y + CROSS, bulge: 0 },
    ],
    closed: false,
  },
];

/**
 * What a drawing of the blank holds: the cut, and the marks that are asked for, on layers of their own. Marks are
 * open lines or text. A layer with nothing on it is left out.
 *
 * @param pattern not changed
 * @param text    where the text stands: on the blank or below it
 */
export function filledLayers(
  pattern: FlatPattern,
  marks: readonly Mark[],
  words: Words,
  text: 'inside' | 'outside' = 'inside',
): FilledLayer[] {
  const cut = [pattern.outline, ...pattern.holes.map((hole) => hole.path)];
  const wanted = markLayers(words).filter(({ mark }) => marks.includes(mark));
  const lines = openMarks(
    wanted.map((layer) => layer.lines?.(pattern) ?? []),
    cut,
  );
  const labelled = wanted.some(({ labels }) => labels !== undefined);
  const labels = labelled ? label(pattern, marks.includes('text') ? text : 'none', words) : null;
  return [
    { layer: cutLayer(words), shapes: cut.map(pathShape) },
    ...wanted.map((layer, i) => ({
      layer,
      shapes: [...lines[i]!.map(pathShape), ...(labels === null ? [] : (layer.labels?.(labels) ?? []))],
    })),
  ].filter(({ shapes }) => shapes.length > 0);
}
