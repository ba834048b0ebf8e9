/**
 * Lines and arcs as plain data: the form every cut, scribe and contour line has once it leaves the solver.
 *
 * A path is a list of vertices; the piece from a vertex to the next is a straight line when its bulge is
 * 0, otherwise a circular arc. bulge = tan(sweep / 4), positive when the arc turns counter-clockwise from
 * its start to its end (DXF Reference, LWPOLYLINE, group code 42). In a closed path the last vertex's
 * bulge belongs to the piece back to the first vertex; the first vertex is not repeated. In an open path
 * the last vertex's bulge is 0.
 */

/**
 * Shortest line or arc, mm, where the shape itself has none that is shorter: controls of cutting machines slow down
 * at every joint (common practice, no source).
 */
export const SHORTEST_PIECE = 0.5;

/** A corner of a path and the bulge of the piece that starts there. mm; bulge has no unit. */
export interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly bulge: number;
}

/** A chain of lines and arcs. */
export interface Path {
  readonly vertices: readonly Vertex[];
  readonly closed: boolean;
}

/** A point or a direction in the plane, mm. */
export interface Point {
  readonly x: number;
  readonly y: number;
}
