/** Files to take away: one for each format, with its settings, or all in one archive. */
import { Failure, saveAnswer, saveBlob } from './api.js';
import { byId, element, say } from './page.js';
import { sentence } from './sentence.js';
import { words } from './words.js';

/** An input for a parameter as an exporter declares it. */
function control(format, parameter) {
  const id = `set-${format.id}-${parameter.name}`;
  const help = parameter.help[0].toUpperCase() + parameter.help.slice(1);
  if (parameter.type === 'list') {
    const usual = parameter.usual.split(',');
    const inputs = parameter.choices.map((choice) =>
      element('input', { id: `${id}-${choice}`, type: 'checkbox', checked: usual.includes(choice) }),
    );
    const boxes = parameter.choices.map((choice, i) =>
      element(
        'div',
        { class: 'field check' },
        inputs[i],
        element('label', { for: `${id}-${choice}` }, choice),
      ),
    );
    return {
      node: element('fieldset', {}, element('legend', {}, help), ...boxes),
      value: () => parameter.choices.filter((_, i) => inputs[i].checked).join(','),
    };
  }
  if (parameter.type === 'boolean') {
    const input = element('input', { id, type: 'checkbox', checked: parameter.default });
    return {
      node: element('div', { class: 'field check' }, input, element('label', { for: id }, help)),
      value: () => String(input.checked),
    };
  }
  const label = parameter.unit ? sentence(words.setting, { help, unit: parameter.unit }) : help;
  const input =
    parameter.type === 'choice'
      ? element(
          'select',
          { id },
          ...parameter.choices.map((choice) =>
            element('option', { value: choice, selected: choice === parameter.default }, choice),
          ),
        )
      : element('input', { id, inputmode: 'decimal', autocomplete: 'off', value: parameter.default });
  return {
    node: element('div', { class: 'field' }, element('label', { for: id }, label), input),
    value: () => input.value.trim().replace(',', '.'),
  };
}

/** What a format is for, by what kind of file it is. */
function use({ mediaType, extension }) {
  if (mediaType === 'application/pdf') return words.toPrint;
  if (mediaType.startsWith('image/') && !/dxf$/.test(extension)) return words.toLookAt;
  if (mediaType === 'application/json') return words.forPrograms;
  return words.toCut;
}

/**
 * @param formats as the service declares them
 * @param post    asks an address for what is made of what is shown
 */
export function downloads(formats, post) {
  const error = byId('take-error');

  /** Runs a download with its button out of use, and says what went wrong beside it. */
  async function take(button, work) {
    say(error, '');
    button.disabled = true;
    button.setAttribute('aria-busy', 'true');
    try {
      await work();
    } catch (failure) {
      if (!(failure instanceof Failure)) throw failure;
      if (failure.faults[0]?.path === 'quantity') {
        say(byId('quantity-error'), failure.message);
        byId('quantity').setAttribute('aria-invalid', 'true');
        byId('quantity').focus();
      } else {
        say(error, failure.message);
      }
    } finally {
      button.disabled = false;
      button.removeAttribute('aria-busy');
    }
  }

  /** A format that can have marks: first with what is cut alone, then with the marks, each with its own button. */
  const rows = (format) => {
    if (format.parameters.every(({ type }) => type !== 'list')) return [row(format)];
    const parameters = format.parameters.filter(({ type }) => type !== 'list');
    return [row({ ...format, parameters }), row({ ...format, label: words.marked }, '-marked')];
  };

  const row = (format, suffix = '') => {
    const controls = format.parameters.map((parameter) => ({
      parameter,
      ...control({ id: `${format.id}${suffix}` }, parameter),
    }));
    const label = sentence(words.saveFormat, { format: format.label });
    const button = element('button', { type: 'button', 'aria-label': label }, words.save);
    button.addEventListener('click', () =>
      take(button, async () => {
        // Only what differs from the default, so that the address stays short.
        const changed = controls
          .filter(({ parameter, value }) => value() !== String(parameter.default))
          .map(({ parameter, value }) => [parameter.name, value()]);
        const query = new URLSearchParams(changed).toString();
        await saveAnswer(await post(`files/${format.id}${query && `?${query}`}`));
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
    return element('li', { class: 'row' }, what, button);
  };

  byId('formats').replaceChildren(
    ...[...Map.groupBy(formats, use)].map(([title, members], i) =>
      element(
        'li',
        {},
        element(
          'details',
          { open: i === 0 },
          element('summary', {}, title),
          element('ul', {}, ...members.flatMap(rows)),
        ),
      ),
    ),
  );

  byId('quantity').addEventListener('input', () => {
    say(byId('quantity-error'), '');
    byId('quantity').removeAttribute('aria-invalid');
  });
  const archive = byId('save-archive');
  archive.addEventListener('click', () =>
    take(archive, async () => {
      const query = new URLSearchParams({ quantity: byId('quantity').value.trim() });
      await saveAnswer(await post(`archive?${query}`));
    }),
  );
}

/** The tray file needs no service: it is what the form stands for. */
export function saveTray(tray) {
  const blob = new Blob([`${JSON.stringify(tray, null, 2)}\n`], { type: 'application/json' });
  saveBlob(blob, `${tray.name || 'tray'}-tray.json`);
}
