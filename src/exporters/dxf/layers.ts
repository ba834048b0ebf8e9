/**
 * The layers of the drawing, declared once: name, colour, what each holds and how it is filled.
 *
 * A new kind of mark is one more entry here. Names are plain words; colours are DXF colour numbers (group code
 * 62) far enough apart to be told from each other. Both are ours, and a cutting service is told them in words.
 */
import { zoneContours } from '../../gather/zones.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import type { ParameterValues } from '../contract.ts';
import type { Label } from './label.ts';
import { pathShape, type Shape } from './shape.ts';

export interface Layer {
  /** Letters, digits, hyphen and underscore only: safe in every version and reader. */
  readonly name: string;
  /** DXF colour number (group code 62), 1 to 255. */
  readonly colour: number;
  /** For people: what the layer holds. */
  readonly purpose: string;
  /** Whether a cut-only file keeps it. */
  readonly cut: boolean;
  /** The yes-or-no parameter that has to be set for the layer to be there; always there when absent. */
  readonly option?: string;
  readonly fill: (drawn: Drawn) => readonly Shape[];
}

/** What a layer may draw from. */
export interface Drawn {
  readonly pattern: FlatPattern;
  readonly values: ParameterValues;
  readonly label: Label;
}

export const layersIn = ({ drawings }: Words): readonly Layer[] => [
  {
    name: 'CUT',
    colour: 7, // black on white, white on black
    purpose: drawings.layers.CUT,
    cut: true,
    fill: ({ pattern }) => [pattern.outline, ...pattern.holes.map((hole) => hole.path)].map(pathShape),
  },
  {
    name: 'SCRIBE',
    colour: 30, // orange: seen on white and on black
    purpose: drawings.layers.SCRIBE,
    cut: false,
    fill: ({ pattern }) => pattern.scribeLines.map((line) => pathShape(line.path)),
  },
  {
    name: 'GATHER',
    colour: 210, // violet
    purpose: drawings.layers.GATHER,
    cut: false,
    option: 'contours',
    fill: ({ pattern, values }) =>
      values.contours === true
        ? zoneContours(pattern)
            .flatMap((contours) => contours.flatMap(({ paths }) => paths))
            .map(pathShape)
        : [],
  },
  {
    name: 'TUCKS',
    colour: 94, // green
    purpose: drawings.layers.TUCKS,
    cut: false,
    option: 'tucks',
    fill: ({ pattern, values }) =>
      values.tucks === true ? pattern.gather.tucks.flatMap(({ marks }) => marks).map(pathShape) : [],
  },
  {
    name: 'GRAIN',
    colour: 8, // grey
    purpose: drawings.layers.GRAIN,
    cut: false,
    fill: ({ label }) => label.arrow,
  },
  {
    name: 'TEXT',
    colour: 140, // sky blue
    purpose: drawings.layers.TEXT,
    cut: false,
    fill: ({ label }) => label.text,
  },
];
