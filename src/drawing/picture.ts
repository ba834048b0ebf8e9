/**
 * A picture as plain data: what SVG, PDF, PNG and the page in the browser all draw from.
 *
 * Lengths are mm on the paper, the origin is the lower left corner, x right, y up, angles radians
 * counter-clockwise. Line weights and text heights are those on the paper whatever the scale of the group
 * they stand in, so that every backend draws the same weight and the same size of text.
 */
import type { Path, Point } from '../geometry/path.ts';

/** How a line is drawn. */
export interface Stroke {
  /** mm on the paper */
  readonly weight: number;
  /** `#rrggbb` */
  readonly colour: string;
  /** Lengths of dashes and gaps, mm on the paper; a full line when left out. */
  readonly dash?: readonly number[];
}

/** Lines, arcs and areas. Several paths are one area, by the even–odd rule so that holes stay open. */
export interface PathItem {
  readonly kind: 'path';
  readonly paths: readonly Path[];
  readonly stroke?: Stroke;
  /** `#rrggbb` */
  readonly fill?: string;
  /** The paths all run counter-clockwise and may lie over one another: everything inside any of them is filled. */
  readonly overlapping?: boolean;
}

/** One line of text. */
export interface TextItem {
  readonly kind: 'text';
  /** On the base line, at the left end, the middle or the right end. */
  readonly at: Point;
  /** Height of a capital letter, mm on the paper. */
  readonly height: number;
  readonly text: string;
  readonly align: 'left' | 'center' | 'right';
  /** Direction of reading, radians from the group's x axis. */
  readonly angle?: number;
  readonly bold?: boolean;
  /** `#rrggbb`, black when left out */
  readonly colour?: string;
  /** A white rim around the letters, for text that stands on lines. */
  readonly halo?: boolean;
}

/** An upright box, mm. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Items in coordinates of their own: scaled, then turned, then moved to `at`. */
export interface GroupItem {
  readonly kind: 'group';
  /** Kept by formats that have names, so that a reader finds the part. */
  readonly id?: string;
  readonly at: Point;
  /** mm on the paper per mm in the group, positive */
  readonly scale: number;
  readonly angle?: number;
  /** Nothing outside is drawn; in the group's own coordinates. */
  readonly clip?: Box;
  /** Decimals of coordinates in text formats; 3 when left out. */
  readonly decimals?: number;
  readonly items: readonly Item[];
}

export type Item = PathItem | TextItem | GroupItem;

/** One page or picture. */
export interface Picture {
  /** mm */
  readonly width: number;
  /** mm */
  readonly height: number;
  /** For readers that show or speak a title. */
  readonly title: string;
  readonly items: readonly Item[];
}

/** An open chain of straight lines. */
export const openLine = (points: readonly Point[]): Path => ({
  vertices: points.map(({ x, y }) => ({ x, y, bulge: 0 })),
  closed: false,
});

/** A line across, and one up or down. */
export const level = (y: number, from: number, to: number): Path =>
  openLine([
    { x: from, y },
    { x: to, y },
  ]);
export const upright = (x: number, from: number, to: number): Path =>
  openLine([
    { x, y: from },
    { x, y: to },
  ]);

export const cross = ({ x, y }: Point, half: number): Path[] => [
  level(y, x - half, x + half),
  upright(x, y - half, y + half),
];

/** A closed chain of straight lines; the first point is not repeated. */
export const polygon = (points: readonly Point[]): Path => ({ ...openLine(points), closed: true });

/** An upright rectangle, counter-clockwise from its lower left corner. */
export const rectangle = ({ x, y, width, height }: Box): Path =>
  polygon([
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ]);

/** A full circle as two half circles, counter-clockwise. */
export const circle = (center: Point, radius: number): Path => ({
  vertices: [
    { x: center.x + radius, y: center.y, bulge: 1 },
    { x: center.x - radius, y: center.y, bulge: 1 },
  ],
  closed: true,
});

/** Paths with a line of that stroke. */
export const drawn = (paths: readonly Path[], stroke: Stroke): PathItem => ({ kind: 'path', paths, stroke });

/** Paths filled with a colour. */
export const filled = (paths: readonly Path[], fill: string): PathItem => ({ kind: 'path', paths, fill });
