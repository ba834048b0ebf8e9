/** Archives: the files of one tray with manifest and order note, or of a whole table. */
import JSZip from 'jszip';
import { GatherpanError } from '../errors.ts';
import { type Mark, USUAL_MARKS } from '../exporters/dxf/choices.ts';
import { filledLayers } from '../exporters/dxf/layers.ts';
import { fileNameOf, fileStem } from '../fileName.ts';
import { isPlainFileName } from '../jobs/plainFileName.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { words } from '../words/language.ts';
import { madeFile, registry } from './develop.ts';
import type { FinishedRow, MadeFile } from './jobs.ts';
import { type Entry, fileEntry, manifestCsv, manifestJson } from './manifest.ts';
import { type OrderedDrawing, orderNote } from './orderNote.ts';
import { rowFigures } from './rowResult.ts';

/** One date for every entry, so that the same tray gives the same bytes. The first that the format can write. */
const DATE = new Date(Date.UTC(1980, 0, 1));

export const ARCHIVE_TYPE = 'application/zip';

/** An archive of these files. Names are checked: no folders, no way out of the folder it is unpacked in. */
export function zipOf(files: readonly Pick<MadeFile, 'name' | 'bytes'>[]): JSZip {
  const zip = new JSZip();
  for (const { name, bytes } of files) {
    if (!isPlainFileName(name) || name.includes('..')) {
      throw new Error('a file name that does not belong in an archive');
    }
    zip.file(name, bytes, { date: DATE, createFolders: false });
  }
  return zip;
}

const ZIP_OPTIONS = {
  compression: 'DEFLATE',
  compressionOptions: { level: 6 },
  platform: 'UNIX',
} as const;

/**
 * Everything for one tray. Of the drawing there are two files: one with what is cut and nothing else, and one with
 * the marks, and their names and the order note say which is which.
 *
 * A format that does not fit this tray is left out and named in the manifest.
 *
 * @param formats ids of exporters; the tray file itself is always in it, but for a part that has none
 */
export async function trayArchive(
  pattern: FlatPattern,
  formats: readonly string[],
  quantity: number,
): Promise<MadeFile> {
  const files: MadeFile[] = pattern.kind === 'part' ? [] : [trayFile(pattern)];
  const missing: string[] = [];
  const drawings: OrderedDrawing[] = [];
  for (const id of formats) {
    const exporter = registry().get(id);
    try {
      if (id === 'dxf') {
        for (const marks of [[], USUAL_MARKS]) {
          const { file, drawing } = await orderedDrawing(pattern, marks);
          files.push(file);
          drawings.push(drawing);
        }
        continue;
      }
      const file = await madeFile(pattern, exporter, registry().values(exporter, {}));
      files.push({ ...file, name: freeName(file.name, id, files) });
    } catch (error) {
      // Not every format fits every tray; the others are no worse for it.
      if (!(error instanceof GatherpanError)) throw error;
      missing.push(`${exporter.label}: ${error.message}`);
    }
  }
  const text = (name: string, content: string): MadeFile => ({
    name,
    mediaType: 'text/plain',
    bytes: new TextEncoder().encode(content),
  });
  files.push(
    text(
      `${fileStem(pattern.name)}-order-note.txt`,
      orderNote(
        pattern,
        quantity,
        drawings,
        files.map(({ name }) => name),
        words(),
      ),
    ),
  );
  const entries: Entry[] = [{ figures: rowFigures(pattern, words()), files: files.map(fileEntry), missing }];
  files.push(text('manifest.csv', manifestCsv(entries)), text('manifest.json', manifestJson(entries)));
  return {
    name: fileNameOf(pattern.name, 'zip'),
    mediaType: ARCHIVE_TYPE,
    bytes: await zipOf(files).generateAsync({ type: 'uint8array', ...ZIP_OPTIONS }),
  };
}

/** A drawing with these marks, and what the order note says of it. */
async function orderedDrawing(
  pattern: FlatPattern,
  marks: readonly Mark[],
): Promise<{ file: MadeFile; drawing: OrderedDrawing }> {
  const exporter = registry().get('dxf');
  const made = await madeFile(pattern, exporter, registry().values(exporter, { marks: marks.join(',') }));
  const cut = marks.length === 0;
  const file = cut ? { ...made, name: made.name.replace(/dxf$/, 'cut.dxf') } : made;
  const layers = filledLayers(pattern, marks, words()).map(({ layer }) => layer);
  return { file, drawing: { file: file.name, cut, layers } };
}

/** The tray file, as the page gives it for download too. */
export const trayFile = ({ name, spec }: FlatPattern): MadeFile => ({
  name: `${fileStem(name)}-tray.json`,
  mediaType: 'application/json',
  bytes: new TextEncoder().encode(`${JSON.stringify(spec, null, 2)}\n`),
});

/** Two formats may have one ending: the second then carries its id as well. */
export const freeName = (name: string, id: string, taken: readonly { readonly name: string }[]): string =>
  taken.some((other) => other.name.toLowerCase() === name.toLowerCase())
    ? name.replace(/(\.[^.]+)$/, `-${id}$1`)
    : name;

/** The archive of a whole table: every tray's files in the order of the rows, and a manifest. */
export function tableArchive(rows: readonly FinishedRow[]): Promise<Uint8Array> {
  const entries = rows.map(
    (row): Entry =>
      'figures' in row
        ? { figures: row.figures, files: row.files.map(fileEntry), missing: [] }
        : { name: row.name, place: row.place, faults: row.faults.map(({ message }) => message) },
  );
  const text = (name: string, content: string) => ({ name, bytes: new TextEncoder().encode(content) });
  return zipOf([
    ...rows.flatMap((row) => ('figures' in row ? row.files : [])),
    text('manifest.csv', manifestCsv(entries)),
    text('manifest.json', manifestJson(entries)),
  ]).generateAsync({ type: 'uint8array', ...ZIP_OPTIONS, streamFiles: true });
}
