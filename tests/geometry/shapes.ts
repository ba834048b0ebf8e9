/** Shapes with known answers, and a way to turn a path into a fine polygon that shares no code with src. */
import fc from 'fast-check';
import type { Path, Point, Vertex } from '../../src/geometry/path.ts';

/** tan(90° / 4): the bulge of a quarter circle. */
export const QUARTER = Math.SQRT2 - 1;

export function circle(radius: number, cx = 0, cy = 0): Path {
  return {
    closed: true,
    vertices: [
      { x: cx + radius, y: cy, bulge: 1 },
      { x: cx - radius, y: cy, bulge: 1 },
    ],
  };
}

/** Counter-clockwise, centred on the origin. */
export function roundedRectangle(length: number, width: number, radius: number): Path {
  const a = length / 2;
  const b = width / 2;
  const corners: Vertex[] = [
    { x: a, y: -b + radius, bulge: 0 },
    { x: a, y: b - radius, bulge: QUARTER },
    { x: a - radius, y: b, bulge: 0 },
    { x: -a + radius, y: b, bulge: QUARTER },
    { x: -a, y: b - radius, bulge: 0 },
    { x: -a, y: -b + radius, bulge: QUARTER },
    { x: -a + radius, y: -b, bulge: 0 },
    { x: a - radius, y: -b, bulge: QUARTER },
  ];
  return { closed: true, vertices: corners };
}

/** Two straights of the given length, two half circles. */
export function stadium(straight: number, radius: number): Path {
  const a = straight / 2;
  return {
    closed: true,
    vertices: [
      { x: a, y: -radius, bulge: 1 },
      { x: a, y: radius, bulge: 0 },
      { x: -a, y: radius, bulge: 1 },
      { x: -a, y: -radius, bulge: 0 },
    ],
  };
}

/** A polygon with every corner rounded by a tangent arc; `radii` mm per corner, small enough to fit. */
export function roundedPolygon(corners: readonly Point[], radii: readonly number[]): Path {
  const n = corners.length;
  const vertices: Vertex[] = [];
  for (let i = 0; i < n; i++) {
    const a = corners[(i + n - 1) % n]!;
    const p = corners[i]!;
    const b = corners[(i + 1) % n]!;
    const inLength = Math.hypot(p.x - a.x, p.y - a.y);
    const outLength = Math.hypot(b.x - p.x, b.y - p.y);
    const ix = (p.x - a.x) / inLength;
    const iy = (p.y - a.y) / inLength;
    const ox = (b.x - p.x) / outLength;
    const oy = (b.y - p.y) / outLength;
    const turn = Math.atan2(ix * oy - iy * ox, ix * ox + iy * oy);
    const reach = radii[i]! * Math.tan(Math.abs(turn) / 2);
    vertices.push({ x: p.x - ix * reach, y: p.y - iy * reach, bulge: Math.tan(turn / 4) });
    vertices.push({ x: p.x + ox * reach, y: p.y + oy * reach, bulge: 0 });
  }
  return { closed: true, vertices };
}

/** Random star-shaped loops with rounded corners, convex and concave, counter-clockwise and free of crossings. */
export const roundedStar: fc.Arbitrary<Path> = fc
  .array(fc.tuple(fc.integer({ min: 40, max: 100 }), fc.integer({ min: 2, max: 9 })), {
    minLength: 4,
    maxLength: 9,
  })
  .map((spokes) => {
    const corners = spokes.map(([reach], i) => {
      const angle = (2 * Math.PI * (i + 0.1)) / spokes.length;
      return { x: reach * Math.cos(angle), y: reach * Math.sin(angle) };
    });
    // Radii small against the sides: at most a fifth of the shorter side's length in tangent length.
    const radii = spokes.map(([, size], i) => {
      const n = corners.length;
      const p = corners[i]!;
      const a = corners[(i + n - 1) % n]!;
      const b = corners[(i + 1) % n]!;
      const turn = Math.abs(
        Math.atan2(
          (p.x - a.x) * (b.y - p.y) - (p.y - a.y) * (b.x - p.x),
          (p.x - a.x) * (b.x - p.x) + (p.y - a.y) * (b.y - p.y),
        ),
      );
      const room = 0.2 * Math.min(Math.hypot(p.x - a.x, p.y - a.y), Math.hypot(b.x - p.x, b.y - p.y));
      return Math.min(size, room / Math.tan(Math.max(turn, 0.05) / 2));
    });
    return roundedPolygon(corners, radii);
  });

/**
 * Points along the path, every arc halved `depth` times by the sagitta: the middle of an arc lies b·chord/2
 * right of the middle of its chord, and each half has the bulge tan(atan(b) / 2).
 */
export function finePolygon(path: Path, depth: number): Point[] {
  const points: Point[] = [];
  const halve = (ax: number, ay: number, bx: number, by: number, bulge: number, level: number) => {
    if (level === 0) {
      points.push({ x: ax, y: ay });
      return;
    }
    const mx = (ax + bx) / 2 + (bulge / 2) * (by - ay);
    const my = (ay + by) / 2 - (bulge / 2) * (bx - ax);
    const half = Math.tan(Math.atan(bulge) / 2);
    halve(ax, ay, mx, my, half, level - 1);
    halve(mx, my, bx, by, half, level - 1);
  };
  const n = path.vertices.length;
  for (let i = 0; i < (path.closed ? n : n - 1); i++) {
    const a = path.vertices[i]!;
    const b = path.vertices[(i + 1) % n]!;
    halve(a.x, a.y, b.x, b.y, a.bulge, depth);
  }
  if (!path.closed) points.push(path.vertices[n - 1]!);
  return points;
}

/** The path turned by `angle`, scaled by `scale` and moved. */
export function moved(path: Path, angle: number, scale = 1, dx = 0, dy = 0): Path {
  const c = Math.cos(angle) * scale;
  const s = Math.sin(angle) * scale;
  return {
    closed: path.closed,
    vertices: path.vertices.map(({ x, y, bulge }) => ({
      x: c * x - s * y + dx,
      y: s * x + c * y + dy,
      bulge,
    })),
  };
}
