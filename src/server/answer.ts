/**
 * What the page says of a solved tray, as a tree of elements: the page in the browser makes it into elements, the service
 * into a document for those without scripts. So both say the same.
 */
import { fine, type LengthUnit, lengthText, sizeText, withUnit } from '../papers/lengths.ts';
import type { AnnealCourse } from './anneals.ts';
import type { PageWords } from './pageWords.ts';
import type { Preview } from './preview.ts';

/** A text or an element. */
export type Tree =
  | string
  | {
      readonly tag: string;
      readonly attributes: Readonly<Record<string, string>>;
      readonly children: readonly Tree[];
    };

export const h = (tag: string, attributes: Readonly<Record<string, string>>, ...children: Tree[]): Tree => ({
  tag,
  attributes,
  children,
});

/** The forms of a text by the plural of `count`, or the one text. */
export type Entry = string | Readonly<Record<string, string>>;

/** A text of the table with figures in its places. */
export function sentence(
  { language }: Pick<PageWords, 'language'>,
  entry: Entry,
  values: Readonly<Record<string, string | number>>,
): string {
  const text =
    typeof entry === 'string'
      ? entry
      : (entry[new Intl.PluralRules(language).select(Number(values.count))] ?? entry.other ?? '');
  return text.replace(/\{(\w+)\}/g, (_, name: string) => String(values[name]));
}

/**
 * A sentence about fields of a tray file, with the names that they have in the form.
 *
 * @param labels of fields, by their paths
 */
export function inLabels(text: string, labels: readonly (readonly [path: string, label: string])[]): string {
  let named = text;
  for (const [field, label] of [...labels].sort(([a], [b]) => b.length - a.length)) {
    if (label === '') continue;
    // What a hole is called stands at its shape.
    const path = field.replace(/\.shape\.kind$/, '');
    const name = new RegExp(
      `(^|[^\\w.])${path.replaceAll('.', '\\.')}(?:\\.gauge|(?<=height)s)?(?!\\w|\\.\\w)(?: \\(\\S+ [A-D]\\))?`,
      'g',
    );
    named = named.replace(name, (_, before: string) =>
      before === '' ? label : before + label.charAt(0).toLowerCase() + label.slice(1),
    );
  }
  return named;
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The verdict in one line; where there is no flat, the reason too. */
export function verdictTree({ verdict, figures }: Preview, words: PageWords): Tree[] {
  const [reason] = verdict.reasons;
  return [
    h(
      'p',
      { class: 'verdict-word' },
      h('span', { class: 'mark', 'aria-hidden': 'true' }),
      h('span', { id: 'verdict-word' }, capital(words.verdicts[verdict.word])),
    ),
    ...(figures === null && reason !== undefined
      ? [h('p', { class: 'why', id: 'reason' }, reason.sentence)]
      : []),
  ];
}

/** Reasons, those that say that nothing is wrong last, then the warnings. */
export const reasonsTree = ({ verdict, figures }: Preview): Tree[] => {
  const [wrong, fine] = [
    verdict.reasons.filter(({ weight }) => weight !== 'good'),
    verdict.reasons.filter(({ weight }) => weight === 'good'),
  ];
  return [
    ...wrong.map(({ weight, sentence: text }) => h('li', { class: weight }, text)),
    ...(figures?.warnings ?? []).map((text) => h('li', {}, text)),
    ...fine.map(({ weight, sentence: text }) => h('li', { class: weight }, text)),
  ];
};

const pair = (title: string, value: string, small = '', id = ''): Tree =>
  h(
    'div',
    {},
    h('dt', {}, title),
    h('dd', id === '' ? {} : { id }, value, ...(small === '' ? [] : [h('small', {}, small)])),
  );

/** A length of cut. */
export const cutText = (length: number, unit: LengthUnit): string =>
  unit === 'mm' ? `${(length / 1000).toFixed(2)} m` : withUnit(length, unit);

/** Rim to lose by zone: one length and that it is each corner's, or every zone by the letters of its corners. */
function rim(
  { corners }: NonNullable<Preview['figures']>,
  words: PageWords,
  unit: LengthUnit,
): readonly [value: string, small: string] {
  const letters = (zone: readonly number[]): string =>
    zone.map((index) => corners.find((each) => each.index === index)?.letter ?? '').join(' + ');
  const zones = new Map<string, string>();
  for (const { rimToLose, rimToLoseCorners } of corners)
    if (rimToLose !== null) zones.set(letters(rimToLoseCorners), withUnit(rimToLose, unit, fine(unit)));
  const [first, ...others] = new Set(zones.values());
  if (first === undefined) return [words.figures.rimKept, ''];
  if (others.length === 0 && zones.size === corners.length)
    return [first, corners.length > 1 ? words.figures.rimEach : ''];
  // A zone and its length stay on one line.
  const texts = [...zones].map((zone) => zone.join(' ').replaceAll(' ', '\u00a0'));
  return [texts.join(' · '), ''];
}

/** How often it is annealed; null where it would have to be and must not. */
export const howOften = (
  count: number | null,
  words: Pick<PageWords, 'neverAnneal' | 'noAnneals'>,
): string => (count === null ? words.neverAnneal : count === 0 ? words.noAnneals : String(count));

/** Anneals in order: `after stage 1 (58°), in stage 2 (81°)`. */
export const whenText = (course: AnnealCourse, words: PageWords): string =>
  [
    ...new Set(
      course.map(({ when, stage, angle }) =>
        sentence(words, words.whenAnnealed[when], { stage: stage + 1, angle: Math.round(angle) }),
      ),
    ),
  ].join(', ');

/**
 * Size to cut, rim to lose, anneals: what is worked by.
 *
 * @param course of the anneals; null while it is not known
 */
export function figuresTree(
  { figures, anneals }: Preview,
  words: PageWords,
  unit: LengthUnit,
  course: AnnealCourse | null,
): Tree[] {
  if (figures === null || anneals === null) return [];
  const { blank, sheet } = figures;
  const said = words.figures;
  return [
    pair(
      said.blank,
      sizeText(blank.length, blank.width, unit, fine(unit)),
      `${sheet.material}, ${withUnit(sheet.thickness, unit, 2)}`,
    ),
    pair(said.rimToLose, ...rim(figures, words, unit)),
    pair(
      said.anneals,
      howOften(anneals.count, words),
      course === null ? '' : whenText(course, words),
      'anneals',
    ),
  ];
}

/** The other figures of the blank. */
export function restTree({ figures }: Preview, words: PageWords, unit: LengthUnit): Tree[] {
  if (figures === null) return [];
  const { blank, thickness, sheet } = figures;
  const said = words.figures;
  return [
    pair(
      said.thickest,
      withUnit(thickness.max, unit, 2),
      sentence(words, said.thickestFrom, { thickness: withUnit(sheet.thickness, unit, 2) }),
    ),
    pair(said.mass, `${blank.mass.toFixed(blank.mass < 1 ? 3 : 2)} kg`),
    pair(said.cutLength, cutText(blank.cutLength, unit)),
    pair(said.area, `${(blank.area / 1e6).toFixed(3)} m²`),
  ];
}

/** The table of the corners, head and rows. */
export function cornersTree({ figures }: Preview, words: PageWords, unit: LengthUnit): Tree[] {
  if (figures === null) return [];
  const said = words.corners;
  const length = (mm: number, decimals = fine(unit)): string => withUnit(mm, unit, decimals);
  const head = [said.corner, said.cornerRadius, said.rimToLose, said.gather, said.stretch, said.thickness];
  return [
    h('thead', {}, h('tr', {}, ...head.map((text) => h('th', { scope: 'col' }, text)))),
    h(
      'tbody',
      {},
      ...figures.corners.map((corner) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, corner.letter),
          ...[
            length(Number(corner.cornerRadius.toFixed(4))),
            corner.rimToLose === null
              ? words.figures.rimKept
              : corner.rimToLoseCorners.length > 1
                ? sentence(words, said.together, { length: length(corner.rimToLose) })
                : length(corner.rimToLose),
            `${corner.peakGather.toFixed(1)} %`,
            `${corner.peakStretch.toFixed(1)} %`,
            sentence(words, words.range, {
              from: lengthText(corner.thinnest, unit, 2),
              to: length(corner.thickest, 2),
            }),
          ].map((text) => h('td', {}, text)),
        ),
      ),
    ),
  ];
}

/** The sizes of the tray, for paper. */
export function sizesTree({ tray, figures }: Preview, words: PageWords, unit: LengthUnit): Tree[] {
  const said = words.sizes;
  const { name, measured, plan, section, sheet, forming } = tray;
  const length = (mm: number): string =>
    unit === 'mm' ? `${Number(mm.toFixed(4))} mm` : withUnit(mm, unit, 2);
  const rows: [string, string][] = [
    [said.name, name],
    [said.measured, said.skins[measured]],
  ];
  if ('length' in plan) {
    rows.push([said.lengthAndWidth, `${length(plan.length)} × ${length(plan.width)}`]);
    if (plan.cornerRadius !== undefined)
      rows.push([
        said.cornerRadius,
        [plan.cornerRadius]
          .flat()
          .map((radius) => length(Number(radius)))
          .join('; '),
      ]);
  } else if ('vertices' in plan) {
    rows.push([said.plan, sentence(words, said.corners, { count: plan.vertices.length })]);
  }
  const material = typeof sheet.material === 'string' ? sheet.material : sheet.material.name;
  rows.push(
    [said.height, length(section.height)],
    [said.bottomRadius, length(section.bottomRadius)],
    [said.draft, `${section.draft}°`],
    [said.sheet, `${material}, ${withUnit(figures?.sheet.thickness ?? sheet.thickness, unit, 2)}`],
    [said.grain, `${sheet.grain}°`],
    [said.trim, length(forming.trim)],
  );
  return rows.map(([title, value]) => pair(title, value));
}
