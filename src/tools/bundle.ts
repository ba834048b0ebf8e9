/**
 * Bundles what was compiled: `dist/command`, the program behind the command, and `dist/page`, the threads of the page
 * with their fonts. Both are split, so that what is loaded is what is needed.
 *
 * The library itself stays as it is compiled: a module of somebody else's that imports it must meet the very same
 * classes in the thread that runs it, so that thread is not bundled either.
 */
import { copyFileSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type OutputAsset, type OutputChunk, rolldown } from 'rolldown';
import { isCommon } from '../browser/commonLetters.ts';
import { fontFiles } from '../drawing/nodeFonts.ts';
import { pageFiles } from '../server/pageFiles.ts';
import { VERSION } from '../version.ts';
import { english } from '../words/english.ts';
import { smallFont } from './smallFont.ts';

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
      thread: join(dist, 'step/occt/thread.js'),
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
  writeFileSync(join(folder, 'licences.txt'), licencesOf(output));
}

/** What pdfkit needs for fonts packed as WOFF2, which ours are not: a third of it. */
const UNPACKER = /^brotli\//;

/** How a schema is told as JSON Schema, which a page never does; every kind of schema brings it along. */
const JSON_SCHEMA = /zod\/v4\/core\/(to-json-schema|json-schema-processors)\.js$/;

/** Words that the command and the service say, and a browser never, or when they are asked for (`browser/laterWords.ts`). */
const UNSAID =
  /dist\/words\/(command\/\w+|page\/index|messages\/(batch|cli|gather|layout|server|step)|contactSheet|hand|parts|terminal)\.js$/;

/** Stands behind the name of a module in whose place there is a stub. */
const STUB = '?stub';

/** The compiled modules that one loads before it runs: not those that it imports when they are needed. */
function loadedFirst(entry: string): ReadonlySet<string> {
  const found = new Set([entry]);
  for (const file of found) {
    for (const [, name] of readFileSync(file, 'utf8').matchAll(/^(?:import|export|\}) ?.*from '(\.[^']+)'/gm))
      found.add(join(dirname(file), name!));
  }
  return found;
}

/** A module with the names that another one exports, all of one value. */
const exported = (text: string, value: string): string =>
  [...text.matchAll(/^export (?:const|function) (\w+)/gm)]
    .map(([, name]) => `export const ${name} = ${value};`)
    .join('\n');

async function bundleBrowser(): Promise<void> {
  const folder = join(dist, 'page');
  const root = join(dist, '..');
  const first = loadedFirst(join(dist, 'browser/work.js'));
  const bundle = await rolldown({
    input: {
      worker: join(dist, 'browser/worker.js'),
      solver: join(root, 'web/solver.ts'),
      app: join(root, 'web/app.ts'),
      bench: join(root, 'web/bench.ts'),
      sw: join(root, 'web/sw.ts'),
    },
    platform: 'browser',
    plugins: [
      {
        name: 'what a browser needs',
        resolveId(name, importer) {
          // The table has them as stubs; whoever needs them asks for the file itself.
          if (importer?.endsWith('dist/words/english.js')) {
            const id = join(dirname(importer), name);
            if (UNSAID.test(id)) return `${id}${STUB}`;
          }
          // Written for a language, beside the others.
          if (name === './words.js') return { id: name, external: 'relative' };
          if (UNPACKER.test(name)) return { id: 'unpacker' };
          // The others are for Node.
          const [, library] = /^(csv-(?:parse|stringify))\/sync$/.exec(name) ?? [];
          return library === undefined ? null : this.resolve(`${library}/browser/esm/sync`);
        },
        load(id) {
          if (id === 'unpacker') return 'export default () => { throw new Error("WOFF2"); };';
          if (JSON_SCHEMA.test(id))
            return exported(readFileSync(id, 'utf8'), '() => { throw new Error("JSON Schema"); }');
          if (!id.endsWith(STUB)) return null;
          const text = readFileSync(id.slice(0, -STUB.length), 'utf8');
          // What language it is has to be known all the same.
          const [language = ''] = /^\s*language: '[\w-]+',$/m.exec(text) ?? [];
          return exported(text, `{${language}}`);
        },
      },
    ],
  });
  rmSync(folder, { recursive: true, force: true });
  const { output } = await bundle.write({
    dir: folder,
    format: 'esm',
    minify: true,
    entryFileNames: '[name].js',
    chunkFileNames: '[name]-[hash].js',
    codeSplitting: {
      groups: [
        // What the thread sets before anything else is loaded must not be in a file with the rest.
        { name: 'first', test: /dist\/elementary\.js$|zod\/v4\/core\/core\.js$/, priority: 1 },
        { name: 'tray', test: (id) => id.endsWith(STUB) || (first.has(id) && !UNSAID.test(id)) },
        // What form and bench view share comes with what solves, which both load.
        {
          name: 'solver',
          test: (id) =>
            id.startsWith(join(root, 'src/')) ||
            /web\/(files|kept|page|service|solver|solving)\.ts$/.test(id),
        },
        { name: 'three', test: /node_modules\/three\// },
        { name: 'pdf', test: /node_modules\/(pdfkit|fontkit|fflate|@noble\/ciphers|linebreak|png-js)\// },
      ],
    },
  });
  await bundle.close();
  for (const file of output) {
    // Hints for a further bundler, which nobody runs over these files.
    if (file.type === 'chunk')
      writeFileSync(
        join(folder, file.fileName),
        file.code.replace(/(\w?)\/\* ?[@#]__(?:PURE|NO_SIDE_EFFECTS)__ ?\*\/ ?/g, (_, before) =>
          before === '' ? '' : `${before} `,
        ),
      );
  }
  for (const file of readdirSync(join(root, 'web')).filter((name) => /\.(css|svg)$/.test(name)))
    copyFileSync(join(root, 'web', file), join(folder, file));
  mkdirSync(join(folder, 'fonts'));
  for (const [weight, path] of Object.entries(fontFiles())) {
    const bytes = readFileSync(path);
    writeFileSync(join(folder, `fonts/arimo-${weight}.ttf`), bytes);
    writeFileSync(join(folder, `fonts/arimo-common-${weight}.ttf`), smallFont(bytes, isCommon));
  }
  const font = readFileSync(join(dirname(fontFiles().regular), '../LICENSE_FONT'), 'utf8');
  writeFileSync(
    join(folder, 'licences.txt'),
    `${licencesOf(output)}\n${'-'.repeat(78)}\n\nArimo (OFL-1.1)\n\n${font.trim()}\n`,
  );
}

/** The licences of the packages that a bundle has in it: they ask that their text goes with every copy. */
function licencesOf(output: readonly (OutputChunk | OutputAsset)[]): string {
  const folders = new Set<string>();
  for (const file of output) {
    for (const id of file.type === 'chunk' ? file.moduleIds : []) {
      const [, folder] = /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(id) ?? [];
      if (folder !== undefined) folders.add(folder);
    }
  }
  return [...folders]
    .sort()
    .map((folder) => {
      const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      const file = readdirSync(folder).find((each) => /^licen[cs]e/i.test(each));
      const text = file === undefined ? '' : `\n${readFileSync(join(folder, file), 'utf8').trim()}\n`;
      return `${name} ${version} (${license})\n${text}`;
    })
    .join(`\n${'-'.repeat(78)}\n\n`);
}

/** The documents and texts of the page in English, so that any server of files can serve it. */
function writePage(): void {
  const built = join(dist, 'page');
  const documents = join(dist, '..', 'web');
  for (const [path, { body }] of pageFiles({ documents, built }, english, VERSION))
    if (path !== '/') writeFileSync(join(built, path), body);
}

await bundleCommand();
await bundleBrowser();
writePage();
