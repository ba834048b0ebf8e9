/** What a drawing leaves open is asked here; nothing of it is assumed. */
import { inLabels } from '../src/server/answer.ts';
import { drawingChoices, sharpCorners } from '../src/server/drawingChoices.ts';
import type { DrawingQuestion } from '../src/server/jobs.ts';
import { byId, element, image, picture, say, sentence } from './page.ts';
import type { Fault } from './service.ts';
import { words } from './words.js';

type About = DrawingQuestion['about'];
type Said = Readonly<Partial<Record<About, string>>>;

/** Questions in the order of their fields, and the field of a tray file that an answer becomes. */
const FIELDS: Readonly<Record<About, string>> = {
  units: 'plan.units',
  cornerRadius: 'plan.cornerRadius',
  layer: 'plan.layer',
  loop: 'plan.loop',
};
const KINDS = Object.keys(FIELDS) as About[];

/** Corners that are named; the others are counted. */
const NAMED = 8;

export interface Drawing {
  close(): void;
  /** Whether a drawing waits for answers. */
  readonly open: boolean;
  /** Shows what is asked of a drawing; what has been said already stays said. */
  ask(file: File, questions: readonly DrawingQuestion[], already: Said): void;
  /** Shows the plan that was found; null takes it away. */
  show(svg: string | null): void;
  /** Puts sentences at the fields of answers. @returns those that belong to none */
  showFaults(faults: readonly Fault[]): readonly Fault[];
}

/**
 * @param answered called with the drawing and all that was said
 * @param left called when a person leaves the drawing
 */
export function drawingQuestions(answered: (file: File, said: Said) => void, left: () => void): Drawing {
  const block = byId('drawing');
  const field = (about: About) => byId<HTMLInputElement | HTMLSelectElement>(`drawing-${about}`);
  const box = (about: About) => field(about).closest<HTMLElement>('.field')!;
  let file: File | null = null;
  let said: Said = {};

  const mark = (about: About, text: string): void => {
    say(byId(`drawing-${about}-error`), text);
    if (text) field(about).setAttribute('aria-invalid', 'true');
    else field(about).removeAttribute('aria-invalid');
  };

  byId('drawing-take').addEventListener('click', () => {
    const asked = KINDS.filter((about) => !box(about).hidden);
    for (const about of asked) mark(about, field(about).value.trim() === '' ? words.drawing.missing : '');
    const missing = asked.find((about) => field(about).value.trim() === '');
    if (missing !== undefined) {
      field(missing).focus();
      return;
    }
    said = { ...said, ...Object.fromEntries(asked.map((about) => [about, field(about).value.trim()])) };
    if (file !== null) answered(file, said);
  });
  byId('drawing-leave').addEventListener('click', () => {
    close();
    left();
  });

  function close(): void {
    block.hidden = true;
    byId('drawing-shown').hidden = true;
    file = null;
    said = {};
  }

  return {
    close,
    get open() {
      return !block.hidden;
    },
    show(svg) {
      byId('drawing-shown').hidden = svg === null;
      if (svg !== null) picture(image('drawing-picture'), svg, 'image/svg+xml', words.drawing.picture);
    },
    ask(drawing, questions, already) {
      file = drawing;
      said = already;
      byId('drawing-name').textContent = sentence(words.drawing.of, { file: drawing.name });
      for (const about of KINDS) {
        const question = questions.find((each) => each.about === about);
        box(about).hidden = question === undefined;
        mark(about, '');
        if (question !== undefined) show(question);
      }
      block.hidden = false;
      const first = KINDS.find((about) => !box(about).hidden);
      if (first !== undefined) field(first).focus();
    },
    showFaults(faults) {
      return faults.filter(({ path, detail }) => {
        const about = KINDS.find((kind) => FIELDS[kind] === path);
        if (about === undefined || box(about).hidden) return true;
        mark(about, inLabels(detail, [[FIELDS[about], field(about).labels?.[0]?.textContent ?? '']]));
        return false;
      });
    },
  };
}

/** A question fills its field. */
function show(question: DrawingQuestion): void {
  if (question.about === 'cornerRadius') {
    byId<HTMLInputElement>('drawing-cornerRadius').value = '';
    byId('drawing-cornerRadius-hint').textContent = sharpCorners(question, words, NAMED);
  } else choices(`drawing-${question.about}`, drawingChoices(question, words));
}

/** Nothing is chosen beforehand. */
function choices(id: string, values: readonly (readonly [value: string, text: string])[]): void {
  const select = byId<HTMLSelectElement>(id);
  select.replaceChildren(
    element('option', { value: '' }, words.drawing.choose),
    ...values.map(([value, text]) => element('option', { value }, text)),
  );
  select.value = '';
}
