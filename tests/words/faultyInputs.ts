/** Inputs that are refused, of every kind that a person can give: each a piece of work that throws. */
import { drawings } from './faulty/drawings.ts';
import { exporters, modules } from './faulty/exporters.ts';
import { materials, outlines } from './faulty/figures.ts';
import { gauges, oneOddValue, texts, wholeFiles } from './faulty/files.ts';
import { holes } from './faulty/holes.ts';
import { shapes } from './faulty/shapes.ts';
import { measured, unmakeable } from './faulty/solved.ts';
import type { Work } from './faulty/work.ts';

export const faultyInputs: Readonly<Record<string, readonly Work[]>> = {
  'one odd value': oneOddValue,
  'whole files': wholeFiles,
  texts,
  gauges,
  shapes,
  holes,
  drawings,
  materials,
  outlines,
  measurements: measured,
  exporters: [...exporters, modules],
  'not to be made': unmakeable,
};
