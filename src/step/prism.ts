/** A plane outline carried through the sheet: the faces of a cut, and its edges on both skins. */

import { arcOf } from '../geometry/arc.ts';
import { pathArea } from '../geometry/measure.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import { moved, scaled, type Vector3 } from '../geometry/vector3.ts';
import { type BrepWriter, type EdgeUse, reversed, type Surface } from './brep.ts';

/** The vertices of a closed path, running counter-clockwise or clockwise, pieces of no length left out. */
export function oriented(path: Path, counterClockwise: boolean): Vertex[] {
  const kept = path.vertices.filter((vertex, i) => {
    const next = path.vertices[(i + 1) % path.vertices.length]!;
    return Math.hypot(next.x - vertex.x, next.y - vertex.y) > 1e-9;
  });
  if (pathArea({ vertices: kept, closed: true }) > 0 === counterClockwise) return kept;
  return kept
    .map((vertex, i) => ({
      x: vertex.x,
      y: vertex.y,
      bulge: -kept[(i + kept.length - 1) % kept.length]!.bulge,
    }))
    .reverse();
}

/** The vertices of a hole, clockwise. */
export const clockwise = (vertices: readonly Vertex[]): Vertex[] =>
  oriented({ vertices, closed: true }, false);

/** Edges of a closed path below and above, in the path's direction. */
export interface PrismLoops {
  readonly lower: readonly EdgeUse[];
  readonly upper: readonly EdgeUse[];
}

/** Where an outline lies: its x and y, and the direction z in which it is carried; right-handed unit vectors. */
export interface PrismFrame {
  readonly origin: Vector3;
  readonly x: Vector3;
  readonly y: Vector3;
  readonly z: Vector3;
}

/** The plan itself, carried upwards from z = 0. */
const PLAN: PrismFrame = { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };

/** Writes the faces over a closed path with the material on its left, from the frame's plane to `thickness` along z. */
export function prismSides(
  brep: BrepWriter,
  vertices: readonly Vertex[],
  thickness: number,
  frame: PrismFrame = PLAN,
): PrismLoops {
  const turned = (x: number, y: number, z: number): Vector3 =>
    moved(moved(scaled(x, frame.x), y, frame.y), z, frame.z);
  const at = (point: Point, z: number): Vector3 => moved(turned(point.x, point.y, z), 1, frame.origin);
  const count = vertices.length;
  const low = vertices.map((vertex) => brep.vertex(at(vertex, 0)));
  const high = vertices.map((vertex) => brep.vertex(at(vertex, thickness)));
  const uprights = vertices.map((vertex, i) =>
    brep.edge(low[i]!, high[i]!, brep.line(at(vertex, 0), at(vertex, thickness))),
  );
  const lower: EdgeUse[] = [];
  const upper: EdgeUse[] = [];
  for (const [i, from] of vertices.entries()) {
    const next = (i + 1) % count;
    const to = vertices[next]!;
    const arc = arcOf(from, to);
    let surface: Surface;
    let outward = true;
    if (arc === null) {
      lower.push(brep.edge(low[i]!, low[next]!, brep.line(at(from, 0), at(to, 0))));
      upper.push(brep.edge(high[i]!, high[next]!, brep.line(at(from, thickness), at(to, thickness))));
      const length = Math.hypot(to.x - from.x, to.y - from.y);
      const [x, y] = [(to.x - from.x) / length, (to.y - from.y) / length];
      surface = { kind: 'plane', origin: at(from, 0), axis: turned(y, -x, 0), reference: turned(x, y, 0) };
    } else {
      const turn = turned(0, 0, arc.sweep > 0 ? 1 : -1);
      // The seam of the circle lies opposite to the arc's middle.
      const middle = arc.startAngle + arc.sweep / 2;
      const reference = turned(-Math.cos(middle), -Math.sin(middle), 0);
      const ring = (z: number): string => brep.circle(at(arc.centre, z), turn, reference, arc.radius);
      lower.push(brep.edge(low[i]!, low[next]!, ring(0)));
      upper.push(brep.edge(high[i]!, high[next]!, ring(thickness)));
      surface = { kind: 'cylinder', origin: at(arc.centre, 0), axis: frame.z, reference, radius: arc.radius };
      outward = arc.sweep > 0;
    }
    brep.face(surface, outward, [[lower[i]!, uprights[next]!, reversed(upper[i]!), reversed(uprights[i]!)]]);
  }
  return { lower, upper };
}
