/** Blocks under one another on pages of one size, each whole. */
import type { Item, Picture } from '../drawing/picture.ts';
import { TEXT } from '../drawing/weights.ts';
import { type Column, type Placed, paragraph } from './marks.ts';
import { PAGE_SIZES, type PageSize } from './pageSizes.ts';

const MARGIN = 15;
const GAP = 6;

export class PageFlow {
  readonly #page: { readonly width: number; readonly height: number };
  readonly #title: string;
  readonly #pages: Item[][] = [[]];
  #y: number;

  /** Begins with the title on the first page. */
  constructor(paper: PageSize, title: string) {
    this.#page = PAGE_SIZES[paper];
    this.#title = title;
    this.#y = this.#top;
    this.add((top) => paragraph(top, title, TEXT.title, true), 1);
  }

  get #top(): number {
    return this.#page.height - MARGIN;
  }

  #at(y: number): Column {
    return { x: MARGIN, y, width: this.#page.width - 2 * MARGIN };
  }

  /** Sets a block under the last one, on a new page where this one has no room for it. */
  add(block: Placed, gap = GAP): void {
    const { height } = block(this.#at(0));
    if (this.#y - height < MARGIN && this.#y < this.#top) {
      this.#pages.push([]);
      this.#y = this.#top;
    }
    this.#pages.at(-1)!.push(...block(this.#at(this.#y)).items);
    this.#y -= height + gap;
  }

  /** What follows begins a page. */
  break(): void {
    if (this.#y === this.#top) return;
    this.#pages.push([]);
    this.#y = this.#top;
  }

  get pages(): Picture[] {
    const { width, height } = this.#page;
    return this.#pages.map((items) => ({ width, height, title: this.#title, items }));
  }
}
