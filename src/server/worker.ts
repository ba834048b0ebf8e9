/** What a solving thread runs: one function, called once for each job. */
import { GatherpanError } from '../errors.ts';
import { searchChanges } from '../gather/changes.ts';
import { readTray } from '../tray/readTray.ts';
import { words } from '../words/language.ts';
import { inWords } from '../words/statement.ts';
import { freeName, trayArchive } from './archive.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { developForFiles, developForShow, madeFile, registry, valuesFromText } from './develop.ts';
import { readDrawing } from './drawingUpload.ts';
import type { Answer, Job, MadeFile, Results } from './jobs.ts';
import { preview } from './preview.ts';
import { rowFigures } from './rowResult.ts';
import { readSolid, solidForFiles } from './solidUpload.ts';

export default async function work(job: Job): Promise<Answer<Job['kind']>> {
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
      for (let round = 0; round < 3; round++) preview(developForShow(readTray(DEMO_TRAY)));
      return null;
    case 'preview':
      return preview(developForShow(job.tray));
    case 'changes':
      return inWords(searchChanges(job.tray), words());
    case 'file': {
      const exporter = registry().get(job.format);
      const values = valuesFromText(exporter, job.values);
      return madeFile(developForFiles(job.tray), exporter, values);
    }
    case 'archive': {
      for (const id of job.formats) registry().get(id);
      return trayArchive(developForFiles(job.tray), job.formats, job.quantity);
    }
    case 'row': {
      const pattern = developForFiles(job.tray);
      const files: MadeFile[] = [];
      for (const id of job.formats) {
        const exporter = registry().get(id);
        const file = await madeFile(pattern, exporter, registry().values(exporter, {}));
        files.push({ ...file, name: freeName(file.name, id, files) });
      }
      return { figures: rowFigures(pattern, words()), files };
    }
    case 'solid':
      return readSolid(job.bytes, job.name, job.base);
    case 'partFile': {
      const exporter = registry().get(job.format);
      const values = valuesFromText(exporter, job.values);
      return madeFile(await solidForFiles(job.bytes, job.name, job.base), exporter, values);
    }
    case 'partArchive': {
      for (const id of job.formats) registry().get(id);
      return trayArchive(await solidForFiles(job.bytes, job.name, job.base), job.formats, job.quantity);
    }
    case 'drawing':
      return readDrawing(job.bytes, job.name, job.base, job.said);
  }
}
