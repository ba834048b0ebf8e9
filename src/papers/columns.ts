/** Sections set under one another in two columns, and on further sheets where one does not hold them. */
import type { Item } from '../drawing/picture.ts';
import { heading, type Placed } from './marks.ts';

/** What stands together under a heading. */
export interface Section {
  readonly title: string;
  readonly blocks: readonly Placed[];
  /** Whether it may go on in another column, under its heading again, also where a new sheet would hold it whole. */
  readonly breaks?: boolean;
}

/** Where text may stand on a sheet, mm from its lower left corner. */
export interface Room {
  readonly top: number;
  readonly bottom: number;
}

export type Side = 'left' | 'right';

interface Sheet {
  readonly room: Room;
  readonly items: Item[];
  /** How far down each column is filled. */
  readonly y: Record<Side, number>;
}

const AFTER_HEADING = 0.5;
const AFTER_BLOCK = 0.6;
const AFTER_SECTION = 1.4;

export class Columns {
  readonly #sheets: Sheet[];
  readonly #x: Readonly<Record<Side, number>>;
  readonly #width: number;
  readonly #height: number;
  readonly #next: Room;

  /**
   * @param x      left edges of the columns, mm
   * @param width  of each
   * @param height of the letters of headings
   * @param first  room on the first sheet
   * @param next   room on those after it
   */
  constructor(x: Readonly<Record<Side, number>>, width: number, height: number, first: Room, next: Room) {
    this.#x = x;
    this.#width = width;
    this.#height = height;
    this.#next = next;
    this.#sheets = [sheet(first)];
  }

  /** What stands on each sheet. */
  get sheets(): readonly (readonly Item[])[] {
    return this.#sheets.map(({ items }) => items);
  }

  /**
   * Sets a section where the last sheet has room for all of it, on a new sheet when it has none: what comes later
   * never stands on an earlier sheet. Only a section that is longer than a sheet goes on in another column, under
   * its heading again.
   *
   * @param side where it stands if that column has room; the shorter column when left out
   */
  add({ title, blocks, breaks = false }: Section, side?: Side): void {
    if (blocks.length === 0) return;
    const placed: Placed[] = [(top) => heading(top, title, this.#height), ...blocks];
    const heights = placed.map((block) => block({ x: 0, y: 0, width: this.#width }).height + AFTER_BLOCK);
    const needed = heights.reduce((sum, each) => sum + each, AFTER_HEADING - AFTER_BLOCK);
    const last = this.#sheets.at(-1)!;
    const room = (own: Side): number => last.y[own] - last.room.bottom;
    const sides = this.#sides(last, side);
    const found = sides.find((own) => room(own) >= needed);
    if (found !== undefined) {
      this.#place(last, found, placed);
      return;
    }
    const longest = this.#next.top - this.#next.bottom;
    const fitting = (most: number): number => {
      let left = most - AFTER_HEADING;
      const over = heights.findIndex((each) => {
        left -= each;
        return left < -AFTER_BLOCK;
      });
      return over - 1;
    };
    const [begun] = breaks || needed > longest ? sides.filter((own) => fitting(room(own)) > 0) : [];
    if (begun !== undefined) {
      const count = fitting(room(begun));
      this.#place(last, begun, placed.slice(0, 1 + count));
      this.add({ title, blocks: blocks.slice(count), breaks }, side);
      return;
    }
    const fresh = sheet(this.#next);
    this.#sheets.push(fresh);
    if (needed <= longest) {
      this.#place(fresh, 'left', placed);
      return;
    }
    // A block that is higher than a sheet would never fit: it is set all the same.
    const count = Math.max(1, fitting(longest));
    this.#place(fresh, 'left', placed.slice(0, 1 + count));
    this.add({ title, blocks: blocks.slice(count), breaks }, side);
  }

  /** Columns in the order in which they are tried. */
  #sides({ y }: Sheet, side: Side | undefined): Side[] {
    const first = side ?? (y.left > y.right ? 'left' : 'right');
    return first === 'left' ? ['left', 'right'] : ['right', 'left'];
  }

  #place(on: Sheet, side: Side, placed: readonly Placed[]): void {
    placed.forEach((make, i) => {
      const block = make({ x: this.#x[side], y: on.y[side], width: this.#width });
      on.items.push(...block.items);
      on.y[side] -= block.height + (i === 0 ? AFTER_HEADING : AFTER_BLOCK);
    });
    on.y[side] -= AFTER_SECTION;
  }
}

const sheet = (room: Room): Sheet => ({ room, items: [], y: { left: room.top, right: room.top } });
