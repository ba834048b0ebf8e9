/** The section of a part: what all its faces look like in run and height, as one chain. */
import { followed } from '../../geometry/chain.ts';
import type { Vector3 } from '../../geometry/vector3.ts';
import type { Part } from '../part.ts';
import type { ProfilePoint } from '../profile.ts';
import { type BasePair, inFrame } from './basePair.ts';
import { type FoundSegment, runFrom, runFromSegment } from './foundSegments.ts';
import { planeNormal } from './joinedPlanes.ts';
import {
  apart,
  type FoundPiece,
  isWithin,
  joinedPieces,
  pieceOfFace,
  withoutLower,
} from './sectionPieces.ts';
import { type SectionChain, type Squared, squared } from './squareRim.ts';

/** A part's section, and which faces are its straight wall on the upper skin. */
export interface FoundSection extends Squared {
  /** Face numbers, each with the segment it stands above; null where it stands above several. */
  readonly walls: readonly { readonly face: number; readonly segment: FoundSegment | null }[];
}

/**
 * The profile from the base's upper side over the rim to its lower side, where the wall is highest; null when the
 * faces do not all follow one section.
 *
 * @param skip numbers of faces that belong to the base, to holes or to open sides
 */
export function foundProfile(
  part: Part,
  base: BasePair,
  loop: readonly FoundSegment[],
  skip: ReadonlySet<number>,
  tolerance: number,
): FoundSection | null {
  const pieces: (FoundPiece & { face: number; segment: FoundSegment | null })[] = [];
  for (const [number, face] of part.faces.entries()) {
    if (skip.has(number)) continue;
    const nodesOf = (points: Float64Array): Vector3[] =>
      Array.from({ length: points.length / 3 }, (_, i) => inFrame(base.frame, points, 3 * i));
    const nodes = nodesOf(face.points);
    const corners = face.wires.flat().flatMap((edge) => {
      const samples = nodesOf(part.edges[edge]!.samples);
      return [samples[0]!, samples[samples.length - 1]!];
    });
    const segment = segmentUnder(loop, [...nodes, ...corners]);
    const inSection = ([x, y, height]: readonly [number, number, number]): ProfilePoint => ({
      run: segment === null ? runFrom(loop, x, y) : runFromSegment(segment, x, y),
      height,
    });
    const ends: ProfilePoint[] = [];
    for (const end of corners.map(inSection)) {
      if (!Number.isFinite(end.run)) return null;
      if (!ends.some((known) => apart(known, end) < tolerance)) ends.push(end);
    }
    const found = pieceOfFace(ends, nodes.map(inSection), planeNormal(face, tolerance) !== null, tolerance);
    // A rim that slopes or an end of the sheet: its area and the volume must tell.
    if (found === null) continue;
    pieces.push({ ...found, face: number, segment });
  }
  const known = joinedPieces(pieces, tolerance);
  const chain = chained(withoutLower(known, base.thickness, tolerance), base.thickness, tolerance);
  const whole = chain === null ? null : squared(chain, base.thickness, tolerance);
  if (whole === null) return null;
  const { profile } = whole;
  const wall: FoundPiece = { from: profile.points[1]!, to: profile.points[2]!, piece: profile.pieces[1]! };
  const isWall = ({ from, to, piece }: FoundPiece): boolean =>
    profile.rim > 1 &&
    piece.kind === 'line' &&
    isWithin(from, wall, tolerance) &&
    isWithin(to, wall, tolerance);
  return { ...whole, walls: pieces.filter(isWall).map(({ face, segment }) => ({ face, segment })) };
}

/** The segment above which all points stand, the nearest one; null when there is none. */
function segmentUnder(
  loop: readonly FoundSegment[],
  points: readonly (readonly [number, number, number])[],
): FoundSegment | null {
  let best: FoundSegment | null = null;
  let nearest = Infinity;
  for (const segment of loop) {
    // NaN, above no wall, stays NaN.
    const farthest = points.reduce(
      (most, [x, y]) => Math.max(most, Math.abs(runFromSegment(segment, x, y))),
      0,
    );
    if (!(farthest < nearest)) continue;
    [best, nearest] = [segment, farthest];
  }
  return best;
}

/** Follows the pieces from the base's upper side; null unless they lead, all of them, to the lower. */
function chained(pieces: readonly FoundPiece[], thickness: number, tolerance: number): SectionChain | null {
  const left = [...pieces];
  const start = { run: 0, height: thickness };
  const { links, end } = followed<FoundPiece, ProfilePoint>(
    left,
    { ends: ({ from, to }) => [from, to], meet: (a, b) => apart(a, b) < tolerance },
    start,
  );
  if (left.length > 0 || apart(end, { run: 0, height: 0 }) > tolerance) return null;
  return {
    points: [start, ...links.map(({ piece: { from, to }, forward }) => (forward ? to : from))],
    pieces: links.map(({ piece: { piece } }) => piece),
  };
}
