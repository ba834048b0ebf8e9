/** The report read back by the JavaScript engine's own JSON parser, with its shape checked by hand. */
import type { Vertex } from '../../../src/geometry/path.ts';
import type { ReadDrawing } from './readDrawing.ts';

export function readReport(bytes: Uint8Array): ReadDrawing {
  const report = JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  return {
    unit: report.units.length,
    // The format says that outline and holes are closed; a closed list does not repeat its first vertex.
    loops: [report.outline, ...report.holes.map((hole: { vertices: unknown }) => hole.vertices)].map(
      (list: readonly Vertex[]) => {
        const vertices = list.map(({ x, y, bulge }) => ({ x, y, bulge }));
        const [first, last] = [vertices[0], vertices.at(-1)];
        return { closed: !(first?.x === last?.x && first?.y === last?.y), vertices };
      },
    ),
  };
}
