/** Which pieces of a rim are edges of a notched corner, those of the hole at its root among them. */

import { pointOnPiece } from '../geometry/arc.ts';
import type { Path } from '../geometry/path.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';
import { notchRoots } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';
import { flatRoots, type RimField, reliefAt } from './notchRelief.ts';

/**
 * Of each piece of the rim, the number of the notched corner whose edge it is; null for the rim proper.
 *
 * @param rim   solved net rim, with the reliefs
 * @param field solved field of the whole blank
 */
export function notchesAlong(rim: Path, field: RimField, spec: TraySpec): (number | null)[] {
  const mitreAt = mitreEdges(field, spec);
  const roots = flatRoots(field, spec);
  const count = rim.vertices.length;
  return rim.vertices.map((from, i) => {
    const middle = pointOnPiece(from, rim.vertices[(i + 1) % count]!, 0.5);
    return reliefAt(rim, i, roots, spec) ?? mitreAt(middle.x, middle.y);
  });
}

/** Tells of which notched corner the rim edge nearest to a flat point is an edge, if it is one. */
function mitreEdges(
  { rimNodes, formed, flat }: RimField,
  spec: TraySpec,
): (x: number, y: number) => number | null {
  const roots = notchRoots(spec);
  // Each edge stands back from the plane of the mitre by half the gap.
  const near = (spec.forming.weldGap ?? 0) / 2 + 1e-3;
  // A lip that is turned in may reach further in than the root.
  const lip = spec.section.rim.kind === 'lip' ? spec.section.rim.width : 0;
  return (x, y) => {
    let best = Infinity;
    let found = 0;
    for (let i = 1; i < rimNodes.length; i += 2) {
      const node = rimNodes[i]!;
      const distance = Math.min(
        distanceToStraight(x, y, flat, rimNodes[i - 1]!, node),
        distanceToStraight(x, y, flat, node, rimNodes[(i + 1) % rimNodes.length]!),
      );
      if (distance < best) {
        best = distance;
        found = node;
      }
    }
    const [fx, fy] = [formed[3 * found]!, formed[3 * found + 1]!];
    const root = roots.find(({ x: rootX, y: rootY, outX, outY, perSetback }) => {
      const along = (fx - rootX) * outX + (fy - rootY) * outY;
      return along > -near - lip * perSetback && Math.abs((fx - rootX) * outY - (fy - rootY) * outX) < near;
    });
    return root?.corner ?? null;
  };
}
