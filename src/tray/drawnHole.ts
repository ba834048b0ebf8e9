/** A hole of the base from a closed loop inside a drawn plan. */

import { place } from '../dxf/loops.ts';
import { GatherpanError } from '../errors.ts';
import { arcOf } from '../geometry/arc.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Vertex } from '../geometry/path.ts';
import { degrees } from '../units.ts';
import { words } from '../words/language.ts';
import { HOLE_CORNERS } from './limits.ts';
import type { HoleSpec } from './spec.ts';

/** How far a drawn circle or slot may be from a true one, mm. */
const NEAR = 0.01;

/**
 * @param path   counter-clockwise, mm
 * @param number among the loops, from 0
 * @throws GatherpanError BAD_INPUT when it is neither a circle, a slot nor a polygon; the sentence goes after the
 *   drawing's name
 */
export function drawnHole(path: Path, number: number): HoleSpec {
  const { minX, minY, maxX, maxY } = pathBounds(path);
  const middle = { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
  const found = circle(path) ?? slot(path) ?? polygon(path, middle);
  if (found === null) {
    throw new GatherpanError('BAD_INPUT', words().messages.tray.drawing.oddHole(place(middle)));
  }
  const { shape, x, y } = found;
  return { name: `drawn-${number + 1}`, shape, place: { on: 'base', x, y } };
}

interface Found {
  readonly shape: HoleSpec['shape'];
  readonly x: number;
  readonly y: number;
}

const next = ({ vertices }: Path, i: number): Vertex => vertices[(i + 1) % vertices.length]!;

function circle(path: Path): Found | null {
  const arcs = path.vertices.map((vertex, i) => arcOf(vertex, next(path, i)));
  const first = arcs[0];
  if (!first) return null;
  const { centre, radius } = first;
  const same = arcs.every(
    (arc) =>
      arc !== null &&
      arc.sweep > 0 &&
      Math.abs(arc.radius - radius) <= NEAR &&
      Math.hypot(arc.centre.x - centre.x, arc.centre.y - centre.y) <= NEAR,
  );
  return same ? { shape: { kind: 'round', diameter: 2 * radius }, x: centre.x, y: centre.y } : null;
}

/** Two lines, and a half circle at each end. */
function slot(path: Path): Found | null {
  const { vertices } = path;
  if (vertices.length !== 4) return null;
  const from = vertices[0]!.bulge === 0 ? 0 : 1;
  const [line, end, back, start] = [0, 1, 2, 3].map((k) => vertices[(from + k) % 4]!) as [
    Vertex,
    Vertex,
    Vertex,
    Vertex,
  ];
  const width = Math.hypot(back.x - end.x, back.y - end.y);
  const [dx, dy] = [end.x - line.x, end.y - line.y];
  const length = Math.hypot(dx, dy);
  const isHalf = ({ bulge }: Vertex): boolean => (Math.abs(bulge - 1) * width) / 2 <= NEAR;
  const isBox =
    Math.hypot(start.x - back.x + dx, start.y - back.y + dy) <= NEAR &&
    Math.abs(((back.x - end.x) * dx + (back.y - end.y) * dy) / length) <= NEAR;
  if (line.bulge !== 0 || back.bulge !== 0 || !isHalf(end) || !isHalf(start) || !isBox) return null;
  return {
    shape: { kind: 'slot', length: length + width, width, angle: degrees(Math.atan2(dy, dx)) },
    x: (line.x + back.x) / 2,
    y: (line.y + back.y) / 2,
  };
}

function polygon({ vertices }: Path, { x, y }: { readonly x: number; readonly y: number }): Found | null {
  if (vertices.some(({ bulge }) => bulge !== 0) || vertices.length > HOLE_CORNERS[1]) return null;
  const points = vertices.map((vertex) => ({ x: vertex.x - x, y: vertex.y - y }));
  return { shape: { kind: 'polygon', points }, x, y };
}
