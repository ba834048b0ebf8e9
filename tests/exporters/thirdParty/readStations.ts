/** Reads a list of stations: a few lines of the test's own, since nobody else has a reader for it. */
import type { ReadDrawing } from '../readers/readDrawing.ts';

export function readStations(bytes: Uint8Array): ReadDrawing {
  const blocks = new TextDecoder().decode(bytes).split(/^# /m).slice(1);
  const read = blocks.map((block) => {
    const [heading, ...rows] = block.trimEnd().split('\n');
    const [, unit, state] = /, (\w+), (\w+)$/.exec(heading!)!;
    const vertices = rows.map((row) => {
      const [x, y, bulge] = row.split(/[\t;]/).map(Number);
      return { x: x!, y: y!, bulge: bulge! };
    });
    return { unit: unit!, closed: state === 'closed', vertices };
  });
  return { unit: read[0]?.unit ?? null, loops: read };
}
