/** The straight edges and arcs that the entities of a drawing show, one by one, as they are drawn. */
import { GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import {
  type Affine,
  AS_IT_IS,
  chained,
  directionOf,
  keepsCircles,
  moved,
  pointOf,
  stretched,
  TURNED_OVER,
  turned,
  turnsOver,
} from './affine.ts';
import { type Curve, ellipse, followed, spline, type XY } from './curves.ts';
import { blockOf, type Drawing, type Entity } from './drawing.ts';
import { type DxfRecord, numberFrom, numberOf, numbersOf, textOf, unsound } from './records.ts';

/** Ends nearer than this are at one place, mm: rounding of the drawing. */
export const SAME = 1e-3;

/** An edge as drawn, mm. `bulge` is tan(sweep / 4), positive when it turns left. */
export interface DrawnEdge {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
  readonly bulge: number;
  readonly layer: string;
}

/** Edges of a drawing, and what a person should know of how they were found. */
export interface DrawnEdges {
  readonly edges: readonly DrawnEdge[];
  /** Layers on which edges are drawn. */
  readonly layers: readonly string[];
  /** Ellipses and splines that are followed by arcs. */
  readonly curves: number;
  /** Arcs that follow them. */
  readonly arcs: number;
  /** Kinds of entities that show no edges, with how many there are. */
  readonly leftOut: ReadonlyMap<string, number>;
}

/** Shorter edges than this are dots, mm: their ends could not be told apart from rounding of the drawing. */
const DOT = 3 * SAME;

/** More sweep than this and an arc is taken in two, so that its bulge stays small. */
const WIDEST_SWEEP = 1.5 * Math.PI;

/** Most edges that are taken; a plan has far fewer. */
const MOST_EDGES = 5000;

/** Most entities that are looked at, those in blocks wherever they are inserted. */
const MOST_ENTITIES = 200_000;

/** Most values that are looked at, counted as the entities are: each is read anew wherever its block is inserted. */
const MOST_VALUES = 3_000_000;

/** Most blocks within one another. */
const DEEPEST = 16;

/** Entities that show no edges. */
const ANNOTATION: ReadonlySet<string> = new Set([
  ...['TEXT', 'MTEXT', 'ATTDEF', 'ATTRIB', 'SEQEND', 'DIMENSION', 'ARC_DIMENSION', 'POINT', 'TOLERANCE'],
  ...[
    'LEADER',
    'MLEADER',
    'MULTILEADER',
    'HATCH',
    'ACAD_TABLE',
    'VIEWPORT',
    'IMAGE',
    'WIPEOUT',
    'XLINE',
    'RAY',
  ],
  ...['OLEFRAME', 'OLE2FRAME', 'RTEXT', 'ARCALIGNEDTEXT'],
]);

const say = () => words().messages.dxf;

const bad = (message: string): GatherpanError => new GatherpanError('BAD_INPUT', message);

/**
 * @param drawing with blocks, whose entities are drawn wherever they are inserted
 * @param layer   name of the layer to look at; all layers when undefined
 * @param scale   mm per unit of the drawing
 * @param shown   writes a name of the drawing, so that a stranger's text stays harmless
 * @throws GatherpanError BAD_INPUT for entities that are no lines and curves in the plane of the plan
 */
export function drawnEdges(
  drawing: Drawing,
  layer: string | undefined,
  scale: number,
  shown: (text: string) => string,
): DrawnEdges {
  const edges: DrawnEdge[] = [];
  const layers = new Set<string>();
  const leftOut = new Map<string, number>();
  let [curves, arcs, looked, values] = [0, 0, 0, 0];

  const count = (entity: Entity): void => {
    if (++looked > MOST_ENTITIES) throw bad(say().manyEntities(String(MOST_ENTITIES)));
    values += entity.groups.length;
    for (const { groups } of entity.vertices) values += groups.length;
    if (values > MOST_VALUES) throw bad(say().manyValues(String(MOST_VALUES)));
  };

  const draw = (
    entities: readonly Entity[],
    map: Affine,
    inserted: string | undefined,
    depth: number,
  ): void => {
    for (const entity of entities) {
      count(entity);
      // Layer 0 in a block is the layer the block is put on.
      const on = entity.layer === '0' && inserted !== undefined ? inserted : entity.layer;
      if (entity.type === 'INSERT') {
        insert(entity, map, on, depth);
        continue;
      }
      if (ANNOTATION.has(entity.type)) {
        if (entity.type !== 'SEQEND') leftOut.set(entity.type, (leftOut.get(entity.type) ?? 0) + 1);
        continue;
      }
      layers.add(on);
      // Capitals make no difference in the names of layers.
      if (layer !== undefined && on.toLowerCase() !== layer.toLowerCase()) continue;
      const shape = shapeOf(entity, shown);
      if (!Array.isArray(shape)) {
        follow(shape, map, on);
        continue;
      }
      for (const edge of shape) add(edge, map, on);
    }
  };

  /** Edges as they stand; arcs that a block stretches are curves. */
  const add = (edge: Bulged, map: Affine, on: string): void => {
    const { from, to, bulge } = edge;
    if (bulge !== 0 && !keepsCircles(map)) {
      follow(arcCurve(edge), map, on);
      return;
    }
    const [x0, y0] = pointOf(map, from);
    const [x1, y1] = pointOf(map, to);
    const ends = { x0: x0 * scale, y0: y0 * scale, x1: x1 * scale, y1: y1 * scale };
    if (!Number.isFinite(ends.x0 + ends.y0 + ends.x1 + ends.y1 + bulge)) throw unsound();
    if (Math.hypot(ends.x1 - ends.x0, ends.y1 - ends.y0) <= DOT) return;
    if (edges.length === MOST_EDGES) throw bad(say().manyEdges(String(MOST_EDGES)));
    edges.push({ ...ends, bulge: turnsOver(map) ? -bulge : bulge, layer: on });
  };

  const follow = (curve: Curve, map: Affine, on: string): void => {
    const mapped: Curve = {
      ...curve,
      at(t) {
        const { point, along } = curve.at(t);
        return { point: pointOf(map, point), along: directionOf(map, along) };
      },
    };
    const path = followed(mapped, scale);
    if (path === null) {
      const [x, y] = mapped.at(curve.stops[0]!).point;
      throw bad(say().curve(say().place(rounded(x * scale), rounded(y * scale))));
    }
    curves++;
    arcs += path.length - 1;
    path.slice(0, -1).forEach((from, i) => {
      const to = path[i + 1]!;
      add({ from: [from.x, from.y], to: [to.x, to.y], bulge: from.bulge }, AS_IT_IS, on);
    });
  };

  const insert = (entity: Entity, map: Affine, on: string, depth: number): void => {
    const name = shown(textOf(entity, 2) ?? '');
    if (depth === DEEPEST) throw bad(say().blocksDeep(name));
    const block = blockOf(drawing, textOf(entity, 2) ?? '', name);
    const base: XY = [-numberOf(block.head, 10, 0), -numberOf(block.head, 20, 0)];
    const [columns, rows] = [repeats(entity, 70), repeats(entity, 71)];
    const step: XY = [numberOf(entity, 44, 0), numberOf(entity, 45, 0)];
    const [xScale, yScale] = [numberOf(entity, 41, 1), numberOf(entity, 42, 1)];
    if (xScale === 0 || yScale === 0) throw unsound();
    const placed = chained(
      map,
      planeOf(entity),
      moved([numberOf(entity, 10, 0), numberOf(entity, 20, 0)]),
      turned(numberOf(entity, 50, 0)),
    );
    for (let row = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++) {
        count(entity);
        const own = chained(
          placed,
          moved([column * step[0], row * step[1]]),
          stretched(xScale, yScale),
          moved(base),
        );
        draw(block.entities, own, on, depth + 1);
      }
    }
  };

  draw(drawing.entities, AS_IT_IS, undefined, 0);
  return { edges, layers: [...layers], curves, arcs, leftOut };
}

/** Columns or rows of a block; what is no count is one. */
const repeats = (entity: Entity, code: number): number => Math.max(1, Math.trunc(numberOf(entity, code, 1)));

const rounded = (value: number): string => String(Math.round(value * 1e3) / 1e3 + 0);

interface Bulged {
  readonly from: XY;
  readonly to: XY;
  readonly bulge: number;
}

/** The edges of an entity, or the curve it is, in the units of the drawing. */
function shapeOf(entity: Entity, shown: (text: string) => string): Bulged[] | Curve {
  switch (entity.type) {
    case 'LINE':
      if (numberOf(entity, 30, 0) !== numberOf(entity, 31, 0)) throw bad(say().notFlat);
      return [{ from: pointAt(entity, 10), to: pointAt(entity, 11), bulge: 0 }];
    case 'CIRCLE':
      return onPlane(entity, arcEdges(pointAt(entity, 10), radiusOf(entity), 0, 2 * Math.PI));
    case 'ARC': {
      const [from, to] = [numberOf(entity, 50), numberOf(entity, 51)].map((angle) => (angle * Math.PI) / 180);
      return onPlane(entity, arcEdges(pointAt(entity, 10), radiusOf(entity), from!, turnFrom(from!, to!)));
    }
    case 'LWPOLYLINE':
      return onPlane(entity, polyline(lightVertices(entity), isClosed(entity)));
    case 'POLYLINE':
      return oldPolyline(entity, shown);
    case 'ELLIPSE':
      return ellipseOf(entity);
    case 'SPLINE':
      return splineOf(entity, shown);
    default:
      throw bad(say().entity(shown(entity.type), shown(entity.layer)));
  }
}

const pointAt = (record: DxfRecord, code: number): XY => [
  numberOf(record, code),
  numberOf(record, code + 10),
];

function radiusOf(entity: Entity): number {
  const radius = numberOf(entity, 40);
  if (!(radius > 0)) throw unsound();
  return radius;
}

const flagsOf = (record: DxfRecord): number => Math.trunc(numberOf(record, 70, 0));

const isClosed = (record: DxfRecord): boolean => (flagsOf(record) & 1) !== 0;

/** The turn from one angle on to the next, counter-clockwise: more than nothing, at most a whole one. */
function turnFrom(from: number, to: number): number {
  const turn = to - from - 2 * Math.PI * Math.floor((to - from) / (2 * Math.PI));
  return turn < 1e-12 ? 2 * Math.PI : turn;
}

function arcEdges([x, y]: XY, radius: number, start: number, sweep: number): Bulged[] {
  const parts = sweep > WIDEST_SWEEP ? 2 : 1;
  const at = (angle: number): XY => [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  return Array.from({ length: parts }, (_, i) => ({
    from: at(start + (i * sweep) / parts),
    to: at(start + ((i + 1) * sweep) / parts),
    bulge: Math.tan(sweep / parts / 4),
  }));
}

interface BulgedVertex {
  readonly at: XY;
  readonly bulge: number;
}

function polyline(vertices: readonly BulgedVertex[], closed: boolean): Bulged[] {
  const count = closed ? vertices.length : vertices.length - 1;
  return Array.from({ length: Math.max(0, count) }, (_, i) => ({
    from: vertices[i]!.at,
    to: vertices[(i + 1) % vertices.length]!.at,
    bulge: vertices[i]!.bulge,
  }));
}

/** Groups 10, 20 and 42 come vertex by vertex; 42 may be left out. */
function lightVertices({ groups }: Entity): BulgedVertex[] {
  const vertices: { x: number; y: number | undefined; bulge: number }[] = [];
  for (const [code, value] of groups) {
    const last = vertices.at(-1);
    if (code === 10) vertices.push({ x: numberFrom(value), y: undefined, bulge: 0 });
    else if (code === 20 && last !== undefined) last.y = numberFrom(value);
    else if (code === 42 && last !== undefined) last.bulge = numberFrom(value);
  }
  return vertices.map(({ x, y, bulge }) => {
    if (y === undefined) throw unsound();
    return { at: [x, y], bulge };
  });
}

/** Bits of group 70 of an old polyline: drawn in space, meshes, and curves that its vertices only steer. */
const IN_SPACE = 8;
const MESH_OR_FACES = 16 | 64;
const FITTED = 2 | 4;

function oldPolyline(entity: Entity, shown: (text: string) => string): Bulged[] {
  const flags = flagsOf(entity);
  if ((flags & (MESH_OR_FACES | FITTED)) !== 0) throw bad(say().fittedOrMesh(shown(entity.layer)));
  if ((flags & IN_SPACE) !== 0) {
    const heights = entity.vertices.map((vertex) => numberOf(vertex, 30, 0));
    if (heights.some((height) => height !== heights[0])) throw bad(say().notFlat);
  }
  const vertices = entity.vertices.map((vertex) => ({
    at: pointAt(vertex, 10),
    bulge: numberOf(vertex, 42, 0),
  }));
  const edges = polyline(vertices, isClosed(entity));
  return (flags & IN_SPACE) !== 0 ? edges : onPlane(entity, edges);
}

function ellipseOf(entity: Entity): Curve {
  const centre = pointAt(entity, 10);
  const major = pointAt(entity, 11);
  const ratio = numberOf(entity, 40);
  if (!(Math.hypot(...major) > 0 && ratio > 0)) throw unsound();
  if (numberOf(entity, 31, 0) !== 0) throw bad(say().notFlat);
  // The minor axis stands left of the major one, seen from where the ellipse is drawn on.
  const side = planeOf(entity) === TURNED_OVER ? -ratio : ratio;
  const from = numberOf(entity, 41, 0);
  return ellipse(
    centre,
    major,
    [-side * major[1], side * major[0]],
    from,
    from + turnFrom(from, numberOf(entity, 42, 2 * Math.PI)),
  );
}

/** Most control points, and highest degree, of a spline. */
const MOST_POINTS = 5000;
const HIGHEST_DEGREE = 25;

function splineOf(entity: Entity, shown: (text: string) => string): Curve {
  const degree = numberOf(entity, 71);
  const knots = numbersOf(entity, 40);
  const [xs, ys, zs] = [numbersOf(entity, 10), numbersOf(entity, 20), numbersOf(entity, 30)];
  const weights = numbersOf(entity, 41);
  const fitOnly = xs.length === 0 && numbersOf(entity, 11).length > 0;
  if (fitOnly) throw bad(say().fitPoints(shown(entity.layer)));
  const sound =
    Number.isInteger(degree) &&
    degree >= 1 &&
    degree <= HIGHEST_DEGREE &&
    xs.length > degree &&
    xs.length <= MOST_POINTS &&
    ys.length === xs.length &&
    knots.length === xs.length + degree + 1 &&
    knots.every((knot, i) => i === 0 || knot >= knots[i - 1]!) &&
    knots[degree]! < knots[xs.length]! &&
    (weights.length === 0 || weights.length === xs.length) &&
    weights.every((weight) => weight > 0);
  if (!sound) throw unsound();
  if (zs.some((z) => z !== zs[0])) throw bad(say().notFlat);
  return spline({
    degree,
    knots,
    points: xs.map((x, i) => [x, ys[i]!]),
    weights: weights.length === 0 ? xs.map(() => 1) : weights,
  });
}

/** An arc as a curve, for where it is stretched. */
function arcCurve({ from, to, bulge }: Bulged): Curve {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const left = (1 - bulge * bulge) / (4 * bulge);
  const centre: XY = [(from[0] + to[0]) / 2 - left * dy, (from[1] + to[1]) / 2 + left * dx];
  const a: XY = [from[0] - centre[0], from[1] - centre[1]];
  const side = Math.sign(bulge);
  return ellipse(centre, a, [-side * a[1], side * a[0]], 0, 4 * Math.atan(Math.abs(bulge)));
}

const onPlane = (entity: Entity, edges: readonly Bulged[]): Bulged[] =>
  planeOf(entity) === TURNED_OVER
    ? edges.map(({ from, to, bulge }) => ({
        from: pointOf(TURNED_OVER, from),
        to: pointOf(TURNED_OVER, to),
        bulge: -bulge,
      }))
    : [...edges];

/**
 * The plane an entity is drawn on: the plan's, or the same seen from below (DXF's arbitrary axis rule for the
 * direction 0, 0, −1).
 *
 * @throws GatherpanError BAD_INPUT when it is another plane
 */
function planeOf(entity: Entity): Affine {
  const [x, y, z] = [numberOf(entity, 210, 0), numberOf(entity, 220, 0), numberOf(entity, 230, 1)];
  if (Math.hypot(x, y) > 1e-9 * Math.hypot(x, y, z)) throw bad(say().notFlat);
  return z < 0 ? TURNED_OVER : AS_IT_IS;
}
