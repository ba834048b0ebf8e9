/** A hole in the base or in a wall as a tray file names it. */
import { degrees } from '../../units.ts';
import type { OutlinePiece, XY } from './planOutline.ts';
import { tidy } from './tidy.ts';

/** Where a plan point of the part goes in the tray file. */
export type Place = (x: number, y: number) => [number, number];

/** What a tray file says of a hole, but for its name and what its place is on. */
export interface HoleEntry {
  readonly shape: Record<string, unknown>;
  readonly at: readonly [number, number];
}

/** Makes it for a place. */
export type FoundHole = (place: Place) => HoleEntry;

const NEAR = 1e-5;

/** The hole inside an outline; null when it is neither round nor a slot nor of straight edges. */
export function foundHole(outline: readonly OutlinePiece[]): FoundHole | null {
  const arcs = outline.filter((piece) => piece.kind === 'arc');
  const lines = outline.filter((piece) => piece.kind === 'line');
  if (arcs.length === 0) return polygon(outline.map((piece) => piece.from));
  const radius = arcs[0]!.radius;
  if (arcs.some((arc) => Math.abs(arc.radius - radius) > NEAR || arc.sweep < 0)) return null;
  const centres: XY[] = [];
  for (const { centre } of arcs) {
    if (!centres.some((known) => Math.hypot(known[0] - centre[0], known[1] - centre[1]) < NEAR)) {
      centres.push(centre);
    }
  }
  const sweep = arcs.reduce((sum, arc) => sum + arc.sweep, 0);
  if (Math.abs(sweep - 2 * Math.PI) > 1e-6) return null;
  const [a, b] = centres;
  if (centres.length === 1 && lines.length === 0) {
    return (place) => {
      const [x, y] = place(a![0], a![1]);
      return { shape: { kind: 'round', diameter: tidy(2 * radius) }, at: [x, y] };
    };
  }
  if (centres.length !== 2 || lines.length !== 2) return null;
  return (place) => {
    const [p, q] = [place(a![0], a![1]), place(b![0], b![1])];
    const angle = degrees(Math.atan2(q[1] - p[1], q[0] - p[0]));
    return {
      shape: {
        kind: 'slot',
        length: tidy(Math.hypot(q[0] - p[0], q[1] - p[1]) + 2 * radius),
        width: tidy(2 * radius),
        angle: tidy(((angle % 180) + 180) % 180),
      },
      at: [tidy((p[0] + q[0]) / 2), tidy((p[1] + q[1]) / 2)],
    };
  };
}

function polygon(corners: readonly XY[]): FoundHole {
  return (place) => {
    const points = corners.map(([x, y]) => place(x, y));
    const x = tidy(points.reduce((sum, point) => sum + point[0], 0) / points.length);
    const y = tidy(points.reduce((sum, point) => sum + point[1], 0) / points.length);
    return {
      shape: { kind: 'polygon', points: points.map(([px, py]) => ({ x: tidy(px - x), y: tidy(py - y) })) },
      at: [x, y],
    };
  };
}
