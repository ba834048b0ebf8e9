/** Writes the JSON Schemas of tray and measurements files beside the built package. Part of `npm run build`. */
import { writeFileSync } from 'node:fs';
import { measurementsJsonSchema } from '../gather/measurements.ts';
import { trayJsonSchema } from '../tray/schema.ts';

for (const [name, schema] of [
  ['tray', trayJsonSchema()],
  ['measurements', measurementsJsonSchema()],
] as const)
  writeFileSync(new URL(`../${name}.schema.json`, import.meta.url), `${JSON.stringify(schema, null, 2)}\n`);
