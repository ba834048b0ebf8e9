/**
 * A plan from a DXF drawing: one closed chain of lines, arcs and polylines, or a circle.
 *
 * Format: the tagged text form of DXF; bulge = tan(sweep / 4); `$INSUNITS` for the unit.
 */
import { GatherpanError } from '../errors.ts';
import { nearest } from '../nearest.ts';
import { words } from '../words/language.ts';
import { chained } from './dxfChain.ts';
import { type DrawnEdge, drawnEdges } from './dxfEdges.ts';
import { type Drawing, drawingOf } from './dxfText.ts';
import { edgesArea } from './edgeMeasures.ts';
import type { Units } from './fields.ts';
import { VERTEX_COUNT } from './limits.ts';
import { planEdge } from './planEdges.ts';
import { shown } from './sentences.ts';

/** mm per unit of a drawing by `$INSUNITS`; 0 stands for no unit. */
const MILLIMETRES: Readonly<Record<number, number>> = { 1: 25.4, 2: 304.8, 4: 1, 5: 10, 6: 1000, 14: 100 };

/** A vertex of a drawn plan, mm, and the bulge of the edge that starts there when it is an arc. */
export interface DrawnVertex {
  readonly x: number;
  readonly y: number;
  readonly bulge?: number;
}

/** Nearer than this to the line through its neighbours, a vertex between straight edges is left out, mm. */
const ON_LINE = 1e-3;

/**
 * Vertices of the plan that a drawing shows, mm, counter-clockwise. The first edge is the one
 * drawn first.
 *
 * @param text     of the DXF file
 * @param layer    name of the layer to read; all layers when undefined
 * @param unitless unit of a drawing that names none
 * @throws GatherpanError TOO_LARGE or BAD_INPUT: not DXF, a unit or an entity that cannot be taken, a layer that
 *   is not there, an open, branching or repeated chain. Faults about the drawing have an empty path, and their
 *   sentences go after its name.
 */
export function planFromDxf(text: string, layer: string | undefined, unitless: Units): DrawnVertex[] {
  const drawing = drawingOf(text);
  const scale = millimetresPerUnit(drawing, unitless);
  const chain = chained(drawnEdges(onLayer(drawing, layer), scale));
  const edges = counterClockwise(chain);
  const vertices = edges.map(({ x0, y0, bulge }) => ({ x: x0, y: y0, bulge }));
  const kept = vertices.filter((vertex, i) => {
    const before = vertices[(i + vertices.length - 1) % vertices.length]!;
    if (before.bulge !== 0 || vertex.bulge !== 0) return true;
    const after = vertices[(i + 1) % vertices.length]!;
    return awayFromLine(vertex, before, after) > ON_LINE;
  });
  if (kept.length > VERTEX_COUNT[1]) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.tray.drawing.manyEdgesInChain(String(kept.length), String(VERTEX_COUNT[1])),
    );
  }
  return kept.map(({ x, y, bulge }) => ({ x, y, ...(bulge === 0 ? {} : { bulge }) }));
}

function millimetresPerUnit(drawing: Drawing, unitless: Units): number {
  const unit = drawing.unit;
  if (unit === 0) return unitless === 'in' ? 25.4 : 1;
  const scale = MILLIMETRES[unit];
  if (scale === undefined) {
    throw new GatherpanError('BAD_INPUT', words().messages.tray.drawing.unit(String(unit)));
  }
  return scale;
}

function onLayer({ entities }: Drawing, layer: string | undefined): Drawing['entities'] {
  const say = words().messages.tray.drawing;
  if (entities.length === 0) throw new GatherpanError('BAD_INPUT', say.empty);
  if (layer === undefined) return entities;
  // Capitals make no difference in the names of layers.
  const found = entities.filter((entity) => entity.layer.toLowerCase() === layer.toLowerCase());
  if (found.length > 0) return found;
  const names = [...new Set(entities.map((entity) => entity.layer))];
  const near = nearest(layer, names);
  const first = names.slice(0, 10).map(shown).join(', ');
  const known = names.length > 10 ? say.someLayers(first) : first;
  throw new GatherpanError('BAD_INPUT', {
    path: 'plan.layer',
    message:
      near === undefined
        ? say.layerUnknown(shown(layer), known)
        : say.layerNear(shown(layer), shown(near), known),
  });
}

/** The chain counter-clockwise, its first edge still the first. */
function counterClockwise(chain: readonly DrawnEdge[]): DrawnEdge[] {
  const shape = chain.map((edge) =>
    planEdge({ x: edge.x0, y: edge.y0, bulge: edge.bulge }, { x: edge.x1, y: edge.y1 }),
  );
  if (edgesArea(shape) >= 0) return [...chain];
  const turned = chain
    .map(({ x0, y0, x1, y1, bulge, ...rest }) => ({ ...rest, x0: x1, y0: y1, x1: x0, y1: y0, bulge: -bulge }))
    .reverse();
  return [turned.at(-1)!, ...turned.slice(0, -1)];
}

interface Point {
  readonly x: number;
  readonly y: number;
}

/** Distance of a point from the line through two others; infinite when it does not lie between them. */
function awayFromLine(point: Point, from: Point, to: Point): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const along = ((point.x - from.x) * dx + (point.y - from.y) * dy) / length;
  if (!(along > 0 && along < length)) return Number.POSITIVE_INFINITY;
  return Math.abs((point.x - from.x) * dy - (point.y - from.y) * dx) / length;
}
