/** Shows what is known of a solved tray. */
import { type LengthUnit, sizeText, withUnit } from '../src/papers/lengths.ts';
import type { AnnealCourse } from '../src/server/anneals.ts';
import {
  capital,
  cornersTree,
  figuresTree,
  reasonsTree,
  restTree,
  sizesTree,
  verdictTree,
} from '../src/server/answer.ts';
import type { ChangesFound } from '../src/server/changes.ts';
import type { Preview } from '../src/server/preview.ts';
import { byId, element, fill, image, list, picture, sentence } from './page.ts';
import { words } from './words.js';

/** For a screen reader. */
export function summary({ verdict, figures }: Preview, unit: LengthUnit): { verdict: string; size: string } {
  return {
    verdict: capital(words.verdicts[verdict.word]),
    size: figures === null ? '' : sizeText(figures.blank.length, figures.blank.width, unit),
  };
}

export function showResult(shown: Preview, unit: LengthUnit): void {
  const { tray, figures, verdict, anneals, cautions, notes, pictures } = shown;
  byId('verdict').dataset.verdict = verdict.word;
  fill(byId('verdict'), verdictTree(shown, words));
  byId('verdict').hidden = false;
  // What mends a tray stands where it is needed; what would only make it easier is folded.
  byId(verdict.word === 'not in one piece' ? 'mend' : 'better').append(byId('changes-block'));
  fill(byId('reasons'), reasonsTree(shown));
  byId('of-the-flat').hidden = figures === null;
  fill(byId('print-sizes'), sizesTree(shown, words, unit));
  if (figures === null || anneals === null || cautions === null || pictures === null) return;
  const size = sizeText(figures.blank.length, figures.blank.width, unit);
  picture(image('picture-blank'), pictures.blank, 'image/svg+xml', sentence(words.pictures.blank, { size }));
  image('picture-formed').alt = sentence(words.pictures.formed, {
    height: withUnit(tray.section.height, unit),
  });
  showFigures(shown, unit, null);
  fill(byId('corners'), cornersTree(shown, words, unit));
  fill(byId('rest'), restTree(shown, words, unit));
  list(byId('anneal-notes'), anneals.notes);
  list(byId('anneal-cautions'), cautions.annealing);
  list(byId('notes'), notes);
  list(byId('forming-cautions'), cautions.forming);
  list(byId('cutting-cautions'), cautions.cutting);
}

export const showFigures = (shown: Preview, unit: LengthUnit, course: AnnealCourse | null): void =>
  fill(byId('figures'), figuresTree(shown, words, unit, course));

/**
 * What would turn the verdict, each with a button that does it; null while it is looked for, undefined for nothing.
 *
 * @param use makes the change in the form
 */
export function showChanges(
  found: ChangesFound | null | undefined,
  unit: LengthUnit,
  use: (path: string, to: number | string) => void,
): void {
  const rows = (found?.changes ?? []).map(({ path, to, sentence: text }) => {
    const value =
      typeof to === 'number' ? withUnit(to, unit, unit === 'mm' && Number.isInteger(to) ? 0 : 2) : to;
    const make = element('button', { type: 'button' }, sentence(words.use, { value }));
    make.addEventListener('click', () => use(path, to));
    return element('li', {}, make, ' ', element('span', {}, text));
  });
  const others: string[] = found === null ? [words.searching] : [];
  if (found != null && rows.length === 0 && found.without.length > 0)
    others.push(
      sentence(words.noHelp, { list: found.without.map((about) => words.changesOf[about]).join(', ') }),
    );
  if (found?.cutShort) others.push(words.cutShort);
  byId('changes').replaceChildren(...rows, ...others.map((text) => element('li', {}, text)));
  list(byId('change-cautions'), found?.cautions ?? []);
  byId('changes-block').hidden = rows.length + others.length === 0;
}
