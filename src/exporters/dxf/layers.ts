/**
 * The layers of the drawing, declared once: name, colour, what each holds and how it is filled.
 *
 * A new kind of mark is one more entry here. Names are plain words; colours are DXF colour numbers (group code
 * 62) far enough apart to be told from each other. Both are ours, and a cutting service is told them in words.
 */
import type { FlatPattern } from '../../pattern/flatPattern.ts';
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

export const LAYERS: readonly Layer[] = [
  {
    name: 'CUT',
    colour: 7, // black on white, white on black
    purpose: 'outline and holes, to be cut through',
    cut: true,
    fill: ({ pattern }) => [pattern.outline, ...pattern.holes.map((hole) => hole.path)].map(pathShape),
  },
  {
    name: 'SCRIBE',
    colour: 30, // orange: seen on white and on black
    purpose: 'where each bend begins and ends, to be scribed or etched lightly, never cut',
    cut: false,
    fill: ({ pattern }) => pattern.scribeLines.map((line) => pathShape(line.path)),
  },
  {
    name: 'GATHER',
    colour: 210, // violet
    purpose: 'lines of equal gather, to be drawn on or etched lightly, never cut',
    cut: false,
    option: 'contours',
    fill: ({ pattern, values }) =>
      values.contours === true
        ? pattern.gather.zones.flatMap((zone) => zone.contours.flatMap(({ paths }) => paths)).map(pathShape)
        : [],
  },
  {
    name: 'TUCKS',
    colour: 94, // green
    purpose: 'where to set the tucks, to be scribed or etched lightly, never cut',
    cut: false,
    option: 'tucks',
    fill: ({ pattern, values }) =>
      values.tucks === true ? pattern.gather.tucks.flatMap(({ marks }) => marks).map(pathShape) : [],
  },
  {
    name: 'GRAIN',
    colour: 8, // grey
    purpose: 'arrow along the rolling direction of the sheet',
    cut: false,
    fill: ({ label }) => label.arrow,
  },
  {
    name: 'TEXT',
    colour: 140, // sky blue
    purpose: 'name, sheet and size, for reading only',
    cut: false,
    fill: ({ label }) => label.text,
  },
];
