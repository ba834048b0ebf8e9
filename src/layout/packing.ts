/**
 * Puts convex shapes on sheets, each as far left and then as low as it goes (bottom-left fill), in a given order.
 *
 * Left is where a sheet begins: what stays free is a piece of full width at its right end.
 *
 * Our own code: the packing libraries for JavaScript that are kept up lay out rectangles only, in turns of 90°.
 */
import { type Extent, extentOf } from '../geometry/extent.ts';
import { discAround, minkowskiSum, type Polygon, reflected, turned } from './convex.ts';
import { leftmostFree, type Obstacle, type Spot } from './noFit.ts';

/** A shape and the turns it may lie in, radians. */
export interface Shape {
  readonly hull: Polygon;
  readonly turns: readonly number[];
}

/** The stock sheet, mm; x along its length. A length of Infinity makes a strip. */
export interface Stock {
  readonly length: number;
  readonly width: number;
  /** Least distance between two shapes. */
  readonly spacing: number;
  /** Least distance of a shape from the edge. */
  readonly edge: number;
}

/** One shape on a sheet: turned about its origin by `turns[turn]` of its shape, then moved to (x, y). */
export interface Placed {
  readonly shape: number;
  readonly turn: number;
  readonly sheet: number;
  readonly x: number;
  readonly y: number;
}

export interface Packing {
  readonly placed: readonly Placed[];
  /** How far right each sheet is used, mm from the left edge, without the margin. */
  readonly used: readonly number[];
}

/** An order of shapes; each with a turn, or -1 for whichever reaches less far right. */
export interface Order {
  readonly shapes: readonly number[];
  readonly turns: readonly number[];
}

interface Turned {
  /** Grown by half the spacing. */
  readonly polygon: Polygon;
  readonly extent: Extent;
}

interface Sheet {
  readonly placed: { readonly turned: number; readonly x: number; readonly y: number }[];
  /** By turned shape: where the last one of its kind went, or null once no more fits. */
  readonly last: Map<number, Spot | null>;
  used: number;
  /** Shapes looked for in vain since the last one that found a place. */
  refused: number;
}

/**
 * A sheet that has refused so many shapes, one after the other, is taken to be full. Without this an order of thousands
 * of kinds would look for each of them on every sheet begun.
 */
const ENOUGH_REFUSALS = 24;

/** No-fit polygons kept at a time; each takes one or two kB. */
const MOST_NO_FITS = 4000;

/** Packs orders of the same shapes again and again; no-fit polygons are made once. */
export class Packer {
  private readonly stock: Stock;
  private readonly shapes: readonly Shape[];
  /** Number of the first turned shape of each shape. */
  private readonly first: readonly number[];
  private readonly turned: readonly Turned[];
  private readonly noFit = new Map<number, { polygon: Polygon; extent: Extent }>();
  /** Places looked for so far: what a search pays with, the same on every machine. */
  looks = 0;

  /**
   * @param boxes take every shape for its upright box: neat rows, where the true shapes would shift each other
   *   by a little and lose a row; discs and slanting shapes lie closer without
   */
  constructor(shapes: readonly Shape[], stock: Stock, boxes = false) {
    this.stock = stock;
    this.shapes = shapes;
    const disc = discAround(stock.spacing / 2);
    const first: number[] = [];
    const all: Turned[] = [];
    for (const { hull, turns } of shapes) {
      first.push(all.length);
      for (const angle of turns) {
        const lying = turned(hull, angle);
        const polygon = minkowskiSum(boxes ? boxOf(lying) : lying, disc);
        all.push({ polygon, extent: extentOf(polygon) });
      }
    }
    this.first = first;
    this.turned = all;
  }

  /** Whether the shape fits an empty sheet in any of its turns. */
  fits(shape: number): boolean {
    return this.shapes[shape]!.turns.some((_, turn) => {
      const room = this.roomFor(this.first[shape]! + turn);
      return room.maxX >= room.minX - 1e-7 && room.maxY >= room.minY - 1e-7;
    });
  }

  /** @param order every shape of it fits */
  pack(order: Order): Packing {
    const sheets: Sheet[] = [];
    const placed: Placed[] = [];
    for (const [i, shape] of order.shapes.entries()) {
      const wanted = order.turns[i]!;
      for (let number = 0; ; number++) {
        if (number === sheets.length) sheets.push({ placed: [], last: new Map(), used: 0, refused: 0 });
        const sheet = sheets[number]!;
        if (sheet.refused >= ENOUGH_REFUSALS) continue;
        // A turn that was asked for is given up rather than another sheet begun.
        const found = this.place(sheet, shape, wanted) ?? (wanted < 0 ? null : this.place(sheet, shape, -1));
        if (found === null) continue;
        placed.push({ shape, sheet: number, ...found });
        break;
      }
    }
    return { placed, used: sheets.map((sheet) => sheet.used) };
  }

  private place(sheet: Sheet, shape: number, wanted: number): { turn: number; x: number; y: number } | null {
    let best: { turn: number; spot: Spot; right: number } | null = null;
    for (let turn = 0; turn < this.shapes[shape]!.turns.length; turn++) {
      if (wanted >= 0 && turn !== wanted) continue;
      const number = this.first[shape]! + turn;
      const spot = this.spotFor(sheet, number);
      if (spot === null) continue;
      const right = spot.x + this.turned[number]!.extent.maxX;
      if (best === null || right < best.right - 1e-7 || (right < best.right + 1e-7 && spot.y < best.spot.y)) {
        best = { turn, spot, right };
      }
    }
    if (best === null) return null;
    const { turn, spot, right } = best;
    sheet.refused = 0;
    sheet.placed.push({ turned: this.first[shape]! + turn, ...spot });
    sheet.used = Math.max(sheet.used, right - this.stock.spacing / 2);
    return { turn, ...spot };
  }

  private spotFor(sheet: Sheet, number: number): Spot | null {
    const last = sheet.last.get(number);
    // A sheet only gets fuller: what did not fit will not, and nothing left of the last place is free.
    if (last === null) return null;
    this.looks++;
    sheet.refused++;
    const obstacles = sheet.placed.map((each): Obstacle => {
      const { polygon, extent } = this.noFitOf(each.turned, number);
      return {
        polygon,
        x: each.x,
        y: each.y,
        extent: {
          minX: extent.minX + each.x,
          minY: extent.minY + each.y,
          maxX: extent.maxX + each.x,
          maxY: extent.maxY + each.y,
        },
      };
    });
    const spot = leftmostFree(this.roomFor(number), obstacles, last ?? null);
    sheet.last.set(number, spot);
    return spot;
  }

  private roomFor(number: number): Extent {
    const { length, width, spacing, edge } = this.stock;
    const { extent } = this.turned[number]!;
    const margin = edge - spacing / 2;
    return {
      minX: margin - extent.minX,
      minY: margin - extent.minY,
      maxX: length - margin - extent.maxX,
      maxY: width - margin - extent.maxY,
    };
  }

  private noFitOf(fixed: number, moving: number): { polygon: Polygon; extent: Extent } {
    const key = fixed * this.turned.length + moving;
    let found = this.noFit.get(key);
    if (found === undefined) {
      const polygon = minkowskiSum(this.turned[fixed]!.polygon, reflected(this.turned[moving]!.polygon));
      found = { polygon, extent: extentOf(polygon) };
      if (this.noFit.size >= MOST_NO_FITS) this.noFit.clear();
      this.noFit.set(key, found);
    }
    return found;
  }
}

function boxOf(polygon: Polygon): Polygon {
  const { minX, minY, maxX, maxY } = extentOf(polygon);
  return Float64Array.of(minX, minY, maxX, minY, maxX, maxY, minX, maxY);
}
