/** How the length to lose is spread along the rim of a zone. */
import type { FlatField } from '../geometry/flatField.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { FreeEdge } from '../geometry/levelSet.ts';
import { alongEdge } from '../geometry/shapeFunctions.ts';
import type { ZoneRim } from './report.ts';
import { lengthsOf } from './rimLengths.ts';

/** Parts into which each edge of the mesh is divided. */
const PARTS = 8;

export interface RimCourse {
  /** Lost from the first mark to the second, mm. */
  readonly lost: number;
  /** Flat distance from the first mark at which so much is lost, mm. */
  readonly at: (lost: number) => number;
}

/**
 * @param length of the stretch from its first mark on, in the flat, mm
 */
export function rimCourse(field: FlatField, { begin }: Pick<ZoneRim, 'begin'>, length: number): RimCourse {
  const edges = rimEdgesOf(field);
  const parts = edges.flatMap((edge) =>
    Array.from({ length: PARTS }, (_, k) => ({ edge, start: k / PARTS, end: (k + 1) / PARTS })),
  );
  const far = parts.map(({ edge, start }) => distanceTo(field, edge, start, begin));
  const first = far.indexOf(Math.min(...far));
  const [flat, lost] = [[0], [0]];
  for (let k = 0; k < parts.length && flat.at(-1)! < length; k++) {
    const own = lengthsOf(field, [parts[(first + k) % parts.length]!]);
    flat.push(flat.at(-1)! + own.flat);
    lost.push(Math.max(lost.at(-1)!, lost.at(-1)! + own.flat - own.formed));
  }
  return {
    lost: lost.at(-1)!,
    at(wanted) {
      const next = Math.max(
        lost.findIndex((sum) => sum >= wanted),
        1,
      );
      const [before, after] = [lost[next - 1]!, lost[next]!];
      const share = after > before ? (wanted - before) / (after - before) : 0;
      return Math.min(flat[next - 1]! + share * (flat[next]! - flat[next - 1]!), length);
    },
  };
}

const rimEdgesOf = ({ rimNodes }: FlatField): FreeEdge[] =>
  Array.from({ length: rimNodes.length / 2 }, (_, i) => ({
    from: rimNodes[2 * i]!,
    middle: rimNodes[2 * i + 1]!,
    to: rimNodes[(2 * i + 2) % rimNodes.length]!,
  }));

/** From a point of an edge's parabola, in the flat, mm. */
function distanceTo({ flat }: FlatField, edge: FreeEdge, s: number, { x, y }: ZoneRim['begin']): number {
  const at = (axis: number): number =>
    alongEdge(s, flat[2 * edge.from + axis]!, flat[2 * edge.middle + axis]!, flat[2 * edge.to + axis]!);
  return hypotenuse(at(0) - x, at(1) - y);
}
