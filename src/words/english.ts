/**
 * All words that a person reads on papers and drawings, of the verdict, the working plan and the formats, in one
 * table. Another language is one more object of the type `Words`.
 *
 * Entries that hold figures are functions of the finished figures as text, so that a language may order them as it
 * likes; nothing else is put together from pieces. The table is chosen once, where a tray is developed
 * (`DevelopOptions.words`) and where exporters are made (`exportersIn`), and is English when nothing is said. What is
 * told to whoever runs the program (`messages`, `command`, `page`) comes through `language.ts`.
 */
import type { BenchWords } from './bench.ts';
import { cautions } from './cautions.ts';
import { help } from './command/help.ts';
import { output } from './command/output.ts';
import { contactSheet } from './contactSheet.ts';
import { drawings } from './drawings.ts';
import { exporters } from './exporters.ts';
import { hand } from './hand.ts';
import { material } from './material.ts';
import { batch } from './messages/batch.ts';
import { cli } from './messages/cli.ts';
import { drawing } from './messages/drawing.ts';
import { drawnPlan } from './messages/drawnPlan.ts';
import { dxf } from './messages/dxf.ts';
import { exporters as exporterMessages } from './messages/exporters.ts';
import { fileNames } from './messages/fileNames.ts';
import { gather } from './messages/gather.ts';
import { layout } from './messages/layout.ts';
import { material as materialMessages } from './messages/material.ts';
import { outline } from './messages/outline.ts';
import { server } from './messages/server.ts';
import { solve } from './messages/solve.ts';
import { step } from './messages/step.ts';
import { tray } from './messages/tray.ts';
import { page } from './page/index.ts';
import { papers } from './papers.ts';
import { parts } from './parts.ts';
import { pattern } from './pattern.ts';
import { plan } from './plan.ts';
import { service } from './service.ts';
import { terminal } from './terminal.ts';
import { verdict } from './verdict.ts';

export const english = {
  /** What is said at the bench is long, and loaded when it is asked for. */
  bench: async (): Promise<BenchWords> => (await import('./bench.ts')).bench,
  cautions,
  material,
  pattern,
  verdict,
  plan,
  hand,
  papers,
  contactSheet,
  parts,
  drawings,
  exporters,
  service,
  terminal,
  command: { help, output },
  messages: {
    cli,
    server,
    batch,
    layout,
    drawnPlan,
    dxf,
    tray,
    material: materialMessages,
    solve,
    outline,
    gather,
    fileNames,
    drawing,
    exporters: exporterMessages,
    step,
  },
  page,
};

export type Words = typeof english;
export type PaperWords = Words['papers'];
