/** Marking out by hand: what is struck from the printed figures lies within the tolerance of the true lines, both ways. */
import { describe, expect, it } from 'vitest';
import { nodeFonts } from '../../src/drawing/nodeFonts.ts';
import { pdfBytes } from '../../src/drawing/pdf.ts';
import { distanceToPath } from '../../src/geometry/measure.ts';
import type { Path, Point, Vertex } from '../../src/geometry/path.ts';
import { type MarkedBlank, type MarkedCorner, markedBlank } from '../../src/papers/markingOut.ts';
import { markingPages, reachOf } from '../../src/papers/markingPages.ts';
import { type Reach, type StruckPiece, samplesAlong, struck } from '../../src/papers/trammel.ts';
import type { FlatPattern } from '../../src/pattern/flatPattern.ts';
import type { TraySpec } from '../../src/tray/spec.ts';
import { english } from '../../src/words/english.ts';
import { samplesOf } from '../support/flatToFormed.ts';
import { LONG, some } from '../support/long.ts';
import { solved } from '../support/solved.ts';
import { readPages, readText } from './poppler.ts';
import { textOverlaps } from './textOverlaps.ts';
import { NESTING, ROUND_PAN, UPRIGHT } from './trays.ts';

const EQUAL: TraySpec = { ...NESTING, name: 'equal-corners', sheet: { ...NESTING.sheet, grain: 0 } };
const SLANT: TraySpec = {
  ...NESTING,
  name: 'slant-tray',
  plan: {
    vertices: [
      { x: 0, y: 0, radius: 40 },
      { x: 320, y: 30, radius: 45 },
      { x: 300, y: 240, radius: 60 },
      { x: 20, y: 200, radius: 40 },
    ],
  },
};

const OPTIONS = { paper: 'A4', unit: 'mm', words: english.papers } as const;
const REACH = reachOf(OPTIONS);

const known = new Map<string, MarkedBlank>();

/** A blank marked out once. */
function marking(pattern: FlatPattern, reach: Reach): MarkedBlank {
  const key = JSON.stringify([pattern.spec, reach]);
  const found = known.get(key) ?? markedBlank(pattern, reach);
  known.set(key, found);
  return found;
}

const sweepOf = ({ centre }: { centre: Point }, from: Point, to: Point): number => {
  const turned =
    Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x);
  return turned - 2 * Math.PI * Math.round(turned / (2 * Math.PI));
};

/** What a person draws for a piece, in its frame: an arc from the printed centre, a lath as its stations. */
function verticesOf(piece: StruckPiece): Vertex[] {
  if (piece.kind === 'circle') throw new Error('a circle has no ends');
  const { from, to } = piece;
  if (piece.kind === 'line')
    return [
      { ...from, bulge: 0 },
      { ...to, bulge: 0 },
    ];
  if (piece.kind === 'offsets') {
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const [c, s] = [(to.x - from.x) / length, (to.y - from.y) / length];
    const on = piece.stations.map(({ along, off }) => ({
      x: from.x + along * c - off * s,
      y: from.y + along * s + off * c,
    }));
    return [from, ...on, to].map((point) => ({ ...point, bulge: 0 }));
  }
  // Ends are printed to a tenth: what is struck runs on the circle.
  const onCircle = (point: Point): Point => {
    const far = Math.hypot(point.x - piece.centre.x, point.y - piece.centre.y);
    expect(Math.abs(far - piece.radius)).toBeLessThanOrEqual(REACH.tolerance);
    const times = piece.radius / far;
    return {
      x: piece.centre.x + times * (point.x - piece.centre.x),
      y: piece.centre.y + times * (point.y - piece.centre.y),
    };
  };
  const [a, b] = [onCircle(from), onCircle(to)];
  return [
    { ...a, bulge: Math.tan(sweepOf(piece, a, b) / 4) },
    { ...b, bulge: 0 },
  ];
}

/** One line of the whole blank as struck from the printed figures, corner after corner, from the datum. */
function struckAround(marked: MarkedBlank, index: number): Path {
  const { edges, corners } = marked;
  const vertices = edges.flatMap(({ name, to }, i): Vertex[] => {
    const next = edges[(i + 1) % edges.length]!.to;
    const angle = Math.atan2(next.y - to.y, next.x - to.x);
    const has = (list: readonly string[]): boolean => list.join(', ') === name || list.includes(name);
    const group = corners.find(({ letters, turnedOver }) => has(letters) || has(turnedOver))!;
    const over = has(group.turnedOver);
    const { pieces, apex } = group.lines[index]!;
    const own =
      pieces.length === 0 ? [{ ...(apex ?? { x: 0, y: 0 }), bulge: 0 }] : pieces.flatMap(verticesOf);
    const turned = over
      ? own
          .map(({ x, y }, k) => ({ x: y, y: x, bulge: k === 0 ? 0 : own[k - 1]!.bulge }))
          .reverse()
          .map((vertex) => ({ ...vertex }))
      : own;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return turned.map(({ x, y, bulge }) => ({ x: to.x + c * x - s * y, y: to.y + s * x + c * y, bulge }));
  });
  return { vertices, closed: true };
}

const TRAYS: readonly TraySpec[] = [EQUAL, NESTING, UPRIGHT, SLANT];

describe.each(some(TRAYS, 6))('marking out $name', (spec) => {
  const pattern = solved(spec);
  const marked = marking(pattern, REACH);
  const paths = [
    pattern.outline,
    ...pattern.scribeLines.filter(({ kind }) => kind !== 'rim-mark').map(({ path }) => path),
  ];
  const own = (path: Path): Path => ({
    ...path,
    vertices: path.vertices.map((vertex) => ({
      ...vertex,
      x: vertex.x - marked.origin.x,
      y: vertex.y - marked.origin.y,
    })),
  });

  it('strikes every line within the tolerance, and strikes nothing else', () => {
    expect(marked.edges).toHaveLength(4);
    paths.forEach((path, index) => {
      const [true_, drawn] = [own(path), struckAround(marked, index)];
      const away = (from: Path, to: Path): number =>
        Math.max(...samplesOf(from, LONG ? 400 : 60).map(([x, y]) => distanceToPath({ x, y }, to)));
      expect(away(true_, drawn)).toBeLessThanOrEqual(REACH.tolerance + 1e-9);
      expect(away(drawn, true_)).toBeLessThanOrEqual(REACH.tolerance + 1e-9);
    });
  });

  it('takes a few arcs a corner, none beyond the trammel, all figures round', () => {
    const list = marked.corners.flatMap(({ lines }) => lines);
    for (const { pieces } of list) {
      expect(pieces.length).toBeLessThanOrEqual(6);
      for (const piece of pieces) {
        if (piece.kind !== 'arc') continue;
        expect(piece.radius).toBeLessThanOrEqual(600);
        for (const figure of [piece.radius, piece.centre.x, piece.from.y, piece.to.x])
          expect(Math.abs(10 * figure - Math.round(10 * figure))).toBeLessThan(1e-9);
      }
    }
    const rough = marking(pattern, { ...REACH, tolerance: 1 });
    const count = (blank: MarkedBlank): number =>
      blank.corners
        .flatMap(({ lines }: MarkedCorner) => lines)
        .reduce((sum, { pieces }) => sum + pieces.length, 0);
    expect(count(rough) / rough.corners.length).toBeLessThan(count(marked) / marked.corners.length);
  });

  it.each(some(['mm', 'inch', 'fraction'] as const, 2))(
    'prints every figure, on top of no other, in %s',
    async (unit) => {
      const options = { ...OPTIONS, unit };
      const pages = markingPages(pattern, options);
      for (const page of pages) expect(textOverlaps(page)).toEqual([]);
      const bytes = await pdfBytes(pages, spec.name, nodeFonts);
      expect(readPages(bytes)).toHaveLength(pages.length);
      const words = new Set(readText(bytes).split(/\s+/));
      const own = unit === 'mm' ? marked : marking(pattern, reachOf(options));
      const said = (mm: number): string => (unit === 'mm' ? mm.toFixed(1) : `${(mm / 25.4).toFixed(3)}″`);
      for (const { lines } of own.corners)
        for (const { pieces } of lines)
          for (const piece of pieces) {
            if (piece.kind !== 'arc') continue;
            for (const figure of [piece.to.x, piece.to.y, piece.radius, piece.centre.x])
              expect(words, said(figure)).toContain(said(figure).replace(/^-(0\.0+)$/, '$1'));
          }
    },
  );
});

describe('corners that are alike', () => {
  it('are marked out by one table on one page, turned over where they are mirrored', () => {
    const { corners, rectangle } = marking(solved(EQUAL), REACH);
    expect(corners).toHaveLength(1);
    const [{ letters, turnedOver, along }] = corners as [MarkedCorner];
    expect([...letters, ...turnedOver].sort()).toEqual(['A', 'B', 'C', 'D']);
    expect(letters).toHaveLength(2);
    expect(along).toHaveLength(2);
    expect(rectangle).not.toBeNull();
    expect(markingPages(solved(EQUAL), OPTIONS)).toHaveLength(1);
  });

  it('are none where radii differ', () => {
    expect(marking(solved(UPRIGHT), REACH).corners).toHaveLength(4);
  });
});

describe('a round blank', () => {
  it('has circles, from the datum edges', () => {
    const { rest, corners } = marking(solved(ROUND_PAN), REACH);
    expect(corners).toEqual([]);
    expect(rest.filter(({ pieces }) => pieces[0]!.kind === 'circle').length).toBeGreaterThan(1);
    expect(textOverlaps(markingPages(solved(ROUND_PAN), OPTIONS)[0]!)).toEqual([]);
  });
});

describe('the pieces of a curve', () => {
  const exact: Reach = { ...REACH, step: 1e-6 };
  const quarter = (x: number, y: number, radius: number, from: number, to: number): Vertex => ({
    x: x + radius * Math.cos(from),
    y: y + radius * Math.sin(from),
    bulge: Math.tan((to - from) / 4),
  });
  const arcs = (...list: readonly Vertex[]): Path => ({ vertices: list, closed: false });

  it('are the arcs it was made of', () => {
    // Three arcs that run on smoothly: 100 about (0, 0), 30 about (0, 70), 200 about (−170, 70) on its way back down.
    const path = arcs(
      quarter(0, 0, 100, 0, Math.PI / 2),
      quarter(0, 70, 30, Math.PI / 2, Math.PI),
      quarter(170, 70, 200, Math.PI, Math.PI + 0.6),
      { ...quarter(170, 70, 200, Math.PI + 0.6, 0), bulge: 0 },
    );
    const found = struck(samplesAlong(path), null, null, exact);
    expect(found.map((piece) => (piece.kind === 'arc' ? Math.round(piece.radius) : piece.kind))).toEqual([
      100, 30, 200,
    ]);
  });

  it('are offsets from a straight edge where no trammel reaches', () => {
    const path = arcs(quarter(0, 0, 2000, 1.5, 1.62), { ...quarter(0, 0, 2000, 1.62, 0), bulge: 0 });
    const [piece, ...more] = struck(samplesAlong(path), null, null, REACH);
    expect(more).toEqual([]);
    if (piece?.kind !== 'offsets') throw new Error('a lath');
    const chord = Math.hypot(piece.to.x - piece.from.x, piece.to.y - piece.from.y);
    for (const { along, off } of piece.stations) {
      expect(along % 10).toBe(0);
      const rise = Math.sqrt(2000 ** 2 - (along - chord / 2) ** 2) - Math.sqrt(2000 ** 2 - (chord / 2) ** 2);
      expect(Math.abs(Math.abs(off) - rise)).toBeLessThan(0.15);
    }
    expect(struck(samplesAlong(path), null, null, { ...REACH, trammel: 2500 })[0]!.kind).toBe('arc');
  });

  it('are a circle where it is one', () => {
    const path: Path = {
      vertices: [
        { x: 60, y: 20, bulge: 1 },
        { x: 20, y: 20, bulge: 1 },
      ],
      closed: true,
    };
    expect(struck(samplesAlong(path), null, null, exact)).toEqual([
      {
        kind: 'circle',
        centre: { x: expect.closeTo(40, 5), y: expect.closeTo(20, 5) },
        radius: expect.closeTo(20, 5),
      },
    ]);
  });
});

/** Every hole and every mark is there too. */
it('tells holes and the marks of the rim to lose', () => {
  const pattern: FlatPattern = solved(EQUAL);
  const round: Path = {
    vertices: [
      { x: 8, y: 0, bulge: -1 },
      { x: -8, y: 0, bulge: -1 },
    ],
    closed: true,
  };
  const pages = markingPages({ ...pattern, holes: [{ name: 'drain', path: round }] }, OPTIONS);
  const text = pages.flatMap(({ items }) =>
    items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])),
  );
  const { origin } = marking(pattern, REACH);
  for (const said of ['drain', '8.0', (-origin.x).toFixed(1), english.papers.rimMarks])
    expect(text).toContain(said);
});
