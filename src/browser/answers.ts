/** Answers what a page asks: by the functions of the service, so that the same tray has the same answer in both. */
import type { Registry } from '../exporters/registry.ts';
import { flatPatternOf } from '../pattern/developed.ts';
import { developTray } from '../pattern/developTray.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { developForFiles, developForShow, formatFromText } from '../server/develop.ts';
import { preview } from '../server/preview.ts';
import { parseTray, readTray } from '../tray/readTray.ts';
import type { TraySpec } from '../tray/spec.ts';
import { words } from '../words/language.ts';
import type { Answers, Question } from './protocol.ts';

/** For a tray that has no name. */
const NAMELESS = 'tray';

const trayFrom = (text: string): TraySpec => readTray(parseTray(text), { name: NAMELESS });

/** The pattern that files were last made of: whoever takes one file often takes another. */
let last: { readonly text: string; readonly pattern: FlatPattern } | null = null;

function patternForFiles(text: string): FlatPattern {
  if (last?.text !== text) last = { text, pattern: developForFiles(trayFrom(text)) };
  return last.pattern;
}

/**
 * @param registry has the formats that there are here
 * @throws GatherpanError as the service does
 */
export async function answerTo(asked: Question, registry: Registry): Promise<Answers[Question['kind']]> {
  switch (asked.kind) {
    case 'preview':
      return preview(developForShow(trayFrom(asked.tray)), { unit: asked.unit ?? 'mm', formed: null });
    case 'formed': {
      const { formedSvg } = await import('../server/formedPicture.ts');
      return { svg: formedSvg(flatPatternOf(developForShow(trayFrom(asked.tray))), words()) };
    }
    case 'course': {
      const { annealCourse } = await import('../server/annealCourse.ts');
      return annealCourse(flatPatternOf(developForShow(trayFrom(asked.tray))));
    }
    case 'pattern':
      return developTray(trayFrom(asked.tray));
    case 'changes': {
      const { changesOf } = await import('../server/changes.ts');
      return changesOf(trayFrom(asked.tray), asked.milliseconds, asked.unit);
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
