/**
 * All words that a person reads on papers and drawings, of the verdict, the working plan and the formats, in one
 * table. Another language is one more object of the type `Words`.
 *
 * Entries that hold figures are functions of the finished figures as text, so that a language may order them as it
 * likes; nothing else is put together from pieces. The table is chosen once, where a tray is developed
 * (`DevelopOptions.words`) and where exporters are made (`exportersIn`), and is English when nothing is said.
 */
import { drawings } from './drawings.ts';
import { exporters } from './exporters.ts';
import { hand } from './hand.ts';
import { material } from './material.ts';
import { papers } from './papers.ts';
import { pattern } from './pattern.ts';
import { plan } from './plan.ts';
import { service } from './service.ts';
import { terminal } from './terminal.ts';
import { verdict } from './verdict.ts';

export const english = {
  material,
  pattern,
  verdict,
  plan,
  hand,
  papers,
  drawings,
  exporters,
  service,
  terminal,
};

export type Words = typeof english;
export type PaperWords = Words['papers'];
