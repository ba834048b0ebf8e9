/** Lays blanks out on stock sheets and says what that takes. */
import { type Fault, GatherpanError } from '../errors.ts';
import { extentOf } from '../geometry/extent.ts';
import { words } from '../words/language.ts';
import { turned } from './convex.ts';
import { type CostRates, costOf } from './cost.ts';
import { runInterruptibly } from './interruptible.ts';
import type { Placed, Shape, Stock } from './packing.ts';
import type { GrainRule, Part } from './parts.ts';
import { searching } from './search.ts';

export interface LayoutOptions {
  readonly stock: Stock;
  readonly grain: GrainRule;
  /** 0: sorted orders only; 1: some seconds for 200 parts; up to 10. */
  readonly effort: number;
  readonly rates: CostRates;
}

/** A blank at its place: turned about its pattern's origin by `angle` radians, then moved to (x, y) mm. */
export interface PlacedPart {
  readonly part: Part;
  readonly x: number;
  readonly y: number;
  readonly angle: number;
}

/** Lengths mm, areas mm², masses kg; the cost in the unit of the person's rates, null without rates. */
export interface LaidSheet {
  readonly material: string;
  readonly thickness: number;
  /** Among the sheets of its kind, from 1. */
  readonly number: number;
  readonly parts: readonly PlacedPart[];
  readonly area: number;
  readonly partsArea: number;
  /** Area of the blanks over area of the sheet, from 0 to 1. */
  readonly utilisation: number;
  /** How far from the left edge the sheet is used. */
  readonly usedLength: number;
  /** The piece of full width that stays whole at the right end; null when there is none. */
  readonly offcut: { readonly length: number; readonly width: number; readonly mass: number } | null;
  readonly mass: number;
  readonly partsMass: number;
  readonly cutLength: number;
  readonly pierces: number;
  readonly cost: number | null;
}

export interface SheetLayout {
  readonly sheets: readonly LaidSheet[];
  /** Sheets that the bare area of the blanks would need, by material and thickness added up. */
  readonly leastSheets: number;
}

/** Blanks of one layout. */
export const MOST_PARTS = 5000;

/** Places looked for in a search of effort 1, for all kinds of sheet together. */
const LOOKS = 3000;

/**
 * Blanks of each material and thickness on sheets of their own.
 *
 * @param parts at least one
 * @throws GatherpanError BAD_INPUT with one fault for every blank that does not fit the sheet, TOO_LARGE for more
 *   blanks than are laid out at once, CANCELLED when the signal was aborted
 */
export async function layOut(
  parts: readonly Part[],
  options: LayoutOptions,
  signal?: AbortSignal,
): Promise<SheetLayout> {
  refuseTooMany(parts);
  refuseTooLarge(parts, options);
  const kinds = new Map<string, Part[]>();
  for (const part of parts) {
    const { material, thickness } = part.sheet;
    const key = `${material.name} ${thickness}`;
    const others = kinds.get(key);
    if (others === undefined) kinds.set(key, [part]);
    else others.push(part);
  }
  const sheets: LaidSheet[] = [];
  let leastSheets = 0;
  for (const same of kinds.values()) {
    sheets.push(...(await layOutKind(same, options, LOOKS / kinds.size, signal)));
    leastSheets += leastSheetsFor(same, options.stock);
  }
  return { sheets, leastSheets };
}

const leastSheetsFor = (parts: readonly Part[], { length, width, edge }: Stock): number =>
  Math.ceil(
    parts.reduce((sum, part) => sum + part.quantity * part.area, 0) /
      ((length - 2 * edge) * (width - 2 * edge)) -
      1e-9,
  );

/** @throws GatherpanError TOO_LARGE for more blanks than are laid out at once */
export function refuseTooMany(parts: readonly { readonly quantity: number }[]): void {
  const wanted = parts.reduce((sum, part) => sum + part.quantity, 0);
  if (wanted <= MOST_PARTS) return;
  throw new GatherpanError('TOO_LARGE', words().messages.layout.tooMany(String(wanted), String(MOST_PARTS)));
}

function refuseTooLarge(parts: readonly Part[], { stock, grain }: LayoutOptions): void {
  const faults: Fault[] = [];
  for (const part of parts) {
    const fits = part.turns.some((angle) => {
      const { minX, minY, maxX, maxY } = extentOf(turned(part.hull, angle));
      return (
        maxX - minX <= stock.length - 2 * stock.edge + 1e-6 &&
        maxY - minY <= stock.width - 2 * stock.edge + 1e-6
      );
    });
    if (fits) continue;
    const { minX, minY, maxX, maxY } = extentOf(turned(part.hull, part.turns[0]!));
    const said = words().messages.layout;
    const sentence = grain === 'along' ? said.tooLargeAlong : said.tooLarge;
    faults.push({
      path: part.name,
      message: sentence(
        part.name,
        (maxX - minX).toFixed(1),
        (maxY - minY).toFixed(1),
        String(stock.length - 2 * stock.edge),
        String(stock.width - 2 * stock.edge),
      ),
    });
  }
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults.slice(0, 20));
}

async function layOutKind(
  parts: readonly Part[],
  options: LayoutOptions,
  looks: number,
  signal?: AbortSignal,
): Promise<LaidSheet[]> {
  const shapes: Shape[] = parts.map(({ hull, turns }) => ({ hull, turns }));
  const items = parts.flatMap((part, i) => Array.from({ length: part.quantity }, () => i));
  const steps = searching(shapes, items, options.stock, { looks: looks * options.effort });
  const { packing } = await runInterruptibly(steps, signal);
  return packing.used.map((used, sheet) =>
    laidSheet(
      parts,
      packing.placed.filter((placed) => placed.sheet === sheet),
      sheet,
      used,
      options,
    ),
  );
}

function laidSheet(
  parts: readonly Part[],
  placed: readonly Placed[],
  sheet: number,
  used: number,
  { stock, rates }: LayoutOptions,
): LaidSheet {
  const { material, thickness } = parts[0]!.sheet;
  const perArea = thickness * material.density * 1e-6;
  const laid = placed.map(
    ({ shape, turn, x, y }): PlacedPart => ({ part: parts[shape]!, x, y, angle: parts[shape]!.turns[turn]! }),
  );
  const sum = (of: (part: Part) => number): number => laid.reduce((total, { part }) => total + of(part), 0);
  const area = stock.length * stock.width;
  const partsArea = sum((part) => part.area);
  const cutLength = sum((part) => part.cutLength);
  const pierces = sum((part) => part.pierces);
  const mass = area * perArea;
  const left = stock.length - used - stock.spacing;
  return {
    material: material.name,
    thickness,
    number: sheet + 1,
    parts: laid,
    area,
    partsArea,
    utilisation: partsArea / area,
    usedLength: used,
    offcut: left > 0 ? { length: left, width: stock.width, mass: left * stock.width * perArea } : null,
    mass,
    partsMass: partsArea * perArea,
    cutLength,
    pierces,
    cost: costOf({ cutLength, pierces, mass }, rates),
  };
}
