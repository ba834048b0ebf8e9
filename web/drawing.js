/** What a drawing leaves open is asked here; nothing of it is assumed. */
import { byId, element, say } from './page.js';
import { sentence } from './sentence.js';
import { words } from './words.js';

/** Questions in the order of their fields, and the field of a tray file that an answer becomes. */
const FIELDS = { units: 'plan.units', cornerRadius: 'plan.cornerRadius', layer: 'plan.layer' };

/** Corners that are named; the others are counted. */
const NAMED = 8;

/**
 * @param {(file: File, said: Record<string, string>) => void} answered called with the drawing and all that was said
 * @param {() => void} left called when a person leaves the drawing
 */
export function drawingQuestions(answered, left) {
  const block = byId('drawing');
  const kinds = Object.keys(FIELDS);
  const field = (about) => byId(`drawing-${about}`);
  const box = (about) => field(about).closest('.field');
  let file = null;
  let said = {};

  const mark = (about, text) => {
    say(byId(`drawing-${about}-error`), text);
    if (text) field(about).setAttribute('aria-invalid', 'true');
    else field(about).removeAttribute('aria-invalid');
  };

  byId('drawing-take').addEventListener('click', () => {
    const asked = kinds.filter((about) => !box(about).hidden);
    for (const about of asked) mark(about, field(about).value.trim() === '' ? words.drawing.missing : '');
    const missing = asked.find((about) => field(about).value.trim() === '');
    if (missing !== undefined) {
      field(missing).focus();
      return;
    }
    for (const about of asked) said[about] = field(about).value.trim();
    answered(file, { ...said });
  });
  byId('drawing-leave').addEventListener('click', () => {
    close();
    left();
  });

  function close() {
    block.hidden = true;
    file = null;
    said = {};
  }

  return {
    close,
    /** Whether a drawing waits for answers. */
    get open() {
      return !block.hidden;
    },
    /** Shows what is asked of a drawing; what has been said already stays said. */
    ask(drawing, questions, already) {
      file = drawing;
      said = { ...already };
      byId('drawing-name').textContent = sentence(words.drawing.of, { file: drawing.name });
      for (const about of kinds) {
        const question = questions.find((each) => each.about === about);
        box(about).hidden = question === undefined;
        mark(about, '');
        if (question !== undefined) show[about](field(about), question);
      }
      block.hidden = false;
      const first = kinds.find((about) => !box(about).hidden);
      field(first).focus();
    },
    /** Puts sentences at the fields of answers. @returns those that belong to none */
    showFaults(faults) {
      return faults.filter(({ path, detail }) => {
        const about = kinds.find((kind) => FIELDS[kind] === path && !box(kind).hidden);
        if (about !== undefined) mark(about, detail);
        return about === undefined;
      });
    },
  };
}

/** How a question fills its field. */
const show = {
  units(field, { sizes }) {
    choices(
      field,
      sizes.map(({ unit, drawn, millimetres }) => [
        unit,
        sentence(unit === 'mm' ? words.drawing.size : words.drawing.sizeInMillimetres, {
          unit,
          length: drawn[0],
          width: drawn[1],
          lengthInMillimetres: millimetres[0],
          widthInMillimetres: millimetres[1],
        }),
      ]),
    );
  },
  cornerRadius(field, { corners }) {
    field.value = '';
    const places = corners.slice(0, NAMED).map((corner) => sentence(words.drawing.place, corner));
    byId('drawing-cornerRadius-hint').textContent = sentence(words.drawing.corners, {
      count: corners.length,
      places: places.join('; ') + (corners.length > NAMED ? ' …' : ''),
    });
  },
  layer(field, { layers }) {
    choices(
      field,
      layers.map((layer) => [layer, layer]),
    );
  },
};

/** Nothing is chosen beforehand. */
function choices(select, values) {
  select.replaceChildren(
    element('option', { value: '' }, words.drawing.choose),
    ...values.map(([value, text]) => element('option', { value }, text)),
  );
  select.value = '';
}
