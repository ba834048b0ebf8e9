/**
 * The neutral surface of a tray as an equation, written down apart from the plan loop and section of the solver:
 * distance from the base's rounded outline, and a section of one arc and one line.
 */
import type { TraySpec } from '../../src/tray/spec.ts';
import { radians } from '../../src/units.ts';

type Point3 = readonly [x: number, y: number, z: number];

/**
 * Signed distance from a rectangle with rounded corners (quadrant by quadrant, each its own radius), positive
 * outside. The usual formula for a rounded box: distance of (|x| − a + R, |y| − b + R) from the corner less R.
 */
function distanceFromRectangle(x: number, y: number, a: number, b: number, radii: readonly number[]): number {
  const quadrant = x >= 0 ? (y >= 0 ? 0 : 3) : y >= 0 ? 1 : 2;
  const R = radii[quadrant]!;
  const [u, v] = [Math.abs(x) - a + R, Math.abs(y) - b + R];
  return Math.hypot(Math.max(u, 0), Math.max(v, 0)) + Math.min(Math.max(u, v), 0) - R;
}

/** Signed distance from a convex polygon whose vertices are all rounded with one radius. */
function distanceFromPolygon(
  x: number,
  y: number,
  vertices: readonly { readonly x: number; readonly y: number }[],
  radius: number,
): number {
  // Moved in by the radius every side is a half-plane of the core; the outline is the core swollen by it.
  const sides = vertices.map((from, i) => {
    const to = vertices[(i + 1) % vertices.length]!;
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const normal = [(to.y - from.y) / length, (from.x - to.x) / length] as const;
    return { normal, offset: normal[0] * from.x + normal[1] * from.y - radius };
  });
  const beyond = sides.map(({ normal, offset }) => normal[0] * x + normal[1] * y - offset);
  const inner = Math.max(...beyond);
  if (inner <= 0) return inner - radius;
  // Nearest point of the core: on a side, or a corner where two sides meet.
  let nearest = Infinity;
  sides.forEach((side, i) => {
    const next = sides[(i + 1) % sides.length]!;
    const before = sides[(i + sides.length - 1) % sides.length]!;
    const corner = meet(side, next);
    const other = meet(before, side);
    const [px, py] = nearestOnSegment(x, y, other, corner);
    nearest = Math.min(nearest, Math.hypot(x - px, y - py));
  });
  return nearest - radius;
}

interface HalfPlane {
  readonly normal: readonly [number, number];
  readonly offset: number;
}

function meet(p: HalfPlane, q: HalfPlane): readonly [number, number] {
  const det = p.normal[0] * q.normal[1] - p.normal[1] * q.normal[0];
  return [
    (p.offset * q.normal[1] - q.offset * p.normal[1]) / det,
    (p.normal[0] * q.offset - q.normal[0] * p.offset) / det,
  ];
}

function nearestOnSegment(
  x: number,
  y: number,
  [ax, ay]: readonly [number, number],
  [bx, by]: readonly [number, number],
): readonly [number, number] {
  const [dx, dy] = [bx - ax, by - ay];
  const square = dx * dx + dy * dy;
  const s = square === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / square));
  return [ax + s * dx, ay + s * dy];
}

/**
 * f of the surface f(x, y, z) = 0 near it, positive on the outer side: the distance from the section.
 *
 * @param spec    sizes of the neutral surface itself (see `FOIL`); a polygon with one radius throughout
 * @returns f and the outward run of a point from where the bend begins
 */
export function implicitSurface(spec: TraySpec): (point: Point3) => { f: number; run: number } {
  const { bottomRadius: r, draft } = spec.section;
  const angle = Math.PI / 2 - radians(draft);
  const setback = r * Math.tan(angle / 2);
  const { plan } = spec;
  const runAt = (x: number, y: number): number => {
    if ('vertices' in plan) {
      return distanceFromPolygon(x, y, plan.vertices, plan.vertices[0]!.radius) + setback;
    }
    const radii =
      typeof plan.cornerRadius === 'number' ? [0, 0, 0, 0].fill(plan.cornerRadius) : plan.cornerRadius;
    return distanceFromRectangle(x, y, plan.length / 2, plan.width / 2, radii) + setback;
  };
  return ([x, y, z]) => {
    const run = runAt(x, y);
    if (run <= 0) return { f: -z, run };
    // The bend's circle has its centre at (0, r); the wall leaves it at the angle turned.
    const along = Math.atan2(run, r - z);
    if (along <= angle) return { f: Math.hypot(run, z - r) - r, run };
    const [wr, wz] = [run - r * Math.sin(angle), z - r * (1 - Math.cos(angle))];
    return { f: wr * Math.sin(angle) - wz * Math.cos(angle), run };
  };
}

/** Height of the rim: that of the tray. */
export const rimHeight = (spec: TraySpec): number => spec.section.height;
