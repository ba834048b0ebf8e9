/**
 * The form and the tray it stands for.
 *
 * The tray is kept whole: what the form has no field for (corner points, a lip, holes) stays as it came.
 */
import { byId, element, say } from './page.js';
import { sentence } from './sentence.js';
import { words } from './words.js';

const NUMBER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/;

/** A number, also with a decimal comma; other text goes to the service as it is, which says what is wrong. */
const numberFrom = (text) => (NUMBER.test(text) ? Number(text.replace(',', '.')) : text);

/** One radius, or several with spaces or semicolons between them. */
function radiiFrom(text) {
  const parts = text.split(/;\s*|,?\s+/).filter((part) => part !== '');
  return parts.length > 1 ? parts.map(numberFrom) : numberFrom(text);
}

const read = (field) => {
  if (field.dataset.kind === 'boolean') return field.checked;
  const text = field.value.trim();
  if (text === '') return undefined;
  if (field.dataset.kind === 'text') return text;
  return field.dataset.kind === 'radii' ? radiiFrom(text) : numberFrom(text);
};

const valueAt = (tray, path) => path.split('.').reduce((at, part) => at?.[part], tray);

function setAt(tray, path, value) {
  const parts = path.split('.');
  const last = parts.pop();
  let at = tray;
  for (const part of parts) {
    if (typeof at[part] !== 'object' || at[part] === null) at[part] = {};
    at = at[part];
  }
  if (value === undefined) delete at[last];
  else at[last] = value;
}

/**
 * @param {() => void} changed called when a person changes a field
 */
export function trayForm(changed) {
  const form = byId('tray');
  const fields = [...form.querySelectorAll('[data-path]')];
  let tray = {};

  for (const field of fields) {
    const id = `${field.id}-error`;
    const error = element('p', { class: 'error', id, hidden: true });
    field.closest('.field').append(error);
    field.setAttribute(
      'aria-describedby',
      [field.getAttribute('aria-describedby'), id].filter(Boolean).join(' '),
    );
    field.addEventListener('input', () => {
      setAt(tray, field.dataset.path, read(field));
      changed();
    });
  }
  form.addEventListener('submit', (event) => event.preventDefault());

  const isRectangle = () =>
    tray.plan === undefined || 'length' in tray.plan || Object.keys(tray.plan).length === 0;

  function show() {
    for (const field of fields) {
      const value = valueAt(tray, field.dataset.path);
      if (field.dataset.kind === 'boolean') field.checked = value === true;
      else if (field.id === 'material' && typeof value === 'object') ownMaterial(field, value);
      else field.value = Array.isArray(value) ? value.join('; ') : (value ?? '');
    }
    const rectangle = isRectangle();
    for (const block of form.querySelectorAll('.plan')) block.hidden = !rectangle;
    byId('plan-note').hidden = rectangle;
    byId('plan-note-text').textContent = rectangle ? '' : planWords(tray.plan);
  }

  byId('plan-rectangle').addEventListener('click', () => {
    tray.plan = { length: 420, width: 280, cornerRadius: 60 };
    show();
    byId('length').focus();
    changed();
  });

  /** The field an error belongs to: its own, or that of what it is a part of. */
  function fieldOf(path) {
    for (let at = path; at !== ''; at = at.includes('.') ? at.slice(0, at.lastIndexOf('.')) : '') {
      const field = fields.find((candidate) => candidate.dataset.path === at);
      if (field !== undefined && !field.closest('[hidden]')) return field;
    }
    return undefined;
  }

  return {
    /** What the form stands for now. */
    get tray() {
      return structuredClone(tray);
    },
    set tray(value) {
      tray = structuredClone(value);
      show();
    },
    /** Puts sentences at their fields. @returns those that belong to none */
    showFaults(faults) {
      for (const field of fields) {
        field.removeAttribute('aria-invalid');
        say(byId(`${field.id}-error`), '');
      }
      const others = [];
      for (const { path, detail } of faults) {
        const field = fieldOf(path);
        if (field === undefined) {
          others.push(detail);
          continue;
        }
        const place = byId(`${field.id}-error`);
        say(place, place.textContent === '' ? detail : `${place.textContent} ${detail}`);
        field.setAttribute('aria-invalid', 'true');
        const folded = field.closest('details');
        if (folded !== null) folded.open = true;
      }
      return others;
    },
    /** Materials by family. */
    setMaterials(sheets) {
      const families = Map.groupBy(sheets, ({ family }) => family);
      byId('material').replaceChildren(
        ...[...families].map(([family, members]) =>
          element(
            'optgroup',
            { label: words.families[family] },
            ...members.map(({ name, title }) =>
              element('option', { value: name }, title.includes(name) ? title : `${name}: ${title}`),
            ),
          ),
        ),
      );
    },
  };
}

/** A material given in full has no name in the list; it is kept and shown as an entry of its own. */
function ownMaterial(select, material) {
  select.querySelector('[data-own]')?.remove();
  const option = element(
    'option',
    { 'data-own': true, value: '', disabled: true },
    sentence(words.ownMaterial, { name: material.name }),
  );
  select.prepend(option);
  option.selected = true;
}

function planWords(plan) {
  if (Array.isArray(plan.vertices)) return sentence(words.ownPlanCorners, { count: plan.vertices.length });
  return words.ownPlan;
}
