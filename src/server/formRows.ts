/**
 * The rows of the form that depend on the tray: its corners, its sides, its holes and one more. The page in the browser
 * makes them into elements, the service into a document for those without scripts; what stands in them is `trayForm`'s.
 */
import { cornerLetter, sideLetters } from '../tray/cornerLetter.ts';
import { cornerCount, holesOf, isRectangle, sideName } from '../tray/trayForm.ts';
import type { TrayObject } from '../tray/writtenTray.ts';
import { h, sentence, type Tree } from './answer.ts';
import type { PageWords } from './pageWords.ts';

/** By the ids of the elements that they stand in. */
export const ROWS = ['corner-rows', 'side-rows', 'hole-rows'] as const;
export type FormRows = Readonly<Record<(typeof ROWS)[number], readonly Tree[]>>;

const field = (id: string, label: string, control: Tree, kind = ''): Tree =>
  h('div', { class: kind === '' ? 'field' : `field ${kind}` }, h('label', { for: id }, label), control);

const text = (id: string, name: string, label: string, kind = ''): Tree =>
  field(id, label, h('input', { id, name, autocomplete: 'off' }), kind);

const choice = (
  id: string,
  name: string,
  label: string,
  options: readonly (readonly [value: string, text: string])[],
  kind = '',
): Tree =>
  field(
    id,
    label,
    h('select', { id, name }, ...options.map(([value, said]) => h('option', { value }, said))),
    kind,
  );

export function formRows(tray: TrayObject, words: PageWords): FormRows {
  const said = words.rows;
  const count = cornerCount(tray);
  const rectangle = isRectangle(tray);
  const numbers = Array.from({ length: count }, (_, i) => i);
  const side = (i: number): string =>
    rectangle
      ? sentence(words, said.rectangleSide, { side: sideLetters(i, count), place: said.places[i]! })
      : sideLetters(i, count);
  const corners = numbers.flatMap((i) => {
    const corner = cornerLetter(i);
    return [
      text(
        `corner-${corner}`,
        rectangle ? `plan.cornerRadius.${i}` : `plan.vertices.${i}.radius`,
        sentence(words, said.cornerRadius, { corner }),
      ),
      choice(
        `making-${corner}`,
        `forming.corners.${i}`,
        sentence(words, said.cornerMaking, { corner }),
        [
          ['gather', said.gather],
          ['notch', said.notch],
        ],
        'two',
      ),
    ];
  });
  const sides = numbers.flatMap((i) => {
    const name = sideName(tray, i);
    return [
      text(
        `side-${i}`,
        `section.heights.${name}`,
        sentence(words, said.sideHeight, { side: side(i) }),
        'two',
      ),
      h(
        'div',
        { class: 'check' },
        h('input', { id: `open-${i}`, type: 'checkbox', name: 'plan.openEdges', value: name }),
        h('label', { for: `open-${i}` }, sentence(words, said.sideOpen, { side: sideLetters(i, count) })),
      ),
    ];
  });
  const places = [
    ['base', said.onBase] as const,
    ...numbers.map(
      (i) => [sideName(tray, i), sentence(words, said.onWall, { side: sideLetters(i, count) })] as const,
    ),
  ];
  const holes = holesOf(tray);
  return {
    'corner-rows': corners,
    'side-rows': sides,
    'hole-rows': [...holes, null].flatMap((hole, i) => {
      const at = (name: string): [id: string, name: string] => [
        `hole-${i}-${name.split('.').at(-1)}`,
        `holes.${i}.${name}`,
      ];
      const number = i + 1;
      const kinds = choice(
        ...at('shape.kind'),
        sentence(words, hole === null ? said.oneMoreHole : said.hole, { number }),
        [
          ['none', hole === null ? said.none : said.without],
          ['round', said.round],
          ['slot', said.slot],
          ['polygon', said.polygon],
        ],
        hole === null ? 'wide begins' : 'begins',
      );
      if (hole === null) return [kinds];
      const onWall = hole.place.on === 'wall';
      return [
        kinds,
        choice(...at('place.on'), said.place, places, 'two begins'),
        ...(onWall
          ? [text(...at('place.along'), said.along), text(...at('place.height'), said.height)]
          : [text(...at('place.x'), said.x), text(...at('place.y'), said.y)]),
        ...(hole.shape.kind === 'round' ? [text(...at('shape.diameter'), said.diameter)] : []),
        ...(hole.shape.kind === 'slot'
          ? [
              text(...at('shape.length'), said.length),
              text(...at('shape.width'), said.width),
              text(...at('shape.angle'), said.angle),
            ]
          : []),
        ...(hole.shape.kind === 'polygon' ? [text(...at('shape.points'), said.points, 'wide')] : []),
      ];
    }),
  };
}
