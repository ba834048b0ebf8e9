/**
 * The root of a notched corner in the blank: a hole that keeps weld and cut clean, and a slot as wide as a cut from it to
 * where the edges of the notch stand that far apart by themselves. Over the bend they part slowly, and not at all at
 * the root.
 */

import { arcOf, distanceToPiece, pieceEnd, pointOnPiece } from '../geometry/arc.ts';
import { alongEdge, edgeLength } from '../geometry/edgeMeasures.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { hypotenuse } from '../geometry/hypotenuse.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import { planEdge } from '../geometry/planEdges.ts';
import { type NotchRoot, notchRelief, notchRoots, slotWidth } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';

/** A rim node nearer than this to the root of a notch is the root, mm: mirrored halves need not agree to the last digit. */
const SAME = 0.01;
/** Lines and arcs follow the rim so closely that a corner of it at a root is no further away than this, mm. */
const FITTED = 0.1;

/** What of a solved field tells where the roots of notches are in the flat. */
export type RimField = Pick<FlatField, 'rimNodes' | 'formed' | 'flat'>;

/** The roots of all notched corners in the flat: the base moves a little with the walls about it. */
export function flatRoots({ rimNodes, formed, flat }: RimField, spec: TraySpec): NotchRoot[] {
  return notchRoots(spec).map((root) => {
    let [nearest, least] = [rimNodes[0]!, Infinity];
    for (const node of rimNodes) {
      const [x, y, z] = [formed[3 * node]!, formed[3 * node + 1]!, formed[3 * node + 2]!];
      const distance = Math.hypot(x - root.x, y - root.y, z);
      if (distance < least) [nearest, least] = [node, distance];
    }
    if (least > SAME) throw new Error(`notch: no rim node at root ${root.corner}`);
    return { ...root, x: flat[2 * nearest]!, y: flat[2 * nearest + 1]! };
  });
}

/** The number of the corner whose hole a piece of a relieved rim is a part of, or null. */
export function reliefAt(
  rim: Path,
  piece: number,
  roots: readonly NotchRoot[],
  spec: TraySpec,
): number | null {
  const arc = arcOf(rim.vertices[piece]!, pieceEnd(rim, piece));
  if (arc === null || arc.sweep > 0 || Math.abs(arc.radius - notchRelief(spec) / 2) > 1e-6) return null;
  const root = roots.find(({ x, y }) => hypotenuse(arc.centre.x - x, arc.centre.y - y) < FITTED);
  return root?.corner ?? null;
}

/**
 * The rim with the relief of every notched corner.
 *
 * @param roots of the notches in the flat
 */
export function withReliefs(
  rim: Path,
  roots: readonly Pick<NotchRoot, 'x' | 'y' | 'outX' | 'outY'>[],
  spec: TraySpec,
): Path {
  let out = rim;
  for (const root of roots) {
    const outwards = { x: root.outX, y: root.outY };
    out = relieved(out, root, outwards, slotWidth(spec) / 2, notchRelief(spec) / 2);
  }
  return out;
}

/** The rim with a vertex at the root of a notch, and its number; edges that part slowly have none there. */
function withVertexAt(rim: Path, { x, y }: Point): { vertices: readonly Vertex[]; at: number } {
  const { vertices } = rim;
  const away = vertices.map((vertex) => hypotenuse(vertex.x - x, vertex.y - y));
  const nearest = away.indexOf(Math.min(...away));
  if (away[nearest]! < FITTED) return { vertices, at: nearest };
  const distances = vertices.map((from, i) => distanceToPiece(x, y, from, pieceEnd(rim, i)));
  const piece = distances.indexOf(Math.min(...distances));
  const [from, to] = [vertices[piece]!, pieceEnd(rim, piece)];
  const edge = planEdge(from, to);
  const share = alongEdge(edge, x, y) / edgeLength(edge);
  const added = { ...pointOnPiece(from, to, share), bulge: partOf(from.bulge, 1 - share) };
  const before = { ...from, bulge: partOf(from.bulge, share) };
  return {
    vertices: [...vertices.slice(0, piece), before, added, ...vertices.slice(piece + 1)],
    at: piece + 1,
  };
}

/** The bulge of a part of an arc. */
const partOf = (bulge: number, share: number): number => Math.tan(Math.atan(bulge) * share);

function relieved(unrelieved: Path, root: Point, outwards: Point, half: number, radius: number): Path {
  const { vertices, at } = withVertexAt(unrelieved, root);
  const rim: Path = { vertices, closed: true };
  const n = vertices.length;
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
  if (arriving === null || leaving === null) throw new Error('notch: the hole takes the whole rim');
  const point = ({ piece, fraction }: { piece: number; fraction: number }): Point =>
    pointOnPiece(vertices[piece]!, pieceEnd(rim, piece), fraction);
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
  const kept: Vertex[] = [{ x: to.x, y: to.y, bulge: partOf(vertices[last]!.bulge, 1 - leaving.fraction) }];
  for (let i = (last + 1) % n; i !== arriving.piece; i = (i + 1) % n) kept.push(vertices[i]!);
  const before = vertices[arriving.piece]!;
  kept.push({ ...before, bulge: partOf(before.bulge, arriving.fraction) });
  return { vertices: [...kept, ...relief], closed: true };
}
