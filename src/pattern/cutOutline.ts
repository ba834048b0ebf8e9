/** The outline that is cut: the net rim with trim, and the edges of notched corners without. */

import { pointOnPiece } from '../geometry/arc.ts';
import type { FlatField } from '../geometry/flatField.ts';
import { offsetPath } from '../geometry/offset.ts';
import { offsetEach } from '../geometry/offsetEach.ts';
import type { Path } from '../geometry/path.ts';
import { distanceToStraight } from '../geometry/straightLine.ts';
import { notchRoots } from '../tray/notches.ts';
import type { TraySpec } from '../tray/spec.ts';

/**
 * @param rim   solved net rim
 * @param field solved field of the whole blank
 * @throws GatherpanError NOT_MAKEABLE when the trim does not fit the outline
 */
export function cutOutline(rim: Path, field: FlatField, spec: TraySpec): Path {
  const kerf = spec.cut.compensate ? spec.cut.kerf / 2 : 0;
  const allowance = spec.forming.trim + kerf;
  if (notchRoots(spec).length === 0) return allowance === 0 ? rim : offsetPath(rim, allowance);
  const isMitre = mitreEdges(field, spec);
  const count = rim.vertices.length;
  const distances = rim.vertices.map((from, i) => {
    const middle = pointOnPiece(from, rim.vertices[(i + 1) % count]!, 0.5);
    // The weld needs its edges where they are; trim would close the gap.
    return isMitre(middle.x, middle.y) ? kerf : allowance;
  });
  return offsetEach(rim, distances);
}

/** Tells whether the rim edge nearest to a flat point is the edge of a notched corner. */
function mitreEdges(field: FlatField, spec: TraySpec): (x: number, y: number) => boolean {
  const { rimNodes, formed, flat } = field;
  const roots = notchRoots(spec);
  // Each edge stands back from the plane of the mitre by half the gap.
  const near = (spec.forming.weldGap ?? 0) / 2 + 1e-3;
  // A lip that is turned in may reach further in than the root.
  const lip = spec.section.rim.kind === 'lip' ? spec.section.rim.width : 0;
  const toStraight = (a: number, b: number, x: number, y: number): number =>
    distanceToStraight(x, y, flat[2 * a]!, flat[2 * a + 1]!, flat[2 * b]!, flat[2 * b + 1]!);
  return (x, y) => {
    let best = Infinity;
    let found = 0;
    for (let i = 1; i < rimNodes.length; i += 2) {
      const node = rimNodes[i]!;
      const distance = Math.min(
        toStraight(rimNodes[i - 1]!, node, x, y),
        toStraight(node, rimNodes[(i + 1) % rimNodes.length]!, x, y),
      );
      if (distance < best) {
        best = distance;
        found = node;
      }
    }
    const [fx, fy] = [formed[3 * found]!, formed[3 * found + 1]!];
    return roots.some(({ x: rootX, y: rootY, outX, outY, perSetback }) => {
      const along = (fx - rootX) * outX + (fy - rootY) * outY;
      return along > -near - lip * perSetback && Math.abs((fx - rootX) * outY - (fy - rootY) * outX) < near;
    });
  };
}
