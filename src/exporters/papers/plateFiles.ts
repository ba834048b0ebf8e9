/** Makes gauges, former plies and the strip for the rim, and the papers they are cut from. */
import type { Fonts } from '../../drawing/fonts.ts';
import { pdfBytes } from '../../drawing/pdf.ts';
import type { Picture } from '../../drawing/picture.ts';
import { LINE_PITCH } from '../../drawing/weights.ts';
import { GatherpanError } from '../../errors.ts';
import { GAUGE_ACTS, stripActs } from '../../gather/acts.ts';
import { stageAngles } from '../../gather/workingPlan.ts';
import { type Act, cautionList } from '../../material/cautions.ts';
import type { Overbend } from '../../material/springback.ts';
import { formerPlates } from '../../papers/formers.ts';
import { gauges } from '../../papers/gauges.ts';
import { madeBend, stateOfWork, wholeBottomBend } from '../../papers/overbends.ts';
import { laidOut, type Plate } from '../../papers/plate.ts';
import { platePages } from '../../papers/platePages.ts';
import { type StripOptions, stripHow, stripPlates } from '../../papers/strip.ts';
import { stripPages } from '../../papers/stripPages.ts';
import type { FlatPattern } from '../../pattern/flatPattern.ts';
import type { Words } from '../../words/english.ts';
import { sentences } from '../../words/statement.ts';
import type { ParameterValues } from '../contract.ts';
import { drawingText } from '../dxf/drawing.ts';
import type { FilledLayer } from '../dxf/layers.ts';
import { openMarks } from '../dxf/openMarks.ts';
import { plainText } from '../dxf/plainText.ts';
import { pathShape, type Shape } from '../dxf/shape.ts';
import { paperOf, unitOf } from './settings.ts';

/** Width to which plates are laid side by side in a DXF drawing, and the gap between them, mm. */
const ROW_WIDTH = 600;
const GAP = 12;

/** Plates as a drawing: what is cut, what is scribed, what is engraved. */
function platesDxf(plates: readonly Plate[], { drawings }: Words): Uint8Array {
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
  former: (pattern: FlatPattern, words: Words, values: ParameterValues): string[] => [
    words.papers.formerHow,
    ...(values.overbend === true ? [words.papers.formerOverbentHow] : []),
    ...said(['handle', 'hammer'], pattern, words),
  ],
  strip: (pattern: FlatPattern, words: Words): string[] => [
    stripHow(pattern, words.papers),
    ...said(stripActs(pattern.spec), pattern, words),
  ],
};

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

/** The bottom bend of the sides as it is made. */
const sideBend = (pattern: FlatPattern, trialBend: number): Overbend =>
  madeBend(pattern, stateOfWork(pattern), wholeBottomBend(pattern.spec), trialBend);

/** What a paper says beside its plates. */
interface PaperSaid {
  readonly title: string;
  readonly sentences: readonly string[];
  readonly words: Words;
}

/** A set of plates, and what stands on its paper. */
interface PlateSet {
  plates(pattern: FlatPattern, values: ParameterValues, words: Words): Plate[];
  title(pattern: FlatPattern, words: Words): string;
  sentences(pattern: FlatPattern, words: Words, values: ParameterValues): readonly string[];
  /** Pages of its own, where it is not printed at full size. */
  pages?(pattern: FlatPattern, values: ParameterValues, said: PaperSaid): Picture[];
}

const SETS = {
  gauges: {
    plates(pattern, values, words) {
      const stages = Math.round(Number(values.stages));
      return gauges(pattern, {
        hammerRadius: Number(values.hammerRadius),
        dollyRadius: Number(values.dollyRadius),
        face: Number(values.face),
        stages: stageAngles(pattern, stages === 0 ? undefined : stages),
        trialBend: Number(values.trialBend),
        unit: unitOf(values, pattern),
        words: words.papers,
      });
    },
    title: (pattern, words) => words.papers.gaugesTitle(pattern.name),
    sentences: plateSentences.gauges,
  },
  former: {
    plates: (pattern, values, words) =>
      formerPlates(pattern, {
        clearance: Number(values.clearance),
        plyThickness: Number(values.ply),
        overbent: values.overbend === true ? sideBend(pattern, Number(values.trialBend)) : null,
        unit: unitOf(values, pattern),
        words: words.papers,
      }),
    title: (pattern, words) => words.papers.formerTitle(pattern.name),
    sentences: plateSentences.former,
  },
  strip: {
    plates: (pattern, values, words) =>
      stripPlates(pattern, stripOptions(values, words), unitOf(values, pattern), words.papers),
    title: (pattern, words) => words.papers.stripTitle(pattern.name),
    sentences: plateSentences.strip,
    pages: (pattern, values, { title, sentences, words }) =>
      stripPages(pattern, stripOptions(values, words), {
        paper: paperOf(values),
        unit: unitOf(values, pattern),
        title,
        sentences,
        words: words.papers,
      }),
  },
} as const satisfies Record<string, PlateSet>;

export type PlateSetName = keyof typeof SETS;

/** A set of plates as a DXF drawing. */
export const plateDrawing = (
  name: PlateSetName,
  pattern: FlatPattern,
  values: ParameterValues,
  words: Words,
): Uint8Array => platesDxf(SETS[name].plates(pattern, values, words), words);

/** A set of plates as PDF. */
export function platePaper(
  name: PlateSetName,
  pattern: FlatPattern,
  values: ParameterValues,
  words: Words,
  fonts: Fonts,
): Promise<Uint8Array> {
  const set: PlateSet = SETS[name];
  const title = set.title(pattern, words);
  const sentences = set.sentences(pattern, words, values);
  const pages =
    set.pages?.(pattern, values, { title, sentences, words }) ??
    platePages(set.plates(pattern, values, words), {
      title,
      sentences,
      paper: paperOf(values),
      large: values.large as 'tiles' | 'page',
      unit: unitOf(values, pattern),
      words: words.papers,
    });
  return pdfBytes(pages, title, fonts);
}
