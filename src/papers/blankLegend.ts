/** What stands under the picture of the blank: scale bar, ramp of gather, and what the lines mean. */
import { drawn, type Item, level, rectangle, type Stroke, upright } from '../drawing/picture.ts';
import { rampColour } from '../drawing/ramp.ts';
import { textWidth } from '../drawing/textWidth.ts';
import { LINES, TEXT } from '../drawing/weights.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { bandStep, gatherScale, hasStretch } from './blankItems.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { paragraph, scaleBar, text } from './marks.ts';
import { plainScale, scaleText } from './plainScale.ts';

/** A round length, without zeros at its end. */
const barText = (mm: number, unit: LengthUnit): string =>
  unit === 'inch' ? withUnit(mm, unit, 4).replace(/\.?0+″$/, '″') : withUnit(mm, unit, mm < 1 ? 1 : 0);

/** Scale bar, ramp of gather, and what the lines mean. */
export function legendBlock(
  pattern: FlatPattern,
  place: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly scale: number;
    readonly words: PaperWords;
    readonly unit: LengthUnit;
    readonly contours: boolean;
  },
): { items: Item[]; height: number } {
  const { x, y, width, scale, words, unit, contours } = place;
  const items: Item[] = [];
  const barLength = Math.min(34, width * 0.36);
  items.push(...scaleBar({ x: x + 1, y: y - 7 }, scale, barLength, (mm) => barText(mm, unit), unit !== 'mm'));

  // The ramp, right of the scale bar.
  const most = gatherScale(pattern.field);
  const step = bandStep(most);
  const rampX = x + barLength + 12;
  const rampWidth = Math.min(90, width - barLength - 15);
  const count = Math.round(most / step);
  for (let i = 0; i < count; i++) {
    items.push({
      kind: 'path',
      paths: [
        rectangle({ x: rampX + (i * rampWidth) / count, y: y - 7, width: rampWidth / count, height: 3.2 }),
      ],
      fill: i === 0 ? rampColour(0) : rampColour(((i + 0.5) * step) / most),
    });
  }
  items.push(drawn([rectangle({ x: rampX, y: y - 7, width: rampWidth, height: 3.2 })], LINES.thin));
  for (let value = 0; value <= most; value += rampWidth < 60 && most > 30 ? 20 : 10) {
    const at = rampX + (value / most) * rampWidth;
    items.push(drawn([upright(at, y - 7, y - 7.8)], LINES.thin));
    items.push(text({ x: at, y: y - 10.2 }, TEXT.small, words.percent(String(value)), { align: 'center' }));
  }
  items.push(text({ x: rampX, y: y - 3 }, TEXT.small, words.gather));

  // Samples of the lines.
  const samples: [string, Stroke][] = [
    [words.legendCut, LINES.cut],
    [words.legendScribe, LINES.scribe],
  ];
  if (pattern.outline !== pattern.rim) samples.splice(1, 0, [words.legendRim, LINES.rim]);
  if (contours) samples.push([words.legendContour, LINES.contour]);
  if (contours && hasStretch(pattern)) samples.push([words.legendStretch, LINES.stretch]);
  let at = x;
  let line = y - 15.5;
  for (const [name, stroke] of samples) {
    const needed = 11 + textWidth(name, TEXT.small) + 5;
    if (at + needed - 5 > x + width) {
      at = x;
      line -= 4.5;
    }
    items.push(
      drawn([level(line + 0.9, at, at + 9)], stroke),
      text({ x: at + 11, y: line }, TEXT.small, name),
    );
    at += needed;
  }
  const scaleWords = scale === plainScale(scale) ? `${words.scale(scaleText(scale))}. ` : '';
  const said = paragraph({ x, y: line - 2.2, width }, scaleWords + words.insideUp, TEXT.small);
  items.push(...said.items);
  return { items, height: y - line + 2.2 + said.height };
}
