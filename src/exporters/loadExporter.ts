/**
 * Loads a third party's exporter from a file or from an installed package. Node only.
 *
 * The module is run with all the rights of this process: load only what you would run yourself.
 */
import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { isAbsolute, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import type { Exporter } from './contract.ts';
import { exporterFaults } from './exporterFaults.ts';

/**
 * The exporters of a module: its default export, or its export named `exporter`; either may be one exporter
 * or a list of them.
 *
 * @param name a path (begins with `./`, `../` or `/`, or is a file URL) or the name of a package
 * @param folder where a relative path starts and where the search for a package begins; a package not found
 *   from there is looked for beside this one
 * @throws GatherpanError NOT_FOUND when there is no such file or package; BAD_INPUT when the module cannot be
 *   run, or when what it exports is not an exporter
 */
export async function loadExporter(name: string, folder = process.cwd()): Promise<readonly Exporter[]> {
  const say = words().messages.exporters;
  const loaded = await run(name, exporterAddress(name, folder));
  const value = loaded.default ?? loaded.exporter;
  if (value === undefined) {
    throw new GatherpanError('BAD_INPUT', say.exportsNone(quoted(name)));
  }
  const list: readonly unknown[] = Array.isArray(value) ? value : [value];
  if (list.length === 0) {
    throw new GatherpanError('BAD_INPUT', say.exportsEmpty(quoted(name)));
  }
  const faults = list.flatMap((entry, position) => exporterFaults(entry, position + 1));
  if (faults.length > 0) {
    throw new GatherpanError(
      'BAD_INPUT',
      faults.map((fault) => ({ ...fault, message: say.inModule(quoted(name), fault.message) })),
    );
  }
  return list as readonly Exporter[];
}

/**
 * The address of the module's file.
 *
 * @throws GatherpanError NOT_FOUND when there is no such file or package
 */
export const exporterAddress = (name: string, folder: string): string =>
  isPath(name) ? addressOfFile(name, folder) : addressOfPackage(name, folder);

const isPath = (name: string): boolean => /^(\.{1,2}([/\\]|$)|file:)/.test(name) || isAbsolute(name);

function addressOfFile(name: string, folder: string): string {
  const path = name.startsWith('file:') ? fileURLToPath(name) : resolve(folder, name);
  if (!existsSync(path)) {
    throw new GatherpanError('NOT_FOUND', words().messages.exporters.moduleNotFound(quoted(name)));
  }
  return pathToFileURL(path).href;
}

function addressOfPackage(name: string, folder: string): string {
  // A file name in the folder is what createRequire starts from; the file itself need not exist.
  for (const start of [pathToFileURL(join(folder, 'start.js')).href, import.meta.url]) {
    const require = createRequire(start);
    try {
      return pathToFileURL(require.resolve(name)).href;
    } catch (error) {
      const code = (error as { code?: unknown }).code;
      if (code === 'ERR_PACKAGE_PATH_NOT_EXPORTED') {
        const address = importOnlyAddress(name, require.resolve.paths(name) ?? []);
        if (address !== undefined) return address;
      }
    }
  }
  const say = words().messages.exporters;
  throw new GatherpanError(
    'NOT_FOUND',
    existsSync(resolve(folder, name))
      ? say.notInstalledButFile(quoted(name), `./${name}`)
      : say.notInstalled(quoted(name)),
  );
}

/**
 * The main module of a package that only offers itself to `import`. `require.resolve` cannot see it, and
 * Node 20 has no resolver for `import` that starts from a folder of choice.
 */
function importOnlyAddress(name: string, nodeModules: readonly string[]): string | undefined {
  for (const parent of nodeModules) {
    const root = join(parent, name);
    const file = join(root, 'package.json');
    if (!existsSync(file)) continue;
    const { exports } = JSON.parse(readFileSync(file, 'utf8')) as { exports?: unknown };
    const target = importTarget((exports as Record<string, unknown> | null)?.['.'] ?? exports);
    return target === undefined ? undefined : pathToFileURL(join(root, target)).href;
  }
  return undefined;
}

/** Follows conditional exports in their written order (Node.js documentation, Packages, conditional exports). */
function importTarget(entry: unknown): string | undefined {
  if (typeof entry === 'string') return entry;
  if (typeof entry !== 'object' || entry === null) return undefined;
  for (const [condition, inner] of Object.entries(entry)) {
    if (condition !== 'import' && condition !== 'node' && condition !== 'default') continue;
    const target = importTarget(inner);
    if (target !== undefined) return target;
  }
  return undefined;
}

async function run(name: string, address: string): Promise<Record<string, unknown>> {
  try {
    return (await import(address)) as Record<string, unknown>;
  } catch (error) {
    const reason = error instanceof Error ? error.message.split('\n')[0]! : String(error);
    throw new GatherpanError('BAD_INPUT', words().messages.exporters.notRun(quoted(name), reason));
  }
}

const quoted = (name: string): string => JSON.stringify(name);
