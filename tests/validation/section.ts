/** What a section of the validation chapter is, and the chart it may have. */
import {
  drawn,
  type Item,
  openLine,
  type Picture,
  rectangle,
  type Stroke,
} from '../../src/drawing/picture.ts';
import { GREY, LINES, TEXT } from '../../src/drawing/weights.ts';

export interface Table {
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export interface Section {
  readonly id: string;
  readonly title: string;
  /** What was compared with what. */
  readonly about: readonly string[];
  readonly tables: readonly Table[];
  readonly pictures: readonly Picture[];
  /** What agrees, what does not, and why. */
  readonly verdict: readonly string[];
  /** Read, second-hand or from memory, as each says. */
  readonly sources: readonly string[];
}

/** A number with decimals and a sign that is a sign. */
export const shown = (value: number, decimals: number): string => {
  if (!Number.isFinite(value)) throw new Error(`${value} has no place in the chapter`);
  return value
    .toFixed(decimals)
    .replace(/^-(?=0(\.0*)?$)/, '')
    .replace('-', '−');
};

/** The same with its sign also where it is more. */
export const signed = (value: number, decimals: number): string => {
  const text = shown(value, decimals);
  return text.startsWith('−') || Number(text) === 0 ? text : `+${text}`;
};

export interface Series {
  readonly name: string;
  readonly points: readonly (readonly [number, number])[];
  /** A line of this stroke, or a cross at every point. */
  readonly line: Stroke | null;
}

/** Full lines and dashes that can be told apart in black and white. */
export const STROKES: readonly Stroke[] = [
  { ...LINES.edge },
  { ...LINES.edge, dash: [4, 1.5] },
  { ...LINES.edge, dash: [1.5, 1.2] },
  { ...LINES.edge, dash: [6, 1.5, 1, 1.5] },
];

const WIDTH = 160;
const HEIGHT = 80;
const FRAME = { x: 16, y: 14, width: WIDTH - 22, height: HEIGHT - 20 };

/** A step of 1, 2 or 5 times a power of ten that cuts a span into at most so many. */
function step(span: number, most: number): number {
  const least = span / most;
  const power = 10 ** Math.floor(Math.log10(least));
  return power * [1, 2, 5, 10].find((factor) => factor * power >= least)!;
}

/** Lines and crosses over a grid; names stand below. */
export function chart(
  title: string,
  across: { readonly name: string; readonly from: number; readonly to: number; readonly every: number },
  up: string,
  series: readonly Series[],
): Picture {
  const values = series.flatMap(({ points }) => points.map(([, y]) => y));
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const every = step(most - least, 6);
  const [low, high] = [every * Math.floor(least / every), every * Math.ceil(most / every)];
  const place = (x: number, y: number) => ({
    x: FRAME.x + ((x - across.from) / (across.to - across.from)) * FRAME.width,
    y: FRAME.y + ((y - low) / (high - low)) * FRAME.height,
  });
  const items: Item[] = [];
  const text = (x: number, y: number, words: string, align: 'left' | 'center' | 'right'): void =>
    void items.push({ kind: 'text', at: { x, y }, height: TEXT.small, text: words, align });
  const decimals = Math.max(0, -Math.floor(Math.log10(every)));
  const rule: Stroke = { ...LINES.thin, colour: GREY };
  for (let value = low; value <= high + every / 2; value += every) {
    const { y } = place(0, value);
    items.push(
      drawn(
        [
          openLine([
            { x: FRAME.x, y },
            { x: FRAME.x + FRAME.width, y },
          ]),
        ],
        rule,
      ),
    );
    text(FRAME.x - 1.5, y - TEXT.small / 2, shown(value, decimals), 'right');
  }
  for (let value = across.from; value <= across.to + 1e-9; value += across.every) {
    const { x } = place(value, 0);
    items.push(
      drawn(
        [
          openLine([
            { x, y: FRAME.y },
            { x, y: FRAME.y - 1 },
          ]),
        ],
        rule,
      ),
    );
    text(x, FRAME.y - 4, shown(value, 0), 'center');
  }
  items.push(drawn([rectangle(FRAME)], LINES.frame));
  text(FRAME.x + FRAME.width, FRAME.y - 7.5, across.name, 'right');
  text(2, HEIGHT - 4, up, 'left');
  let left = FRAME.x;
  for (const { name, points, line } of series) {
    const at = points.map(([x, y]) => place(x, y));
    if (line === null)
      for (const { x, y } of at)
        items.push(
          drawn(
            [
              openLine([
                { x: x - 1, y: y - 1 },
                { x: x + 1, y: y + 1 },
              ]),
              openLine([
                { x: x - 1, y: y + 1 },
                { x: x + 1, y: y - 1 },
              ]),
            ],
            LINES.frame,
          ),
        );
    else items.push(drawn([openLine(at)], line));
    const y = 3;
    const sample = line === null ? LINES.frame : line;
    if (line === null) {
      items.push(
        drawn(
          [
            openLine([
              { x: left + 3, y: y - 1 },
              { x: left + 5, y: y + 1 },
            ]),
            openLine([
              { x: left + 3, y: y + 1 },
              { x: left + 5, y: y - 1 },
            ]),
          ],
          sample,
        ),
      );
    } else
      items.push(
        drawn(
          [
            openLine([
              { x: left, y },
              { x: left + 9, y },
            ]),
          ],
          sample,
        ),
      );
    text(left + 10.5, y - TEXT.small / 2, name, 'left');
    left += 14 + name.length * TEXT.small * 0.78;
  }
  return { width: WIDTH, height: HEIGHT, title, items };
}
