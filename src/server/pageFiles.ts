/**
 * The files of the page that hold words: two documents with places for them, a module for the scripts, and the list of
 * what is kept for use without network. They are made by the build, in English, and once more when a service starts, in
 * the language that it speaks, so that nobody ever sees a page without its words.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { escaped } from '../drawing/svg.ts';
import { type FieldValue, fieldValue } from '../tray/trayForm.ts';
import { type TrayObject, unitsOf } from '../tray/writtenTray.ts';
import type { Words } from '../words/english.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { formRows } from './formRows.ts';
import { html } from './html.ts';
import { pageWords, wordsModule } from './pageWords.ts';

export interface PageFile {
  /** Media type. */
  readonly type: string;
  readonly body: string;
}

/** Where the page's documents are, with places for texts, and what the build has made of the rest. */
export interface PageFolders {
  readonly documents: string;
  readonly built: string;
}

/** The file that keeps the page for use without network; its first line says of which files, see `web/sw.ts`. */
const KEEPER = 'sw.js';
/** Files beside the page that it does not need. */
const NOT_KEPT = /^(sw\.js|licences\.txt|index\.html)$/;

/**
 * @returns by the path they are asked for
 * @throws Error for a place in a document that the table has no text for
 */
export function pageFiles(
  { documents, built }: PageFolders,
  table: Words,
  version: string,
): ReadonlyMap<string, PageFile> {
  const { bench, problems, language } = table.page;
  const file = (name: string, texts: object): PageFile => ({
    type: 'text/html',
    body: filled(readFileSync(join(documents, name), 'utf8'), texts, language),
  });
  const page = { type: 'text/html', body: withTray(emptyPage(documents, table), DEMO_TRAY, table) };
  const files = new Map([
    ['/', page],
    ['/index.html', page],
    ['/bench.html', file('bench.html', bench)],
    ['/problems.html', file('problems.html', problems)],
    ['/words.js', { type: 'text/javascript', body: wordsModule(table, version) }],
  ]);
  return files.set(`/${KEEPER}`, { type: 'text/javascript', body: keeper(built, files) });
}

/** The page without a tray in its form. @throws Error as `pageFiles` */
export const emptyPage = (documents: string, { page }: Words): string =>
  filled(readFileSync(join(documents, 'index.html'), 'utf8'), page.index, page.language);

/** The page for the bench without its scripts and what they work in. @throws Error as `pageFiles` */
export const emptyBench = (documents: string, { page }: Words): string =>
  filled(readFileSync(join(documents, 'bench.html'), 'utf8'), page.bench, page.language)
    .replace(/<script[^>]*><\/script>\n/, '')
    .replace(/<main>.*<\/nav>/s, '<main>\n</main>');

/** The same with the sheets in it, or what was wrong. */
export const withSheets = (page: string, sheets: string): string =>
  page.replace('<main>', (main) => main + sheets);

/** The form with the rows that a tray has in it, still empty. */
export const withRows = (page: string, tray: TrayObject, table: Words): string =>
  Object.entries(formRows(tray, pageWords(table))).reduce(
    (made, [id, rows]) => made.replace(`id="${id}">`, (place) => place + html(rows)),
    page,
  );

/** The form with a tray in it: without scripts nobody else fills it. */
export function withTray(page: string, tray: TrayObject, table: Words): string {
  const value = (name: string, box = ''): FieldValue => fieldValue(tray, name, box);
  return withRows(page, tray, table)
    .replaceAll('name="base" value=""', () => `name="base" value="${escaped(JSON.stringify(tray))}"`)
    .replace(INPUT, (_, before: string, name: string) => `${before} value="${escaped(String(value(name)))}"`)
    .replace(
      BOX,
      (_, before: string, name: string, box: string) =>
        `${before}${value(name, box) === true ? ' checked' : ''}`,
    )
    .replace(
      SELECT,
      (_, before: string, name: string, options: string) =>
        before + options.replace(`<option value="${String(value(name))}"`, (option) => `${option} selected`),
    )
    .replace(/ checked>(?=<span>(?:mm|in)<)/, '>')
    .replace(`name="page-unit" value="${unitsOf(tray)}"`, (radio) => `${radio} checked`);
}
const INPUT = /(<input id="[\w-]+" name="([^"]+)")(?= )/g;
const BOX = /(<input id="[\w-]+" type="checkbox" name="([\w.]+)" value="([^"]+)")/g;
const SELECT = /(<select id="[\w-]+" name="([\w.]+)"[^>]*>)(.*?<\/select>)/g;

/** What the fields of the form are called, by their paths. */
export const labelsIn = (page: string): readonly (readonly [path: string, label: string])[] =>
  [...page.matchAll(/<label for="[\w-]+">([^<]*)<\/label><(?:input|select) id="[\w-]+" name="([^"]+)"/g)].map(
    ([, label, path]) => [path!, label!] as const,
  );

/** The page with the answer to what was posted, in the place of what scripts would show. */
export const withAnswer = (page: string, answer: string): string =>
  page.replace('<section id="result"', () => `${answer}\n<section id="result"`);

/** What keeps the page, with the sums of its files in front: a version is the sum of those. */
function keeper(built: string, made: ReadonlyMap<string, PageFile>): string {
  const sum = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');
  const found = readdirSync(built, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(built, join(entry.parentPath, entry.name)).split(sep).join('/'));
  const names = [...new Set([...found, ...[...made.keys()].map((path) => path.slice(1))])]
    .filter((name) => name !== '' && !NOT_KEPT.test(name))
    .sort();
  const sums = Object.fromEntries([
    ['./', sum(made.get('/')!.body)],
    ...names.map((name) => [name, sum(made.get(`/${name}`)?.body ?? readFileSync(join(built, name)))]),
  ]);
  const code = readFileSync(join(built, KEEPER), 'utf8').replace(/^const VERSION = .*\n/, '');
  const files = JSON.stringify(sums);
  return `const VERSION = '${sum(files).slice(0, 16)}', FILES = ${files};\n${code}`;
}

/** A document with its texts: `{{form.title}}` is where the one of that path goes. */
const filled = (template: string, texts: object, language: string): string =>
  template
    .replace('<html lang="en">', () => `<html lang="${escaped(language)}">`)
    .replace(/(=")?\{\{([\w.]+)\}\}/g, (_, attribute: string | undefined, path: string) => {
      const text = escaped(textAt(texts, path));
      return attribute === undefined ? marked(text) : `${attribute}${text}`;
    });

function textAt(texts: object, path: string): string {
  let at: unknown = texts;
  for (const part of path.split('.')) at = (at as Readonly<Record<string, unknown>> | undefined)?.[part];
  if (typeof at !== 'string') throw new Error(`the page has no text ${path}`);
  return at;
}

/** `code`, and the address of a link on this service, as in Markdown. The page may stand below the root: the link is relative. */
const marked = (text: string): string =>
  text.replace(/`([^`]+)`/g, '<code>$1</code>').replace(/&lt;\/([^\s&]+)&gt;/g, '<a href="$1">/$1</a>');
