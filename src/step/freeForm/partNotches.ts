/**
 * Notches of a part that is solved as it is, where two edges of its blank come together in a point: like those of a tray
 * they get a hole at the root, and no trim on the edges that are welded.
 */
import { distanceToPiece, pieceEnd, pointOnPiece, wrapAngle } from '../../geometry/arc.ts';
import { offsetPath } from '../../geometry/offset.ts';
import { offsetEach } from '../../geometry/offsetEach.ts';
import type { Path, Point } from '../../geometry/path.ts';
import { withReliefs } from '../../pattern/notchRelief.ts';
import { notchRelief } from '../../tray/notches.ts';
import type { TraySpec } from '../../tray/spec.ts';

/** A notch opens by less than this at its root, radians: a wider one is cut as it is. */
const OPENS = 0.5;
/** A turn of more than this ends the edge of a notch, radians. */
const CORNER = 0.35;

export interface PartNotches {
  /** With a hole at every root. */
  readonly rim: Path;
  readonly count: number;
  /** The rim moved out: by `kerf` along the edges of notches, by `trim` more elsewhere. */
  cutAt(trim: number, kerf: number): Path;
}

/** @param bare the solved rim @param spec of its cut, and of the hole at a root */
export function partNotches(bare: Path, spec: TraySpec): PartNotches {
  const count = bare.vertices.length;
  const at = (i: number): Point => bare.vertices[(i + count) % count]!;
  const turn = (i: number): number =>
    wrapAngle(
      Math.atan2(at(i + 1).y - at(i).y, at(i + 1).x - at(i).x) -
        Math.atan2(at(i).y - at(i - 1).y, at(i).x - at(i - 1).x),
    );
  const roots = bare.vertices.flatMap((_, i) => {
    // Into the notch and out of it, clockwise; the other way round it is a spike of the sheet.
    if (turn(i) > OPENS - Math.PI) return [];
    return [{ number: i, x: at(i).x, y: at(i).y, ...outwards(at(i - 1), at(i), at(i + 1)) }];
  });
  if (roots.length === 0)
    return {
      rim: bare,
      count: 0,
      cutAt: (trim, kerf) => (trim + kerf === 0 ? bare : offsetPath(bare, trim + kerf)),
    };
  const rim = withReliefs(bare, roots, spec);
  const welded = new Set<number>();
  for (const { number } of roots) {
    for (let i = number; ; i++) {
      welded.add(i % count);
      if (Math.abs(turn(i + 1)) > CORNER || i > number + count) break;
    }
    for (let i = number - 1; ; i--) {
      welded.add((i + count) % count);
      if (Math.abs(turn(i)) > CORNER || i < number - count) break;
    }
  }
  const isWelded = (piece: number): boolean => {
    const { x, y } = pointOnPiece(rim.vertices[piece]!, pieceEnd(rim, piece), 0.5);
    if (roots.some((root) => Math.hypot(root.x - x, root.y - y) < notchRelief(spec))) return true;
    const away = bare.vertices.map((from, i) => distanceToPiece(x, y, from, pieceEnd(bare, i)));
    return welded.has(away.indexOf(Math.min(...away)));
  };
  return {
    rim,
    count: roots.length,
    cutAt(trim, kerf) {
      if (trim + kerf === 0) return rim;
      return offsetEach(
        rim,
        rim.vertices.map((_, i) => (isWelded(i) ? kerf : trim + kerf)),
      );
    },
  };
}

/** Unit vector out of a notch, half-way between its edges. */
function outwards(before: Point, root: Point, after: Point): { outX: number; outY: number } {
  const unit = ({ x, y }: Point): readonly [number, number] => {
    const length = Math.hypot(x - root.x, y - root.y);
    return [(x - root.x) / length, (y - root.y) / length];
  };
  const [[ax, ay], [bx, by]] = [unit(before), unit(after)];
  const length = Math.hypot(ax + bx, ay + by);
  return { outX: (ax + bx) / length, outY: (ay + by) / length };
}
