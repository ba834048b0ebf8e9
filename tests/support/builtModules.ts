/**
 * Tests name modules by their sources and run what was built of them: what people get, and without Vite's wrapping of every
 * import. Only tests that put something else in a module's place need the sources themselves.
 */
import { existsSync, readdirSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Plugin } from 'vitest/config';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
const SOURCES = `${ROOT}src/`;

/** Files that no module is imported from. */
const NOT_BUILT = /\.(as|d)\.ts$/;

const builtFrom = (source: string): string =>
  `${ROOT}dist/${source.slice(SOURCES.length).replace(/\.ts$/, '.js')}`;

export const builtModules: Plugin = {
  name: 'built modules',
  enforce: 'pre',
  resolveId(name, importer) {
    if (importer === undefined || !name.startsWith('.')) return null;
    const file = fileURLToPath(new URL(name, `file://${importer}`));
    return file.startsWith(SOURCES) && file.endsWith('.ts') ? builtFrom(file) : null;
  },
};

/** What was built is loaded by Node as it is. */
export const BUILT_AS_IT_IS = { deps: { external: [/\/dist\/.*\.js$/] } };

/** @throws when a source is newer than what was built of it */
export default function setup(): void {
  for (const name of readdirSync(SOURCES, { recursive: true, encoding: 'utf8' })) {
    if (!name.endsWith('.ts') || NOT_BUILT.test(name)) continue;
    const built = builtFrom(SOURCES + name);
    if (!existsSync(built) || statSync(built).mtimeMs < statSync(SOURCES + name).mtimeMs)
      throw new Error(
        `src/${name} is newer than what was built of it: run \`npm run build\` before the tests.`,
      );
  }
}
