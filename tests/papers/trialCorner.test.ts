/** The dots of the trial corner and the sheet that says what to measure. */
import { describe, expect, it } from 'vitest';
import { filledLayers } from '../../src/exporters/dxf/layers.ts';
import { readMeasurements } from '../../src/gather/measurements.ts';
import { TrialCorner } from '../../src/gather/trial.ts';
import { containsPoint, distanceToPath } from '../../src/geometry/measure.ts';
import { templatePages } from '../../src/papers/template.ts';
import { TEMPLATE_DEFAULTS } from '../../src/papers/templateOptions.ts';
import { trialPages } from '../../src/papers/trialPages.ts';
import { DOT_CLEAR, trialDots } from '../../src/pattern/trialDots.ts';
import { english } from '../../src/words/english.ts';
import { solved } from '../support/solved.ts';
import { said } from '../words/pictureText.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, UPRIGHT } from './trays.ts';

describe.each([NESTING, UPRIGHT])('the dots of $name', (spec) => {
  const pattern = solved(spec);
  const dots = trialDots(pattern);

  it('stand as far apart as is said, clear of every edge, a pair a corner', () => {
    expect(dots.map(({ letter }) => letter)).toEqual(['A', 'B', 'C', 'D']);
    for (const { points, apart, inset } of dots) {
      const [a, b] = points;
      expect(Math.hypot(b.x - a.x, b.y - a.y)).toBeCloseTo(apart, 9);
      for (const point of points) {
        expect(containsPoint(pattern.outline, point)).toBe(true);
        expect(distanceToPath(point, pattern.outline)).toBeGreaterThanOrEqual(DOT_CLEAR);
      }
      // On the middle line the edge is the inset away, square to the line between the dots.
      const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
      const out = { x: (b.y - a.y) / apart, y: -(b.x - a.x) / apart };
      const edge = { x: middle.x + inset * out.x, y: middle.y + inset * out.y };
      expect(distanceToPath(edge, pattern.outline)).toBeLessThan(1e-9);
    }
  });

  it('are a mark of their own kind in DXF and template', () => {
    const layer = filledLayers(pattern, ['dots'], english).find((each) => each.layer.name === 'DOTS')!;
    expect(layer.shapes).toHaveLength(4 * 2 * 2);
    const [pages, without] = [true, false].map((on) =>
      said(templatePages(pattern, { ...TEMPLATE_DEFAULTS, dots: on, markingOut: false })),
    ) as [string, string];
    expect(pages).toContain(english.papers.dotsHere);
    expect(pages).toContain(`${dots[0]!.inset.toFixed(1)} mm`);
    expect(without).not.toContain(english.papers.dotsHere);
  });

  it('have a trial that says how far apart they come', () => {
    const { inset, apart } = dots[0]!;
    const trial = (hand: number): number =>
      new TrialCorner(spec, 'A').worked(hand, 0).markDistance({
        direction: 'along',
        inset,
        before: apart,
        skin: 'outside',
      });
    // The rim gathers: less so the more goes up the wall.
    expect(trial(0.4)).toBeLessThan(apart);
    expect(trial(0.4)).not.toBeCloseTo(trial(0.7), 2);
  });

  it.each(['mm', 'inch', 'fraction'] as const)(
    'are on the sheet, one page that can be read, in %s',
    (unit) => {
      const [page, ...more] = trialPages(pattern, { paper: 'A4', unit, words: english.papers });
      expect(more).toEqual([]);
      expect(textOverlaps(page!)).toEqual([]);
      const text = said([page!]);
      for (const { letter } of dots) expect(text.split('\n')).toContain(letter);
      // What is to be typed is what the command reads, once the blanks are filled.
      const lines = text.split('\n');
      const from = lines.findIndex((line) => line.startsWith('{ "units"'));
      const to = lines.indexOf('}', from);
      const file = lines
        .slice(from, to + 1)
        .join('\n')
        .replaceAll('____', unit === 'mm' ? '2' : '0.5')
        .replace('"middle": 0.5 }', '"middle": 0.05 }');
      expect(readMeasurements(JSON.parse(file)).marks![0]!.skin).toBe('outside');
    },
  );
});
