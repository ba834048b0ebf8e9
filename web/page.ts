/** Small helpers for the page's elements. */
import { type Entry, sentence as filled, type Tree } from '../src/server/answer.ts';
import { Later } from './later.ts';
import { words } from './words.js';

/** An element of the page's own document; its absence is a fault of the program. */
export const byId = <E extends HTMLElement = HTMLElement>(id: string): E => {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`no element ${id}`);
  return found as E;
};

export const input = (id: string): HTMLInputElement => byId<HTMLInputElement>(id);
export const button = (id: string): HTMLButtonElement => byId<HTMLButtonElement>(id);
export const image = (id: string): HTMLImageElement => byId<HTMLImageElement>(id);

type Attributes = Readonly<Record<string, string | boolean | undefined>>;

/** An element with text and children; never markup from text. */
export function element<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  attributes: Attributes = {},
  ...children: (Node | string)[]
): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === true) made.setAttribute(key, '');
    else if (value !== false && value !== undefined) made.setAttribute(key, value);
  }
  made.append(...children);
  return made;
}

export function node(tree: Tree): Node | string {
  if (typeof tree === 'string') return tree;
  const { tag, attributes, children } = tree;
  return element(tag as keyof HTMLElementTagNameMap, attributes, ...children.map(node));
}

/** Puts trees in the place of what an element holds. */
export const fill = (target: Element, trees: readonly Tree[]): void =>
  target.replaceChildren(...trees.map(node));

export const list = (target: Element, texts: readonly string[]): void =>
  target.replaceChildren(...texts.map((text) => element('li', {}, text)));

/** Shows a sentence, or hides its place when there is none. */
export function say(target: HTMLElement, text: string | undefined): void {
  target.textContent = text ?? '';
  target.hidden = !text;
}

/** A text of the table with figures in its places. */
export const sentence = (entry: Entry, values: Readonly<Record<string, string | number>>): string =>
  filled(words, entry, values);

const announced = new Later();
/** Tells a screen reader, once things have settled, so that typing is not talked over. */
export function announce(text: string, wait = 700): void {
  announced.after(wait, () => {
    byId('announce').textContent = text;
  });
}

const addresses = new WeakMap<HTMLImageElement, string>();

/** An SVG or a picture's bytes as an image: nothing in it can run, and it is never parsed as part of the page. */
export function picture(target: HTMLImageElement, content: BlobPart, type = 'image/svg+xml', alt = ''): void {
  const before = addresses.get(target);
  if (before !== undefined) URL.revokeObjectURL(before);
  const address = URL.createObjectURL(new Blob([content], { type }));
  addresses.set(target, address);
  target.src = address;
  target.alt = alt;
}
