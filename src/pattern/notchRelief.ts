/**
 * The root of a notched corner in the blank: a hole that keeps weld and cut clean, and a slot as wide as a cut from it to
 * where the edges of the notch stand that far apart by themselves. Over the bend they part slowly, and not at all at
 * the root.
 */

import { pieceEnd, pointOnPiece } from '../geometry/arc.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import { notchRelief, notchRoots, slotWidth } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';

/** How far the flat base may have moved against the plan, mm. */
const MOVED = 2;

/** The rim with the relief of every notched corner. */
export function withReliefs(rim: Path, spec: TraySpec): Path {
  let out = rim;
  for (const root of notchRoots(spec)) {
    const outwards = { x: root.outX, y: root.outY };
    out = relieved(out, root, outwards, slotWidth(spec) / 2, notchRelief(spec) / 2);
  }
  return out;
}

function relieved(rim: Path, root: Point, outwards: Point, half: number, radius: number): Path {
  const { vertices } = rim;
  const n = vertices.length;
  let at = -1;
  let least = MOVED;
  for (const [i, { x, y }] of vertices.entries()) {
    const distance = hypotenuse(x - root.x, y - root.y);
    if (distance < least) [least, at] = [distance, i];
  }
  if (at < 0) return rim;
  const centre = vertices[at]!;
  const aside = (p: Point): number => Math.abs((p.x - centre.x) * outwards.y - (p.y - centre.y) * outwards.x);
  const free = (p: Point): boolean =>
    aside(p) >= half && hypotenuse(p.x - centre.x, p.y - centre.y) >= radius;
  // Backwards along the edge that arrives, forwards along the one that leaves.
  const walk = (step: 1 | -1): { piece: number; fraction: number } | null => {
    for (let k = 0; k < n; k++) {
      const piece = step === 1 ? (at + k) % n : (at - 1 - k + n) % n;
      const [from, to] = [vertices[piece]!, pieceEnd(rim, piece)];
      if (!free(step === 1 ? to : from)) continue;
      let [stuck, clear] = step === 1 ? [0, 1] : [1, 0];
      for (let round = 0; round < 50; round++) {
        const middle = (stuck + clear) / 2;
        if (free(pointOnPiece(from, to, middle))) clear = middle;
        else stuck = middle;
      }
      return { piece, fraction: clear };
    }
    return null;
  };
  const [arriving, leaving] = [walk(-1), walk(1)];
  if (arriving === null || leaving === null) return rim;
  const point = ({ piece, fraction }: { piece: number; fraction: number }): Point =>
    pointOnPiece(vertices[piece]!, pieceEnd(rim, piece), fraction);
  const part = (bulge: number, share: number): number => Math.tan(Math.atan(bulge) * share);
  const [from, to] = [point(arriving), point(leaving)];
  const foot = (p: Point): Point => {
    const left = Math.sign((p.y - centre.y) * outwards.x - (p.x - centre.x) * outwards.y);
    const ahead = Math.sqrt(radius * radius - half * half);
    return {
      x: centre.x + ahead * outwards.x - left * half * outwards.y,
      y: centre.y + ahead * outwards.y + left * half * outwards.x,
    };
  };
  const onCircle = (p: Point): boolean => hypotenuse(p.x - centre.x, p.y - centre.y) < radius + 1e-6;
  const start = onCircle(from) ? from : foot(from);
  const end = onCircle(to) ? to : foot(to);
  const far = { x: centre.x - radius * outwards.x, y: centre.y - radius * outwards.y };
  // Round the back of the hole, clockwise.
  const sweep = (p: Point, q: Point): number => {
    const turn = Math.atan2(p.y - centre.y, p.x - centre.x) - Math.atan2(q.y - centre.y, q.x - centre.x);
    return turn - 2 * Math.PI * Math.floor(turn / (2 * Math.PI));
  };
  const arc = (p: Point, q: Point): Vertex => ({ x: p.x, y: p.y, bulge: -Math.tan(sweep(p, q) / 4) });
  const relief: Vertex[] = [
    ...(start === from ? [] : [{ ...from, bulge: 0 }]),
    arc(start, far),
    arc(far, end),
    ...(end === to ? [] : [{ x: end.x, y: end.y, bulge: 0 }]),
  ].map(({ x, y, bulge }) => ({ x, y, bulge }));
  const last = leaving.piece;
  const kept: Vertex[] = [{ x: to.x, y: to.y, bulge: part(vertices[last]!.bulge, 1 - leaving.fraction) }];
  for (let i = (last + 1) % n; i !== arriving.piece; i = (i + 1) % n) kept.push(vertices[i]!);
  const before = vertices[arriving.piece]!;
  kept.push({ ...before, bulge: part(before.bulge, arriving.fraction) });
  return { vertices: [...kept, ...relief], closed: true };
}
