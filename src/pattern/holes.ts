/** Holes given on the finished tray, mapped to the blank by the solved field. */
import type { Sheet } from '../material/sheet.ts';
import { shapeFunctions } from '../mesh/quadraticMesh.ts';
import { fitClosedPath } from '../outline/fit.ts';
import { pathArea, reversePath } from '../outline/measure.ts';
import { offsetPath } from '../outline/offset.ts';
import type { Path, Vertex } from '../outline/path.ts';
import { shapeDerivatives } from '../solve/elements.ts';
import type { FlatField } from '../solve/flatField.ts';
import { extraWall, type NeutralSurface, PLACED_SIZE, placeOnWall } from '../tray/neutralSurface.ts';
import { turnedAngle } from '../tray/planLoop.ts';
import type { HoleSpec, TraySpec } from '../tray/spec.ts';
import { percentFromLogStrain, radians } from '../units.ts';
import type { Hole } from './flatPattern.ts';

/** Largest distance of a fitted hole from the mapped one, mm. */
const HOLE_TOLERANCE = 0.01;
/** A mapped round hole that is a circle within this is written as one, mm. */
const ROUND_WITHIN = 0.005;
/** Strain at a hole's edge above which its shape will not come out true (common practice, no source). */
const TRUE_WITHIN_STRAIN = 0.02;
/** Fewest sheet thicknesses between a hole and a bend (common practice, no source). */
const THICKNESSES_TO_BEND = 2;

export interface MappedHoles {
  readonly holes: readonly Hole[];
  readonly warnings: readonly string[];
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
  const warnings: string[] = [];
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
    if (strain > TRUE_WITHIN_STRAIN) {
      warnings.push(
        `The hole ${hole.name} lies where the metal is strained by ${percentFromLogStrain(strain).toFixed(0)} %: its ` +
          'place comes out right but its shape will distort in the forming; drill it afterwards, or move it.',
      );
    }
    const distance = place.distanceToBend(points);
    if (distance < THICKNESSES_TO_BEND * sheet.thickness) {
      warnings.push(
        `The hole ${hole.name} is ${distance.toFixed(1)} mm from a bend, less than ${THICKNESSES_TO_BEND} sheet ` +
          `thicknesses (${(THICKNESSES_TO_BEND * sheet.thickness).toFixed(1)} mm): its edge will pull out of shape.`,
      );
    }
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
  const whole = sides.reduce((sum, side) => sum + side.length, 0);
  const piece = section.pieces[section.wallPiece]!;
  const placed = new Float64Array(PLACED_SIZE);
  const wallEnd = piece.length + extraWall(surface, sides[(sides.length - 1) >> 1]!, 0.5);
  return {
    at: (a, b) => {
      let rest = whole / 2 + place.along + a;
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

function distanceToSegment(
  segment: NeutralSurface['loop']['segments'][number],
  x: number,
  y: number,
): number {
  if (!segment.wall) return Infinity;
  if (segment.kind === 'side') {
    const dx = segment.x1 - segment.x0;
    const dy = segment.y1 - segment.y0;
    const s = ((x - segment.x0) * dx + (y - segment.y0) * dy) / (segment.length * segment.length);
    const at = Math.max(0, Math.min(1, s));
    return Math.hypot(x - segment.x0 - at * dx, y - segment.y0 - at * dy);
  }
  return Math.abs(Math.hypot(x - segment.centreX, y - segment.centreY) - segment.radius);
}

/** The circle through mapped points as two arcs, or null when they lie on none. */
function circleThrough(points: Float64Array): Path | null {
  const count = points.length / 2;
  let [cx, cy, radius] = [0, 0, 0];
  for (let i = 0; i < count; i++) {
    cx += points[2 * i]! / count;
    cy += points[2 * i + 1]! / count;
  }
  for (let i = 0; i < count; i++) radius += Math.hypot(points[2 * i]! - cx, points[2 * i + 1]! - cy) / count;
  for (let i = 0; i < count; i++) {
    if (Math.abs(Math.hypot(points[2 * i]! - cx, points[2 * i + 1]! - cy) - radius) > ROUND_WITHIN)
      return null;
  }
  const vertices: Vertex[] = [
    { x: cx + radius, y: cy, bulge: 1 },
    { x: cx - radius, y: cy, bulge: 1 },
  ];
  return { vertices, closed: true };
}

interface Found {
  readonly x: number;
  readonly y: number;
  /** Largest in-plane strain there, logarithmic, without sign. */
  readonly strain: number;
}

/** Finds the flat position of points of the formed surface. */
class FlatFinder {
  private readonly field: FlatField;
  private last = 0;
  private readonly shape = new Float64Array(6);
  private readonly du = new Float64Array(6);
  private readonly dv = new Float64Array(6);

  constructor(field: FlatField) {
    this.field = field;
  }

  find(point: readonly [number, number, number]): Found {
    const count = this.field.triangles.length / 6;
    // Neighbouring points mostly lie in the same triangle.
    const here = this.locate(this.last, point);
    let best = here;
    let at = this.last;
    if (here.outside > 1e-9) {
      for (let t = 0; t < count; t++) {
        if (!this.isNear(t, point)) continue;
        const found = this.locate(t, point);
        if (found.outside < best.outside) {
          best = found;
          at = t;
        }
      }
    }
    this.last = at;
    return this.evaluate(at, best.u, best.v);
  }

  /** True when the point lies in the ball about a triangle. */
  private isNear(t: number, point: readonly [number, number, number]): boolean {
    const { triangles, formed } = this.field;
    const corner = (k: number, axis: number): number => formed[3 * triangles[6 * t + k]! + axis]!;
    let [reach, distance] = [0, 0];
    for (let axis = 0; axis < 3; axis++) {
      const middle = (corner(0, axis) + corner(1, axis) + corner(2, axis)) / 3;
      distance += (point[axis]! - middle) ** 2;
    }
    for (let k = 0; k < 3; k++) {
      let square = 0;
      for (let axis = 0; axis < 3; axis++) {
        const middle = (corner(0, axis) + corner(1, axis) + corner(2, axis)) / 3;
        square += (corner(k, axis) - middle) ** 2;
      }
      reach = Math.max(reach, square);
    }
    return distance <= 1.5 * reach;
  }

  /**
   * Area coordinates of the foot of a point on a triangle (Gauss–Newton), and how far outside it or away from it
   * that lies: the amount by which a coordinate is negative, plus the distance over the triangle's size.
   */
  private locate(
    t: number,
    point: readonly [number, number, number],
  ): { u: number; v: number; outside: number } {
    const { triangles, formed } = this.field;
    let u = 1 / 3;
    let v = 1 / 3;
    let away = Infinity;
    for (let step = 0; step < 12; step++) {
      shapeFunctions(u, v, this.shape);
      shapeDerivatives(u, v, this.du, this.dv);
      let [uu, uv, vv, ru, rv, rest] = [0, 0, 0, 0, 0, 0];
      for (let axis = 0; axis < 3; axis++) {
        let [x, xu, xv] = [0, 0, 0];
        for (let k = 0; k < 6; k++) {
          const value = formed[3 * triangles[6 * t + k]! + axis]!;
          x += this.shape[k]! * value;
          xu += this.du[k]! * value;
          xv += this.dv[k]! * value;
        }
        const r = point[axis]! - x;
        uu += xu * xu;
        uv += xu * xv;
        vv += xv * xv;
        ru += xu * r;
        rv += xv * r;
        rest += r * r;
      }
      const det = uu * vv - uv * uv;
      const stepU = (vv * ru - uv * rv) / det;
      const stepV = (uu * rv - uv * ru) / det;
      u += stepU;
      v += stepV;
      away = Math.sqrt(rest / Math.max(uu, vv));
      if (Math.abs(stepU) + Math.abs(stepV) < 1e-13) break;
      // Far from this triangle: its parabolas mean nothing there.
      if (!(Math.abs(u) + Math.abs(v) < 20)) return { u: 0, v: 0, outside: Infinity };
    }
    // The mesh is a hundredth of a triangle's size from the exact surface at most; only more counts as away.
    return { u, v, outside: Math.max(0, -u, -v, u + v - 1) + Math.max(0, away - 0.02) };
  }

  private evaluate(t: number, u: number, v: number): Found {
    const { triangles, flat, majorStrain, minorStrain } = this.field;
    shapeFunctions(u, v, this.shape);
    let [x, y, major, minor] = [0, 0, 0, 0];
    for (let k = 0; k < 6; k++) {
      const node = triangles[6 * t + k]!;
      const w = this.shape[k]!;
      x += w * flat[2 * node]!;
      y += w * flat[2 * node + 1]!;
      major += w * majorStrain[node]!;
      minor += w * minorStrain[node]!;
    }
    return { x, y, strain: Math.max(Math.abs(major), Math.abs(minor)) };
  }
}
