/**
 * Tables for marking the blank out without a printer: every line and arc, and stations along the cut line, from
 * two datum edges.
 *
 * The datum edges are the lower and the left edge of the box around the cut line, that is two squared edges of
 * the sheet. mm.
 */
import { arcOf, pieceCount, pieceEnd, pieceLength, pointOnPiece } from '../geometry/arc.ts';
import { pathBounds } from '../geometry/measure.ts';
import type { Path, Point, Vertex } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';

/** A point of the cut line. */
export interface Station {
  readonly number: number;
  /** From the left datum edge. */
  readonly x: number;
  /** From the lower datum edge. */
  readonly y: number;
  /** Direction of the line there, radians; the blank lies at its left. */
  readonly tangent: number;
}

/** A line or arc. */
export interface MarkedPiece {
  readonly number: number;
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
  /** null for a straight line */
  readonly arc: {
    readonly centre: Point;
    readonly radius: number;
    /** Height of the arc's middle over its chord: a flat arc is drawn along a lath bent to it. */
    readonly rise: number;
  } | null;
}

/** Longest distance between stations on straight pieces, mm. */
const ON_LINES = 100;
/** Shortest on arcs, which are struck from their centres, mm. */
const ON_ARCS = 15;
/** Flatter arcs have stations so close that a rule from one to the next leaves the arc by no more than this, mm. */
const BY_RULE = 0.1;

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
      arc: arc === null ? null : { centre: moved(arc.centre), radius: arc.radius, rise: riseOf(from, to) },
    };
  });
}

/** Sagitta of the arc from a vertex: half the chord times its bulge, tan(sweep / 4). */
const riseOf = (from: Vertex, to: Point): number =>
  (Math.abs(from.bulge) * Math.hypot(to.x - from.x, to.y - from.y)) / 2;

/** Stations along the cut line: where pieces meet, and evenly between. Counter-clockwise, numbered from 1. */
export function stations(path: Path, origin: Point): Station[] {
  const list: Station[] = [];
  for (let i = 0; i < pieceCount(path); i++) {
    const from = path.vertices[i]!;
    const to = pieceEnd(path, i);
    const length = pieceLength(from, to);
    const arc = arcOf(from, to);
    const pitch =
      arc === null ? ON_LINES : Math.min(ON_LINES, Math.max(ON_ARCS, Math.sqrt(8 * arc.radius * BY_RULE)));
    const parts = Math.max(1, Math.ceil(length / pitch - 1e-9));
    for (let k = 0; k < parts; k++) {
      const { x, y, tangent } = pointOnPiece(from, to, k / parts);
      list.push({ number: list.length + 1, x: x - origin.x, y: y - origin.y, tangent });
    }
  }
  return list;
}
