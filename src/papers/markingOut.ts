/**
 * Tables for marking the blank out without a printer: every line and arc, and stations along the cut line, from
 * two datum edges.
 *
 * The datum edges are the lower and the left edge of the box around the cut line, that is two squared edges of
 * the sheet. mm.
 */
import { arcOf, pieceCount, pieceEnd, pieceLength, pointOnPiece } from '../outline/arc.ts';
import { pathBounds } from '../outline/measure.ts';
import type { Path, Point } from '../outline/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';

/** A point of the cut line. */
export interface Station {
  readonly number: number;
  /** From the left datum edge. */
  readonly x: number;
  /** From the lower datum edge. */
  readonly y: number;
}

/** A line or arc. */
export interface MarkedPiece {
  readonly number: number;
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
  /** null for a straight line */
  readonly arc: { readonly centre: Point; readonly radius: number } | null;
}

/** Longest distance between stations on straight pieces and on arcs, mm. */
const ON_LINES = 100;
const ON_ARCS = 15;
/** An arc flatter than this departs so little from a line between stations that the line's distance will do. */
const FLAT_RADIUS = 2000;

/** Datum: the point whose coordinates are 0, 0 in the tables. */
export const datum = ({ outline }: FlatPattern): Point => {
  const { minX, minY } = pathBounds(outline);
  return { x: minX, y: minY };
};

/** The lines and arcs of a path, from the datum. */
export function markedPieces(path: Path, origin: Point): MarkedPiece[] {
  const moved = ({ x, y }: Point): Point => ({ x: x - origin.x, y: y - origin.y });
  return Array.from({ length: pieceCount(path) }, (_, i) => {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const arc = arcOf(from, to);
    return {
      number: i + 1,
      from: moved(from),
      to: moved(to),
      length: pieceLength(from, to),
      arc: arc === null ? null : { centre: moved(arc.centre), radius: arc.radius },
    };
  });
}

/** Stations along the cut line: where pieces meet, and evenly between. Counter-clockwise, numbered from 1. */
export function stations(path: Path, origin: Point): Station[] {
  const list: Station[] = [];
  for (let i = 0; i < pieceCount(path); i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const length = pieceLength(from, to);
    const arc = arcOf(from, to);
    const pitch = arc === null || arc.radius > FLAT_RADIUS ? ON_LINES : ON_ARCS;
    const parts = Math.max(1, Math.ceil(length / pitch - 1e-9));
    for (let k = 0; k < parts; k++) {
      const { x, y } = pointOnPiece(from, to, k / parts);
      list.push({ number: list.length + 1, x: x - origin.x, y: y - origin.y });
    }
  }
  return list;
}
