/** Trees of elements as text, for those without scripts. */
import { escaped } from '../drawing/svg.ts';
import type { Tree } from './answer.ts';

/** Elements that have no end (HTML standard, void elements). */
const VOID: readonly string[] = ['input', 'img', 'br'];

export const html = (trees: readonly Tree[]): string =>
  trees
    .map((tree) => {
      if (typeof tree === 'string') return escaped(tree);
      const { tag, children } = tree;
      const attributes = Object.entries(tree.attributes).map(
        ([name, value]) => ` ${name}="${escaped(value)}"`,
      );
      const start = `<${tag}${attributes.join('')}>`;
      return VOID.includes(tag) ? start : `${start}${html(children)}</${tag}>`;
    })
    .join('');
