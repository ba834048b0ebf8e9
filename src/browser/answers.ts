/** Answers what a page asks: by the functions of the service, so that the same tray has the same answer in both. */
import type { Registry } from '../exporters/registry.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import type { Live } from '../pattern/developLive.ts';
import { developTray } from '../pattern/developTray.ts';
import { developForFiles, developForShow, formatFromText } from '../server/develop.ts';
import { preview } from '../server/preview.ts';
import { parseTray, readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import { loadHandWords, loadUploadWords } from './laterWords.ts';
import type { Answers, Question } from './protocol.ts';

/** For a tray that has no name. */
const NAMELESS = 'tray';

const trayFrom = (text: string): TraySpec => readTray(parseTray(text), { name: NAMELESS });

const developedForShow = (text: string) => developForShow(trayFrom(text));
const patternForFiles = (text: string) => developForFiles(trayFrom(text));
/** What a thread keeps between two questions. */
export interface Kept {
  /** The last live answer: the next one starts from it. */
  live: Live | null;
}

/**
 * @param registry has the formats that there are here
 * @throws GatherpanError as the service does
 */
export async function answerTo(
  asked: Question,
  registry: Registry,
  kept: Kept,
): Promise<Answers[Question['kind']]> {
  switch (asked.kind) {
    case 'live': {
      const { developLive } = await import('../pattern/developLive.ts');
      // Nobody cancels it here.
      kept.live = developLive(trayFrom(asked.tray), kept.live)!;
      const { developed, accuracy } = kept.live;
      return { ...preview(developed, { unit: asked.unit ?? 'mm', formed: null }), accuracy };
    }
    case 'preview':
      return preview(developedForShow(asked.tray), { unit: asked.unit ?? 'mm', formed: null });
    case 'formed': {
      const { formedSvg } = await import('../server/formedPicture.ts');
      return { svg: formedSvg(flatPatternOf(developedForShow(asked.tray)), words()) };
    }
    case 'at': {
      const { atPoint } = await import('../server/atPoint.ts');
      return { point: atPoint(flatPatternOf(developedForShow(asked.tray)), asked.across, asked.down) };
    }
    case 'course': {
      const { annealCourse } = await import('../server/annealCourse.ts');
      return annealCourse(flatPatternOf(developedForShow(asked.tray)));
    }
    case 'bench': {
      const { benchView } = await import('../server/benchView.ts');
      return benchView(patternForFiles(asked.tray), asked.unit ?? 'mm', words());
    }
    case 'hand': {
      await loadHandWords();
      const { handFound } = await import('../server/handFound.ts');
      return handFound(trayFrom(asked.tray), JSON.parse(asked.measurements), asked.name, words());
    }
    case 'trials': {
      await loadHandWords();
      const { trialsKept } = await import('../server/trialsKept.ts');
      return { trials: trialsKept(trayFrom(asked.tray), asked.kept, asked.more) };
    }
    case 'pattern':
      return developTray(trayFrom(asked.tray));
    case 'changes': {
      const { changesOf } = await import('../server/changes.ts');
      return changesOf(trayFrom(asked.tray), asked.milliseconds, asked.unit);
    }
    case 'upload':
    case 'table':
    case 'row':
    case 'tableArchive': {
      await loadUploadWords();
      const { answerToUpload } = await import('./uploads.ts');
      return answerToUpload(asked, registry);
    }
    case 'file':
      return formatFromText(registry, asked.format, asked.values, () => patternForFiles(asked.tray));
    case 'archive': {
      const { trayArchive } = await import('../server/archive.ts');
      const formats = asked.formats ?? registry.list().map(({ id }) => id);
      for (const id of formats) registry.get(id);
      return trayArchive(patternForFiles(asked.tray), formats, asked.quantity, registry, asked.unit);
    }
  }
}
