/** The texts that the page's scripts have, and what the program offers: one module, made for a language. */
import { listSheets, titleOf } from '../material/sheets.ts';
import type { Words } from '../words/english.ts';
import { DEMO_TRAY } from './demoTray.ts';
import { registry } from './formats.ts';

export const pageWords = (table: Words) => ({
  language: table.page.language,
  ...table.page.scripts,
  verdicts: table.verdict.words,
  star: table.verdict.star,
  changesOf: table.plan.change.about,
  everyday: table.material.everyday,
});

export type PageWords = ReturnType<typeof pageWords>;

/** What is offered: sheets and formats, the tray to start from, and the version. */
export const pageFacts = (table: Words, version: string) => ({
  version,
  demo: DEMO_TRAY,
  sheets: listSheets().map((sheet) => ({
    name: sheet.name,
    title: titleOf(sheet, table),
    family: sheet.family,
    coating: sheet.coating,
  })),
  formats: registry()
    .list()
    .map(({ id, label, mediaType, extension, parameters }) => ({
      id,
      label,
      mediaType,
      extension,
      parameters,
    })),
});

export type PageFacts = ReturnType<typeof pageFacts>;

/** The module that the scripts import. */
export const wordsModule = (table: Words, version: string): string =>
  `export const words = ${JSON.stringify(pageWords(table))};\nexport const facts = ${JSON.stringify(pageFacts(table, version))};\n`;
