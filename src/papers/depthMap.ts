/**
 * What hides what in a parallel view: the nearest depth at every dot of a fine grid over the picture.
 *
 * The method is the depth buffer (Catmull, A Subdivision Algorithm for Computer Display of Curved Surfaces, 1974,
 * from memory). Its grid only decides whether a line is drawn; the lines themselves keep their exact places.
 */

/** Dots per mm of picture. */
const DOTS = 6;
/** How far behind the surface a point still counts as lying on it, in dots. */
const BEHIND = 0.8;

export interface DepthMap {
  /** Whether a point of the picture (mm) at a depth (towards the eye, mm of the picture) is in sight. */
  visible(x: number, y: number, depth: number): boolean;
}

/** A part as the eye sees it: its nodes on a picture whose lower left corner is the origin, depth towards the eye; mm. */
export interface Seen {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly depth: Float64Array;
  readonly width: number;
  readonly height: number;
}

/** @param triangles three node numbers each; not changed */
export function depthMap({ x, y, depth, width, height }: Seen, triangles: ArrayLike<number>): DepthMap {
  const columns = Math.ceil(width * DOTS) + 1;
  const rows = Math.ceil(height * DOTS) + 1;
  const nearest = new Float32Array(columns * rows).fill(-Infinity);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    const [ax, ay, bx, by, cx, cy] = [x[a]!, y[a]!, x[b]!, y[b]!, x[c]!, y[c]!];
    const twice = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    if (Math.abs(twice) < 1e-12) continue;
    const left = Math.max(0, Math.ceil(Math.min(ax, bx, cx) * DOTS));
    const right = Math.min(columns - 1, Math.floor(Math.max(ax, bx, cx) * DOTS));
    const low = Math.max(0, Math.ceil(Math.min(ay, by, cy) * DOTS));
    const high = Math.min(rows - 1, Math.floor(Math.max(ay, by, cy) * DOTS));
    const [ad, bd, cd] = [depth[a]!, depth[b]!, depth[c]!];
    // Barycentric weights of b and c change evenly from dot to dot.
    const uStep = (cy - ay) / twice / DOTS;
    const vStep = (ay - by) / twice / DOTS;
    for (let row = low; row <= high; row++) {
      const px = left / DOTS - ax;
      const py = row / DOTS - ay;
      let u = (px * (cy - ay) - py * (cx - ax)) / twice;
      let v = ((bx - ax) * py - (by - ay) * px) / twice;
      for (let at = row * columns + left; at <= row * columns + right; at++, u += uStep, v += vStep) {
        if (u < -1e-9 || v < -1e-9 || u + v > 1 + 1e-9) continue;
        const here = ad + u * (bd - ad) + v * (cd - ad);
        if (here > nearest[at]!) nearest[at] = here;
      }
    }
  }
  return {
    // A line along an edge of the part has the surface on one side and something farther off on the other, so it is
    // in sight when any dot about it is not nearer.
    visible(px, py, d) {
      const column = Math.round(px * DOTS);
      const row = Math.round(py * DOTS);
      for (let i = row - 1; i <= row + 1; i++) {
        for (let j = column - 1; j <= column + 1; j++) {
          if (i < 0 || j < 0 || i >= rows || j >= columns) return true;
          if (nearest[i * columns + j]! <= d + BEHIND / DOTS) return true;
        }
      }
      return false;
    },
  };
}
