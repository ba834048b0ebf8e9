/** The form and the tray it stands for, in the unit of the page. */
import { inLabels as named } from '../src/server/answer.ts';
import { formRows, ROWS } from '../src/server/formRows.ts';
import type { Units } from '../src/tray/fields.ts';
import { cornerCount, fieldValue, isRectangle, withField } from '../src/tray/trayForm.ts';
import { inUnits, type TrayObject } from '../src/tray/writtenTray.ts';
import { byId, element, fill, say, sentence } from './page.ts';
import { planPicture } from './planPicture.ts';
import type { Fault } from './service.ts';
import { facts, words } from './words.js';

type Field = HTMLInputElement | HTMLSelectElement;

export interface TrayForm {
  /** What the form stands for now; sizes as they were typed. */
  readonly tray: TrayObject;
  set(tray: TrayObject): void;
  /** The same tray in another unit. */
  convert(units: Units): void;
  /** Puts sentences at their fields. @returns those that belong to none */
  showFaults(faults: readonly Fault[]): string[];
  /** A sentence about fields of a tray file, with the names that they have in the form. */
  inLabels(text: string): string;
}

/** @param changed called when a person changes a field */
export function trayForm(changed: () => void): TrayForm {
  const form = byId<HTMLFormElement>('tray');
  let fields: readonly Field[] = [];
  let tray: TrayObject = {};
  /** The rows that are there, as text, to see whether others are wanted. */
  let rows = '';

  /** A field is followed, and has a place for what is wrong with it. */
  function follow(field: Field): void {
    const id = `${field.id}-error`;
    field.closest('.field, .check')!.append(element('p', { class: 'error', id, hidden: true }));
    field.setAttribute(
      'aria-describedby',
      [field.getAttribute('aria-describedby'), id].filter(Boolean).join(' '),
    );
    field.addEventListener('input', () => {
      const isBox = field.type === 'checkbox';
      tray = withField(
        tray,
        field.name,
        isBox ? (field as HTMLInputElement).checked : field.value,
        field.value,
      );
      show(field);
      changed();
    });
  }

  /** The rows that the tray has: its corners, sides and holes. A field that is gone leaves its place to the same one anew. */
  function showRows(): void {
    const wanted = formRows(tray, words);
    const text = JSON.stringify(wanted);
    if (text === rows) return;
    rows = text;
    const focused = document.activeElement?.id ?? '';
    for (const id of ROWS) fill(byId(id), wanted[id]);
    const known = new Set(fields);
    fields = [...form.querySelectorAll<Field>('[name]:not([type="hidden"])')];
    for (const field of fields.filter((each) => !known.has(each))) follow(field);
    if (focused !== '' && document.activeElement === document.body) document.getElementById(focused)?.focus();
  }

  form.addEventListener('submit', (event) => {
    // Where the page could not start, the service answers.
    if (document.documentElement.classList.contains('scripted')) event.preventDefault();
  });
  byId('materials').append(
    ...facts.sheets.map(({ name, title }) => element('option', { value: name }, title)),
  );

  /** @param typed the field that a person is in, which stays as it is */
  function show(typed?: Field): void {
    showRows();
    for (const field of fields) {
      if (field === typed) continue;
      const value = fieldValue(tray, field.name, field.value);
      if (typeof value === 'boolean') (field as HTMLInputElement).checked = value;
      else field.value = value;
    }
    const rectangle = isRectangle(tray);
    for (const block of form.querySelectorAll<HTMLElement>('.plan')) block.hidden = !rectangle;
    for (const id of ['corner-rows', 'side-rows'])
      byId(id).closest('fieldset')!.hidden = cornerCount(tray) === 0;
    for (const block of form.querySelectorAll<HTMLElement>('.lip'))
      block.hidden = fieldValue(tray, 'section.rim') === 'plain';
    byId('plan-note').hidden = rectangle;
    byId('plan-note-text').textContent = rectangle ? '' : planWords(tray);
    planPicture(byId('plan-picture'), tray, (id) => byId(id).focus());
  }

  byId('plan-rectangle').addEventListener('click', () => {
    tray = { ...tray, plan: facts.demo.plan };
    show();
    byId('length').focus();
    changed();
  });

  /** The field an error belongs to: its own, or the first part of what it names, or that of what it is a part of. */
  function fieldOf(path: string): Field | undefined {
    const shown = fields.filter((each) => each.closest('[hidden]') === null);
    for (let at = path; at !== ''; at = at.includes('.') ? at.slice(0, at.lastIndexOf('.')) : '') {
      const found =
        shown.find(({ name }) => name === at) ??
        // A whole part of the tray file has no place of its own.
        (at.includes('.') ? shown.find(({ name }) => name.startsWith(`${at}.`)) : undefined);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  const inLabels = (text: string): string =>
    named(
      text,
      fields.map((field) => [field.name, field.labels?.[0]?.textContent ?? ''] as const),
    );

  return {
    inLabels,
    get tray() {
      return tray;
    },
    set(value) {
      tray = structuredClone(value);
      show();
    },
    convert(units) {
      tray = inUnits(tray, units);
      show();
    },
    showFaults(faults) {
      for (const field of fields) {
        field.removeAttribute('aria-invalid');
        say(byId(`${field.id}-error`), '');
      }
      const others: string[] = [];
      for (const { path, detail } of faults) {
        const field = fieldOf(path);
        if (field === undefined) {
          others.push(inLabels(detail));
          continue;
        }
        const place = byId(`${field.id}-error`);
        say(place, `${place.textContent} ${inLabels(detail)}`.trim());
        field.setAttribute('aria-invalid', 'true');
        const folded = field.closest('details');
        if (folded !== null) folded.open = true;
      }
      return others;
    },
  };
}

function planWords({ plan }: TrayObject): string {
  const { vertices } = plan as { readonly vertices?: readonly unknown[] };
  return Array.isArray(vertices) ? sentence(words.ownPlanCorners, { count: vertices.length }) : words.ownPlan;
}
