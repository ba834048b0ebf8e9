/** The contact sheet: every blank of a batch small and to one scale, as one SVG picture and as pages of a PDF. */

import { nodeFonts } from '../drawing/nodeFonts.ts';
import { pdfBytes } from '../drawing/pdf.ts';
import { drawn, type GroupItem, type Item, type Picture, type TextItem } from '../drawing/picture.ts';
import { svgText } from '../drawing/svg.ts';
import { fitText } from '../drawing/textWidth.ts';
import { GREY, INK } from '../drawing/weights.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Vertex } from '../geometry/path.ts';
import type { ResultFile } from '../jobs/manifest.ts';
import type { MadeReport } from '../jobs/rowReport.ts';
import { lengthText, ownUnit, withUnit } from '../papers/lengths.ts';
import type { TraySpec } from '../tray/spec.ts';
import { english, type Words } from '../words/english.ts';

export const CONTACT_SVG = 'contact-sheet.svg';
export const CONTACT_PDF = 'contact-sheet.pdf';

/** What the sheet shows of a tray. Lengths mm. */
export interface ContactTray {
  readonly name: string;
  readonly spec: Pick<TraySpec, 'shownIn'>;
  readonly outline: readonly Vertex[];
  readonly report: Pick<MadeReport, 'warnings'> & {
    readonly figures: Pick<MadeReport['figures'], 'blankLength' | 'blankWidth'>;
  };
}

/** A4 on its side, ISO 216. All mm on the paper. */
const PAGE = { width: 297, height: 210 };
const MARGIN = 10;
const HEADING = 9;
const COLUMNS = 6;
const ROWS = 4;
const CELL = {
  width: (PAGE.width - 2 * MARGIN) / COLUMNS,
  height: (PAGE.height - 2 * MARGIN - HEADING) / ROWS,
};
const CAPTION = 9;
const GAP = 3;
const LINE_WEIGHT = 0.18;

/** Scales of drawings, ISO 5455, and those between that leave less of the paper empty. */
const SCALES = [1, 2, 2.5, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 500, 1000];

/**
 * Both files. The same trays give the same bytes.
 *
 * @param trays at least one
 */
export async function contactSheets(
  trays: readonly ContactTray[],
  { contactSheet: words }: Words = english,
): Promise<ResultFile[]> {
  const pages: ContactTray[][] = [];
  for (let i = 0; i < trays.length; i += COLUMNS * ROWS) pages.push(trays.slice(i, i + COLUMNS * ROWS));
  const scale = scaleFor(trays);
  const said = `1:${scale}`;
  const heading = trays.length === 1 ? words.oneBlank(said) : words.blanks(String(trays.length), said);
  const numbered = (page: number): string =>
    pages.length === 1 ? heading : words.page(heading, String(page), String(pages.length));
  function* pictures(): Generator<Picture> {
    for (const [i, page] of pages.entries()) yield contactPicture(page, scale, ROWS, numbered(i + 1), words);
  }
  const whole = contactPicture(trays, scale, Math.ceil(trays.length / COLUMNS), heading, words);
  return [
    { name: CONTACT_SVG, bytes: new TextEncoder().encode(svgText(whole)) },
    { name: CONTACT_PDF, bytes: await pdfBytes(pictures(), words.title, nodeFonts) },
  ];
}

/** The one scale at which the largest blank fits its cell: 1 mm of paper stands for so many mm. */
function scaleFor(trays: readonly ContactTray[]): number {
  let needed = 0;
  for (const { outline } of trays) {
    const { minX, minY, maxX, maxY } = pathBounds({ vertices: outline, closed: true });
    needed = Math.max(
      needed,
      (maxX - minX) / (CELL.width - GAP),
      (maxY - minY) / (CELL.height - CAPTION - GAP),
    );
  }
  return SCALES.find((scale) => scale >= needed) ?? Math.ceil(needed);
}

function contactPicture(
  trays: readonly ContactTray[],
  scale: number,
  rows: number,
  heading: string,
  said: Words['contactSheet'],
): Picture {
  const height = 2 * MARGIN + HEADING + rows * CELL.height;
  const text = (x: number, y: number, size: number, words: string, colour: string): TextItem => ({
    kind: 'text',
    at: { x, y },
    height: size,
    text: words,
    align: 'center',
    colour,
  });
  const cells = trays.flatMap((tray, i): Item[] => {
    const x = MARGIN + ((i % COLUMNS) + 0.5) * CELL.width;
    const top = height - MARGIN - HEADING - Math.floor(i / COLUMNS) * CELL.height;
    const { warnings } = tray.report;
    const { blankLength, blankWidth } = tray.report.figures;
    const unit = ownUnit(tray.spec);
    const size = warnings.length > 0 ? said.sizeAndWarnings : said.size;
    const across = size(lengthText(blankLength, unit), withUnit(blankWidth, unit).replace('\u00a0', ' '));
    return [
      blank(tray, { x, y: top - (CELL.height - CAPTION) / 2 }, scale),
      text(x, top - CELL.height + 5.5, 2.2, fitText(tray.name, CELL.width - GAP, 2.2), INK),
      text(x, top - CELL.height + 2, 1.8, across, GREY),
    ];
  });
  const title: TextItem = {
    kind: 'text',
    at: { x: MARGIN, y: height - MARGIN - 3 },
    height: 3,
    text: heading,
    align: 'left',
    colour: INK,
  };
  return { width: PAGE.width, height, title: said.title, items: [title, ...cells] };
}

/** The outline with the middle of its box at `center`. */
function blank({ outline }: ContactTray, center: { x: number; y: number }, scale: number): GroupItem {
  const path = { vertices: outline, closed: true };
  const { minX, minY, maxX, maxY } = pathBounds(path);
  return {
    kind: 'group',
    at: { x: center.x - (minX + maxX) / 2 / scale, y: center.y - (minY + maxY) / 2 / scale },
    scale: 1 / scale,
    decimals: 2,
    items: [drawn([path], { weight: LINE_WEIGHT, colour: INK })],
  };
}
