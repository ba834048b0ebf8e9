/**
 * The exporters that come with the package. A new one is added to this list and nowhere else.
 *
 * What draws and writes is loaded when a file is made: a list of formats costs next to nothing.
 */
import { english, type Words } from '../words/english.ts';
import type { Exporter } from './contract.ts';
import { dxfExporterIn } from './dxf/dxfExporter.ts';
import { jsonExporterIn } from './json/jsonExporter.ts';
import type { Means } from './means.ts';
import { paperExportersIn } from './papers/index.ts';
import { formedStepExporterIn } from './step/formedStepExporter.ts';
import { stepExporterIn } from './step/stepExporter.ts';

/** The exporters in a language: their labels, and everything that a person reads in their files. */
export const exportersIn = (words: Words, means: Means = {}): readonly Exporter[] => [
  dxfExporterIn(words),
  jsonExporterIn(words),
  stepExporterIn(words),
  formedStepExporterIn(words),
  ...paperExportersIn(words, means),
];

/** In English, those that need nothing: all but PDF and PNG. */
export const builtInExporters: readonly Exporter[] = exportersIn(english);
