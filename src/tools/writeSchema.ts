/** Writes the JSON Schema of tray files beside the built package. Part of `npm run build`. */
import { writeFileSync } from 'node:fs';
import { trayJsonSchema } from '../tray/schema.ts';

writeFileSync(
  new URL('../tray.schema.json', import.meta.url),
  `${JSON.stringify(trayJsonSchema(), null, 2)}\n`,
);
