/** Writes the JSON Schemas of tray files, of measurements and of kept trials beside the built package. Part of `npm run build`. */
import { writeFileSync } from 'node:fs';
import { trialsJsonSchema } from '../gather/keptTrials.ts';
import { measurementsJsonSchema } from '../gather/measurements.ts';
import { trayJsonSchema } from '../tray/schema.ts';

for (const [name, schema] of [
  ['tray', trayJsonSchema()],
  ['measurements', measurementsJsonSchema()],
  ['trials', trialsJsonSchema()],
] as const)
  writeFileSync(new URL(`../${name}.schema.json`, import.meta.url), `${JSON.stringify(schema, null, 2)}\n`);
