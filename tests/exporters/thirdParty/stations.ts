/**
 * An exporter as a third party would write it: it knows nothing but the published package.
 *
 * A list of stations for marking out by hand: every loop to be cut begins with a line that names it, then
 * comes one corner a line: x and y in mm from the plan's origin, and the bulge of the piece that starts there.
 */
import type { Exporter, FlatPattern, ParameterValues } from 'gatherpan';

const SEPARATORS: Readonly<Record<string, string>> = { tab: '\t', semicolon: ';' };

const stations: Exporter = {
  contract: 2,
  id: 'stations',
  label: 'Stations for marking out by hand',
  extension: 'txt',
  mediaType: 'text/plain; charset=utf-8',
  parameters: [
    {
      name: 'separator',
      type: 'choice',
      default: 'tab',
      choices: Object.keys(SEPARATORS),
      help: 'what stands between the numbers of a line',
    },
  ],
  write,
};

export default stations;

async function write(pattern: FlatPattern, values: ParameterValues): Promise<Uint8Array> {
  const separator = SEPARATORS[String(values.separator)] ?? '\t';
  const loops = [{ name: 'outline', path: pattern.outline }, ...pattern.holes];
  const lines = loops.flatMap(({ name, path }) => [
    `# ${name}, mm, ${path.closed ? 'closed' : 'open'}`,
    ...path.vertices.map(({ x, y, bulge }) => [x, y, bulge].join(separator)),
  ]);
  return new TextEncoder().encode(`${lines.join('\n')}\n`);
}
