/**
 * A laid-out sheet as a DXF drawing: every blank as it is in a drawing of its own, and the edge of the sheet where
 * marks are asked for. The origin is the lower left corner of the sheet, x along its length.
 */

import type { DxfVersion, SheetMark } from '../exporters/dxf/choices.ts';
import { type Block, boxAround, drawingText } from '../exporters/dxf/drawing.ts';
import { type FilledLayer, filledLayers, type Layer } from '../exporters/dxf/layers.ts';
import { openMarks } from '../exporters/dxf/openMarks.ts';
import { plainText } from '../exporters/dxf/plainText.ts';
import { pathShape, type Shape } from '../exporters/dxf/shape.ts';
import { type Bounds, pathBounds } from '../geometry/measure.ts';
import type { Path, Point } from '../geometry/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { degrees } from '../units.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { exactTurn } from './convex.ts';
import type { Stock } from './packing.ts';
import { type PartDrawing, refuseBlocksInR12 } from './partDrawing.ts';
import type { Part } from './parts.ts';
import type { LaidSheet, PlacedPart } from './sheetLayout.ts';

export interface LayoutDrawingOptions {
  /** None when left out: what is cut and nothing else. With any, the edge of the sheet is drawn too. */
  readonly marks?: readonly SheetMark[] | undefined;
  /** R2000 when left out. */
  readonly version?: DxfVersion | undefined;
}

const sheetLayer = ({ messages }: Words): Layer => ({
  name: 'SHEET',
  colour: 9, // light grey
  purpose: messages.layout.sheetEdge,
});

/**
 * The bytes of the drawing; the same sheet gives the same bytes, in the language spoken now.
 *
 * @throws GatherpanError BAD_INPUT for blocks in R12
 */
export function layoutDrawing(
  sheet: LaidSheet,
  stock: Stock,
  parts: PartDrawing,
  { marks = [], version }: LayoutDrawingOptions = {},
): Uint8Array {
  refuseBlocksInR12(parts, version);
  const table = words();
  const kinds = [...new Set(sheet.parts.map((placed) => placed.part))];
  // Blanks have all that these layers draw from.
  const drawn = new Map(
    kinds.map((part) => [part, filledLayers(part.blank() as unknown as FlatPattern, marks, table)]),
  );
  const border: FilledLayer[] =
    marks.length === 0
      ? []
      : [
          {
            layer: sheetLayer(table),
            shapes: openMarks([[rectangle(stock.length, stock.width)]], [])[0]!.map(pathShape),
          },
        ];
  const extents = marks.length === 0 ? extentsOf(sheet) : pathBounds(rectangle(stock.length, stock.width));
  if (parts === 'copy') {
    const copies = sheet.parts.flatMap((placed) =>
      drawn.get(placed.part)!.map(({ layer, shapes }) => ({
        layer,
        shapes: shapes.map((shape) => movedShape(shape, placed)),
      })),
    );
    return encoded(drawingText([...border, ...merged(copies)], { version, extents }));
  }
  const names = blockNames(kinds);
  const blocks = kinds.map((part): Block => ({ name: names.get(part)!, layers: drawn.get(part)! }));
  const inserts = sheet.parts.map(
    ({ part, x, y, angle }): Shape => ({
      kind: 'insert',
      block: names.get(part)!,
      at: { x, y },
      angle: degrees(angle),
    }),
  );
  // An insert is on the layer of what is cut, which every block has.
  const layers = merged([...drawn.values()].flat()).map(({ layer }, i) => ({
    layer,
    shapes: i === 0 ? inserts : [],
  }));
  return encoded(drawingText([...border, ...layers], { blocks, extents }));
}

/** One layer of each name, in the order in which they first come. */
function merged(layers: readonly FilledLayer[]): FilledLayer[] {
  const byName = new Map<string, { layer: Layer; shapes: Shape[] }>();
  for (const { layer, shapes } of layers) {
    const known = byName.get(layer.name);
    if (known === undefined) byName.set(layer.name, { layer, shapes: [...shapes] });
    else for (const shape of shapes) known.shapes.push(shape);
  }
  return [...byName.values()];
}

/** Box around the blanks. */
const extentsOf = ({ parts }: LaidSheet): Bounds =>
  boxAround(parts.map((placed) => movedPath(placed.part.blank().outline, placed)));

/** A name for each block, from that of its part; no two are the same. */
function blockNames(kinds: readonly Part[]): Map<Part, string> {
  const taken = new Set<string>();
  return new Map(
    kinds.map((part) => {
      const stem = plainText(part.name).replace(/[^A-Za-z0-9_.-]+/g, '-');
      let name = stem;
      for (let k = 2; taken.has(name.toLowerCase()); k++) name = `${stem}-${k}`;
      taken.add(name.toLowerCase());
      return [part, name];
    }),
  );
}

const encoded = (text: string): Uint8Array => new TextEncoder().encode(text);

function movedShape(shape: Shape, placed: PlacedPart): Shape {
  switch (shape.kind) {
    case 'path':
      return { kind: 'path', path: movedPath(shape.path, placed) };
    case 'text':
      return {
        ...shape,
        at: movedPoint(shape.at, placed),
        angle: (shape.angle ?? 0) + degrees(placed.angle),
      };
    case 'insert':
      return { ...shape, at: movedPoint(shape.at, placed), angle: shape.angle + degrees(placed.angle) };
  }
}

type Move = Pick<PlacedPart, 'x' | 'y' | 'angle'>;

/** Turned about the origin, then moved. */
export function movedPoint({ x, y }: Point, move: Move): Point {
  const [c, s] = exactTurn(move.angle);
  return { x: move.x + c * x - s * y, y: move.y + s * x + c * y };
}

/** A turn and a move leave bulges as they are. */
export const movedPath = (path: Path, move: Move): Path => ({
  closed: path.closed,
  vertices: path.vertices.map((vertex) => ({ ...movedPoint(vertex, move), bulge: vertex.bulge })),
});

const rectangle = (length: number, width: number): Path => ({
  closed: true,
  vertices: [
    { x: 0, y: 0, bulge: 0 },
    { x: length, y: 0, bulge: 0 },
    { x: length, y: width, bulge: 0 },
    { x: 0, y: width, bulge: 0 },
  ],
});
