/** All exporters of the package, with what Node has for them: fonts in files, and a library that draws PNG. */
import { nodeFonts } from '../drawing/nodeFonts.ts';
import { english, type Words } from '../words/english.ts';
import { exportersIn } from './builtIn.ts';
import type { Exporter } from './contract.ts';
import type { Means } from './means.ts';

const means: Means = {
  fonts: nodeFonts,
  png: async (picture, dotsPerInch) => (await import('../drawing/png.ts')).pngBytes(picture, dotsPerInch),
};

/** All exporters in a language. */
export const nodeExportersIn = (words: Words): readonly Exporter[] => exportersIn(words, means);

/** All exporters in English. */
export const nodeExporters: readonly Exporter[] = nodeExportersIn(english);
