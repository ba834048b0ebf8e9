/** The archive of one tray: its files with manifest and order note. */
import { GatherpanError } from '../errors.ts';
import { type Mark, USUAL_MARKS } from '../exporters/dxf/choices.ts';
import { filledLayers } from '../exporters/dxf/layers.ts';
import { inUnit } from '../exporters/parameters.ts';
import type { Registry } from '../exporters/registry.ts';
import { fileNameOf, fileStem } from '../fileName.ts';
import { fileNamesOf } from '../jobs/fileNames.ts';
import { judgedTray, manifestFiles, writtenFile } from '../jobs/manifest.ts';
import { rowReport } from '../jobs/rowReport.ts';
import { archiveOf } from '../jobs/zip.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { inUnits } from '../tray/writtenTray.ts';
import { words } from '../words/language.ts';
import { madeFile, namedFormats } from './develop.ts';
import type { MadeFile } from './jobs.ts';
import { type OrderedDrawing, orderNote } from './orderNote.ts';

export const ARCHIVE_TYPE = 'application/zip';

/**
 * Everything for one tray. Of the drawing there are two files: one with what is cut and nothing else, and one with
 * the marks, and their names and the order note say which is which.
 *
 * A format that does not fit this tray is left out and named in the manifest.
 *
 * @param registry has them
 * @param formats ids of exporters; the tray file itself is always in it, but for a part that has none
 * @param unit     of lengths on the papers, and of the tray file
 */
export async function trayArchive(
  pattern: FlatPattern,
  formats: readonly string[],
  quantity: number,
  registry: Registry,
  unit: LengthUnit = 'mm',
): Promise<MadeFile> {
  const files: MadeFile[] = pattern.kind === 'part' ? [] : [trayFile(pattern, unit)];
  const missing: string[] = [];
  const drawings: OrderedDrawing[] = [];
  const names = fileNamesOf(pattern.name, namedFormats(registry, formats));
  for (const [i, id] of formats.entries()) {
    const exporter = registry.get(id);
    try {
      if (id === 'dxf') {
        for (const marks of [[], USUAL_MARKS]) {
          const { file, drawing } = await orderedDrawing(pattern, marks, registry);
          files.push(file);
          drawings.push(drawing);
        }
        continue;
      }
      const file = await madeFile(pattern, exporter, registry.values(exporter, inUnit(exporter, unit)));
      files.push({ ...file, name: names[i]! });
    } catch (error) {
      // Not every format fits every tray; the others are no worse for it.
      if (!(error instanceof GatherpanError)) throw error;
      missing.push(`${exporter.label}: ${error.message}`);
    }
  }
  const note = orderNote(
    pattern,
    quantity,
    drawings,
    files.map(({ name }) => name),
    words(),
  );
  files.push({
    name: `${fileStem(pattern.name)}-order-note.txt`,
    mediaType: 'text/plain',
    bytes: new TextEncoder().encode(note),
  });
  const source = { row: 1, place: words().service.wholeFile, name: pattern.name, quantity };
  const tray = judgedTray(source, rowReport(pattern, words()), files.map(writtenFile), missing);
  return {
    name: fileNameOf(pattern.name, 'zip'),
    mediaType: ARCHIVE_TYPE,
    bytes: await archiveOf([...files, ...manifestFiles([tray])]),
  };
}

/** A drawing with these marks, and what the order note says of it. */
async function orderedDrawing(
  pattern: FlatPattern,
  marks: readonly Mark[],
  registry: Registry,
): Promise<{ file: MadeFile; drawing: OrderedDrawing }> {
  const exporter = registry.get('dxf');
  const made = await madeFile(pattern, exporter, registry.values(exporter, { marks: marks.join(',') }));
  const cut = marks.length === 0;
  const file = cut ? { ...made, name: made.name.replace(/dxf$/, 'cut.dxf') } : made;
  const layers = filledLayers(pattern, marks, words()).map(({ layer }) => layer);
  return { file, drawing: { file: file.name, cut, layers } };
}

/** The tray file, as the page gives it for download too. */
export const trayFile = ({ name, spec }: FlatPattern, unit: LengthUnit = 'mm'): MadeFile => ({
  name: `${fileStem(name)}-tray.json`,
  mediaType: 'application/json',
  bytes: new TextEncoder().encode(
    `${JSON.stringify(inUnits({ ...spec }, unit === 'mm' ? 'mm' : 'in'), null, 2)}\n`,
  ),
});
