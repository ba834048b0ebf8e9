/** All exporters of pictures and papers. */
import type { Words } from '../../words/english.ts';
import type { Exporter } from '../contract.ts';
import type { Means } from '../means.ts';
import { cardExporters } from './card.ts';
import { pictureExporters } from './picture.ts';
import { plateExporters } from './plates.ts';
import { templateExporters } from './template.ts';

export const paperExportersIn = (words: Words, means: Means): readonly Exporter[] => [
  ...pictureExporters(words, means),
  ...templateExporters(words, means),
  ...cardExporters(words, means),
  ...plateExporters(words, means),
];
