/**
 * What decides the bytes of a file besides what is asked for: the program itself. Its version in words does not say
 * it, because a program can be built anew under the same version, or stand on other libraries.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { once } from '../once.ts';

/** The folder of the compiled program, or of the sources when these are run. */
const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** Libraries that write bytes of a file, or numbers in it. */
const LIBRARIES = [
  '@resvg/resvg-js',
  'csv-stringify',
  'delaunator',
  'dxf-parser',
  'dxf-writer',
  'jszip',
  'opencascade.js',
  'pdfkit',
];

/**
 * A hash of the program's own code, the versions of the libraries that write, and the parts of Node that numbers and
 * compressed bytes come from. Hexadecimal; the same on every machine that runs the same.
 */
export const programFingerprint = once((): string => {
  const hash = createHash('sha256');
  const names = readdirSync(ROOT, { recursive: true, encoding: 'utf8' })
    .filter((name) => /(?<!\.d)\.[jt]s$/.test(name))
    .map((name) => name.replaceAll('\\', '/'))
    .sort();
  for (const name of names) {
    hash.update(`${name}\n`).update(
      createHash('sha256')
        .update(readFileSync(join(ROOT, name)))
        .digest(),
    );
  }
  for (const name of LIBRARIES) hash.update(`${name} ${versionOf(name)}\n`);
  const { v8, zlib } = process.versions;
  hash.update(`v8 ${v8} zlib ${zlib}\n`);
  return hash.digest('hex');
});

/** From the package's own file, which its exports may hide from `require`. */
function versionOf(name: string): string {
  const folders = createRequire(import.meta.url).resolve.paths(name) ?? [];
  for (const folder of folders) {
    try {
      const { version } = JSON.parse(readFileSync(join(folder, name, 'package.json'), 'utf8'));
      return String(version);
    } catch {
      // Not in this folder.
    }
  }
  return 'unknown';
}
