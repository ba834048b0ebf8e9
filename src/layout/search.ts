/**
 * Looks for an order of shapes that needs less sheet: several sorted orders first, then changes to the best of
 * them that are kept when they do no harm.
 *
 * Random numbers come from a fixed seed and the search is paid in looked-for places, not in time, so the same
 * order of parts gives the same layout on every machine.
 */
import { extentOf } from '../geometry/extent.ts';
import { type Polygon, turned } from './convex.ts';
import { type Order, Packer, type Packing, type Shape, type Stock } from './packing.ts';

export interface SearchOptions {
  /** Places to look for; a layout of n parts needs n of them and more. */
  readonly looks: number;
}

export interface Found {
  readonly packing: Packing;
  readonly order: Order;
}

/** Places looked for in the sorted orders, however many parts there are; the first order always ends. */
const MOST_LOOKS = 40_000;

/** The search from beginning to end. */
export function search(...given: Parameters<typeof searching>): Found {
  const steps = searching(...given);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/**
 * The search in steps, one for every order that is tried.
 *
 * @param items shape number of each part; every shape fits the sheet
 */
export function* searching(
  shapes: readonly Shape[],
  items: readonly number[],
  stock: Stock,
  options: SearchOptions,
): Generator<void, Found> {
  const packers = [new Packer(shapes, stock)];
  if (!shapes.every(isBox)) packers.push(new Packer(shapes, stock, true));
  let best: (Found & { packer: Packer }) | null = null;
  let length = Infinity;
  const attempt = (packer: Packer, order: Order): void => {
    const packing = packer.pack(order);
    const reached = lengthOf(packing, stock);
    if (reached > length) return;
    best = { packing, order, packer };
    length = reached;
  };
  const lowest = lowerBound(shapes, items, stock);
  const looks = (): number => packers.reduce((sum, packer) => sum + packer.looks, 0);
  // Many kinds of blank on many sheets make every order dear: then only the first ones are tried.
  const enough = Math.max(options.looks, Math.min(12 * items.length, MOST_LOOKS));
  for (const order of sortedOrders(shapes, items)) {
    for (const packer of packers) {
      if (length !== Infinity && looks() >= enough) continue;
      attempt(packer, order);
      yield;
    }
  }
  const random = generator(0x9e3779b9);
  while (looks() < options.looks && length > lowest + 1e-6 && items.length > 1) {
    const { order, packer }: Found & { packer: Packer } = best!;
    // Now and then the other way of packing has its turn.
    const other = packers.find((each) => each !== packer) ?? packer;
    attempt(random() < 0.25 ? other : packer, changed(order, shapes, random));
    yield;
  }
  const { packing, order }: Found = best!;
  return { packing, order };
}

/** Whether a shape fills its upright box in every turn. */
const isBox = ({ hull, turns }: Shape): boolean =>
  turns.every((angle) => {
    const lying = turned(hull, angle);
    const { minX, minY, maxX, maxY } = extentOf(lying);
    return areaOf(lying) > (maxX - minX) * (maxY - minY) * (1 - 1e-9);
  });

/** Length of stock used, mm: all sheets but the last in full, and as much of the last as is used. */
function lengthOf({ used }: Packing, stock: Stock): number {
  const last = used.at(-1)!;
  return Number.isFinite(stock.length) ? (used.length - 1) * stock.length + last : last;
}

/** Length that the bare area needs, in the measure of `lengthOf`. */
export function lowerBound(shapes: readonly Shape[], items: readonly number[], stock: Stock): number {
  const area = items.reduce((sum, item) => sum + areaOf(shapes[item]!.hull), 0);
  const width = stock.width - 2 * stock.edge;
  if (!Number.isFinite(stock.length)) return area / width + stock.edge;
  const sheet = (stock.length - 2 * stock.edge) * width;
  const full = Math.max(0, Math.ceil(area / sheet - 1e-9) - 1);
  return full * stock.length + (area - full * sheet) / width + stock.edge;
}

export function areaOf(polygon: Polygon): number {
  let twice = 0;
  const count = polygon.length;
  for (let i = 0; i < count; i += 2) {
    const j = (i + 2) % count;
    twice += polygon[i]! * polygon[j + 1]! - polygon[j]! * polygon[i + 1]!;
  }
  return twice / 2;
}

function sortedOrders(shapes: readonly Shape[], items: readonly number[]): Order[] {
  const sizes = shapes.map(({ hull }) => {
    const { minX, minY, maxX, maxY } = extentOf(hull);
    const [a, b] = [maxX - minX, maxY - minY];
    return { area: areaOf(hull), long: Math.max(a, b), short: Math.min(a, b), along: a, across: b };
  });
  type Size = (typeof sizes)[number];
  const measures: ((size: Size) => number)[] = [
    (size) => size.area,
    (size) => size.long,
    (size) => size.long + size.short,
    (size) => size.short,
    (size) => size.across,
    (size) => size.along,
  ];
  // Whichever turn is best for each, and all in their first or all in their second turn.
  const turnsOf = (turn: number) => (item: number) => (turn < shapes[item]!.turns.length ? turn : -1);
  const choices = shapes.some((shape) => shape.turns.length > 1)
    ? [() => -1, turnsOf(0), turnsOf(1)]
    : [() => -1];
  return measures.flatMap((measure) => {
    // Shapes that measure the same stay together, in the order they were given.
    const sorted = [...items].sort((a, b) => measure(sizes[b]!) - measure(sizes[a]!) || a - b);
    return choices.map((choice): Order => ({ shapes: sorted, turns: sorted.map(choice) }));
  });
}

/** One to three changes: two parts swapped, one moved, one turned. */
function changed(order: Order, shapes: readonly Shape[], random: () => number): Order {
  const list = order.shapes.map((shape, i) => ({ shape, turn: order.turns[i]! }));
  const any = (): number => Math.floor(random() * list.length);
  for (let count = 1 + Math.floor(random() * 3); count > 0; count--) {
    const kind = random();
    if (kind < 0.4) {
      const [i, j] = [any(), any()];
      [list[i], list[j]] = [list[j]!, list[i]!];
    } else if (kind < 0.8) {
      const [moved] = list.splice(any(), 1);
      list.splice(Math.floor(random() * (list.length + 1)), 0, moved!);
    } else {
      const item = list[any()]!;
      item.turn = Math.floor(random() * (shapes[item.shape]!.turns.length + 1)) - 1;
    }
  }
  return { shapes: list.map((item) => item.shape), turns: list.map((item) => item.turn) };
}

/** Numbers from 0 to 1: the generator mulberry32 (public domain, from memory). */
function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
