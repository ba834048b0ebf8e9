/**
 * A trial before metal: the corner of the blank at full size on strong paper, with darts where the tucks are set. Folded
 * away, the darts take up together what the rim has to lose.
 */
import { openLine, type Picture } from '../drawing/picture.ts';
import { slicePath } from '../gather/slicePath.ts';
import { pieceCount, pieceEnd, pointOnPiece } from '../geometry/arc.ts';
import { fractionOn, meetings } from '../geometry/intersect.ts';
import { containsPoint, pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import type { PageSize } from './pageSizes.ts';
import { type Plate, placedText } from './plate.ts';
import { fitsOnPage, platePages } from './platePages.ts';
import { zoneName } from './stageTable.ts';

/** How much of the blank is left inside the gathered zone, mm. */
const INSIDE = 20;

/** A dart: its point, and where its edges and its middle meet the rim. */
export interface Dart {
  readonly point: Point;
  readonly middle: Point;
  readonly edges: readonly [Point, Point];
}

/** The darts of a gathered zone, as wide at the rim as its tucks take up. */
export function dartsOf({ gather }: Pick<FlatPattern, 'gather'>, zone: number): Dart[] {
  const plan = gather.tucks.find((tuck) => tuck.zone === zone);
  return (plan?.marks ?? []).map(({ vertices }): Dart => {
    const [middle, point] = vertices as unknown as readonly [Point, Point];
    const depth = Math.hypot(point.x - middle.x, point.y - middle.y);
    const half = plan!.takeUp / 2;
    // Along the rim, square to the mark.
    const [x, y] = [(-half * (point.y - middle.y)) / depth, (half * (point.x - middle.x)) / depth];
    return {
      point,
      middle,
      edges: [
        { x: middle.x - x, y: middle.y - y },
        { x: middle.x + x, y: middle.y + y },
      ],
    };
  });
}

/** The zone that loses most, cut out with its darts; none where nothing is gathered. */
export function rehearsalPlates(pattern: FlatPattern, unit: LengthUnit, words: PaperWords): Plate[] {
  const { gather, outline } = pattern;
  const toLose = (zone: number): number => gather.zones[zone]?.rim?.toLose ?? 0;
  const [most] = [...gather.tucks].sort((a, b) => toLose(b.zone) - toLose(a.zone));
  const zone = most === undefined ? undefined : gather.zones[most.zone];
  if (most === undefined || zone === undefined || zone.rim === null) return [];
  const darts = dartsOf(pattern, most.zone);
  const piece = cornerPiece(outline, zone.rim.begin, zone.rim.end, zone.depth + INSIDE);
  const lines = [
    `${pattern.name}: ${zoneName(pattern, [most.zone], words)}`,
    words.rehearsal.darts(
      String(most.count),
      withUnit(most.takeUp, unit),
      withUnit(most.count * most.takeUp, unit),
    ),
    words.rehearsal.paperOnly,
  ];
  const scribe = darts.flatMap(({ point, middle, edges: [a, b] }): Path[] => [
    openLine([a, point, b]),
    openLine([middle, point]),
  ]);
  // Where the bend begins and ends, so that the paper is bent up where the metal will be.
  const bends = pattern.scribeLines
    .filter(({ kind }) => kind === 'bend-begin' || kind === 'bend-end')
    .flatMap(({ path }) => within(path, piece));
  const drawn = [...scribe, ...bends];
  return [{ id: 'corner', outline: piece, holes: [], scribe: drawn, text: placedText(piece, drawn, lines) }];
}

export interface RehearsalOptions {
  readonly paper: PageSize;
  readonly unit: LengthUnit;
  readonly words: PaperWords;
}

/** The rehearsal as pages; one that says so where nothing is gathered. */
export function rehearsalPages(pattern: FlatPattern, { paper, unit, words }: RehearsalOptions): Picture[] {
  const { title, how, nothing } = words.rehearsal;
  const plates = rehearsalPlates(pattern, unit, words);
  const sentences = [plates.length > 0 ? how : nothing];
  return platePages(plates, { title: title(pattern.name), sentences, paper, unit, words });
}

/** Whether there is something to rehearse, and one sheet has room for it. */
export function rehearsalSize(
  pattern: FlatPattern,
  { paper, unit, words }: RehearsalOptions,
): 'nothing' | 'one sheet' | 'several sheets' {
  const plates = rehearsalPlates(pattern, unit, words);
  if (plates.length === 0) return 'nothing';
  return plates.every((plate) => fitsOnPage(plate, paper)) ? 'one sheet' : 'several sheets';
}

/** The parts of a path that lie inside a closed one. */
function within(path: Path, outline: Path): Path[] {
  const parts: Vertex[][] = [];
  let open = false;
  for (let i = 0; i < pieceCount(path); i++) {
    const [from, to] = [path.vertices[i]!, pieceEnd(path, i)];
    const crossed = Array.from({ length: pieceCount(outline) }, (_, k) =>
      meetings(from, to, outline.vertices[k]!, pieceEnd(outline, k)),
    ).flat();
    const stops = [0, ...crossed.map((point) => fractionOn(point, from, to)).sort((a, b) => a - b), 1];
    for (let k = 1; k < stops.length; k++) {
      const [start, stop] = [stops[k - 1]!, stops[k]!];
      if (stop - start < SHORTEST) continue;
      const at = (share: number): Point => pointOnPiece(from, to, share);
      const inside = containsPoint(outline, at((start + stop) / 2));
      const bulge = Math.tan(Math.atan(from.bulge) * (stop - start));
      if (inside && !open) parts.push([]);
      open = inside;
      if (!inside) continue;
      const part = parts.at(-1)!;
      part.pop();
      part.push({ ...at(start), bulge }, { ...at(stop), bulge: 0 });
    }
  }
  const [first] = parts;
  const begins = containsPoint(outline, path.vertices[0]!);
  // The last part of a closed path runs on into its first.
  if (path.closed && open && begins && parts.length > 1)
    parts.splice(0, 1, [...parts.pop()!.slice(0, -1), ...first!]);
  return parts.map((vertices) => ({ vertices, closed: false }));
}
/** Share of a line or an arc that is nothing. */
const SHORTEST = 1e-9;

/** The blank from one place of its edge to another, and so deep. */
function cornerPiece(outline: Path, begin: Point, end: Point, depth: number): Path {
  if (begin.x === end.x && begin.y === end.y) return outline;
  const edge = slicePath(outline, begin, end);
  const inwards = (along: number): [at: Vertex, to: Point] => {
    const { x, y, tangent } = pointAlong(edge, along);
    return [
      { x, y, bulge: 0 },
      { x: x - depth * Math.sin(tangent), y: y + depth * Math.cos(tangent) },
    ];
  };
  const [first, last] = [inwards(0), inwards(pathLength(edge))];
  const [meet] = meetings(...first, ...last);
  const inner = meet === undefined ? [last[1], first[1]] : [meet];
  return {
    vertices: [...edge.vertices, ...inner.map((point) => ({ ...point, bulge: 0 }))],
    closed: true,
  };
}
