/** Files to take away: the drawing to cut, everything in one archive, and one for each format with its settings. */
import type { Parameter } from '../src/exporters/contract.ts';
import type { PageFacts } from '../src/server/pageWords.ts';
import { button, byId, element, input, say, sentence } from './page.ts';
import { Failure, saveAnswer } from './service.ts';
import type { WantedFile } from './solving.ts';
import { facts, words } from './words.js';

type Format = PageFacts['formats'][number];

/** A setting as an input, and what stands in it. */
interface Control {
  readonly node: HTMLElement;
  readonly value: () => string;
}

/** @param initial what stands in it at first */
function control(id: string, parameter: Parameter, initial: string): Control {
  const help = parameter.help.charAt(0).toUpperCase() + parameter.help.slice(1);
  if (parameter.type === 'list') {
    const usual = parameter.usual.split(',');
    const boxes = parameter.choices.map((choice) => {
      const box = element('input', {
        id: `${id}-${choice}`,
        type: 'checkbox',
        checked: usual.includes(choice),
      });
      return { choice, box, label: element('label', { for: `${id}-${choice}` }, choice) };
    });
    return {
      node: element(
        'fieldset',
        {},
        element('legend', {}, help),
        ...boxes.map(({ box, label }) => element('div', { class: 'check' }, box, label)),
      ),
      value: () =>
        boxes
          .filter(({ box }) => box.checked)
          .map(({ choice }) => choice)
          .join(','),
    };
  }
  if (parameter.type === 'boolean') {
    const box = element('input', { id, type: 'checkbox', checked: parameter.default });
    return {
      node: element('div', { class: 'check' }, box, element('label', { for: id }, help)),
      value: () => String(box.checked),
    };
  }
  const unit = parameter.type === 'number' ? parameter.unit : '';
  const label = unit === '' ? help : sentence(words.setting, { help, unit });
  const field =
    parameter.type === 'choice'
      ? element(
          'select',
          { id },
          ...parameter.choices.map((choice) =>
            element('option', { value: choice, selected: choice === initial }, choice),
          ),
        )
      : element('input', { id, inputmode: 'decimal', autocomplete: 'off', value: initial });
  return {
    node: element('div', { class: 'field' }, element('label', { for: id }, label), field),
    value: () => field.value.trim().replace(',', '.'),
  };
}

/** What a format is for, by what kind of file it is. */
function use({ mediaType, extension }: Format): string {
  if (mediaType === 'application/pdf') return words.toPrint;
  if (mediaType.startsWith('image/') && !/dxf$/.test(extension)) return words.toLookAt;
  if (mediaType === 'application/json') return words.forPrograms;
  return words.toCut;
}

/** Makes a file of what is shown, once that is what is in the form. @throws Failure where it cannot be */
export interface Makers {
  readonly file: (wanted: WantedFile) => Promise<Response>;
  readonly archive: (quantity: string) => Promise<Response>;
}

/** Runs what a button does with the button out of use, and says what went wrong beside it. */
export async function busyWhile(pressed: HTMLButtonElement, work: () => Promise<unknown>): Promise<void> {
  const error = byId('take-error');
  say(error, '');
  say(byId('take-note'), words.making);
  const hadFocus = document.activeElement === pressed;
  pressed.disabled = true;
  pressed.setAttribute('aria-busy', 'true');
  try {
    await work();
  } catch (failure) {
    if (!(failure instanceof Failure)) throw failure;
    if (failure.faults[0]?.path === 'quantity') {
      const folded = byId('quantity').closest('details');
      if (folded !== null) folded.open = true;
      say(byId('quantity-error'), failure.message);
      byId('quantity').setAttribute('aria-invalid', 'true');
      byId('quantity').focus();
    } else say(error, failure.message);
  } finally {
    pressed.disabled = false;
    pressed.removeAttribute('aria-busy');
    // A button out of use loses it, and who works by keyboard would begin at the top.
    if (hadFocus && document.activeElement === document.body) pressed.focus();
    if (byId('take-note').textContent === words.making) say(byId('take-note'), '');
  }
}

/** @param inches whether the page is in inches: papers then are too */
export function files({ file, archive }: Makers, inches: () => boolean): { unit(): void } {
  /** What a setting is at first: lengths of papers are in the unit of the page. */
  const initial = (parameter: Parameter): string =>
    parameter.type === 'choice' && parameter.name === 'unit' && inches() && parameter.choices.includes('inch')
      ? 'inch'
      : String(parameter.default);

  const row = (format: Format, suffix = ''): HTMLElement => {
    const controls = format.parameters.map((parameter) => ({
      parameter,
      ...control(`set-${format.id}${suffix}-${parameter.name}`, parameter, initial(parameter)),
    }));
    const label = sentence(words.saveFormat, { format: format.label });
    const save = element('button', { type: 'button', 'aria-label': label }, words.save);
    save.addEventListener('click', () =>
      busyWhile(save, async () => {
        // Only what differs from the default, so that the address stays short.
        const values = Object.fromEntries(
          controls
            .filter(({ parameter, value }) => value() !== String(parameter.default))
            .map(({ parameter, value }) => [parameter.name, value()]),
        );
        await saveAnswer(await file({ format: format.id, values }));
      }),
    );
    const what =
      controls.length === 0
        ? element('span', {}, format.label)
        : element(
            'details',
            {},
            element('summary', {}, format.label),
            element('div', { class: 'settings' }, ...controls.map(({ node }) => node)),
          );
    return element('li', { class: 'row' }, what, save);
  };

  /** A format that can have marks: first with what is cut alone, then with the marks, each with its own button. */
  const rows = (format: Format): HTMLElement[] => {
    const parameters = format.parameters.filter(({ type }) => type !== 'list');
    if (parameters.length === format.parameters.length) return [row(format)];
    return [row({ ...format, parameters }), row({ ...format, label: words.marked }, '-marked')];
  };

  function show(): void {
    const kinds = new Map<string, Format[]>();
    for (const format of facts.formats) kinds.set(use(format), [...(kinds.get(use(format)) ?? []), format]);
    byId('formats').replaceChildren(
      ...[...kinds].flatMap(([title, members]) => [
        element('li', {}, element('h4', {}, title), element('ul', {}, ...members.flatMap(rows))),
      ]),
    );
  }
  show();

  input('quantity').addEventListener('input', () => {
    say(byId('quantity-error'), '');
    byId('quantity').removeAttribute('aria-invalid');
  });
  const cut = button('save-cut');
  cut.addEventListener('click', () =>
    busyWhile(cut, async () => saveAnswer(await file({ format: 'dxf', values: {} }))),
  );
  const all = button('save-archive');
  all.addEventListener('click', () =>
    busyWhile(all, async () => saveAnswer(await archive(input('quantity').value.trim()))),
  );
  return { unit: show };
}
