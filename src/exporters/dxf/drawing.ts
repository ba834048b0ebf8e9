/**
 * Layers with shapes → the text of a DXF file, through the library dxf-writer.
 *
 * The library draws; this file and `tags.ts` make up for what it leaves open: handles that go on counting
 * from one drawing to the next, owners of the blocks, header variables, and the order and format of groups.
 */
import Drawing from 'dxf-writer';
import DatabaseObject from 'dxf-writer/src/DatabaseObject.js';
import Handle from 'dxf-writer/src/Handle.js';
import { GatherpanError } from '../../errors.ts';
import { type Bounds, pathBounds } from '../../geometry/measure.ts';
import type { Path } from '../../geometry/path.ts';
import { words } from '../../words/language.ts';
import { ACADVER, type DxfVersion } from './choices.ts';
import type { FilledLayer } from './layers.ts';
import type { Shape } from './shape.ts';
import { dxfText, tagsOfR12, tidyTags } from './tags.ts';

/** Shapes that the drawing shows wherever they are inserted. Coordinates in mm from the block's own origin. */
export interface Block {
  readonly name: string;
  readonly layers: readonly FilledLayer[];
}

/** What we use of dxf-writer beyond its published types, which leave these out (version 1.18.4, pinned). */
interface Internals {
  header(variable: string, values: readonly (readonly [number, number | string])[]): void;
  drawPolyline(points: readonly (readonly number[])[], closed: boolean): void;
  blocks: Record<string, WrittenBlock>;
  layers: Record<string, { shapes: WrittenShape[] }>;
  activeLayer: { addShape(shape: WrittenShape): void };
  modelSpace: { handle: string };
  _tagsManager(): { readonly lines: readonly (number | string)[] };
}

interface Tags {
  push(code: number, value: number | string): void;
}

interface WrittenShape {
  ownerObjectHandle: string;
  tags(manager: Tags): void;
}

interface WrittenBlock extends WrittenShape {
  handle: string;
  name: string;
  end: WrittenShape;
}

export interface DrawingOptions {
  /** What `insert` shapes name; their layers are those of the drawing. */
  readonly blocks?: readonly Block[] | undefined;
  /** R2000 when left out. */
  readonly version?: DxfVersion | undefined;
  /** Box around everything that is cut or marked; from the paths when left out, which leaves out inserts. */
  readonly extents?: Bounds | undefined;
}

/**
 * The whole file. The same layers give the same text, whatever was drawn before.
 *
 * @throws GatherpanError BAD_INPUT when a coordinate, a bulge or a height is not a finite number, or a path
 *   has fewer than two vertices
 */
export function drawingText(
  layers: readonly FilledLayer[],
  { blocks = [], version = 'R2000', extents = extentsOf(layers) }: DrawingOptions = {},
): string {
  for (const each of [...layers, ...blocks.flatMap((block) => block.layers)]) checkShapes(each);

  // The library's one handle counter serves all drawings of the process. Nothing below waits, so no other
  // drawing can take handles in between.
  Handle.seed = 0;
  const drawing = new Drawing();
  const internals = drawing as unknown as Internals;
  setHeader(drawing, extents, version);
  for (const { layer, shapes } of layers) {
    drawing.addLayer(layer.name, layer.colour, 'CONTINUOUS').setActiveLayer(layer.name);
    for (const shape of shapes) draw(drawing, shape, version);
  }
  for (const block of blocks) addBlock(drawing, block, version);
  setBlockOwners(internals);
  const tags = tidyTags(internals._tagsManager().lines, extents);
  return dxfText(version === 'R12' ? tagsOfR12(tags) : tags);
}

function draw(drawing: Drawing, shape: Shape, version: DxfVersion): void {
  switch (shape.kind) {
    case 'path': {
      if (version === 'R12') {
        (drawing as unknown as Internals).activeLayer.addShape(new Polyline(shape.path));
        return;
      }
      // The third number of a point is the bulge of the piece that starts there; left out for a line.
      const points = shape.path.vertices.map(({ x, y, bulge }) => (bulge === 0 ? [x, y] : [x, y, bulge]));
      (drawing as unknown as Internals).drawPolyline(points, shape.path.closed);
      return;
    }
    case 'text':
      drawing.drawText(
        shape.at.x,
        shape.at.y,
        shape.height,
        shape.angle ?? 0,
        shape.text,
        shape.align,
        'baseline',
      );
      return;
    case 'insert':
      (drawing as unknown as Internals).activeLayer.addShape(new Insert(shape));
      return;
  }
}

/**
 * The polyline of R12, which has no LWPOLYLINE; the library has one in space only, without arcs. Group codes: DXF
 * Reference, POLYLINE, VERTEX and SEQEND.
 */
class Polyline extends DatabaseObject implements WrittenShape {
  declare ownerObjectHandle: string;
  /** Set by the layer it is added to. */
  declare layer: { readonly name: string };
  private readonly path: Path;

  constructor(path: Path) {
    super(['AcDbEntity', 'AcDb2dPolyline']);
    this.path = path;
  }

  override tags(manager: Tags): void {
    const point = (x: number, y: number): void => {
      manager.push(10, x);
      manager.push(20, y);
      manager.push(30, 0);
    };
    manager.push(0, 'POLYLINE');
    super.tags(manager);
    manager.push(8, this.layer.name);
    manager.push(66, 1); // vertices follow
    point(0, 0);
    manager.push(70, this.path.closed ? 1 : 0);
    for (const { x, y, bulge } of this.path.vertices) {
      manager.push(0, 'VERTEX');
      manager.push(8, this.layer.name);
      point(x, y);
      if (bulge !== 0) manager.push(42, bulge);
    }
    manager.push(0, 'SEQEND');
    manager.push(8, this.layer.name);
  }
}

/** The library knows no INSERT. Group codes: DXF Reference, INSERT. */
class Insert extends DatabaseObject implements WrittenShape {
  declare ownerObjectHandle: string;
  /** Set by the layer it is added to. */
  declare layer: { readonly name: string };
  private readonly shape: Extract<Shape, { kind: 'insert' }>;

  constructor(shape: Extract<Shape, { kind: 'insert' }>) {
    super(['AcDbEntity', 'AcDbBlockReference']);
    this.shape = shape;
  }

  override tags(manager: Tags): void {
    const { block, at, angle } = this.shape;
    manager.push(0, 'INSERT');
    super.tags(manager);
    manager.push(8, this.layer.name);
    manager.push(2, block);
    manager.push(10, at.x);
    manager.push(20, at.y);
    manager.push(30, 0);
    manager.push(50, angle);
  }
}

/** The library writes blocks empty: its shapes are drawn on their layers, taken off again, and put between. */
function addBlock(drawing: Drawing, { name, layers }: Block, version: DxfVersion): void {
  const internals = drawing as unknown as Internals;
  const content: WrittenShape[] = [];
  for (const { layer, shapes } of layers) {
    drawing.setActiveLayer(layer.name);
    const onLayer = internals.layers[layer.name]!.shapes;
    const before = onLayer.length;
    for (const shape of shapes) draw(drawing, shape, version);
    content.push(...onLayer.splice(before));
  }
  const block = (drawing as unknown as { addBlock(name: string): WrittenBlock }).addBlock(name);
  // Group codes and their order: DXF Reference, BLOCK and ENDBLK.
  block.tags = (manager) => {
    manager.push(0, 'BLOCK');
    DatabaseObject.prototype.tags.call(block, manager);
    manager.push(2, name);
    manager.push(70, 0);
    manager.push(10, 0);
    manager.push(20, 0);
    manager.push(30, 0);
    manager.push(3, name);
    manager.push(1, '');
    for (const shape of content) {
      shape.ownerObjectHandle = block.ownerObjectHandle;
      shape.tags(manager);
    }
    manager.push(0, 'ENDBLK');
    block.end.tags(manager);
  };
}

/** Header variables and their group codes: DXF Reference, HEADER section. */
function setHeader(drawing: Drawing, { minX, minY, maxX, maxY }: Bounds, version: DxfVersion): void {
  drawing.headers = {};
  const set = (name: string, ...values: readonly (readonly [number, number | string])[]): void =>
    (drawing as unknown as Internals).header(name, values);
  set('ACADVER', [1, ACADVER[version]]);
  set('DWGCODEPAGE', [3, 'ANSI_1252']);
  // Younger than R12, which has no word for the unit; readers take it there too, and controllers pass over it.
  set('INSUNITS', [70, 4]); // millimetres
  set('MEASUREMENT', [70, 1]); // metric
  set('LUNITS', [70, 2]); // decimal
  set('LUPREC', [70, 4]);
  set('EXTMIN', [10, minX], [20, minY], [30, 0]);
  set('EXTMAX', [10, maxX], [20, maxY], [30, 0]);
  set('LIMMIN', [10, minX], [20, minY]);
  set('LIMMAX', [10, maxX], [20, maxY]);
}

/**
 * Lets blocks and entities be owned by the BLOCK_RECORDs, as the DXF Reference asks (group 330, common group
 * codes for entities); the library names the BLOCK as the owner of entities and nobody as that of the BLOCKs.
 *
 * The records do not exist yet: the library makes their table and then one record a block, in order, as the
 * first thing when it serialises, so their handles are known.
 */
function setBlockOwners(internals: Internals): void {
  Object.values(internals.blocks).forEach((block, position) => {
    const record = (Handle.seed + 2 + position).toString(16).toUpperCase();
    block.ownerObjectHandle = record;
    block.end.ownerObjectHandle = record;
    if (block === internals.modelSpace) internals.modelSpace = { handle: record };
  });
}

/**
 * Box around all paths, arcs included. Text is left out: its width depends on the reader's font, and services
 * take this box for the size of the part.
 */
function extentsOf(layers: readonly FilledLayer[]): Bounds {
  const shapes = layers.flatMap((layer) => layer.shapes);
  return boxAround(shapes.flatMap((shape) => (shape.kind === 'path' ? [shape.path] : [])));
}

export function boxAround(paths: readonly Path[]): Bounds {
  const boxes = paths.map(pathBounds);
  return {
    minX: Math.min(...boxes.map((box) => box.minX)),
    minY: Math.min(...boxes.map((box) => box.minY)),
    maxX: Math.max(...boxes.map((box) => box.maxX)),
    maxY: Math.max(...boxes.map((box) => box.maxY)),
  };
}

function checkShapes({ layer, shapes }: FilledLayer): void {
  shapes.forEach((shape, position) => {
    const where = (): string =>
      words().messages.exporters.shape(layer.name, shape.kind, String(position + 1));
    switch (shape.kind) {
      case 'text':
        finite(where, { x: shape.at.x, y: shape.at.y, height: shape.height, angle: shape.angle ?? 0 });
        return;
      case 'insert':
        finite(where, { x: shape.at.x, y: shape.at.y, angle: shape.angle });
        return;
      case 'path':
        checkPath(where, shape.path);
    }
  });
}

function checkPath(where: () => string, path: Path): void {
  if (path.vertices.length < 2) {
    throw new GatherpanError(
      'BAD_INPUT',
      words().messages.exporters.fewVertices(where(), String(path.vertices.length)),
    );
  }
  path.vertices.forEach(({ x, y, bulge }, vertex) => {
    finite(() => words().messages.exporters.vertex(where(), String(vertex + 1)), { x, y, bulge });
  });
}

/** The library would write NaN and 1e+21 as they are. */
function finite(where: () => string, values: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(values)) {
    if (!(Math.abs(value) <= LARGEST)) {
      throw new GatherpanError(
        'BAD_INPUT',
        words().messages.exporters.coordinate(where(), name, String(value), String(LARGEST)),
      );
    }
  }
}

/** A kilometre in mm; at this size a double still resolves the sixth decimal. */
const LARGEST = 1_000_000;
