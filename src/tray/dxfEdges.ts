/** The straight edges and arcs that the entities of a drawing show, one by one, as they are drawn. */
import type {
  IArcEntity,
  ICircleEntity,
  IEntity,
  ILineEntity,
  ILwpolylineEntity,
  IPolylineEntity,
} from 'dxf-parser';
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { shown } from './sentences.ts';

/** An edge as drawn, mm. `bulge` is tan(sweep / 4), positive when it turns left. */
export interface DrawnEdge {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly bulge: number;
  readonly layer: string;
}

/** Shorter edges than this are dots, mm. */
const DOT = 0.005;

/** More sweep than this and an arc is taken in two, so that its bulge stays small. */
const WIDEST_SWEEP = 1.5 * Math.PI;

const say = () => words().messages.tray.drawing;

/** Most edges that are looked at; a plan has far fewer. */
const MOST_EDGES = 5000;

/**
 * @param scale mm per unit of the drawing
 * @throws GatherpanError BAD_INPUT for entities that are no lines and arcs in the plane of the plan
 */
export function drawnEdges(entities: readonly IEntity[], scale: number): DrawnEdge[] {
  const edges = entities.flatMap((entity) => edgesOf(entity)).map((edge) => scaled(edge, scale));
  if (
    edges.some(
      (edge) => !Object.values(edge).every((value) => typeof value === 'string' || Number.isFinite(value)),
    )
  ) {
    throw unsound();
  }
  if (edges.length > MOST_EDGES) {
    throw new GatherpanError('BAD_INPUT', say().manyEdges(String(edges.length)));
  }
  return edges.filter(({ x0, y0, x1, y1 }) => Math.hypot(x1 - x0, y1 - y0) > DOT);
}

const unsound = (): GatherpanError => new GatherpanError('BAD_INPUT', say().unsound);

const scaled = (edge: DrawnEdge, scale: number): DrawnEdge => ({
  ...edge,
  x0: edge.x0 * scale,
  y0: edge.y0 * scale,
  x1: edge.x1 * scale,
  y1: edge.y1 * scale,
});

function edgesOf(entity: IEntity): DrawnEdge[] {
  const { layer } = entity;
  switch (entity.type) {
    case 'LINE': {
      const [from, to] = (entity as ILineEntity).vertices ?? [];
      if (from === undefined || to === undefined) throw unsound();
      return [{ x0: from.x, y0: from.y, x1: to.x, y1: to.y, bulge: 0, layer }];
    }
    case 'CIRCLE': {
      const { center, radius } = entity as ICircleEntity;
      if (center === undefined) throw unsound();
      return arcEdges(center.x, center.y, radius, 0, 2 * Math.PI, layer);
    }
    case 'ARC': {
      const { center, radius, startAngle, endAngle } = entity as IArcEntity;
      if (center === undefined) throw unsound();
      const sweep = endAngle - startAngle;
      const turned = sweep - 2 * Math.PI * Math.floor(sweep / (2 * Math.PI));
      const edges = arcEdges(
        center.x,
        center.y,
        radius,
        startAngle,
        turned === 0 ? 2 * Math.PI : turned,
        layer,
      );
      return isFromBelow(entity) ? edges.map(mirrored) : edges;
    }
    case 'LWPOLYLINE':
    case 'POLYLINE': {
      const polyline = entity as ILwpolylineEntity | IPolylineEntity;
      if ('includesSplineFitVertices' in polyline) {
        const { includesSplineFitVertices, includesCurveFitVertices, is3dPolygonMesh, isPolyfaceMesh } =
          polyline;
        if (includesSplineFitVertices || includesCurveFitVertices || is3dPolygonMesh || isPolyfaceMesh) {
          throw new GatherpanError('BAD_INPUT', say().fittedOrMesh(shown(layer)));
        }
      }
      const vertices = polyline.vertices ?? [];
      const count = polyline.shape === true ? vertices.length : vertices.length - 1;
      const edges = Array.from({ length: Math.max(0, count) }, (_, i): DrawnEdge => {
        const from = vertices[i]!;
        const to = vertices[(i + 1) % vertices.length]!;
        return { x0: from.x, y0: from.y, x1: to.x, y1: to.y, bulge: from.bulge ?? 0, layer };
      });
      return isFromBelow(entity) ? edges.map(mirrored) : edges;
    }
    default:
      throw new GatherpanError('BAD_INPUT', say().entity(entity.type, shown(layer)));
  }
}

function arcEdges(
  x: number,
  y: number,
  radius: number,
  start: number,
  sweep: number,
  layer: string,
): DrawnEdge[] {
  const parts = sweep > WIDEST_SWEEP ? 2 : 1;
  const at = (angle: number): readonly [number, number] => [
    x + radius * Math.cos(angle),
    y + radius * Math.sin(angle),
  ];
  return Array.from({ length: parts }, (_, i) => {
    const [x0, y0] = at(start + (i * sweep) / parts);
    const [x1, y1] = at(start + ((i + 1) * sweep) / parts);
    return { x0, y0, x1, y1, bulge: Math.tan(sweep / parts / 4), layer };
  });
}

/**
 * Whether an entity is drawn on a plane that is seen from below: its x then runs the other way (DXF's
 * arbitrary axis rule for the direction 0, 0, −1).
 *
 * @throws GatherpanError BAD_INPUT when it is drawn on a plane that is not the plan's
 */
function isFromBelow(entity: IEntity): boolean {
  const given = entity as {
    extrusionDirection?: { x: number; y: number; z: number };
    extrusionDirectionX?: number;
    extrusionDirectionY?: number;
    extrusionDirectionZ?: number;
  };
  const x = given.extrusionDirection?.x ?? given.extrusionDirectionX ?? 0;
  const y = given.extrusionDirection?.y ?? given.extrusionDirectionY ?? 0;
  const z = given.extrusionDirection?.z ?? given.extrusionDirectionZ ?? 1;
  if (Math.hypot(x, y) > 1e-9 * Math.hypot(x, y, z)) {
    throw new GatherpanError('BAD_INPUT', say().notFlat);
  }
  return z < 0;
}

const mirrored = (edge: DrawnEdge): DrawnEdge => ({
  ...edge,
  x0: -edge.x0,
  x1: -edge.x1,
  bulge: -edge.bulge,
});
