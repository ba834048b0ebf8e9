/**
 * What a third party's module is made of, as one hash: what its exporters write may be another thing as soon as it
 * changes. Node only.
 */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { createRequire, isBuiltin } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** What `import`, `export … from`, `import()` and `require()` name. What a comment names is taken too: it does no harm. */
const NAMED = /\b(?:from|import|require)\s*\(?\s*(['"])([^'"\n]+)\1/g;

/**
 * A hash of the module's file, of the files that it and they import by a path, and of the versions of the packages they
 * import. It does not depend on the folder they lie in. What a module reads otherwise, or imports under a name that it
 * puts together, is not seen.
 *
 * @param address of the module's file, see `exporterAddress`
 * @returns SHA-256, hexadecimal
 */
export function moduleSource(address: string): string {
  const hash = createHash('sha256');
  const files = [fileURLToPath(address)];
  const seen = new Set(files);
  const packages = new Set<string>();
  // In the order in which they are named, which the files themselves decide.
  for (const file of files) {
    const bytes = readFileSync(file);
    hash.update(createHash('sha256').update(bytes).digest());
    if (!/\.[cm]?[jt]s$/.test(file)) continue;
    const require = createRequire(file);
    for (const [, , name] of bytes.toString('utf8').matchAll(NAMED)) {
      if (isBuiltin(name!)) continue;
      if (/^(\.{1,2}\/|\/|file:)/.test(name!)) {
        const path = fileNamed(name!, require);
        hash.update(path === null ? `${name} is missing\n` : `${name}\n`);
        if (path === null || seen.has(path)) continue;
        seen.add(path);
        files.push(path);
      } else packages.add(`${name} ${versionOf(name!, require)}`);
    }
  }
  for (const each of [...packages].sort()) hash.update(`${each}\n`);
  return hash.digest('hex');
}

function fileNamed(name: string, require: NodeJS.Require): string | null {
  try {
    return require.resolve(name.startsWith('file:') ? fileURLToPath(name) : name);
  } catch {
    return null;
  }
}

/** From the package's own file, which its exports may hide from `require`. */
function versionOf(name: string, require: NodeJS.Require): string {
  const own = name
    .split('/')
    .slice(0, name.startsWith('@') ? 2 : 1)
    .join('/');
  for (const folder of require.resolve.paths(own) ?? []) {
    const file = join(folder, own, 'package.json');
    if (existsSync(file)) return String(JSON.parse(readFileSync(file, 'utf8')).version);
  }
  return 'unknown';
}
