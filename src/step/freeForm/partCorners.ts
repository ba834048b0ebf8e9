/**
 * The corners of a part that was solved as it is: where its rim turns, seen from above.
 *
 * Figures as those of a tray's corners (`pattern/corners.ts`), found on the part itself. The two classical radii
 * need a base and a rim that turns in an arc about a point of it; without these they are NaN.
 */

import type { GatherZone } from '../../gather/report.ts';
import { lengthsOf } from '../../gather/rimLengths.ts';
import type { FlatField } from '../../geometry/flatField.ts';
import { dot, minus, vectorAt } from '../../geometry/vector3.ts';
import { cornerPeaks } from '../../pattern/cornerPeaks.ts';
import { zoneLoss } from '../../pattern/corners.ts';
import type { CornerReport } from '../../pattern/flatPattern.ts';
import { cornerLetter } from '../../tray/cornerLetter.ts';
import { percentFromLogStrain } from '../../units.ts';
import { EDGE_SAMPLES } from '../part.ts';
import { edgePartsBetween, onEdge, type RimPlace, rimPlace } from './rimPlaces.ts';
import type { PartSkin } from './skin.ts';
import { UprightCuts } from './wedge.ts';

/** Least turn of a corner, and of an edge that belongs to one; radians. */
const LEAST_TURN = 0.17;
const LEAST_EDGE_TURN = 0.02;
/** Departure from a circle up to which a corner has a centre, as a share of its radius. */
const ROUND_WITHIN = 0.02;

/** A stretch of the rim that turns one way. */
export interface PartCorner {
  readonly begin: RimPlace;
  readonly end: RimPlace;
  /** Positive where the rim turns to the left, going counter-clockwise. */
  readonly sweep: number;
  /** In plan, tray's frame; null when the rim turns in no arc. */
  readonly circle: { readonly x: number; readonly y: number; readonly radius: number } | null;
}

/**
 * The corners of the rim, counter-clockwise, the first one being the first from the x axis on.
 *
 * @param rimEdges kernel edges of the rim
 */
export function partCorners(
  own: PartSkin,
  field: Omit<FlatField, 'rimCorner'>,
  rimEdges: readonly number[],
): PartCorner[] {
  const edges = rimEdges.map((edge) => edgeOnRim(own, field, edge));
  edges.sort((a, b) => a.begin.along - b.begin.along);
  const bent = edges.map(({ turn }) => (Math.abs(turn) < LEAST_EDGE_TURN ? 0 : Math.sign(turn)));
  // A chain begins where the edge before turns another way; a rim that turns one way all round begins anywhere.
  const count = edges.length;
  const starts = edges.flatMap((_, i) =>
    bent[i] !== 0 && bent[(i + count - 1) % count] !== bent[i] ? [i] : [],
  );
  if (starts.length === 0 && bent.some((sign) => sign !== 0)) starts.push(0);
  const corners: PartCorner[] = [];
  for (const start of starts) {
    const chain = [];
    for (let i = start; chain.length < count && bent[i % count] === bent[start]; i++)
      chain.push(edges[i % count]!);
    const turn = chain.reduce((sum, edge) => sum + edge.turn, 0);
    if (Math.abs(turn) < LEAST_TURN) continue;
    const [begin, end] = [chain[0]!.begin, chain[chain.length - 1]!.end];
    const circle = circleThrough(chain.flatMap(({ plan }) => plan));
    corners.push({
      begin,
      end,
      sweep: circle === null ? turn : sweepAbout(circle, begin, end, turn),
      circle,
    });
  }
  const angle = ({ begin, end }: PartCorner): number => {
    const { x, y } = middleOf(begin, end, field);
    const { middleX, middleY } = planMiddle(field);
    const from = Math.atan2(y - middleY, x - middleX);
    return from < -1e-6 ? from + 2 * Math.PI : from;
  };
  return corners.sort((a, b) => angle(a) - angle(b));
}

/** For each rim node the number of the corner it lies in, or −1. */
export function cornersOfRim(corners: readonly PartCorner[], rimNodes: Uint32Array): Int32Array {
  return Int32Array.from(rimNodes, (_, i) =>
    corners.findIndex(({ begin, end }) => {
      // Nodes stand at half steps of the place's count of edges.
      const at = i / 2;
      const [from, to] = [begin.along - 1e-6, end.along + 1e-6];
      return from <= to ? at >= from && at <= to : at >= from || at <= to;
    }),
  );
}

export function cornerReportsOf(
  own: PartSkin,
  corners: readonly PartCorner[],
  field: FlatField,
  zones: readonly GatherZone[],
): CornerReport[] {
  const { skin, frame } = own;
  const middles = corners.map(({ begin, end }) => middleOf(begin, end, field));
  const peaks = cornerPeaks(field, middles);
  return corners.map((corner, index) => {
    const { begin, end, sweep, circle } = corner;
    const { flat, formed } = lengthsOf(field, edgePartsBetween(begin, end, field.rimNodes));
    const { x, y, flatX, flatY } = middles[index]!;
    const { shrink, stretch, thickest, thinnest } = peaks[index]!;
    let [flatCornerRadius, arcLengthCornerRadius, equalAreaCornerRadius] = [
      Number.NaN,
      Number.NaN,
      Number.NaN,
    ];
    if (circle !== null && frame.base >= 0 && sweep > 0 && sweep < Math.PI - 1e-6) {
      const seen = new UprightCuts(own, circle);
      const towards = (place: RimPlace): [number, number] => [place.x - circle.x, place.y - circle.y];
      flatCornerRadius = Math.hypot(flatX - circle.x, flatY - circle.y);
      arcLengthCornerRadius = seen.fibreLength([x - circle.x, y - circle.y]);
      equalAreaCornerRadius = Math.sqrt((2 * seen.wedgeArea(towards(begin), towards(end))) / sweep);
    }
    return {
      index,
      letter: cornerLetter(index),
      at: { x, y },
      // Outside of the sheet, as the sizes of the whole are.
      cornerRadius: (circle?.radius ?? formed / Math.abs(sweep)) + (Math.sign(sweep) * skin.thickness) / 2,
      flatRimLength: flat,
      formedRimLength: formed,
      arcRimToLose: flat - formed,
      ...zoneLoss(index, zones),
      netFlatRimLength: flat,
      netFormedRimLength: formed,
      netRimThickness: rimThickness(edgePartsBetween(begin, end, field.rimNodes), field, skin.thickness),
      flatCornerRadius,
      arcLengthCornerRadius,
      equalAreaCornerRadius,
      peakGather: -percentFromLogStrain(shrink),
      peakStretch: percentFromLogStrain(stretch),
      thickest: skin.thickness * Math.exp(thickest),
      thinnest: skin.thickness * Math.exp(thinnest),
    };
  });
}

/** Mean finished thickness at the middles of edges, mm; the sheet's where there are none. */
const rimThickness = (
  parts: ReturnType<typeof edgePartsBetween>,
  { thicknessStrain }: FlatField,
  sheet: number,
): number =>
  parts.length === 0
    ? sheet
    : (sheet * parts.reduce((sum, { edge }) => sum + Math.exp(thicknessStrain[edge.middle]!), 0)) /
      parts.length;

interface EdgeOnRim {
  readonly begin: RimPlace;
  readonly end: RimPlace;
  /** Seen from above, counter-clockwise along the rim; radians. */
  readonly turn: number;
  readonly plan: readonly (readonly [number, number])[];
}

function edgeOnRim({ live, frame }: PartSkin, field: Omit<FlatField, 'rimCorner'>, edge: number): EdgeOnRim {
  const { samples } = live.part.edges[edge]!;
  const places = Array.from({ length: EDGE_SAMPLES }, (_, i) => {
    const from = minus(vectorAt(samples, 3 * i), frame.origin);
    const [x, y, z] = frame.axes.map((axis) => dot(axis, from));
    return rimPlace(field, [x!, y!, z!]);
  });
  const count = field.rimNodes.length / 2;
  const step = (a: RimPlace, b: RimPlace): number => ((b.along - a.along + 1.5 * count) % count) - count / 2;
  const forward = places.slice(1).reduce((sum, place, i) => sum + step(places[i]!, place), 0) > 0;
  if (!forward) places.reverse();
  const plan = places.map(({ x, y }) => [x, y] as const);
  let turn = 0;
  for (let i = 2; i < EDGE_SAMPLES; i++) {
    const [a, b, c] = [plan[i - 2]!, plan[i - 1]!, plan[i]!];
    const [px, py, qx, qy] = [b[0] - a[0], b[1] - a[1], c[0] - b[0], c[1] - b[1]];
    turn += Math.atan2(px * qy - py * qx, px * qx + py * qy);
  }
  // Half a step at either end is not seen by the chords.
  turn *= (EDGE_SAMPLES - 1) / (EDGE_SAMPLES - 2);
  return { begin: places[0]!, end: places[places.length - 1]!, turn, plan };
}

/** Angle from one place to another about a centre, nearest to a rough value of it. */
function sweepAbout(centre: { x: number; y: number }, begin: RimPlace, end: RimPlace, rough: number): number {
  const angle = (place: RimPlace): number => Math.atan2(place.y - centre.y, place.x - centre.x);
  const sweep = angle(end) - angle(begin);
  return sweep + 2 * Math.PI * Math.round((rough - sweep) / (2 * Math.PI));
}

/** The circle nearest to points (least squares of x² + y² = 2ax + 2by + c), or null when they lie on none. */
function circleThrough(points: readonly (readonly [number, number])[]): PartCorner['circle'] {
  const n = points.length;
  const mean = [0, 1].map((k) => points.reduce((sum, p) => sum + p[k]! / n, 0));
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (const p of points) {
    const [x, y] = [p[0] - mean[0]!, p[1] - mean[1]!];
    const z = x * x + y * y;
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * z;
    yz += y * z;
  }
  const det = xx * yy - xy * xy;
  if (!(det > 1e-12 * (xx + yy) ** 2)) return null;
  const [a, b] = [(xz * yy - yz * xy) / det / 2, (yz * xx - xz * xy) / det / 2];
  const radius = Math.sqrt(a * a + b * b + (xx + yy) / n);
  const [x, y] = [mean[0]! + a, mean[1]! + b];
  const off = Math.max(...points.map((p) => Math.abs(Math.hypot(p[0] - x, p[1] - y) - radius)));
  return off <= ROUND_WITHIN * radius ? { x, y, radius } : null;
}

/** The middle between two places of the rim, along it. */
function middleOf(
  begin: RimPlace,
  end: RimPlace,
  field: Omit<FlatField, 'rimCorner'>,
): { x: number; y: number; flatX: number; flatY: number } {
  const parts = edgePartsBetween(begin, end, field.rimNodes);
  const lengths = parts.map((part) => lengthsOf(field, [part]).formed);
  let rest = lengths.reduce((sum, value) => sum + value, 0) / 2;
  let number = 0;
  while (number + 1 < parts.length && rest > lengths[number]!) rest -= lengths[number++]!;
  const { edge, start, end: stop } = parts[number]!;
  const s = start + (stop - start) * Math.min(1, rest / lengths[number]!);
  const at = (values: Float64Array, size: number, axis: number): number =>
    onEdge(values, size, axis, edge, s);
  return {
    x: at(field.formed, 3, 0),
    y: at(field.formed, 3, 1),
    flatX: at(field.flat, 2, 0),
    flatY: at(field.flat, 2, 1),
  };
}

function planMiddle({ formed, rimNodes }: Pick<FlatField, 'formed' | 'rimNodes'>): {
  middleX: number;
  middleY: number;
} {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const node of rimNodes) {
    minX = Math.min(minX, formed[3 * node]!);
    maxX = Math.max(maxX, formed[3 * node]!);
    minY = Math.min(minY, formed[3 * node + 1]!);
    maxY = Math.max(maxY, formed[3 * node + 1]!);
  }
  return { middleX: (minX + maxX) / 2, middleY: (minY + maxY) / 2 };
}
