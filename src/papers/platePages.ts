/** Plates (gauges, plies, parts of a strip) at full size as pages, each page as large as it has to be. */
import { drawn, type Item, type Picture, rectangle } from '../drawing/picture.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINE_PITCH, LINES, TEXT } from '../drawing/weights.ts';
import { GatherpanError } from '../errors.ts';
import { containsPoint, distanceToPath, pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import type { PaperWords } from '../words/english.ts';
import { checkSquare } from './checkRule.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { paragraph, Stack, text } from './marks.ts';
import { PAGE_SIZES, type PageSize } from './pageSizes.ts';
import { movedPlate, type Plate } from './plate.ts';
import { FOOTER, tilePage, tilingOf, wholeOnPage } from './tilePage.ts';
import { LONGEST_PAGE, type Tiling } from './tiling.ts';

export interface PlatePageOptions {
  readonly title: string;
  /** Sentences under the title, also the cautions. */
  readonly sentences: readonly string[];
  readonly paper: PageSize;
  /** Plates larger than the paper: over several sheets to be joined, or a page of their own size; the first when left out. */
  readonly large?: 'tiles' | 'page';
  readonly unit: LengthUnit;
  readonly words: PaperWords;
}

const MARGIN = 12;
/** How far sheets lie over one another, mm. */
const OVERLAP = 12;
const GAP = 8;

/** Whether a plate can be printed on one sheet. */
export function fitsOnPage({ outline }: Plate, paper: PageSize): boolean {
  const page = PAGE_SIZES[paper];
  const box = pathBounds(outline);
  return box.maxX - box.minX <= page.width - 2 * MARGIN && box.maxY - box.minY <= page.height - 2 * MARGIN;
}

/**
 * The pages. A plate that is larger than the paper is laid over several, or gets a page of its own size for a wide
 * printer.
 *
 * @param plates in the order they are to be shown; not changed
 */
export function platePages(plates: readonly Plate[], options: PlatePageOptions): Picture[] {
  const { title, sentences, unit, words } = options;
  const square = checkSquare(unit);
  const page = PAGE_SIZES[options.paper];
  const isLarge = (plate: Plate): boolean => !fitsOnPage(plate, options.paper);
  const tiled = options.large !== 'page' && plates.some(isLarge);
  const pictures: Picture[] = [];
  let items: Item[] = [];
  let x = MARGIN;
  let y = page.height - MARGIN;
  let rowHeight = 0;
  const close = (): void => {
    if (items.length > 0) pictures.push({ width: page.width, height: page.height, title, items });
    items = [];
    x = MARGIN;
    y = page.height - MARGIN;
    rowHeight = 0;
  };
  const width = page.width - 2 * MARGIN;
  const head = paragraph({ x: MARGIN, y, width }, title, TEXT.title, true);
  y -= head.height;
  const said = new Stack({ x: MARGIN, y, width: width - square - 8 }).add((column) =>
    paragraph(column, words.measureFirst, TEXT.large, true),
  );
  const joining = tiled ? [words.joinHow(withUnit(OVERLAP, unit, 0))] : [];
  for (const sentence of [
    words.squareSide(withUnit(square, unit, 0)),
    words.printSettings,
    ...sentences,
    ...joining,
  ])
    said.add((column) => paragraph(column, sentence), 0.8);
  items.push(
    ...head.items,
    ...said.items,
    drawn(
      [
        rectangle({
          x: page.width - MARGIN - square,
          y: y - square,
          width: square,
          height: square,
        }),
      ],
      LINES.frame,
    ),
  );
  y -= Math.max(square, said.height) + GAP;

  const large = plates.filter(isLarge);
  for (const plate of plates.filter((each) => !large.includes(each))) {
    const box = pathBounds(plate.outline);
    const [wide, high] = [box.maxX - box.minX, box.maxY - box.minY];
    if (x > MARGIN && x + wide > MARGIN + width) {
      x = MARGIN;
      y -= rowHeight + GAP;
      rowHeight = 0;
    }
    if (y - high < MARGIN) close();
    items.push(...plateItems(movedPlate(plate, x - box.minX, y - box.maxY)));
    x += wide + GAP;
    rowHeight = Math.max(rowHeight, high);
  }
  close();
  for (const [i, plate] of large.entries()) {
    if (tiled) pictures.push(...tiledPlate(plate, `${title}, ${i + 1}`, options));
    else pictures.push(ownPage(plate, title, words));
  }
  return pictures;
}

/** A plate over as many sheets as it takes, its name at the foot of each. */
function tiledPlate(plate: Plate, name: string, options: PlatePageOptions): Picture[] {
  const { paper, title, words, unit } = options;
  const sheet = { name: paper, ...PAGE_SIZES[paper], margin: 10, overlap: OVERLAP, footer: FOOTER };
  const { outline, holes, scribe } = plate;
  const lines = [outline, ...holes, ...scribe] as const;
  const layout = tilingOf(title, lines, sheet, words);
  const drawing = { name, title, items: plateItems(wholeLabel(plate, layout, lines)) };
  return layout.tiles.map((tile) => tilePage(drawing, tile, layout, words, unit));
}

/** The plate with its name where no page edge goes through it. */
function wholeLabel(plate: Plate, layout: Tiling, lines: readonly Path[]): Plate {
  const { lines: said, at, height } = plate.text;
  const size = {
    width: Math.max(0, ...said.map((line) => textWidth(line, height))),
    height: said.length * LINE_PITCH * height,
  };
  const room = Math.hypot(size.width, size.height) / 2;
  const free = (middle: Point): boolean =>
    containsPoint(plate.outline, middle) && lines.every((path) => distanceToPath(middle, path) > room);
  return { ...plate, text: { ...plate.text, at: wholeOnPage(layout, at, size, free) } };
}

function ownPage(plate: Plate, title: string, words: PaperWords): Picture {
  const box = pathBounds(plate.outline);
  const longest = Math.max(box.maxX - box.minX, box.maxY - box.minY) + 2 * MARGIN;
  if (longest > LONGEST_PAGE) {
    throw new GatherpanError(
      'TOO_LARGE',
      words.errors.pageLength(title, longest.toFixed(0), String(LONGEST_PAGE)),
    );
  }
  return {
    width: box.maxX - box.minX + 2 * MARGIN,
    height: box.maxY - box.minY + 2 * MARGIN,
    title,
    items: plateItems(movedPlate(plate, MARGIN - box.minX, MARGIN - box.minY)),
  };
}

/** The lines of a plate and what is engraved on it. */
export function plateItems({ outline, holes, scribe, text: engraved }: Plate): Item[] {
  const pitch = LINE_PITCH * engraved.height;
  const first = engraved.at.y + ((engraved.lines.length - 1) * pitch) / 2 - engraved.height / 2;
  return [
    {
      kind: 'group',
      at: { x: 0, y: 0 },
      scale: 1,
      decimals: 5,
      items: [drawn([outline, ...holes], LINES.edge), drawn(scribe, LINES.scribe)],
    },
    ...engraved.lines.map((line, i) =>
      text({ x: engraved.at.x, y: first - i * pitch }, engraved.height, line, { align: 'center' }),
    ),
  ];
}
