/**
 * A plan from a DXF drawing: the closed loop of lines, arcs and curves that holds all others, which are holes.
 *
 * Format: the tagged text form of DXF; bulge = tan(sweep / 4); `$INSUNITS` for the unit.
 */

import { CURVE_TOLERANCE } from '../dxf/curves.ts';
import { drawingOf } from '../dxf/drawing.ts';
import { type DrawnEdges, drawnEdges } from '../dxf/edges.ts';
import { closedLoops, type Gap, type Loop, place } from '../dxf/loops.ts';
import { FACET_TOLERANCE, type Tidied, tidied } from '../dxf/tidy.ts';
import { GatherpanError } from '../errors.ts';
import { containsPoint, pathArea, pathBounds, reversePath } from '../geometry/measure.ts';
import type { Path, Vertex } from '../geometry/path.ts';
import { nearest } from '../spelling.ts';
import { MILLIMETRES } from '../units.ts';
import { words } from '../words/language.ts';
import { drawnHole } from './drawnHole.ts';
import { HOLE_COUNT, LIMITS, VERTEX_COUNT } from './limits.ts';
import { DRAWING_UNITS, type DrawingUnit } from './planSchema.ts';
import { shown } from './sentences.ts';
import type { HoleSpec } from './spec.ts';

/** Units by `$INSUNITS` (DXF Reference, HEADER); others are not those of a tray. */
const BY_NUMBER: Readonly<Record<string, DrawingUnit>> = {
  1: 'in',
  2: 'ft',
  4: 'mm',
  5: 'cm',
  6: 'm',
  14: 'dm',
};

/** A vertex of a drawn plan, mm, and the bulge of the edge that starts there when it is an arc. */
export interface DrawnVertex {
  readonly x: number;
  readonly y: number;
  readonly bulge?: number;
}

/** How to read a drawing. */
export interface DrawnPlanOptions {
  /** Name of the layer to read; all layers when undefined. */
  readonly layer: string | undefined;
  /** Which of several outlines beside each other, from 1, the largest first; there has to be one when undefined. */
  readonly loop?: number | undefined;
  /** Unit of a drawing that names none; one that names another is refused. */
  readonly unit: DrawingUnit | undefined;
  /** Unit that is taken, and said in a note, when neither says one. */
  readonly unitless: DrawingUnit;
}

export interface DrawnPlan {
  /** mm, counter-clockwise; the first edge is the one drawn first. */
  readonly vertices: readonly DrawnVertex[];
  /** Holes in the base. */
  readonly holes: readonly HoleSpec[];
  /** What was taken, joined, replaced, left out or moved, in sentences. */
  readonly notes: readonly string[];
  /** Extent along x and y, mm. */
  readonly size: readonly [number, number];
  /** The unit that the drawing names, or undefined. */
  readonly ownUnit: DrawingUnit | undefined;
}

/** Gaps up to this are rounding of the drawing and not worth a note, mm. */
const ROUNDING_GAP = 0.01;

/**
 * The plan that a drawing shows.
 *
 * A drawing that lies farther from the origin than a tray file's coordinates may is moved there, to the nearest
 * whole millimetre.
 *
 * @param text of the DXF file
 * @throws GatherpanError TOO_LARGE or BAD_INPUT: not DXF, a unit or an entity that cannot be taken, a layer that
 *   is not there, an open, branching or repeated chain, loops that are no holes. Faults about the drawing have an
 *   empty path, and their sentences go after its name.
 */
export function planFromDxf(text: string, { layer, loop, unit, unitless }: DrawnPlanOptions): DrawnPlan {
  const drawing = drawingOf(text);
  const ownUnit = ownUnitOf(drawing.unit);
  if (unit !== undefined && ownUnit !== undefined && unit !== ownUnit) {
    const say = words().messages.tray.drawing;
    throw new GatherpanError('BAD_INPUT', {
      path: 'plan.units',
      message: say.otherUnit(shown(unit), say.unitNames[ownUnit]),
    });
  }
  const taken = ownUnit ?? unit ?? unitless;
  const drawn = drawnEdges(drawing, layer, MILLIMETRES[taken], shown);
  if (layer !== undefined) refuseEmptyLayer(layer, drawn);
  const { loops, gaps } = closedLoops(drawn.edges);
  const { plan, inner } = sorted(loops, loop);
  const outer = tidied(plan);
  const holes = inner.map((path) => tidied(path));
  if (outer.path.vertices.length > VERTEX_COUNT[1]) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.dxf.manyEdgesInChain(String(outer.path.vertices.length), String(VERTEX_COUNT[1])),
    );
  }
  const by = shift(outer.path);
  return {
    vertices: moved(outer.path, by).vertices.map(({ x, y, bulge }) => ({
      x,
      y,
      ...(bulge === 0 ? {} : { bulge }),
    })),
    holes: holes.map(({ path }, i) => drawnHole(moved(path, by), i)),
    notes: [
      ...(ownUnit === undefined && unit === undefined ? [unitNote(unitless, outer.path)] : []),
      ...notesOf(drawn, gaps, [outer, ...holes]),
      ...holeNote(holes),
      ...(by.x === 0 && by.y === 0 ? [] : [words().messages.dxf.notes.moved(String(by.x), String(by.y))]),
    ],
    size: extentOf(outer.path),
    ownUnit,
  };
}

/** Layers on which something is drawn. @throws GatherpanError as `planFromDxf` */
export const drawnLayers = (text: string): readonly string[] =>
  drawnEdges(drawingOf(text), undefined, 1, shown).layers;

/** An outline beside others: its size and the middle of it, in the figures of the drawing. */
export interface DrawnOutline {
  readonly size: readonly [number, number];
  readonly x: number;
  readonly y: number;
}

/** Outlines that lie beside each other, the largest first. @throws GatherpanError as `planFromDxf` */
export function drawnOutlines(text: string, layer: string | undefined): readonly DrawnOutline[] {
  const { loops } = closedLoops(drawnEdges(drawingOf(text), layer, 1, shown).edges);
  return outlines(loops.map(({ path }) => counterClockwise(path))).map((path) => {
    const { minX, minY, maxX, maxY } = pathBounds(path);
    return { size: extentOf(path), x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
  });
}

/** The unit of `$INSUNITS`. @throws GatherpanError BAD_INPUT when it is none that a tray is drawn in */
function ownUnitOf(number: string | undefined): DrawingUnit | undefined {
  if (number === undefined) return undefined;
  const unit = BY_NUMBER[String(Number(number))];
  if (unit === undefined) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.tray.drawing.unit(/^\d{1,4}$/.test(number) ? number : shown(number)),
    );
  }
  return unit;
}

function refuseEmptyLayer(layer: string, { edges, layers }: DrawnEdges): void {
  if (edges.length > 0 || layers.length === 0) return;
  if (layers.some((each) => each.toLowerCase() === layer.toLowerCase())) return;
  const say = words().messages.tray.drawing;
  const near = nearest(layer, layers);
  const first = layers.slice(0, 10).map(shown).join(', ');
  const known = layers.length > 10 ? say.someLayers(first) : first;
  throw new GatherpanError('BAD_INPUT', {
    path: 'plan.layer',
    message:
      near === undefined
        ? say.layerUnknown(shown(layer), known)
        : say.layerNear(shown(layer), shown(near), known),
  });
}

/** Counter-clockwise, the first edge still the first. */
function counterClockwise(path: Path): Path {
  if (pathArea(path) >= 0) return path;
  const { vertices } = reversePath(path);
  // Backwards, the edge that was first ends where it began.
  return { vertices: [vertices.at(-1)!, ...vertices.slice(0, -1)], closed: true };
}

/** Those that lie in no other, the largest first. */
const outlines = (paths: readonly Path[]): Path[] =>
  paths
    .filter((path) => paths.every((other) => other === path || !containsPoint(other, path.vertices[0]!)))
    .sort((a, b) => pathArea(b) - pathArea(a));

/**
 * The loop that is the plan, and those in it.
 *
 * @param wanted which of several outlines, from 1
 * @throws GatherpanError BAD_INPUT when there is none such, several of which nobody has said which, they lie in one another,
 *   or they are on several layers: what lies on a layer of its own may be anything, a bend line say
 */
function sorted(loops: readonly Loop[], wanted: number | undefined): { plan: Path; inner: Path[] } {
  const paths = loops.map(({ path }) => counterClockwise(path));
  const say = words().messages.tray.drawing;
  const layers = [...new Set(loops.map((loop) => loop.layer))];
  if (layers.length > 1) {
    throw new GatherpanError('BAD_INPUT', {
      path: 'plan.layer',
      message: say.severalChainsOnLayers(String(loops.length), layers.slice(0, 10).map(shown).join(', ')),
    });
  }
  const outer = outlines(paths);
  const plan = outer[(wanted ?? 1) - 1];
  if (plan === undefined || (wanted === undefined && outer.length > 1)) {
    const sizes = outer.slice(0, 10).map((path) => sizeOf(path, 1).join(' × '));
    const found: [string, string] = [String(outer.length), sizes.join(', ')];
    throw new GatherpanError('BAD_INPUT', {
      path: 'plan.loop',
      message: wanted === undefined ? say.severalLoops(...found) : say.noSuchLoop(String(wanted), ...found),
    });
  }
  const inner = paths.filter((path) => path !== plan && containsPoint(plan, path.vertices[0]!));
  if (inner.length > HOLE_COUNT[1]) {
    throw new GatherpanError('BAD_INPUT', say.manyHoles(String(inner.length), String(HOLE_COUNT[1])));
  }
  const nested = inner.find((path) =>
    inner.some((other) => other !== path && containsPoint(other, path.vertices[0]!)),
  );
  if (nested !== undefined) {
    throw new GatherpanError('BAD_INPUT', say.holeInHole(place(nested.vertices[0]!)));
  }
  return { plan, inner };
}

/** By how much to move a plan that is too far away: whole millimetres. */
function shift(path: Path): { readonly x: number; readonly y: number } {
  const { minX, minY, maxX, maxY } = pathBounds(path);
  const [least, most] = LIMITS.coordinate;
  if (minX >= least && minY >= least && maxX <= most && maxY <= most) return { x: 0, y: 0 };
  return { x: 0 - Math.round((minX + maxX) / 2), y: 0 - Math.round((minY + maxY) / 2) };
}

function moved(path: Path, by: { readonly x: number; readonly y: number }): Path {
  if (by.x === 0 && by.y === 0) return path;
  const vertices = path.vertices.map(({ x, y, bulge }): Vertex => ({ x: x + by.x, y: y + by.y, bulge }));
  return { vertices, closed: true };
}

/** Length and width of a path in mm, as a person reads them. */
function sizeOf(path: Path, scale: number): readonly [length: string, width: string] {
  const text = (value: number): string => String(Number((value * scale).toFixed(1)));
  const [length, width] = extentOf(path);
  return [text(length), text(width)];
}

function extentOf(path: Path): readonly [number, number] {
  const { minX, minY, maxX, maxY } = pathBounds(path);
  return [maxX - minX, maxY - minY];
}

/** The size in the unit taken, and in that unit if it had been drawn in another. */
function unitNote(taken: DrawingUnit, path: Path): string {
  const other = taken === 'in' ? 'mm' : 'in';
  const say = words().messages.tray.drawing;
  return say.unitTaken(
    say.unitNames[taken],
    say.size(...sizeOf(path, 1 / MILLIMETRES[taken]), taken),
    say.unitNames[other],
    say.size(...sizeOf(path, MILLIMETRES[other] / MILLIMETRES[taken] ** 2), taken),
    DRAWING_UNITS.join(', '),
  );
}

function notesOf(drawn: DrawnEdges, gaps: readonly Gap[], all: readonly Tidied[]): string[] {
  const say = words().messages.dxf.notes;
  const notes: string[] = [];
  const wide = gaps.filter(({ width }) => width > ROUNDING_GAP).sort((a, b) => b.width - a.width);
  if (wide.length > 0) {
    notes.push(say.gaps(String(wide.length), wide[0]!.width.toFixed(3), place(wide[0]!)));
  }
  if (drawn.curves > 0) {
    notes.push(say.curves(String(drawn.curves), String(drawn.arcs), String(CURVE_TOLERANCE)));
  }
  for (const { lines, radius, ...at } of all.flatMap(({ fitted }) => fitted).slice(0, 8)) {
    notes.push(
      say.facets(String(lines), place(at), String(Number(radius.toFixed(2))), String(FACET_TOLERANCE)),
    );
  }
  const short = all.flatMap((each) => each.short);
  if (short.length > 0) notes.push(say.short(String(short.length), place(short[0]!)));
  if (drawn.leftOut.size > 0) {
    const kinds = [...drawn.leftOut].slice(0, 10).map(([kind, count]) => `${count} ${kind}`);
    notes.push(say.leftOut(kinds.join(', ')));
  }
  return notes;
}

function holeNote(holes: readonly Tidied[]): string[] {
  if (holes.length === 0) return [];
  const { minX, minY, maxX, maxY } = pathBounds(holes[0]!.path);
  return [
    words().messages.tray.drawing.holes(
      String(holes.length),
      place({ x: (minX + maxX) / 2, y: (minY + maxY) / 2 }),
    ),
  ];
}
