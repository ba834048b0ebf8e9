/** The section of a part: what all its faces look like in run and height, as one chain. */
import type { Part, PartFace } from '../part.ts';
import type { Profile, ProfilePiece, ProfilePoint, SectionStep } from '../profile.ts';
import { type FoundSegment, runFrom, runFromSegment } from './baseLoop.ts';
import { type BasePair, inFrame } from './basePair.ts';
import { circleThrough } from './planOutline.ts';

interface FoundPiece {
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  readonly piece: ProfilePiece;
}

const apart = (a: ProfilePoint, b: ProfilePoint): number => Math.hypot(a.run - b.run, a.height - b.height);

/** A part's section, and which faces are its straight wall on the upper skin. */
export interface FoundSection {
  readonly profile: Profile;
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
    const nodesOf = (points: Float64Array): [number, number, number][] =>
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
    const found = pieceOfFace(ends, nodes.map(inSection), isPlane(face), tolerance);
    // A rim that slopes or an end of the sheet: its area and the volume must tell.
    if (found === null) continue;
    pieces.push({ ...found, face: number, segment });
  }
  const known = distinct(pieces, tolerance);
  const profile = chained(withoutLower(known, base.thickness, tolerance), base.thickness, tolerance);
  if (profile === null) return null;
  const start = profile.points[1]!;
  const isWall = ({ from, to, piece }: FoundPiece): boolean =>
    profile.rim > 1 &&
    piece.kind === 'line' &&
    (apart(from, start) < tolerance || apart(to, start) < tolerance);
  return { profile, walls: pieces.filter(isWall).map(({ face, segment }) => ({ face, segment })) };
}

/** The segment above which all points stand, the nearest one; null when there is none. */
function segmentUnder(
  loop: readonly FoundSegment[],
  points: readonly (readonly [number, number, number])[],
): FoundSegment | null {
  let best: FoundSegment | null = null;
  let nearest = Infinity;
  for (const segment of loop) {
    const farthest = Math.max(...points.map(([x, y]) => Math.abs(runFromSegment(segment, x, y))));
    if (!(farthest < nearest)) continue;
    [best, nearest] = [segment, farthest];
  }
  return best;
}

/** The piece of a section that a face is; null when its points do not lie on one line or arc. */
function pieceOfFace(
  ends: readonly ProfilePoint[],
  nodes: readonly ProfilePoint[],
  plane: boolean,
  tolerance: number,
): FoundPiece | null {
  if (ends.length < 2) return null;
  let [from, to] = [ends[0]!, ends[1]!];
  for (const a of ends) {
    for (const b of ends) if (apart(a, b) > apart(from, to)) [from, to] = [a, b];
  }
  const piece = pieceThrough(from, to, [...nodes, ...ends], tolerance);
  // The four corners of a sloping rim may well lie on a circle.
  return piece === null || (plane && piece.kind === 'arc') ? null : { from, to, piece };
}

function isPlane({ normals }: PartFace): boolean {
  for (let i = 3; i < normals.length; i++) {
    if (Math.abs(normals[i]! - normals[i % 3]!) > 1e-9) return false;
  }
  return true;
}

/**
 * Where walls have different heights their lines start at the same place: the longest stays. Then the lower rims,
 * straight from inside one wall line to inside another, lead nowhere and go as well.
 */
function withoutLower(pieces: readonly FoundPiece[], thickness: number, tolerance: number): FoundPiece[] {
  const within = (point: ProfilePoint, { from, to, piece }: FoundPiece): boolean => {
    if (piece.kind !== 'line') return false;
    const length = apart(from, to);
    return (
      Math.abs(apart(from, point) + apart(point, to) - length) < tolerance && apart(from, to) > tolerance
    );
  };
  const longest = pieces.filter(
    (one) =>
      one.piece.kind !== 'line' ||
      !pieces.some(
        (other) =>
          other !== one &&
          apart(other.from, other.to) > apart(one.from, one.to) + tolerance &&
          within(one.from, other) &&
          within(one.to, other),
      ),
  );
  const inside = (point: ProfilePoint): boolean =>
    longest.some(
      (line) =>
        within(point, line) && apart(line.from, point) > tolerance && apart(line.to, point) > tolerance,
    );
  return longest.filter(
    ({ from, to, piece }) =>
      !(
        piece.kind === 'line' &&
        Math.abs(apart(from, to) - thickness) < tolerance &&
        inside(from) &&
        inside(to)
      ),
  );
}

/** Line or arc through the ends that all nodes lie on. */
function pieceThrough(
  from: ProfilePoint,
  to: ProfilePoint,
  nodes: readonly ProfilePoint[],
  tolerance: number,
): ProfilePiece | null {
  const chord = apart(from, to);
  const off = (node: ProfilePoint): number =>
    ((node.run - from.run) * (to.height - from.height) - (node.height - from.height) * (to.run - from.run)) /
    chord;
  const farthest = nodes.reduce(
    (best, node) => (Math.abs(off(node)) > Math.abs(off(best)) ? node : best),
    from,
  );
  if (Math.abs(off(farthest)) < tolerance) return { kind: 'line' };
  const circle = circleThrough([from.run, from.height], [farthest.run, farthest.height], [to.run, to.height]);
  if (circle === null) return null;
  const centre = { run: circle[0], height: circle[1] };
  const radius = circle[2];
  if (nodes.some((node) => !(Math.abs(apart(node, centre) - radius) < tolerance))) return null;
  return { kind: 'arc', centre, radius };
}

function distinct(pieces: readonly FoundPiece[], tolerance: number): FoundPiece[] {
  const out: FoundPiece[] = [];
  for (const piece of pieces) {
    const same = (other: FoundPiece): boolean =>
      (apart(piece.from, other.from) < tolerance && apart(piece.to, other.to) < tolerance) ||
      (apart(piece.from, other.to) < tolerance && apart(piece.to, other.from) < tolerance);
    if (!out.some(same)) out.push(piece);
  }
  return out;
}

/** Follows the pieces from the base's upper side; null unless they lead, all of them, to the lower. */
function chained(pieces: readonly FoundPiece[], thickness: number, tolerance: number): Profile | null {
  const left = [...pieces];
  const points: ProfilePoint[] = [{ run: 0, height: thickness }];
  const out: ProfilePiece[] = [];
  while (left.length > 0) {
    const at = points[points.length - 1]!;
    const next = left.findIndex(({ from, to }) => apart(from, at) < tolerance || apart(to, at) < tolerance);
    if (next < 0) return null;
    const [{ from, to, piece }] = left.splice(next, 1) as [FoundPiece];
    points.push(apart(from, at) < tolerance ? to : from);
    out.push(piece);
  }
  const end = points[points.length - 1]!;
  if (apart(end, { run: 0, height: 0 }) > tolerance || out.length % 2 === 0) return null;
  return { points, pieces: out, rim: (out.length - 1) / 2 };
}

/** The steps that make the profile; null when its skins are not one thickness apart. */
export function stepsOf(profile: Profile, thickness: number, tolerance: number): SectionStep[] | null {
  const { points, pieces, rim } = profile;
  if (Math.abs(apart(points[rim]!, points[rim + 1]!) - thickness) > tolerance) return null;
  const steps: SectionStep[] = [];
  for (let j = 0; j < rim; j++) {
    const upper = pieces[j]!;
    const lower = pieces[pieces.length - 1 - j]!;
    const [a, b] = [points[j]!, points[j + 1]!];
    const across = points[points.length - 1 - j]!;
    if (Math.abs(apart(a, across) - thickness) > tolerance) return null;
    if (upper.kind === 'line') {
      if (lower.kind !== 'line') return null;
      steps.push({ kind: 'straight', length: apart(a, b) });
      continue;
    }
    if (lower.kind !== 'arc' || apart(upper.centre, lower.centre) > 10 * tolerance) return null;
    const cross =
      (a.run - upper.centre.run) * (b.height - upper.centre.height) -
      (a.height - upper.centre.height) * (b.run - upper.centre.run);
    const dot =
      (a.run - upper.centre.run) * (b.run - upper.centre.run) +
      (a.height - upper.centre.height) * (b.height - upper.centre.height);
    const turn = Math.atan2(cross, dot);
    const hollow = turn > 0 ? upper.radius : lower.radius;
    const full = turn > 0 ? lower.radius : upper.radius;
    if (Math.abs(full - hollow - thickness) > 10 * tolerance) return null;
    steps.push({ kind: 'bend', turn, radius: hollow });
  }
  return steps;
}
