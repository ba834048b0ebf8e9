/** What the bench view and its page for those without scripts show alike, as trees of elements. */
import type { BenchFigure } from '../papers/benchSheet.ts';
import { h, type Tree } from './answer.ts';

/** Letters of a figure that takes the width of a phone. */
const LONG = 8;

/** Figures to be read at arm's length. */
export const bigFigures = (list: readonly BenchFigure[]): Tree =>
  h(
    'dl',
    { class: 'big' },
    ...list.map(({ title, value, note }) =>
      h(
        'div',
        value.length > LONG ? { class: 'whole' } : {},
        h('dt', {}, title),
        h('dd', {}, value, ...(note === undefined ? [] : [h('small', {}, note)])),
      ),
    ),
  );

/** Lines under a title; nothing where there are none. */
export const titledLines = (title: string, lines: readonly string[]): Tree[] =>
  lines.length === 0
    ? []
    : [
        h(
          'section',
          { class: 'plain' },
          h('h2', {}, title),
          h('ul', {}, ...lines.map((line) => h('li', {}, line))),
        ),
      ];
