import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

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
  'cli',
  'tools',
];
/** Folders that must also run in a browser. */
const EVERYWHERE = [
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
  'papers',
];
/** The entry points, which gather from everywhere. */
const ENTRIES = ['index.ts'];

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter(
  (file) => file.endsWith('.ts') && !file.endsWith('.d.ts') && !file.endsWith('.as.ts'),
);

const folderOf = (file: string): string => (file.includes(sep) ? file.split(sep)[0]! : 'units');

/** Every module a file names in an import, export … from or import(). */
function importsOf(file: string): string[] {
  const text = readFileSync(join(SRC, file), 'utf8');
  return [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((match) => match[1]!);
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
        const target = relative(SRC, resolve(SRC, dirname(file), name));
        if (ORDER.indexOf(folderOf(target)) > ORDER.indexOf(folderOf(file)))
          wrong.push(`${file} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('keep the solve free of Node, so that it runs in a browser', () => {
    const wrong = files
      .filter((file) => EVERYWHERE.includes(folderOf(file)) && !ENTRIES.includes(file))
      .flatMap((file) =>
        importsOf(file)
          .filter((name) => name.startsWith('node:'))
          .map((name) => `${file}: ${name}`),
      );
    expect(wrong).toEqual([]);
  });
});
