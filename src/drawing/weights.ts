/**
 * Line weights, text heights and colours of all our papers and pictures, once.
 *
 * Weights are steps of the series 0.13, 0.18, 0.25, 0.35, 0.5, 0.7 and text heights of 1.8, 2.5, 3.5, 5 mm
 * (ratio √2), the series of technical drawing (ISO 128 and ISO 3098, from memory). Everything that carries a
 * meaning differs in weight or dashes and not by colour alone, so that a copy in black and white says the same.
 */
import type { Stroke } from './picture.ts';

export const INK = '#000000';
export const GREY = '#6b6b6b';
export const PALE = '#c8c8c8';
export const PAPER = '#ffffff';

export const LINES = {
  /** What is cut. */
  cut: { weight: 0.5, colour: INK },
  /** The solved rim where trim is left outside it. */
  rim: { weight: 0.18, colour: INK, dash: [4, 1, 0.6, 1] },
  /** Where a bend begins or ends: scribed. */
  scribe: { weight: 0.25, colour: INK, dash: [3, 1.2] },
  /** Lines of equal gather. */
  contour: { weight: 0.18, colour: INK },
  /** Lines of equal stretch. */
  stretch: { weight: 0.18, colour: INK, dash: [1.6, 0.8] },
  /** Where a tuck is to be set. */
  tuck: { weight: 0.7, colour: INK, dash: [0.9, 0.9] },
  /** Axes of the part. */
  centre: { weight: 0.13, colour: GREY, dash: [8, 1.5, 1, 1.5] },
  /** Frames, rules of tables, leaders. */
  thin: { weight: 0.13, colour: INK },
  frame: { weight: 0.25, colour: INK },
  /** Visible edges in views and sections. */
  edge: { weight: 0.35, colour: INK },
  /** Edges of the sheet of paper where it is cut or joined. */
  join: { weight: 0.13, colour: GREY, dash: [1.5, 1.5] },
} as const satisfies Record<string, Stroke>;

/** Heights of a capital letter, mm. */
export const TEXT = { small: 1.8, normal: 2.5, large: 3.5, title: 5 } as const;

/** Distance of base lines over the height of a capital; common practice, no source. */
export const LINE_PITCH = 1.75;
