/**
 * The flat blank as a solid: its outline and holes, of true lines and arcs, raised by the sheet's thickness.
 *
 * The underside lies at z = 0, x and y are those of the flat pattern.
 */

import { arcOf } from '../geometry/arc.ts';
import type { Path } from '../geometry/path.ts';
import type { Vector3 } from '../geometry/vector3.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { BrepWriter, reversed, type Surface } from './brep.ts';
import { type Instances, list, text } from './part21.ts';
import { oriented, prismSides } from './prism.ts';
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
    const up: Vector3 = [0, 0, 1];
    const level = (z: number, axis: Vector3): Surface => ({
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

/** The pieces of a path as trimmed curves at a height. */
function curveSet(data: Instances, brep: BrepWriter, path: Path, z: number): string[] {
  const { vertices, closed } = path;
  const out: string[] = [];
  for (let i = 0; i < (closed ? vertices.length : vertices.length - 1); i++) {
    const from = vertices[i]!;
    const to = vertices[(i + 1) % vertices.length]!;
    if (Math.hypot(to.x - from.x, to.y - from.y) < 1e-9) continue;
    const arc = arcOf(from, to);
    const [start, end]: [Vector3, Vector3] = [
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
