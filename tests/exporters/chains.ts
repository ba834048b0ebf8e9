/**
 * What a program that joins lines end to end makes of a drawing: it takes ends nearer than a tolerance for one, and
 * whatever then runs round for a contour.
 */
import type { DxfEntity } from 'dxf';

/** A line from one point to another, by whatever way. */
export interface Line {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
}

/** The lines of entities, as the package dxf reads them; throws for an entity that is closed in itself. */
export function linesOf(entities: readonly DxfEntity[]): Line[] {
  return entities
    .filter(({ type }) => type !== 'TEXT' && type !== 'POINT')
    .map(({ type, closed, layer, vertices = [] }) => {
      if (type !== 'LWPOLYLINE' && type !== 'POLYLINE') throw new Error(`a ${type} on the layer ${layer}`);
      if (closed === true) throw new Error(`a closed line on the layer ${layer}`);
      const [first, last] = [vertices[0]!, vertices.at(-1)!];
      return { from: [first.x, first.y], to: [last.x, last.y] };
    });
}

/** How many rings the lines close when ends nearer than `tolerance`, mm, are joined: lines less points plus pieces. */
export function rings(lines: readonly Line[], tolerance: number): number {
  const ends = lines.flatMap(({ from, to }) => [from, to]);
  const joint = groups(ends.length, (i, j) => {
    const [[ax, ay], [bx, by]] = [ends[i]!, ends[j]!];
    return Math.hypot(ax - bx, ay - by) <= tolerance;
  });
  // Two joints hang together when a line runs from one to the other.
  const beside = new Map<number, Set<number>>(joint.map((each) => [each, new Set()]));
  lines.forEach((_, i) => {
    const [a, b] = [joint[2 * i]!, joint[2 * i + 1]!];
    beside.get(a)!.add(b);
    beside.get(b)!.add(a);
  });
  const joints = [...beside.keys()];
  const piece = groups(joints.length, (i, j) => beside.get(joints[i]!)!.has(joints[j]!));
  return lines.length - new Set(joint).size + new Set(piece).size;
}

/** The number of the group of each of `count` things, of which those that touch hang together. */
function groups(count: number, touch: (i: number, j: number) => boolean): number[] {
  const group = new Array<number>(count).fill(-1);
  for (let start = 0; start < count; start++) {
    if (group[start] !== -1) continue;
    const queue = [start];
    group[start] = start;
    for (const at of queue) {
      for (let other = 0; other < count; other++) {
        if (group[other] !== -1 || !touch(at, other)) continue;
        group[other] = start;
        queue.push(other);
      }
    }
  }
  return group;
}
