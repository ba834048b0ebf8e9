/** Surfaces that pieces of the profile sweep along a side or about a corner's axis. */
import type { Vector3 } from '../geometry/vector3.ts';
import type { LoopSegment } from '../tray/planLoop.ts';
import type { Surface } from './brep.ts';
import type { ProfilePiece, ProfilePoint } from './profile.ts';
import { arcMiddle } from './sectionEdges.ts';
import { NEAR } from './sharing.ts';
import { placed, ringRadius, stationAt } from './strips.ts';

/** Opposite to the corner's middle, so that the seam of its surfaces lies outside its faces. */
export function cornerReference(segment: LoopSegment & { kind: 'corner' }): Vector3 {
  const middle = segment.startAngle + segment.sweep / 2;
  const sign = Math.sign(segment.sweep);
  return [-sign * Math.cos(middle), -sign * Math.sin(middle), 0];
}

/**
 * The surface a piece of the profile sweeps along a segment, and whether its own normal points out of the
 * material, which lies to the right of the profile's direction.
 */
export function sweptSurface(
  segment: LoopSegment,
  from: ProfilePoint,
  to: ProfilePoint,
  piece: ProfilePiece,
): { surface: Surface; outward: boolean } {
  const length = Math.hypot(to.run - from.run, to.height - from.height);
  // Normal out of the material, left of the profile's direction.
  const [normalRun, normalHeight] = [-(to.height - from.height) / length, (to.run - from.run) / length];
  const middle = stationAt(segment, 0.5);
  const inPlan = (run: number, height: number): Vector3 => [
    middle.normalX * run,
    middle.normalY * run,
    height,
  ];
  const along: Vector3 = [-middle.normalY, middle.normalX, 0];
  if (piece.kind === 'arc') {
    const out = arcMiddle(from, to, piece.centre);
    const outward = out.run * normalRun + out.height * normalHeight > 0;
    if (segment.kind === 'side') {
      return {
        surface: {
          kind: 'cylinder',
          origin: placed(stationAt(segment, 0), piece.centre),
          axis: along,
          reference: inPlan(-out.run, -out.height),
          radius: piece.radius,
        },
        outward,
      };
    }
    const common = {
      origin: [segment.centreX, segment.centreY, piece.centre.height] as Vector3,
      axis: [0, 0, 1] as Vector3,
      reference: cornerReference(segment),
    };
    const major = ringRadius(segment, piece.centre.run);
    return {
      surface:
        major < NEAR
          ? { kind: 'sphere', ...common, radius: piece.radius }
          : { kind: 'torus', ...common, major, minor: piece.radius },
      outward,
    };
  }
  if (segment.kind === 'side' || Math.abs(to.height - from.height) < NEAR) {
    return {
      surface: {
        kind: 'plane',
        origin: placed(stationAt(segment, 0), from),
        axis: inPlan(normalRun, normalHeight),
        reference: segment.kind === 'side' ? along : [1, 0, 0],
      },
      outward: true,
    };
  }
  const sign = Math.sign(segment.sweep);
  const [radius, other] = [ringRadius(segment, from.run), ringRadius(segment, to.run)];
  const outward = sign * normalRun > 0;
  const common = {
    origin: [segment.centreX, segment.centreY, from.height] as Vector3,
    reference: cornerReference(segment),
    radius,
  };
  if (Math.abs(radius - other) < NEAR) {
    return { surface: { kind: 'cylinder', ...common, axis: [0, 0, 1] }, outward };
  }
  const slope = (other - radius) / (to.height - from.height);
  return {
    surface: {
      kind: 'cone',
      ...common,
      axis: [0, 0, Math.sign(slope)],
      halfAngle: Math.atan(Math.abs(slope)),
    },
    outward,
  };
}
