/** Marks that several papers draw: arrows, dimension lines, scale bars, rows of text. */
import {
  drawn,
  filled,
  type Item,
  level,
  openLine,
  polygon,
  rectangle,
  type TextItem,
} from '../drawing/picture.ts';
import { fitText, textWidth, wrapText } from '../drawing/textWidth.ts';
import { INK, LINE_PITCH, LINES, PAPER, TEXT } from '../drawing/weights.ts';
import type { Point } from '../geometry/path.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';

/** Length of a dimension's arrow head and half its width, mm. */
const HEAD = 2.2;
const HEAD_HALF = 0.38;

/** The point at a distance from another one in a direction (radians). */
export const towards = (from: Point, angle: number, distance: number): Point => ({
  x: from.x + distance * Math.cos(angle),
  y: from.y + distance * Math.sin(angle),
});

/** A filled arrow head whose tip is at `tip`, pointing in a direction (radians). */
export function arrowHead(tip: Point, angle: number, length = HEAD, half = HEAD_HALF): Item {
  const back = towards(tip, angle + Math.PI, length);
  return filled(
    [polygon([tip, towards(back, angle + Math.PI / 2, half), towards(back, angle - Math.PI / 2, half)])],
    INK,
  );
}

/** A line with a head at each end along the rolling direction, which has a direction and no sense. */
export function grainArrow(center: Point, angle: number, length: number): Item[] {
  const tip = towards(center, angle, length / 2);
  const tail = towards(center, angle + Math.PI, length / 2);
  return [
    drawn([openLine([tail, tip])], LINES.edge),
    arrowHead(tip, angle, 3, 0.8),
    arrowHead(tail, angle + Math.PI, 3, 0.8),
  ];
}

/**
 * A dimension between two points, its line moved off them to the left of the direction from → to.
 *
 * @param off mm from the points to the dimension line; negative to the right
 */
export function dimension(from: Point, to: Point, off: number, text: string, height = TEXT.normal): Item[] {
  const angle = Math.atan2(to.y - from.y, to.x - from.x);
  const aside = angle + Math.PI / 2;
  const sense = Math.sign(off);
  const a = towards(from, aside, off);
  const b = towards(to, aside, off);
  const length = Math.hypot(b.x - a.x, b.y - a.y);
  const wide = textWidth(text, height);
  // No room for both heads, or for the words, between the ends: the heads come from outside.
  const outside = wide + 1 > length;
  const narrow = outside || length < 2 * HEAD + 1;
  const items: Item[] = [
    drawn(
      [
        openLine([towards(from, aside, sense * 1), towards(a, aside, sense * 1.2)]),
        openLine([towards(to, aside, sense * 1), towards(b, aside, sense * 1.2)]),
        narrow ? openLine([towards(a, angle + Math.PI, 5), towards(b, angle, 5)]) : openLine([a, b]),
      ],
      LINES.thin,
    ),
    arrowHead(a, narrow ? angle : angle + Math.PI),
    arrowHead(b, narrow ? angle + Math.PI : angle),
  ];
  // Text reads from below or from the right.
  const turned = angle > Math.PI / 2 + 1e-9 || angle <= -Math.PI / 2 + 1e-9;
  const reading = turned ? angle + Math.PI : angle;
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const beside = outside ? towards(b, angle, wide / 2 + 6) : middle;
  items.push({
    kind: 'text',
    at: towards(beside, reading + Math.PI / 2, 0.8),
    height,
    text,
    align: 'center',
    angle: reading,
    halo: true,
  });
  return items;
}

/** A thin line from a text to what it is about, with a dot at the end. */
export const leader = (points: readonly Point[]): Item[] => {
  const end = points[points.length - 1]!;
  return [drawn([openLine(points)], LINES.thin), filled([dot(end)], INK)];
};

const dot = (at: Point) => polygon(Array.from({ length: 8 }, (_, i) => towards(at, (i * Math.PI) / 4, 0.45)));

/** Lengths a scale bar may stand for, by a power of ten. */
const BAR_STEPS = [1, 2, 5];
/** Those below an inch: a fraction is halved. */
const INCH_STEPS = [1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 32];

/**
 * A bar of alternating black and white, some 30 mm long on the paper.
 *
 * @param at    lower left end of the bar
 * @param scale mm on the paper per mm
 * @param text  writes a length with its unit
 * @param inch  for a bar of whole inches, or of halves of one
 */
export function scaleBar(
  at: Point,
  scale: number,
  longest: number,
  text: (mm: number) => string,
  inch = false,
): Item[] {
  const { length, parts } = barOf(longest / scale, inch);
  const part = (length * scale) / parts;
  const height = 1.4;
  const items: Item[] = [];
  for (let i = 0; i < parts; i++) {
    const box = rectangle({ x: at.x + i * part, y: at.y, width: part, height });
    items.push({ kind: 'path', paths: [box], fill: i % 2 === 0 ? INK : PAPER, stroke: LINES.thin });
  }
  const label = (x: number, words: string, align: TextItem['align']): Item => ({
    kind: 'text',
    at: { x, y: at.y + height + 0.9 },
    height: TEXT.small,
    text: words,
    align,
  });
  items.push(label(at.x, '0', 'center'), label(at.x + length * scale, text(length), 'center'));
  return items;
}

/** Length that a bar stands for, mm, at most as long as wanted; and its parts. */
function barOf(wanted: number, inch: boolean): { length: number; parts: number } {
  const unit = inch ? MILLIMETRES_PER_INCH : 1;
  const most = wanted / unit;
  if (inch && most < 1) {
    const step = INCH_STEPS.find((candidate) => candidate <= most) ?? INCH_STEPS.at(-1)!;
    return { length: step * unit, parts: 4 };
  }
  const power = 10 ** Math.floor(Math.log10(most));
  const step = BAR_STEPS.findLast((candidate) => candidate * power <= most) ?? 1;
  return { length: step * power * unit, parts: step === 2 || (inch && step * power === 1) ? 4 : 5 };
}

/** A text item, left-aligned black unless said otherwise. */
export const text = (
  at: Point,
  height: number,
  words: string,
  more: Partial<Omit<TextItem, 'kind' | 'at' | 'height' | 'text'>> = {},
): TextItem => ({ kind: 'text', at, height, text: words, align: 'left', ...more });

/** Items and how much height they took, mm. */
export interface Block {
  readonly items: readonly Item[];
  readonly height: number;
}

/** Where a block is set: its upper left corner, and how wide it may be, mm. */
export interface Column extends Point {
  readonly width: number;
}

/** A block once it is known where it is set. */
export type Placed = (column: Column) => Block;

/** Blocks under one another. */
export class Stack implements Block {
  readonly items: Item[] = [];
  readonly #top: Column;
  #y: number;

  constructor(top: Column) {
    this.#top = top;
    this.#y = top.y;
  }

  get height(): number {
    return this.#top.y - this.#y;
  }

  /** Where the next block is set. */
  get below(): Column {
    return { ...this.#top, y: this.#y };
  }

  /** @param gap what is left free below it, mm */
  add(block: Placed, gap = 0): this {
    const { items, height } = block(this.below);
    this.items.push(...items);
    this.#y -= height + gap;
    return this;
  }
}

/** A paragraph, broken to the column's width. */
export function paragraph(top: Column, words: string, height: number = TEXT.normal, bold = false): Block {
  const lines = wrapText(unbroken(words), top.width, height, bold, true).map((line) =>
    line.replaceAll('\u00a0', ' '),
  );
  return {
    items: lines.map((line, i) =>
      text({ x: top.x, y: top.y - height - i * LINE_PITCH * height }, height, line, bold ? { bold } : {}),
    ),
    height: lines.length * LINE_PITCH * height,
  };
}

/** A figure and what follows it, a unit or a sign, stay on one line. */
const unbroken = (words: string): string => words.replace(/(\d) (%|°C|mm\b)/g, '$1\u00a0$2');

/** Rows of a name and a value under each other; a value that is too long goes over several lines. */
export function rows(
  top: Column,
  list: readonly (readonly [name: string, value: string])[],
  nameWidth: number,
  height: number = TEXT.normal,
): Block {
  const items: Item[] = [];
  const pitch = LINE_PITCH * height;
  const room = top.width - nameWidth;
  let y = top.y;
  for (const [name, value] of list) {
    const names = wrapText(name, nameWidth - 2, height);
    const values = wrapText(value, room, height, false, true);
    names.forEach((line, i) => {
      items.push(text({ x: top.x, y: y - height - i * pitch }, height, line, { colour: '#444444' }));
    });
    values.forEach((line, i) => {
      items.push(
        text({ x: top.x + nameWidth, y: y - height - i * pitch }, height, fitText(line, room, height)),
      );
    });
    y -= Math.max(names.length, values.length) * pitch;
  }
  return { items, height: top.y - y };
}

/** A heading with a thin rule under it. */
export function heading(top: Column, words: string, height: number = TEXT.normal): Block {
  const base = top.y - height;
  return {
    items: [
      text({ x: top.x, y: base }, height, words, { bold: true }),
      drawn([level(base - 1, top.x, top.x + top.width)], LINES.thin),
    ],
    height: height + 2.4,
  };
}
