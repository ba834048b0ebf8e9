/**
 * A trial before metal: the corner of the blank at full size on strong paper, with darts where the tucks are set. Folded
 * away, the darts take up together what the rim has to lose.
 */
import { openLine } from '../drawing/picture.ts';
import { slicePath } from '../gather/slicePath.ts';
import { meetings } from '../geometry/intersect.ts';
import { pathLength, pointAlong } from '../geometry/measure.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import type { PaperWords } from '../words/english.ts';
import { type LengthUnit, withUnit } from './lengths.ts';
import { type Plate, placedText } from './plate.ts';
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
  ];
  const scribe = darts.flatMap(({ point, middle, edges: [a, b] }): Path[] => [
    openLine([a, point, b]),
    openLine([middle, point]),
  ]);
  return [{ id: 'corner', outline: piece, holes: [], scribe, text: placedText(piece, scribe, lines) }];
}

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
