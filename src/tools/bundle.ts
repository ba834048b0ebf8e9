/**
 * Bundles what was compiled: `dist/command`, the program behind the command, split so that each command loads what it
 * needs and no more.
 *
 * The library itself stays as it is compiled: a module of somebody else's that imports it must meet the very same
 * classes in the thread that runs it, so that thread is not bundled either.
 */
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type OutputChunk, rolldown } from 'rolldown';

const dist = fileURLToPath(new URL('../', import.meta.url));

/** Packages that every tray needs. The others are loaded from where they are installed. */
const INSIDE = [
  'commander',
  'delaunator',
  'dxf-writer',
  'fastest-levenshtein',
  'flatbush',
  'flatqueue',
  'robust-predicates',
  'zod',
];

const packageOf = (name: string): string =>
  name
    .split('/')
    .slice(0, name.startsWith('@') ? 2 : 1)
    .join('/');

async function bundleCommand(): Promise<void> {
  const folder = join(dist, 'command');
  rmSync(folder, { recursive: true, force: true });
  const bundle = await rolldown({
    // Threads are found by their names beside the program.
    input: {
      gatherpan: join(dist, 'cli/start.js'),
      poolWorker: join(dist, 'batch/poolWorker.js'),
      worker: join(dist, 'server/worker.js'),
      thread: join(dist, 'step/kernel/thread.js'),
    },
    platform: 'node',
    external: (name) => /^[a-z@]/.test(name) && !INSIDE.includes(packageOf(name)),
  });
  const { output } = await bundle.write({
    dir: folder,
    format: 'esm',
    entryFileNames: '[name].js',
    chunkFileNames: '[name]-[hash].js',
    // One file for what every tray goes through, because each one more takes time to open.
    codeSplitting: {
      groups: [
        {
          name: 'tray',
          test: new RegExp(
            `dist/(words|geometry|material|dxf|tray|mesh|solve|gather|pattern)/|dist/\\w+\\.js$|node_modules/(${INSIDE.filter((name) => name !== 'commander').join('|')})/`,
          ),
        },
      ],
    },
  });
  await bundle.close();
  writeFileSync(join(folder, 'exporterThread.js'), "import '../jobs/exporterThread.js';\n");
  writeFileSync(
    join(folder, 'licences.txt'),
    licencesOf(output.filter((file): file is OutputChunk => file.type === 'chunk')),
  );
}

/** The licences of the packages that a bundle has in it: they ask that their text goes with every copy. */
function licencesOf(chunks: readonly OutputChunk[]): string {
  const folders = new Set<string>();
  for (const { moduleIds } of chunks) {
    for (const id of moduleIds) {
      const [, folder] = /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(id) ?? [];
      if (folder !== undefined) folders.add(folder);
    }
  }
  return [...folders]
    .sort()
    .map((folder) => {
      const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
      if (file === undefined) throw new Error(`${relative(dirname(dist), folder)} has no licence in it`);
      return `${name} ${version} (${license})\n\n${readFileSync(join(folder, file), 'utf8').trim()}\n`;
    })
    .join(`\n${'-'.repeat(78)}\n\n`);
}

await bundleCommand();
