/**
 * The cut lines of our SVG as the npm package svg-pathdata reads them.
 *
 * They stand in the group with the id `cut`, in mm of the blank and with SVG's y downwards; the groups around it
 * only bring them to the size of the picture.
 */
import { SVGPathData } from 'svg-pathdata';
import type { Vertex } from '../../../src/geometry/path.ts';
import type { ReadDrawing, ReadLoop } from './readDrawing.ts';

export function readSvg(bytes: Uint8Array): ReadDrawing {
  const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  const unit = /^<svg [^>]*width="[\d.]+([a-z]+)"/.exec(text)?.[1] ?? null;
  const group = /<g id="cut"[^>]*>([\s\S]*?)<\/g>/.exec(text)?.[1] ?? '';
  const loops = [...group.matchAll(/ d="([^"]+)"/g)].flatMap(([, data]) => loopsOf(data!));
  return { unit, loops };
}

function loopsOf(data: string): ReadLoop[] {
  const loops: ReadLoop[] = [];
  let vertices: Vertex[] = [];
  for (const command of new SVGPathData(data).toAbs().commands) {
    switch (command.type) {
      case SVGPathData.MOVE_TO:
        vertices = [{ x: command.x, y: -command.y, bulge: 0 }];
        break;
      case SVGPathData.LINE_TO:
        vertices.push({ x: command.x, y: -command.y, bulge: 0 });
        break;
      case SVGPathData.ARC: {
        const from = vertices.pop()!;
        const to = { x: command.x, y: -command.y, bulge: 0 };
        const chord = Math.hypot(to.x - from.x, to.y - from.y);
        const half = Math.asin(Math.min(1, chord / (2 * command.rX)));
        const sweep = command.lArcFlag ? 2 * Math.PI - 2 * half : 2 * half;
        // A positive sweep flag runs clockwise for eyes that have y upwards.
        vertices.push({ ...from, bulge: (command.sweepFlag ? -1 : 1) * Math.tan(sweep / 4) }, to);
        break;
      }
      case SVGPathData.CLOSE_PATH: {
        const last = vertices.at(-1)!;
        if (vertices.length > 1 && last.x === vertices[0]!.x && last.y === vertices[0]!.y) vertices.pop();
        loops.push({ closed: true, vertices });
        vertices = [];
        break;
      }
      default:
        throw new Error(`the cut line holds a path command of type ${command.type}`);
    }
  }
  if (vertices.length > 0) loops.push({ closed: false, vertices });
  return loops;
}
