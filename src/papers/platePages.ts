/** Plates (gauges, plies, parts of a strip) at full size as pages, each page as large as it has to be. */
import { drawn, type Item, type Picture, rectangle } from '../drawing/picture.ts';
import { LINE_PITCH, LINES, TEXT } from '../drawing/weights.ts';
import { type Bounds, pathBounds } from '../outline/measure.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { paragraph, text } from './marks.ts';
import { PAGE_SIZES, type PageSize } from './pageSizes.ts';
import { movedPlate, type Plate } from './plate.ts';
import type { Words } from './words.ts';

export interface PlatePageOptions {
  readonly title: string;
  /** Sentences under the title, also the cautions. */
  readonly sentences: readonly string[];
  readonly paper: PageSize;
  readonly unit: LengthUnit;
  readonly words: Words;
}

const MARGIN = 12;
const GAP = 8;
/** Side of the square that is to be measured on the first page, mm. */
const CHECK_SQUARE = 50;

/**
 * The pages. A plate that is larger than the paper gets a page of its own size, for a wide printer.
 *
 * @param plates in the order they are to be shown; not changed
 */
export function platePages(plates: readonly Plate[], options: PlatePageOptions): Picture[] {
  const { title, sentences, unit, words } = options;
  const page = PAGE_SIZES[options.paper];
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
  const head = paragraph({ x: MARGIN, y }, width, title, TEXT.title, true);
  items.push(...head.items);
  y -= head.height;
  const beside = width - CHECK_SQUARE - 8;
  let said = y;
  const measure = paragraph({ x: MARGIN, y: said }, beside, words.measureFirst, TEXT.large, true);
  items.push(...measure.items);
  said -= measure.height;
  for (const sentence of [
    words.squareSide(withUnit(CHECK_SQUARE, unit, unit === 'mm' ? 0 : 2)),
    words.printSettings,
    ...sentences,
  ]) {
    const block = paragraph({ x: MARGIN, y: said }, beside, sentence);
    items.push(...block.items);
    said -= block.height + 0.8;
  }
  items.push(
    drawn(
      [
        rectangle({
          x: page.width - MARGIN - CHECK_SQUARE,
          y: y - CHECK_SQUARE,
          width: CHECK_SQUARE,
          height: CHECK_SQUARE,
        }),
      ],
      LINES.frame,
    ),
  );
  y = Math.min(y - CHECK_SQUARE, said) - GAP;

  const large: Plate[] = [];
  for (const plate of plates) {
    const box = pathBounds(plate.outline);
    const [wide, high] = [box.maxX - box.minX, box.maxY - box.minY];
    if (wide > width || high > page.height - 2 * MARGIN) {
      large.push(plate);
      continue;
    }
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
  for (const plate of large) pictures.push(ownPage(plate, pathBounds(plate.outline), title));
  return pictures;
}

function ownPage(plate: Plate, box: Bounds, title: string): Picture {
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
