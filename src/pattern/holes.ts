/** Holes given on the finished tray, mapped to the blank by the solved field. */

import { fitClosedPath } from '../geometry/fit.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { pathArea, reversePath } from '../geometry/measure.ts';
import { offsetPath } from '../geometry/offset.ts';
import type { Path } from '../geometry/path.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';
import type { Sheet } from '../material/sheet.ts';
import { extraWall, type NeutralSurface, PLACED_SIZE, placeOnWall } from '../tray/neutralSurface.ts';
import { type LoopSegment, loopPoint, planVertices, turnedAngle } from '../tray/planLoop.ts';
import type { HoleSpec, TraySpec } from '../tray/spec.ts';
import { radians } from '../units.ts';
import type { Statement } from '../words/statement.ts';
import { FlatFinder } from './flatFinder.ts';
import type { Hole } from './flatPattern.ts';
import { circleAbout, holeWarnings } from './solvedHole.ts';

/** Largest distance of a fitted hole from the mapped one, mm. */
const HOLE_TOLERANCE = 0.01;

export interface MappedHoles {
  readonly holes: readonly Hole[];
  readonly warnings: readonly Statement[];
}

/**
 * Maps the holes of a tray to the blank.
 *
 * @param field   solved field of the whole blank
 * @param inset   moved inwards by half the kerf when that is compensated, mm
 */
export function mapHoles(
  spec: TraySpec,
  surface: NeutralSurface,
  field: FlatField,
  sheet: Sheet,
  inset: number,
): MappedHoles {
  const holes: Hole[] = [];
  const warnings: Statement[] = [];
  for (const hole of spec.holes ?? []) {
    const { points, corners } = holeBoundary(hole);
    const place = placeOf(hole, spec, surface);
    const finder = new FlatFinder(field);
    const flat = new Float64Array(2 * points.length);
    let strain = 0;
    for (const [i, [a, b]] of points.entries()) {
      const found = finder.find(place.at(a, b));
      flat[2 * i] = found.x;
      flat[2 * i + 1] = found.y;
      strain = Math.max(strain, found.strain);
    }
    const path =
      hole.shape.kind === 'round'
        ? (circleThrough(flat) ?? fittedHole(flat, corners))
        : fittedHole(flat, corners);
    const counterClockwise = pathArea(path) > 0 ? path : reversePath(path);
    const cut = inset === 0 ? counterClockwise : offsetPath(counterClockwise, -inset);
    holes.push({ name: hole.name, path: reversePath(cut) });
    const distance = place.distanceToBend(points);
    warnings.push(...holeWarnings(hole.name, { strain, distance, thickness: sheet.thickness }));
  }
  return { holes, warnings };
}

const fittedHole = (points: Float64Array, corners: readonly number[]): Path =>
  fitClosedPath(points, { tolerance: HOLE_TOLERANCE, corners });

/** Points of a hole's edge about its place, counter-clockwise, and which of them are real corners. */
function holeBoundary(hole: HoleSpec): { points: [number, number][]; corners: number[] } {
  const { shape } = hole;
  const points: [number, number][] = [];
  if (shape.kind === 'polygon') {
    const corners: number[] = [];
    const count = shape.points.length;
    for (const [i, from] of shape.points.entries()) {
      const to = shape.points[(i + 1) % count]!;
      corners.push(points.length);
      for (let k = 0; k < 8; k++) {
        points.push([from.x + (k / 8) * (to.x - from.x), from.y + (k / 8) * (to.y - from.y)]);
      }
    }
    return { points, corners };
  }
  if (shape.kind === 'round') {
    for (let k = 0; k < 64; k++) {
      const angle = (2 * Math.PI * k) / 64;
      points.push([(shape.diameter / 2) * Math.cos(angle), (shape.diameter / 2) * Math.sin(angle)]);
    }
    return { points, corners: [] };
  }
  const half = (shape.length - shape.width) / 2;
  const radius = shape.width / 2;
  const turn = radians(shape.angle);
  const add = (x: number, y: number): void => {
    points.push([x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)]);
  };
  for (const side of [1, -1]) {
    for (let k = 0; k <= 24; k++) {
      const angle = -Math.PI / 2 + (Math.PI * k) / 24;
      add(side * (half + radius * Math.cos(angle)), side * radius * Math.sin(angle));
    }
    // The straight side back, without its ends.
    for (let k = 1; k < 12; k++) add(side * half * (1 - k / 6), side * radius);
  }
  return { points, corners: [] };
}

/** Where a hole's place is on the neutral surface. */
interface Place {
  /** Point of the neutral surface at (a, b) from the place, along its two directions. */
  at(a: number, b: number): readonly [number, number, number];
  /** Smallest distance from these points to the nearest bend, mm; negative when a bend is crossed. */
  distanceToBend(points: readonly (readonly [number, number])[]): number;
}

function placeOf(hole: HoleSpec, spec: TraySpec, surface: NeutralSurface): Place {
  const { place } = hole;
  if (place.on === 'base') {
    return {
      at: (a, b) => [place.x + a, place.y + b, 0],
      distanceToBend: (points) =>
        Math.min(
          ...points.map(([a, b]) =>
            Math.min(
              ...surface.loop.segments.map((segment) => distanceToSegment(segment, place.x + a, place.y + b)),
            ),
          ),
        ),
    };
  }
  const { section } = surface;
  const angle = turnedAngle(spec.section.draft);
  const rise = spec.section.bottomRadius * (1 - Math.cos(angle));
  // Distance up the straight wall, the same on every skin.
  const upWall = (place.height - rise) / Math.sin(angle);
  // A side with run-outs is in several parts.
  const sides = surface.loop.segments.filter((s) => s.kind === 'side' && s.edge === place.edge);
  const middle = alongOfPlanMiddle(spec, place.edge, sides[0]!);
  const piece = section.pieces[section.wallPiece]!;
  const placed = new Float64Array(PLACED_SIZE);
  const wallEnd = piece.length + extraWall(surface, sides[(sides.length - 1) >> 1]!, 0.5);
  return {
    at: (a, b) => {
      let rest = middle + place.along + a;
      let number = 0;
      while (number + 1 < sides.length && rest > sides[number]!.length) rest -= sides[number++]!.length;
      const side = sides[number]!;
      const along = rest / side.length;
      const up = (upWall + b) / (piece.length + extraWall(surface, side, along));
      placeOnWall(surface, side, along, section.wallPiece, up, placed);
      return [placed[0]!, placed[1]!, placed[2]!];
    },
    distanceToBend: (points) =>
      Math.min(
        ...points.map(([, b]) =>
          spec.section.rim.kind === 'lip' ? Math.min(upWall + b, wallEnd - upWall - b) : upWall + b,
        ),
      ),
  };
}

/** Where the middle between an edge's two plan vertices lies along its straight side, from the side's start, mm. */
function alongOfPlanMiddle(spec: TraySpec, edge: number, side: LoopSegment): number {
  const vertices = planVertices(spec.plan);
  const from = vertices[edge]!;
  const to = vertices[(edge + 1) % vertices.length]!;
  const start = loopPoint(side, 0, { x: 0, y: 0, normalX: 0, normalY: 0 });
  // Along the side, a quarter turn left of the outward normal.
  return ((from.x + to.x) / 2 - start.x) * -start.normalY + ((from.y + to.y) / 2 - start.y) * start.normalX;
}

function distanceToSegment(segment: LoopSegment, x: number, y: number): number {
  if (!segment.wall) return Infinity;
  if (segment.kind === 'side') {
    const { x0, y0, x1, y1 } = segment;
    return distanceToStraight(x, y, [x0, y0, x1, y1], 0, 1);
  }
  return Math.abs(Math.hypot(x - segment.centreX, y - segment.centreY) - segment.radius);
}

/** The circle through mapped points as two arcs, or null when they lie on none. */
function circleThrough(points: Float64Array): Path | null {
  const count = points.length / 2;
  let [cx, cy] = [0, 0];
  for (let i = 0; i < count; i++) {
    cx += points[2 * i]! / count;
    cy += points[2 * i + 1]! / count;
  }
  return circleAbout(cx, cy, points);
}
