/** Gauges, former plies and the strip for the rim: as DXF for cutting, as PDF for card and scissors. */
import { pdfBytes } from '../../drawing/pdf.ts';
import { LINE_PITCH } from '../../drawing/weights.ts';
import { GatherpanError } from '../../errors.ts';
import { GAUGE_ACTS, stripActs } from '../../gather/acts.ts';
import { stageAngles } from '../../gather/stages.ts';
import { type Act, cautionList } from '../../material/cautions.ts';
import type { Row } from '../../papers/figureRows.ts';
import { formerPlates } from '../../papers/formers.ts';
import { gauges } from '../../papers/gauges.ts';
import { laidOut, type Plate } from '../../papers/plate.ts';
import { platePages } from '../../papers/platePages.ts';
import { type StripOptions, stripHow, stripPlates, stripRows } from '../../papers/strip.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import { sentences } from '../../words/statement.ts';
import type { Exporter, Parameter, ParameterValues, Use } from '../contract.ts';
import { drawingText } from '../dxf/drawing.ts';
import type { FilledLayer } from '../dxf/layers.ts';
import { openMarks } from '../dxf/openMarks.ts';
import { plainText } from '../dxf/plainText.ts';
import { pathShape, type Shape } from '../dxf/shape.ts';
import { choice, number, paperOf, sheetPaper, unitOf, unitParameter } from './settings.ts';

/** Width to which plates are laid side by side in a DXF drawing, and the gap between them, mm. */
const ROW_WIDTH = 600;
const GAP = 12;

/** Plates as a drawing: what is cut, what is scribed, what is engraved. */
export function platesDxf(plates: readonly Plate[], { drawings }: Words): Uint8Array {
  const purposes = drawings.plateLayers;
  const set = laidOut(plates, ROW_WIDTH, GAP);
  const cut = set.flatMap((plate) => [plate.outline, ...plate.holes]);
  const [scribed] = openMarks([set.flatMap((plate) => plate.scribe)], cut);
  const layer = (name: keyof typeof purposes, colour: number, shapes: readonly Shape[]): FilledLayer => ({
    layer: { name, colour, purpose: purposes[name] },
    shapes,
  });
  const layers = [
    layer('CUT', 7, cut.map(pathShape)),
    layer('SCRIBE', 30, scribed!.map(pathShape)),
    layer('TEXT', 140, set.flatMap(engraving)),
  ].filter(({ shapes }) => shapes.length > 0);
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

const said = (acts: readonly Act[], { sheet }: FlatPattern, words: Words): string[] =>
  sentences(cautionList(acts, sheet.material), words);

/** What stands under the title of each set of plates. */
export const plateSentences = {
  gauges: (pattern: FlatPattern, words: Words): string[] => [
    words.papers.gaugesHow,
    ...said(GAUGE_ACTS, pattern, words),
  ],
  former: (pattern: FlatPattern, words: Words): string[] => [
    words.papers.formerHow,
    ...said(['handle', 'hammer'], pattern, words),
  ],
  strip: (pattern: FlatPattern, words: Words): string[] => [
    stripHow(pattern, words.papers),
    ...said(stripActs(pattern.spec), pattern, words),
  ],
};

/** One set of plates as two exporters. */
function pair(
  id: string,
  words: Words,
  what: string,
  parameters: readonly Parameter[],
  plates: (pattern: FlatPattern, values: ParameterValues) => Plate[],
  uses: readonly Use[],
  paper: {
    readonly title: (pattern: FlatPattern) => string;
    readonly sentences: (pattern: FlatPattern) => readonly string[];
    /** Figures for the first page. */
    readonly rows?: (pattern: FlatPattern, values: ParameterValues) => readonly Row[];
  },
): [Exporter, Exporter] {
  return [
    {
      id: `${id}-dxf`,
      label: words.exporters.dxfOf(what),
      extension: `${id}.dxf`,
      mediaType: 'image/vnd.dxf',
      leadsTo: () => uses,
      parameters: [...parameters, unitParameter(words.exporters)],
      write: async (pattern, values) => platesDxf(plates(pattern, values), words),
    },
    {
      id: `${id}-pdf`,
      label: words.exporters.pdfOf(what),
      extension: `${id}.pdf`,
      mediaType: 'application/pdf',
      leadsTo: () => uses,
      parameters: [
        ...parameters,
        sheetPaper(words.exporters),
        choice('large', ['tiles', 'page'], words.exporters.large),
        unitParameter(words.exporters),
      ],
      write: async (pattern, values) =>
        pdfBytes(
          platePages(plates(pattern, values), {
            title: paper.title(pattern),
            sentences: paper.sentences(pattern),
            rows: paper.rows?.(pattern, values) ?? [],
            paper: paperOf(values),
            large: values.large as 'tiles' | 'page',
            unit: unitOf(values),
            words: words.papers,
          }),
          paper.title(pattern),
        ),
    },
  ];
}

const gaugeExporters = (words: Words): Exporter[] =>
  pair(
    'gauges',
    words,
    words.exporters.gauges.label,
    [
      number('hammerRadius', 'mm', 300, 20, 3000, words.exporters.gauges.hammerRadius),
      number('dollyRadius', 'mm', 75, 10, 3000, words.exporters.gauges.dollyRadius),
      number('face', 'mm', 40, 10, 100, words.exporters.gauges.face),
      number('stages', '', 0, 0, 8, words.exporters.gauges.stages),
    ],
    (pattern, values) => {
      const stages = Math.round(Number(values.stages));
      return gauges(pattern, {
        hammerRadius: Number(values.hammerRadius),
        dollyRadius: Number(values.dollyRadius),
        face: Number(values.face),
        stages: stages === 0 ? stageAngles(pattern.spec) : stageAngles(pattern.spec, stages),
        unit: unitOf(values),
        words: words.papers,
      });
    },
    ['gauges'],
    {
      title: (pattern) => words.papers.gaugesTitle(pattern.name),
      sentences: (pattern) => plateSentences.gauges(pattern, words),
    },
  );

const formerExporters = (words: Words): Exporter[] =>
  pair(
    'former',
    words,
    words.exporters.former.label,
    [
      number('clearance', 'mm', 0.5, 0, 10, words.exporters.former.clearance),
      number('ply', 'mm', 18, 1, 200, words.exporters.former.ply),
    ],
    (pattern, values) =>
      formerPlates(pattern, {
        clearance: Number(values.clearance),
        plyThickness: Number(values.ply),
        unit: unitOf(values),
        words: words.papers,
      }),
    ['form'],
    {
      title: (pattern) => words.papers.formerTitle(pattern.name),
      sentences: (pattern) => plateSentences.former(pattern, words),
    },
  );

const stripParameters = (said: Words['exporters']['strip']): readonly Parameter[] => [
  number('height', 'mm', 25, 5, 500, said.height),
  number('thickness', 'mm', 0, 0, 10, said.thickness),
  choice('flush', ['inside', 'middle', 'outside'], said.flush),
  choice('joint', ['butt', 'overlap'], said.joint),
  number('allowance', 'mm', 1, 0, 50, said.allowance),
  number('stock', 'mm', 2000, 100, 12_000, said.stock),
];

/** The strip that values ask for. */
export function stripOptions(values: ParameterValues, words: Words): StripOptions {
  const thickness = Number(values.thickness);
  if (thickness > 0 && thickness < 0.2) {
    throw new GatherpanError('BAD_INPUT', words.papers.errors.stripThickness(String(thickness)));
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

const stripExporters = (words: Words): Exporter[] =>
  pair(
    'strip',
    words,
    words.exporters.strip.label,
    stripParameters(words.exporters.strip),
    (pattern, values) => stripPlates(pattern, stripOptions(values, words), unitOf(values), words.papers),
    ['cut', 'weld'],
    {
      title: (pattern) => words.papers.stripTitle(pattern.name),
      sentences: (pattern) => plateSentences.strip(pattern, words),
      rows: (pattern, values) =>
        stripRows(pattern, stripOptions(values, words), unitOf(values), words.papers),
    },
  );

/** Gauges, former and strip. */
export const plateExporters = (words: Words): Exporter[] => [
  ...gaugeExporters(words),
  ...formerExporters(words),
  ...stripExporters(words),
];
