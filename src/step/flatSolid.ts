/**
 * The flat blank as a solid: its outline and holes, of true lines and arcs, raised by the sheet's thickness.
 *
 * The underside lies at z = 0, x and y are those of the flat pattern.
 */
import { arcOf } from '../outline/arc.ts';
import { pathArea } from '../outline/measure.ts';
import type { Path, Point, Vertex } from '../outline/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { BrepWriter, type EdgeUse, reversed, type Surface, type Vector } from './brep.ts';
import { type Instances, list, text } from './part21.ts';
import { exchangeFile, type Protocol } from './product.ts';

export interface FlatSolidOptions {
  readonly protocol: Protocol;
  /** Adds the scribe lines as a set of curves on the upper face. */
  readonly scribeLines: boolean;
}

/** A STEP file of the flat blank. */
export function writeFlatSolid(pattern: FlatPattern, options: FlatSolidOptions): Uint8Array {
  const { thickness } = pattern.sheet;
  return exchangeFile(pattern.name, options.protocol, (data) => {
    const brep = new BrepWriter(data);
    const loops = [
      prismSides(brep, oriented(pattern.outline, true), thickness),
      ...pattern.holes.map((hole) => prismSides(brep, oriented(hole.path, false), thickness)),
    ];
    const up: Vector = [0, 0, 1];
    const level = (z: number, axis: Vector): Surface => ({
      kind: 'plane',
      origin: [0, 0, z],
      axis,
      reference: [1, 0, 0],
    });
    brep.face(
      level(thickness, up),
      true,
      loops.map((loop) => loop.upper),
    );
    brep.face(
      level(0, [0, 0, -1]),
      true,
      loops.map((loop) => loop.lower.map(reversed).reverse()),
    );
    const lines = options.scribeLines ? pattern.scribeLines : [];
    const curves = lines.flatMap(({ path }) => curveSet(data, brep, path, thickness));
    return {
      solids: [brep.solid(text(pattern.name))],
      curves: curves.length === 0 ? [] : [data.add(`GEOMETRIC_CURVE_SET('scribe lines',${list(curves)})`)],
    };
  });
}

/** The vertices of a closed path, running counter-clockwise or clockwise, pieces of no length left out. */
function oriented(path: Path, counterClockwise: boolean): Vertex[] {
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

/**
 * Writes the upright faces over a closed path with the material on its left.
 *
 * Shared with the holes of the formed base, so it starts at any height.
 */
export function prismSides(
  brep: BrepWriter,
  vertices: readonly Vertex[],
  thickness: number,
  bottom = 0,
): PrismLoops {
  const top = bottom + thickness;
  const at = (point: Point, z: number): Vector => [point.x, point.y, z];
  const count = vertices.length;
  const low = vertices.map((vertex) => brep.vertex(at(vertex, bottom)));
  const high = vertices.map((vertex) => brep.vertex(at(vertex, top)));
  const uprights = vertices.map((vertex, i) =>
    brep.edge(low[i]!, high[i]!, brep.line(at(vertex, bottom), at(vertex, top))),
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
      lower.push(brep.edge(low[i]!, low[next]!, brep.line(at(from, bottom), at(to, bottom))));
      upper.push(brep.edge(high[i]!, high[next]!, brep.line(at(from, top), at(to, top))));
      const length = Math.hypot(to.x - from.x, to.y - from.y);
      const [x, y] = [(to.x - from.x) / length, (to.y - from.y) / length];
      surface = { kind: 'plane', origin: at(from, bottom), axis: [y, -x, 0], reference: [x, y, 0] };
    } else {
      const turn: Vector = [0, 0, arc.sweep > 0 ? 1 : -1];
      // The seam of the circle lies opposite to the arc's middle.
      const middle = arc.startAngle + arc.sweep / 2;
      const reference: Vector = [-Math.cos(middle), -Math.sin(middle), 0];
      const ring = (z: number): string => brep.circle(at(arc.centre, z), turn, reference, arc.radius);
      lower.push(brep.edge(low[i]!, low[next]!, ring(bottom)));
      upper.push(brep.edge(high[i]!, high[next]!, ring(top)));
      surface = {
        kind: 'cylinder',
        origin: at(arc.centre, bottom),
        axis: [0, 0, 1],
        reference,
        radius: arc.radius,
      };
      outward = arc.sweep > 0;
    }
    brep.face(surface, outward, [[lower[i]!, uprights[next]!, reversed(upper[i]!), reversed(uprights[i]!)]]);
  }
  return { lower, upper };
}

/** The pieces of a path as trimmed curves at a height. */
function curveSet(data: Instances, brep: BrepWriter, path: Path, z: number): string[] {
  const { vertices, closed } = path;
  const out: string[] = [];
  for (let i = 0; i < (closed ? vertices.length : vertices.length - 1); i++) {
    const from = vertices[i]!;
    const to = vertices[(i + 1) % vertices.length]!;
    if (Math.hypot(to.x - from.x, to.y - from.y) < 1e-9) continue;
    const arc = arcOf(from, to);
    const [start, end]: [Vector, Vector] = [
      [from.x, from.y, z],
      [to.x, to.y, z],
    ];
    const curve =
      arc === null
        ? brep.line(start, end)
        : brep.circle([arc.centre.x, arc.centre.y, z], [0, 0, Math.sign(arc.sweep)], [1, 0, 0], arc.radius);
    out.push(
      data.add(`TRIMMED_CURVE('',${curve},(${brep.point(start)}),(${brep.point(end)}),.T.,.CARTESIAN.)`),
    );
  }
  return out;
}
