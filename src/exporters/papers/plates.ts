/** Gauges, former plies and the strip for the rim: as DXF for cutting, as PDF for card and scissors. */
import { pdfBytes } from '../../drawing/pdf.ts';
import { LINE_PITCH } from '../../drawing/weights.ts';
import { GatherpanError } from '../../errors.ts';
import { stageAngles } from '../../gather/stages.ts';
import { cautionsFor } from '../../papers/cautions.ts';
import { formerPlates } from '../../papers/formers.ts';
import { gauges } from '../../papers/gauges.ts';
import { laidOut, type Plate } from '../../papers/plate.ts';
import { platePages } from '../../papers/platePages.ts';
import { type StripOptions, stripPlates } from '../../papers/strip.ts';
import { english } from '../../papers/words.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Exporter, Parameter, ParameterValues } from '../contract.ts';
import { drawingText, type FilledLayer } from '../dxf/drawing.ts';
import { plainText } from '../dxf/plainText.ts';
import { pathShape, type Shape } from '../dxf/shape.ts';
import { choice, number, paperOf, SHEET_PAPER, UNIT, unitOf } from './settings.ts';

/** Width to which plates are laid side by side in a DXF drawing, and the gap between them, mm. */
const ROW_WIDTH = 600;
const GAP = 12;

/** Plates as a drawing: what is cut, what is scribed, what is engraved. */
export function platesDxf(plates: readonly Plate[]): Uint8Array {
  const set = laidOut(plates, ROW_WIDTH, GAP);
  const layer = (
    name: string,
    colour: number,
    purpose: string,
    cut: boolean,
    shapes: Shape[],
  ): FilledLayer => ({
    layer: { name, colour, purpose, cut, fill: () => shapes },
    shapes,
  });
  const layers = [
    layer(
      'CUT',
      7,
      'outlines and holes, to be cut through',
      true,
      set.flatMap((plate) => [plate.outline, ...plate.holes].map(pathShape)),
    ),
    layer(
      'SCRIBE',
      30,
      'where each bend begins and ends, to be scribed, never cut',
      false,
      set.flatMap((plate) => plate.scribe.map(pathShape)),
    ),
    layer('TEXT', 140, 'names, to be engraved', false, set.flatMap(engraving)),
  ];
  return new TextEncoder().encode(drawingText(layers));
}

function engraving({ text }: Plate): Shape[] {
  const pitch = LINE_PITCH * text.height;
  const first = text.at.y + ((text.lines.length - 1) * pitch) / 2 - text.height / 2;
  return text.lines.map((line, i) => ({
    kind: 'text',
    at: { x: text.at.x, y: first - i * pitch },
    align: 'center',
    height: text.height,
    text: plainText(line),
  }));
}

/** One set of plates as two exporters. */
function pair(
  id: string,
  what: string,
  parameters: readonly Parameter[],
  plates: (pattern: FlatPattern, values: ParameterValues) => Plate[],
  paper: {
    readonly title: (pattern: FlatPattern) => string;
    readonly sentences: (pattern: FlatPattern) => readonly string[];
  },
): [Exporter, Exporter] {
  return [
    {
      id: `${id}-dxf`,
      label: `${what} (DXF)`,
      extension: `${id}.dxf`,
      mediaType: 'image/vnd.dxf',
      parameters: [...parameters, UNIT],
      write: async (pattern, values) => platesDxf(plates(pattern, values)),
    },
    {
      id: `${id}-pdf`,
      label: `${what} (PDF)`,
      extension: `${id}.pdf`,
      mediaType: 'application/pdf',
      parameters: [...parameters, SHEET_PAPER, UNIT],
      write: async (pattern, values) =>
        pdfBytes(
          platePages(plates(pattern, values), {
            title: paper.title(pattern),
            sentences: paper.sentences(pattern),
            paper: paperOf(values),
            unit: unitOf(values),
            words: english,
          }),
          paper.title(pattern),
        ),
    },
  ];
}

export const gaugeExporters = pair(
  'gauges',
  'Gauges for radii, corners, sections and crowns',
  [
    number('hammerRadius', 'mm', 300, 20, 3000, "crown radius of the hammer's face"),
    number('dollyRadius', 'mm', 75, 10, 3000, 'crown radius of the dolly'),
    number('face', 'mm', 40, 10, 100, 'width of face the crown gauges cover'),
    number('stages', '', 0, 0, 8, "number of stages with a section gauge; 0 for the tray's own"),
  ],
  (pattern, values) => {
    const stages = Math.round(Number(values.stages));
    return gauges(pattern, {
      hammerRadius: Number(values.hammerRadius),
      dollyRadius: Number(values.dollyRadius),
      face: Number(values.face),
      stages: stages === 0 ? stageAngles(pattern.spec) : stageAngles(pattern.spec, stages),
      unit: unitOf(values),
      words: english,
    });
  },
  {
    title: (pattern) => english.gaugesTitle(pattern.name),
    sentences: (pattern) => [english.gaugesHow, ...cautionsFor(pattern, 'cutting', english)],
  },
);

export const formerExporters = pair(
  'former',
  'Former block to hammer over, as plies',
  [
    number('clearance', 'mm', 0.5, 0, 10, "between the block and the tray's inside"),
    number('ply', 'mm', 18, 1, 200, 'thickness of a ply'),
  ],
  (pattern, values) =>
    formerPlates(pattern, {
      clearance: Number(values.clearance),
      plyThickness: Number(values.ply),
      unit: unitOf(values),
      words: english,
    }),
  {
    title: (pattern) => english.formerTitle(pattern.name),
    sentences: (pattern) => [english.formerHow, ...cautionsFor(pattern, 'forming', english)],
  },
);

export const STRIP_PARAMETERS: readonly Parameter[] = [
  number('height', 'mm', 25, 5, 500, 'height of the strip'),
  number('thickness', 'mm', 0, 0, 10, "thickness of the strip; 0 for the tray's sheet"),
  choice('flush', ['inside', 'middle', 'outside'], 'which faces of strip and wall are flush'),
  choice('joint', ['butt', 'overlap'], 'how the ends of the strip meet'),
  number('allowance', 'mm', 1, 0, 50, 'gap of a butt joint or length of an overlap'),
  number('stock', 'mm', 2000, 100, 12_000, 'length of the stock the strip is cut from'),
];

/** The strip that values ask for. */
export function stripOptions(values: ParameterValues): StripOptions {
  const thickness = Number(values.thickness);
  if (thickness > 0 && thickness < 0.2) {
    throw new GatherpanError(
      'BAD_INPUT',
      `The strip's thickness is ${thickness} mm; 0 or a thickness of 0.2 mm and more is accepted.`,
    );
  }
  return {
    height: Number(values.height),
    thickness,
    flush: values.flush as StripOptions['flush'],
    joint: values.joint as StripOptions['joint'],
    allowance: Number(values.allowance),
    stockLength: Number(values.stock),
  };
}

export const stripExporters = pair(
  'strip',
  'Strip to weld on the rim for more height',
  STRIP_PARAMETERS,
  (pattern, values) => stripPlates(pattern, stripOptions(values), unitOf(values), english),
  {
    title: (pattern) => english.stripTitle(pattern.name),
    sentences: (pattern) => [english.stripHow, ...cautionsFor(pattern, 'welding', english)],
  },
);
