/**
 * The range every number of a tray file must lie in. Lengths in mm, angles in degrees.
 *
 * Outside them the tray is not a tray any more (or a unit was mistaken): they catch slips early. What fits
 * together within them is decided in `checks.ts`.
 */

/** Lowest and highest value accepted, both included. */
export type Range = readonly [minimum: number, maximum: number];

export const LIMITS = {
  /** Length and width of the plan, also of a polygon's extent. */
  planSize: [10, 5000],
  /** Coordinates of a polygon's vertices. */
  coordinate: [-5000, 5000],
  /** Plan and bottom radii. */
  radius: [0.5, 2500],
  /** Plan radius of a single corner, 0 where there is nothing to round. */
  cornerRadius: [0, 2500],
  /** tan(sweep / 4): 1 is a half circle, 4 is 304 degrees. */
  bulge: [-4, 4],
  height: [1, 2000],
  /** More than this and the wall is a dish, not a wall. */
  draft: [0, 30],
  thickness: [0.2, 10],
  /** A direction and its opposite are the same grain; a full turn either way is taken. */
  grain: [-360, 360],
  /** Width of a lip. */
  lip: [1, 500],
  runOut: [0, 2000],
  trim: [0, 100],
  /** Gap between the edges of a notched corner, square to them. Wider than this and no weld fills it. */
  weldGap: [0, 5],
  /** Diameter of the hole at the root of a notched corner. */
  notchRelief: [0, 20],
  /** Diameter of a hole, length and width of a slot, corners of a polygon about its middle. */
  hole: [0.5, 2500],
  hand: [0, 1],
  /** Per cent of area; more than this and the tray is stretched, not gathered. */
  spread: [0, 50],
  /** Per cent. */
  zoneThreshold: [0.5, 50],
  stageAngle: [5, 90],
  kerf: [0, 10],
} as const satisfies Record<string, Range>;

/** Number of vertices of a polygon plan; two make a circle. */
export const VERTEX_COUNT: Range = [2, 200];

/** Number of holes of a tray, and of corners of one. */
export const HOLE_COUNT: Range = [0, 200];
export const HOLE_CORNERS: Range = [3, 100];

/** Most stages in which the wall is turned up. */
export const MOST_STAGES = 6;

/** Size of a tray file, bytes. */
export const MAXIMUM_FILE_SIZE = 1_000_000;

/** What is assumed where a tray file says nothing. mm and degrees. */
export const DEFAULTS = {
  units: 'mm',
  measured: 'outside',
  draft: 0,
  grain: 0,
  /** Common practice, no source: enough to true a hand-gathered rim with snips and file. */
  trim: 4,
  /** Common practice, no source: twice the thickness of common sheet. */
  notchRelief: 2,
  process: 'laser',
  /** Common practice, no source: a laser in thin sheet. */
  kerf: 0.2,
  compensate: false,
} as const;
