import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import * as elementary from '../src/elementary.ts';

const SRC = fileURLToPath(new URL('../src/', import.meta.url));

/** Folders in the order in which they may build on each other; files directly in src count as `units`. */
const ORDER = [
  'units',
  'words',
  'geometry',
  'material',
  'dxf',
  'tray',
  'mesh',
  'solve',
  'gather',
  'pattern',
  'drawing',
  'papers',
  'step',
  'exporters',
  'jobs',
  'batch',
  'layout',
  'server',
  'browser',
  'cli',
  'tools',
];
/** The entry points, which gather from everywhere. */
const ENTRIES = ['index.ts', 'node.ts'];
/** What a browser loads: these, and whatever they import, now or later. */
const IN_BROWSERS = ['index.ts', 'browser/worker.ts'];
/** Packages that a browser can run. */
const PACKAGES_IN_BROWSERS = [
  '@noble/hashes/sha2.js',
  '@noble/hashes/utils.js',
  'csv-parse/sync',
  'csv-stringify/sync',
  'delaunator',
  'dxf-writer',
  'dxf-writer/src/DatabaseObject.js',
  'dxf-writer/src/Handle.js',
  'fastest-levenshtein',
  'flatbush',
  'jszip',
  'pdfkit',
  'zod',
];

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter(
  (file) => file.endsWith('.ts') && !file.endsWith('.d.ts') && !file.endsWith('.as.ts'),
);

const folderOf = (file: string): string => (file.includes(sep) ? file.split(sep)[0]! : 'units');

const textOf = (file: string): string => readFileSync(join(SRC, file), 'utf8');
const importedBy = (text: string): string[] =>
  [...text.matchAll(/\b(?:from |import |import\(\s*)'([^'\n]+)'/g)].map((match) => match[1]!);
const sourceNamed = (name: string, by: string): string => relative(SRC, resolve(SRC, dirname(by), name));

/** Every module a file names in an import, export … from or import(). */
const importsOf = (file: string): string[] => importedBy(textOf(file));

/** The same without what is there for its types alone, which the compiler takes away. */
const loadedBy = (file: string): string[] =>
  importedBy(textOf(file).replace(/^(?:import|export) type [^;]*;/gms, ''));

/** The files that these load, each with the one that names it. */
function reached(entries: readonly string[]): ReadonlyMap<string, string> {
  const found = new Map(entries.map((file) => [file, file]));
  for (const file of found.keys()) {
    for (const name of loadedBy(file)) {
      const source = sourceNamed(name, file);
      if (name.startsWith('.') && !found.has(source)) found.set(source, file);
    }
  }
  return found;
}

describe('imports', () => {
  it('name only folders in the known order', () => {
    expect([...new Set(files.map(folderOf))].filter((folder) => !ORDER.includes(folder))).toEqual([]);
  });

  it('run one way: a folder builds only on those before it', () => {
    const wrong: string[] = [];
    for (const file of files) {
      if (ENTRIES.includes(file)) continue;
      for (const name of importsOf(file)) {
        if (!name.startsWith('.')) continue;
        const target = sourceNamed(name, file);
        if (ORDER.indexOf(folderOf(target)) > ORDER.indexOf(folderOf(file)))
          wrong.push(`${file} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('run in no circle, not even for types', () => {
    /** Length of the longest chain of imports from a file. */
    const depths = new Map<string, number>();
    const depthOf = (file: string, way: readonly string[]): number => {
      expect(way).not.toContain(file);
      let depth = depths.get(file);
      if (depth === undefined) {
        const named = importsOf(file).map((name) => sourceNamed(name, file));
        const sources = named.filter((source) => files.includes(source));
        depth = 1 + Math.max(0, ...sources.map((source) => depthOf(source, [...way, file])));
        depths.set(file, depth);
      }
      return depth;
    };
    expect(Math.max(...files.map((file) => depthOf(file, [])))).toBeGreaterThan(10);
  });

  it('keep what a browser loads free of Node and of native modules', () => {
    const found = reached(IN_BROWSERS);
    expect([...found.keys()].map(folderOf)).toEqual(
      expect.arrayContaining(['tray', 'solve', 'gather', 'pattern', 'papers', 'exporters']),
    );
    const wrong = [...found].flatMap(([file, by]) =>
      loadedBy(file)
        .filter((name) => !name.startsWith('.') && !PACKAGES_IN_BROWSERS.includes(name))
        .map((name) => `${file} (for ${by}): ${name}`),
    );
    expect(wrong).toEqual([]);
    const globals = [...found.keys()].filter((file) =>
      /(?<![.\w'"])(?:Buffer|process|__dirname|setImmediate)[.(]/.test(
        textOf(file).replace(/\/\*.*?\*\/|\/\/.*/gs, ''),
      ),
    );
    expect(globals, 'objects that only Node has, without an import').toEqual([]);
    // These are the same in every engine; all others are ours in a browser, see `elementary.ts`.
    const exact =
      /^(PI|SQRT2|SQRT1_2|LN2|LOG2E|LOG10E|E|abs|ceil|floor|fround|hypot|max|min|round|sign|sqrt|trunc|imul|clz32)$/;
    const inexact = [...found.keys()].flatMap((file) =>
      [...textOf(file).matchAll(/\bMath\.(\w+)/g)]
        .map(([, name]) => name!)
        .filter((name) => !exact.test(name) && !(name in elementary))
        .map((name) => `${file}: Math.${name}`),
    );
    expect(inexact).toEqual([]);
    // The build leaves these words out of what a browser loads; those of hands and uploads come when one is asked for.
    const later =
      /^(gather.(handFit|keptTrials|measurements|trial)|batch.(csvRows|rows)|server.(contents|handFound|sniff|table\w+|trialsKept)|browser.laterWords)\.ts$/;
    const unsaid = [...reached(['browser/worker.ts']).keys()].filter(
      (file) =>
        !file.startsWith('words') &&
        !later.test(file) &&
        /\.(command|contactSheet|hand|terminal)\.\w|\.page\.(?!language)|'parts\.|\bmessages\.(batch|cli|gather|layout|server|step)\b/.test(
          textOf(file),
        ),
    );
    expect(unsaid).toEqual([]);
  });
});
