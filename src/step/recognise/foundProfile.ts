/** The section of a part: what all its faces look like in run and height, as one chain. */
import type { Part } from '../part.ts';
import type { Profile, ProfilePiece, ProfilePoint, SectionStep } from '../profile.ts';
import { type FoundSegment, runFrom } from './baseLoop.ts';
import { type BasePair, inFrame } from './basePair.ts';
import { circleThrough } from './planOutline.ts';

interface FoundPiece {
  readonly from: ProfilePoint;
  readonly to: ProfilePoint;
  readonly piece: ProfilePiece;
}

const apart = (a: ProfilePoint, b: ProfilePoint): number => Math.hypot(a.run - b.run, a.height - b.height);

/**
 * The profile from the base's upper side over the rim to its lower side; null when the faces do not all follow
 * one section.
 *
 * @param skip numbers of faces that belong to the base or to holes
 */
export function foundProfile(
  part: Part,
  base: BasePair,
  loop: readonly FoundSegment[],
  skip: ReadonlySet<number>,
  tolerance: number,
): Profile | null {
  const pieces: FoundPiece[] = [];
  for (const [number, face] of part.faces.entries()) {
    if (skip.has(number)) continue;
    const sectionPoint = (points: Float64Array, at: number): ProfilePoint => {
      const [x, y, height] = inFrame(base.frame, points, at);
      return { run: runFrom(loop, x, y), height };
    };
    const ends: ProfilePoint[] = [];
    for (const edge of face.wires.flat()) {
      const { samples } = part.edges[edge]!;
      for (const at of [0, samples.length - 3]) {
        const end = sectionPoint(samples, at);
        if (!Number.isFinite(end.run)) return null;
        if (!ends.some((known) => apart(known, end) < tolerance)) ends.push(end);
      }
    }
    if (ends.length !== 2) return null;
    const nodes: ProfilePoint[] = [];
    for (let i = 0; i < face.points.length; i += 3) nodes.push(sectionPoint(face.points, i));
    const [from, to] = ends as [ProfilePoint, ProfilePoint];
    const piece = pieceThrough(from, to, nodes, tolerance);
    if (piece === null) return null;
    pieces.push({ from, to, piece });
  }
  return chained(distinct(pieces, tolerance), base.thickness, tolerance);
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
