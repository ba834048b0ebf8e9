/** Answers about what a person gives the page: what is in a file, and tables row by row. */
import type { Registry } from '../exporters/registry.ts';
import type { Answers, Question, ReadUpload } from './protocol.ts';

type AboutUploads = Extract<Question, { kind: 'upload' | 'table' | 'row' | 'tableArchive' }>;

/** @throws GatherpanError as the service does */
export async function answerToUpload(
  asked: AboutUploads,
  registry: Registry,
): Promise<Answers[AboutUploads['kind']]> {
  switch (asked.kind) {
    case 'upload':
      return readUpload(asked);
    case 'table': {
      const { tableRows } = await import('../server/tableRows.ts');
      return { rows: tableRows(await bytesOf(asked.file), asked.base, asked.name, asked.most) };
    }
    case 'row': {
      const { finishedRow, solvedRow } = await import('../server/tableRow.ts');
      return finishedRow(asked.row, (row) => solvedRow(row, asked.base, asked, registry));
    }
    case 'tableArchive': {
      const { tableArchive } = await import('../server/tableArchive.ts');
      return { bytes: await tableArchive(asked.rows) };
    }
  }
}

async function readUpload({
  file,
  name,
  base,
  said,
}: Extract<Question, { kind: 'upload' }>): Promise<ReadUpload> {
  const { kindOf, SNIFFED } = await import('../server/sniff.ts');
  const kind = kindOf(await bytesOf(file.slice(0, SNIFFED)));
  switch (kind) {
    case 'tray': {
      const { trayFrom } = await import('../server/contents.ts');
      return { kind, tray: trayFrom(await bytesOf(file), name) };
    }
    case 'drawing': {
      const { readDrawing } = await import('../server/drawingUpload.ts');
      return readDrawing(await bytesOf(file), name, base, said);
    }
    default:
      return { kind };
  }
}

const bytesOf = async (file: Blob): Promise<Uint8Array> => new Uint8Array(await file.arrayBuffer());
