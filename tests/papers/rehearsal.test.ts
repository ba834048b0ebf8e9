/** The rehearsal in paper: its darts take up what the rim has to lose, and stand where the tucks do. */
import { describe, expect, it } from 'vitest';
import { selfIntersections } from '../../src/geometry/intersect.ts';
import {
  containsPoint,
  distanceToPath,
  pathArea,
  pathLength,
  pointAlong,
} from '../../src/geometry/measure.ts';
import { platePages } from '../../src/papers/platePages.ts';
import { dartsOf, rehearsalPlates } from '../../src/papers/rehearsal.ts';
import { english } from '../../src/words/english.ts';
import { solved } from '../support/solved.ts';
import { said } from '../words/pictureText.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, ROUND_PAN, UPRIGHT } from './trays.ts';

describe.each([NESTING, UPRIGHT, ROUND_PAN])('the rehearsal of $name', (spec) => {
  const pattern = solved(spec);

  it('has darts whose widths add up to the rim to lose of every zone', () => {
    for (const { zone } of pattern.gather.tucks) {
      const { toLose } = pattern.gather.zones[zone]!.rim!;
      const darts = dartsOf(pattern, zone);
      const width = darts.reduce((sum, { edges: [a, b] }) => sum + Math.hypot(b.x - a.x, b.y - a.y), 0);
      expect(Math.abs(width - toLose)).toBeLessThan(1e-9 * toLose);
      for (const { middle, point } of darts) {
        expect(distanceToPath(middle, pattern.workedRim)).toBeLessThan(1e-6);
        expect(containsPoint(pattern.outline, point)).toBe(true);
      }
    }
  });

  it('is cut out of the blank, with the darts in it, and says what they are', () => {
    const [plate, ...more] = rehearsalPlates(pattern, 'mm', english.papers);
    expect(more).toEqual([]);
    expect(pathArea(plate!.outline)).toBeGreaterThan(0);
    expect(selfIntersections(plate!.outline)).toEqual([]);
    expect(plate!.scribe.length).toBeGreaterThan(0);
    // Two lines a dart; the second vertex of its edges, and of its middle, is its point.
    const most = Math.max(...pattern.gather.zones.map(({ rim }) => rim?.toLose ?? 0));
    const tucked = pattern.gather.tucks.find(({ zone }) => pattern.gather.zones[zone]!.rim!.toLose === most)!;
    const darts = plate!.scribe.slice(0, 2 * tucked.count);
    for (const { vertices } of darts) expect(containsPoint(plate!.outline, vertices[1]!)).toBe(true);
    // Then where the bend begins and ends, as far as the paper goes and no further.
    const bends = plate!.scribe.slice(2 * tucked.count);
    const lines = pattern.scribeLines.filter(({ kind }) => kind.startsWith('bend')).map(({ path }) => path);
    expect(bends.length).toBeGreaterThanOrEqual(2);
    const round = plate!.outline.vertices.length === pattern.outline.vertices.length;
    for (const bend of bends) {
      const middle = pointAlong(bend, pathLength(bend) / 2);
      expect(containsPoint(plate!.outline, middle)).toBe(true);
      expect(Math.min(...lines.map((line) => distanceToPath(middle, line)))).toBeLessThan(1e-6);
      // Round the whole of a blank they end where they begin, else at the edge of the paper.
      const { vertices } = bend;
      for (const end of [vertices[0]!, vertices.at(-1)!])
        if (!round) expect(distanceToPath(end, plate!.outline)).toBeLessThan(1e-6);
    }
    const pages = platePages([plate!], {
      title: english.papers.rehearsal.title(spec.name),
      sentences: [english.papers.rehearsal.how],
      paper: 'A4',
      unit: 'mm',
      words: english.papers,
    });
    for (const page of pages) expect(textOverlaps(page, ['drawing'])).toEqual([]);
    expect(said(pages).replaceAll('\n', ' ')).toContain(`${most.toFixed(1)} mm of rim to lose`);
  });

  it('has nothing where nothing is gathered', () => {
    const flat = { ...pattern, gather: { ...pattern.gather, zones: [], tucks: [] } };
    expect(rehearsalPlates(flat, 'mm', english.papers)).toEqual([]);
  });
});
