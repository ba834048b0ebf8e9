/** Plain tables of figures, a row a line. */
import type { Item } from '../drawing/picture.ts';
import { TEXT } from '../drawing/weights.ts';
import { type Block, type Column, heading, paragraph, Stack, text } from './marks.ts';

const PITCH = 4.7;
const HEIGHT = TEXT.normal;

/** One line of a table. */
export interface TableRow {
  readonly cells: readonly string[];
  /** A sentence instead of cells. */
  readonly note?: string;
  readonly bold?: boolean;
}

/** @param rights right edges of the cells, as shares of the width; the first cell is set to the left */
export function rowsBlock(top: Column, rows: readonly TableRow[], rights: readonly number[]): Block {
  const items: Item[] = [];
  let y = top.y;
  for (const { cells, note, bold = false } of rows) {
    if (note !== undefined) {
      const block = paragraph({ ...top, y: y - 0.6 }, note, HEIGHT, bold);
      items.push(...block.items);
      y -= block.height + 0.9;
      continue;
    }
    cells.forEach((cell, i) => {
      if (cell === '') return;
      const at = i === 0 ? { x: top.x, y: y - HEIGHT } : { x: top.x + top.width * rights[i]!, y: y - HEIGHT };
      items.push(text(at, HEIGHT, cell, { align: i === 0 ? 'left' : 'right', bold }));
    });
    y -= PITCH;
  }
  return { items, height: top.y - y };
}

export interface RowsTable {
  readonly title: string;
  readonly rows: readonly TableRow[];
  readonly rights: readonly number[];
}

export const rowsTable = (top: Column, { title, rows, rights }: RowsTable): Block =>
  new Stack(top).add((column) => heading(column, title), 1).add((column) => rowsBlock(column, rows, rights));
