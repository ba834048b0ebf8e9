/** What a working thread runs: one function, called once for each job. All that a stranger sends is read here. */
import { move, transferableSymbol, valueSymbol, workerData } from 'piscina';
import { GatherpanError } from '../errors.ts';
import { developTray } from '../pattern/developTray.ts';
import { readTray } from '../tray/readTray.ts';
import type { TrayObject } from '../tray/writtenTray.ts';
import { VERSION } from '../version.ts';
import { words } from '../words/language.ts';
import { answerHtml } from './answerPage.ts';
import { trayArchive } from './archive.ts';
import { changesOf } from './changes.ts';
import { baseFrom, trayContents, trayFrom } from './contents.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { developForFiles, developForShow, formatFromText } from './develop.ts';
import { readDrawing } from './drawingUpload.ts';
import { registry } from './formats.ts';
import { formedSvg } from './formedPicture.ts';
import { giveWay } from './giveWay.ts';
import type { Answer, FileToRead, Job, Json, Read, Results, ThreadLimits } from './jobs.ts';
import { preview } from './preview.ts';
import { Solids } from './solidUpload.ts';
import { tableArchive } from './tableArchive.ts';
import { solvedRow } from './tableRow.ts';
import { tableRows } from './tableRows.ts';
import { ownBuffers } from './transfer.ts';
import { opened } from './uploadPage.ts';

giveWay();
const solids = new Solids(workerData as ThreadLimits);

export default async function work(job: Job): Promise<unknown> {
  const answer = await answerTo(job);
  // The bytes change hands instead of being copied on the main thread.
  return move({ [transferableSymbol]: ownBuffers(answer), [valueSymbol]: answer });
}

async function answerTo(job: Job): Promise<Answer<Job['kind']>> {
  try {
    return { ok: true, result: await done(job) };
  } catch (error) {
    if (error instanceof GatherpanError) return { ok: false, code: error.code, faults: error.faults };
    throw error;
  }
}

async function done(job: Job): Promise<Results[Job['kind']]> {
  switch (job.kind) {
    case 'warm':
      // Some rounds, so that the solver is compiled for speed before somebody waits for it.
      for (let round = 0; round < 3; round++)
        preview(developTray(readTray(DEMO_TRAY)), { unit: 'mm', formed: formedSvg });
      return null;
    case 'check':
      return json(trayFrom(job.tray));
    case 'preview':
      return json(preview(developForShow(trayFrom(job.tray)), { unit: job.unit, formed: formedSvg }));
    case 'answer':
      return answerHtml(job.tray, words(), VERSION);
    case 'bench': {
      const { benchHtml } = await import('./benchPage.ts');
      const pattern = developForFiles(trayFrom(job.tray));
      const asked = { tray: trayContents(job.tray) as TrayObject, unit: job.unit };
      return benchHtml(asked, pattern, job.trial, words());
    }
    case 'changes':
      return json(changesOf(trayFrom(job.tray), job.milliseconds, job.unit));
    case 'file':
      return formatFromText(registry(), job.format, job.values, () => developForFiles(trayFrom(job.tray)));
    case 'archive': {
      for (const id of job.formats) registry().get(id);
      return trayArchive(
        developForFiles(trayFrom(job.tray)),
        job.formats,
        job.quantity,
        registry(),
        job.unit,
      );
    }
    case 'upload':
      return json(await read(job));
    case 'open':
      return opened((await read(job)) as Exclude<Read, { kind: 'table' }>, job, words());
    case 'table':
      return tableRows(job.bytes, baseFrom(job.base), job.name, job.rows);
    case 'row':
      return solvedRow(job.row, baseFrom(job.base), job, registry());
    case 'tableArchive':
      return tableArchive(job.rows);
    case 'partFile':
      return formatFromText(registry(), job.format, job.values, () =>
        solids.forFiles(job.bytes, job.name, baseFrom(job.base)),
      );
    case 'partArchive': {
      for (const id of job.formats) registry().get(id);
      const pattern = await solids.forFiles(job.bytes, job.name, baseFrom(job.base));
      return trayArchive(pattern, job.formats, job.quantity, registry(), job.unit);
    }
  }
}

async function read({ file, bytes, name, base, rows: most, said, unit }: FileToRead): Promise<Read> {
  switch (file) {
    case 'tray':
      return { kind: 'tray', tray: trayFrom(bytes, name) };
    case 'table': {
      const rows = tableRows(bytes, baseFrom(base), name, most);
      return { kind: 'table', rows: rows.length, wrong: rows.filter((row) => 'error' in row).length };
    }
    case 'solid':
      return solids.read(bytes, name, baseFrom(base), unit);
    case 'drawing':
      return readDrawing(bytes, name, baseFrom(base), said);
  }
}

const json = (value: unknown): Json => new TextEncoder().encode(JSON.stringify(value));
