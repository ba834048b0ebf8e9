/**
 * From the piece of an outline between two mirror lines to the whole loop, exactly symmetric.
 *
 * Reflections in m lines through one point, π/m apart, make up 2m motions (the dihedral group of order 2m):
 * turns by even multiples of π/m and reflections. The loop is the piece under each of them in turn, forward
 * and backward. One mirror line is m = 1: its two halves count as the first and the last line.
 *
 * mm, radians, counter-clockwise positive.
 */
import { endDirection, startDirection } from './arc.ts';
import type { Path, Point, Vertex } from './path.ts';

/** Two half-lines from a centre, between which the piece lies; lastAngle - firstAngle = π/m. */
export interface MirrorAxes {
  readonly centreX: number;
  readonly centreY: number;
  readonly firstAngle: number;
  readonly lastAngle: number;
}

/** Directions that differ by less than this (radians) run on into each other. */
const SMOOTH = 1e-7;

/** An arc that is doubled in the mirror may turn by this much in all: three quarters of a circle. */
const LONGEST_SWEEP = 1.5 * Math.PI;

/**
 * The closed loop, counter-clockwise. Coordinates are mirrored to the last bit where the mirror lines are at
 * multiples of 45° and the centre is the origin, otherwise to rounding.
 *
 * The ends of the piece are put exactly on their mirror lines. Where the piece meets a line at a right angle
 * its piece there and the mirrored one are one line or one arc, and the loop has no vertex on the mirror
 * line; a circle keeps two.
 *
 * @param piece open path from the first mirror line to the last, counter-clockwise about the centre
 */
export function mirrorJoin(piece: Path, axes: MirrorAxes): Path {
  const step = axes.lastAngle - axes.firstAngle;
  const order = Math.round(Math.PI / step);
  const vertices = piece.vertices.slice();
  const n = vertices.length;
  vertices[0] = { ...onRay(vertices[0]!, axes, axes.firstAngle), bulge: vertices[0]!.bulge };
  vertices[n - 1] = { ...onRay(vertices[n - 1]!, axes, axes.lastAngle), bulge: 0 };

  const startOff = startDirection(vertices[0]!, vertices[1]!) - axes.firstAngle - Math.PI / 2;
  const endOff = endDirection(vertices[n - 2]!, vertices[n - 1]!) - axes.lastAngle - Math.PI / 2;
  const joinsFirst = Math.abs(Math.sin(startOff)) < SMOOTH && sweepDoubles(vertices[0]!.bulge);
  const joinsLast =
    Math.abs(Math.sin(endOff)) < SMOOTH && sweepDoubles(vertices[n - 2]!.bulge) && !(joinsFirst && n === 2);

  const bulges = vertices.map(({ bulge }) => bulge);
  const loop: Vertex[] = [];
  for (let k = 0; k < 2 * order; k++) {
    const backward = k % 2 === 1;
    const move = backward
      ? reflection(axes, axes.firstAngle + ((k + 1) / 2) * step)
      : rotation(axes, k * step);
    if (!backward) {
      for (let i = joinsFirst ? 1 : 0; i < n - 1; i++) {
        const bulge = bulges[i]!;
        loop.push({ ...move(vertices[i]!), bulge: i === n - 2 && joinsLast ? doubled(bulge) : bulge });
      }
    } else {
      // Run backward and mirrored, an arc turns the same way as before.
      for (let i = joinsLast ? n - 2 : n - 1; i >= 1; i--) {
        const bulge = bulges[i - 1]!;
        loop.push({ ...move(vertices[i]!), bulge: i === 1 && joinsFirst ? doubled(bulge) : bulge });
      }
    }
  }
  return { vertices: loop, closed: true };
}

function sweepDoubles(bulge: number): boolean {
  return 8 * Math.atan(Math.abs(bulge)) <= LONGEST_SWEEP;
}

/** Bulge of an arc of twice the sweep: tan of twice the angle. */
function doubled(bulge: number): number {
  return (2 * bulge) / (1 - bulge * bulge);
}

/** The nearest point on the half-line from the centre. */
function onRay(point: Point, axes: MirrorAxes, angle: number): Point {
  const [c, s] = cosSin(angle);
  const along = c * (point.x - axes.centreX) + s * (point.y - axes.centreY);
  return { x: axes.centreX + along * c, y: axes.centreY + along * s };
}

function rotation(axes: MirrorAxes, angle: number): (point: Point) => Point {
  const [c, s] = cosSin(angle);
  return ({ x, y }) => {
    const dx = x - axes.centreX;
    const dy = y - axes.centreY;
    return { x: axes.centreX + (c * dx - s * dy), y: axes.centreY + (s * dx + c * dy) };
  };
}

function reflection(axes: MirrorAxes, angle: number): (point: Point) => Point {
  const [c, s] = cosSin(2 * angle);
  return ({ x, y }) => {
    const dx = x - axes.centreX;
    const dy = y - axes.centreY;
    return { x: axes.centreX + (c * dx + s * dy), y: axes.centreY + (s * dx - c * dy) };
  };
}

/** Cosine and sine, exact at multiples of 90°. */
function cosSin(angle: number): readonly [number, number] {
  const quarters = Math.round(angle / (Math.PI / 2));
  if (Math.abs(angle - quarters * (Math.PI / 2)) < 1e-12) {
    const turn = ((quarters % 4) + 4) % 4;
    return turn === 0 ? [1, 0] : turn === 1 ? [0, 1] : turn === 2 ? [-1, 0] : [0, -1];
  }
  return [Math.cos(angle), Math.sin(angle)];
}
