/** The version of this package, as its own package.json says. Node only. */
import { readFileSync } from 'node:fs';

export function packageVersion(): string {
  const text = readFileSync(new URL('../../../package.json', import.meta.url), 'utf8');
  return String((JSON.parse(text) as { version?: unknown }).version ?? '');
}
