/** The trial corner on the bench page for those without scripts: what to measure, and the hand that it tells. */
import { GatherpanError } from '../errors.ts';
import type { LengthUnit } from '../papers/lengths.ts';
import type { TraySpec } from '../tray/spec.ts';
import { type TrayObject, unitsOf } from '../tray/writtenTray.ts';
import type { Words } from '../words/english.ts';
import { h, sentence, type Tree } from './answer.ts';
import type { BenchView } from './benchView.ts';
import { handFound } from './handFound.ts';
import { pageWords } from './pageWords.ts';
import {
  dotsLabel,
  foundLines,
  type PostedTrial,
  TRIAL,
  TRIAL_LENGTHS,
  trialMeasurements,
  unitSign,
} from './trialFields.ts';

/** A tray file, and the unit in which it is shown. */
export interface AskedTray {
  readonly tray: TrayObject;
  readonly unit: LengthUnit;
}

/** @param spec the tray in the file that is asked for */
export function trialTree(
  asked: AskedTray,
  spec: TraySpec,
  { trial: corners }: BenchView,
  posted: PostedTrial,
  table: Words,
): Tree {
  const { tray, unit } = asked;
  const words = pageWords(table);
  const said = words.bench.trial;
  const hidden = (name: string, value: string): Tree => h('input', { type: 'hidden', name, value });
  const again = [hidden('tray', JSON.stringify(tray)), hidden('unit', unit)];
  const letter = posted[`${TRIAL}corner`];
  const chosen = corners.find((corner) => corner.letter === letter) ?? corners[0];
  const field = (id: string, label: string): Tree => {
    const name = TRIAL + id;
    const value = posted[name] ?? '';
    return h(
      'div',
      { class: 'field' },
      h('label', { for: name }, label),
      h('input', { id: name, name, value, inputmode: 'decimal', autocomplete: 'off' }),
    );
  };
  /** Corners whose dots are alike have one field. */
  const dots = new Map<string, string[]>();
  for (const corner of corners) {
    const label = dotsLabel(corner, unit, words);
    if (label !== null) dots.set(label, [...(dots.get(label) ?? []), corner.letter]);
  }
  const dotsOf = (at: string): string =>
    posted[TRIAL + dotsField([...dots.values()].find((letters) => letters.includes(at)) ?? [])] ?? '';
  const answer = (): Tree[] => {
    if (chosen === undefined || letter === undefined) return [];
    const typed = Object.fromEntries(TRIAL_LENGTHS.map((id) => [id, posted[TRIAL + id] ?? '']));
    const measured = trialMeasurements(
      chosen,
      { ...(typed as Record<(typeof TRIAL_LENGTHS)[number], string>), dots: dotsOf(chosen.letter) },
      unit,
    );
    return answerTree(asked, spec, measured, table);
  };
  return h(
    'article',
    { class: 'sheet' },
    h('h1', { id: 'trial' }, said.title),
    h('p', {}, said.how),
    h(
      'form',
      { method: 'post', action: 'page/file' },
      ...again,
      h(
        'p',
        { class: 'actions' },
        h('button', { type: 'submit', name: 'format', value: 'trial-pdf' }, said.sheet),
      ),
    ),
    h(
      'form',
      { method: 'post', action: 'bench#trial' },
      ...again,
      h(
        'section',
        { class: 'notes' },
        h(
          'div',
          { class: 'field' },
          h('label', { for: `${TRIAL}corner` }, said.corner),
          h(
            'select',
            { id: `${TRIAL}corner`, name: `${TRIAL}corner` },
            ...corners.map((corner) =>
              h(
                'option',
                { value: corner.letter, ...(corner === chosen ? { selected: '' } : {}) },
                corner.letter,
              ),
            ),
          ),
        ),
        ...TRIAL_LENGTHS.map((id) => field(id, sentence(words, said[id], { unit: unitSign(unit) }))),
        ...[...dots].map(([label, letters]) =>
          field(dotsField(letters), dots.size === 1 ? label : `${letters.join(', ')}: ${label}`),
        ),
      ),
      h('p', { class: 'actions' }, h('button', { type: 'submit', class: 'main' }, said.find)),
    ),
    ...answer(),
  );
}

const dotsField = ([first = '']: readonly string[]): string => `dots-${first}`;

/** What the measurements tell, or what is wrong with them. */
function answerTree({ tray, unit }: AskedTray, spec: TraySpec, measured: object, table: Words): Tree[] {
  const words = pageWords(table);
  const said = words.bench.trial;
  try {
    const found = handFound(spec, measured, said.title, table);
    const { forming } = tray as { readonly forming?: object };
    const cut = { ...tray, forming: { ...forming, ...found.found.forming } };
    return [
      h('ul', { class: 'found' }, ...foundLines(found, unit, words).map((line) => h('li', {}, line))),
      h(
        'form',
        { method: 'post', action: 'page' },
        h('input', { type: 'hidden', name: 'base', value: JSON.stringify(cut) }),
        h('input', { type: 'hidden', name: 'page-unit', value: unitsOf(cut) }),
        h('p', { class: 'actions' }, h('button', { type: 'submit', class: 'main' }, said.use)),
      ),
    ];
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    return error.faults.map(({ message }) => h('p', { class: 'notice' }, message));
  }
}
