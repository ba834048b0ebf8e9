/** Outlines of the holes a tray file names, about their place. */
import type { Vertex } from '../geometry/path.ts';
import { radians } from '../units.ts';
import type { HoleSpec } from './spec.ts';

/** Vertices of a closed outline, mm from the hole's place, counter-clockwise. */
export function holeOutline(shape: HoleSpec['shape']): Vertex[] {
  switch (shape.kind) {
    case 'round': {
      const r = shape.diameter / 2;
      return [
        { x: -r, y: 0, bulge: 1 },
        { x: r, y: 0, bulge: 1 },
      ];
    }
    case 'slot': {
      const r = shape.width / 2;
      const half = shape.length / 2 - r;
      const angle = radians(shape.angle);
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const at = (along: number, across: number, bulge: number): Vertex => ({
        x: c * along - s * across,
        y: s * along + c * across,
        bulge,
      });
      return [at(-half, -r, 0), at(half, -r, 1), at(half, r, 0), at(-half, r, 1)];
    }
    case 'polygon':
      return shape.points.map(({ x, y }) => ({ x, y, bulge: 0 }));
  }
}
