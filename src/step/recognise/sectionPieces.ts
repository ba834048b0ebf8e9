/** Pieces of a section: what each face of a part is in run and height, and pieces that go on in one another. */
import type { ProfilePiece, ProfilePoint } from '../profile.ts';
import { circleThrough } from './planOutline.ts';

/** A line or an arc of less than half a turn in the section. */
export interface FoundPiece {
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  readonly piece: ProfilePiece;
}

/** Distance of two points, mm. */
export const apart = (a: ProfilePoint, b: ProfilePoint): number =>
  Math.hypot(a.run - b.run, a.height - b.height);

/**
 * The piece of a section that a face is; null when its points do not lie on one line or arc.
 *
 * @param plane whether the face is plane, and no arc
 */
export function pieceOfFace(
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

/** Whether a point lies on a line between its ends, these included. */
export function isWithin(point: ProfilePoint, { from, to, piece }: FoundPiece, tolerance: number): boolean {
  if (piece.kind !== 'line') return false;
  const length = apart(from, to);
  return Math.abs(apart(from, point) + apart(point, to) - length) < tolerance && length > tolerance;
}

/**
 * Pieces of one line, or of one circle, that touch or overlap, as one; the same piece twice is one as well. A wall
 * may be in two faces, one on the other, and a bend in two arcs.
 */
export function joinedPieces(pieces: readonly FoundPiece[], tolerance: number): FoundPiece[] {
  const out: FoundPiece[] = [];
  for (const piece of pieces) {
    let whole = piece;
    // What has grown may touch what the piece by itself did not.
    for (let i = 0; i < out.length; ) {
      const both = joinedPair(out[i]!, whole, tolerance);
      if (both === null) i++;
      else {
        whole = both;
        out.splice(i, 1);
        i = 0;
      }
    }
    out.push(whole);
  }
  return out;
}

function joinedPair(a: FoundPiece, b: FoundPiece, tolerance: number): FoundPiece | null {
  const along = a.piece.kind === 'line' ? alongLine(a, b, tolerance) : alongArc(a, b, tolerance);
  if (along === null) return null;
  const { at, slack } = along;
  const ends = [a.from, a.to, b.from, b.to];
  const [startA, endA, startB, endB] = ends.map(at) as [number, number, number, number];
  const gap =
    Math.max(Math.min(startA, endA), Math.min(startB, endB)) -
    Math.min(Math.max(startA, endA), Math.max(startB, endB));
  if (gap > slack) return null;
  const [first, last] = [0, 1].map((way) =>
    ends.reduce((best, end) => ((way === 0 ? at(end) < at(best) : at(end) > at(best)) ? end : best)),
  ) as [ProfilePoint, ProfilePoint];
  // The longer arc has the better centre.
  const { piece } = apart(a.from, a.to) < apart(b.from, b.to) ? b : a;
  return { from: first, to: last, piece };
}

/** How far along something a point lies, and how much of that is tolerance. */
interface Along {
  readonly at: (point: ProfilePoint) => number;
  readonly slack: number;
}

function alongLine(a: FoundPiece, b: FoundPiece, tolerance: number): Along | null {
  if (b.piece.kind !== 'line') return null;
  // The longer one has the better direction.
  const [{ from, to }, other] = apart(a.from, a.to) < apart(b.from, b.to) ? [b, a] : [a, b];
  const length = apart(from, to);
  const [run, height] = [(to.run - from.run) / length, (to.height - from.height) / length];
  const off = (point: ProfilePoint): number =>
    Math.abs((point.run - from.run) * height - (point.height - from.height) * run);
  if (off(other.from) > tolerance || off(other.to) > tolerance) return null;
  return {
    at: (point) => (point.run - from.run) * run + (point.height - from.height) * height,
    slack: tolerance,
  };
}

function alongArc(a: FoundPiece, b: FoundPiece, tolerance: number): Along | null {
  if (a.piece.kind !== 'arc' || b.piece.kind !== 'arc') return null;
  const { centre, radius } = a.piece;
  if (apart(centre, b.piece.centre) > 10 * tolerance || Math.abs(radius - b.piece.radius) > 10 * tolerance)
    return null;
  // Angles from the first one's middle: what touches it is within half a turn of that.
  const [run, height] = [
    (a.from.run + a.to.run) / 2 - centre.run,
    (a.from.height + a.to.height) / 2 - centre.height,
  ];
  return {
    at: (point) => {
      const [x, y] = [point.run - centre.run, point.height - centre.height];
      return Math.atan2(run * y - height * x, run * x + height * y);
    },
    slack: (10 * tolerance) / radius,
  };
}

/**
 * Where walls have different heights their lines start at the same place: the longest stays. Then the lower rims,
 * straight from inside one wall line to inside another, lead nowhere and go as well.
 */
export function withoutLower(
  pieces: readonly FoundPiece[],
  thickness: number,
  tolerance: number,
): FoundPiece[] {
  const within = (point: ProfilePoint, line: FoundPiece): boolean => isWithin(point, line, tolerance);
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
