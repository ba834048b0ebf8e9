/** Small helpers for the page's elements. */

export const byId = (id) => document.getElementById(id);

/** An element with text and children; never markup from text. */
export function element(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === true) made.setAttribute(key, '');
    else if (value !== false && value !== undefined) made.setAttribute(key, value);
  }
  made.append(...children);
  return made;
}

export const list = (target, texts) =>
  target.replaceChildren(...texts.map((text) => element('li', {}, text)));

/** Shows a sentence, or hides its place when there is none. */
export function say(target, text) {
  target.textContent = text ?? '';
  target.hidden = !text;
}

let announced;
/** Tells a screen reader, once things have settled, so that typing is not talked over. */
export function announce(target, text, wait = 700) {
  clearTimeout(announced);
  announced = setTimeout(() => {
    target.textContent = text;
  }, wait);
}

export const mm = (value, digits = 1) => value.toFixed(digits);
