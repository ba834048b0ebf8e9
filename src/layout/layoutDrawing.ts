/**
 * A laid-out sheet as a DXF drawing: the edge of the sheet for reading, every blank on the layers it has in a
 * drawing of its own. The origin is the lower left corner of the sheet, x along its length.
 */
import { type Block, drawingText, type FilledLayer } from '../exporters/dxf/drawing.ts';
import { label } from '../exporters/dxf/label.ts';
import { type Layer, layersIn } from '../exporters/dxf/layers.ts';
import type { Shape } from '../exporters/dxf/shape.ts';
import type { Path, Point } from '../outline/path.ts';
import type { FlatPattern } from '../pattern/flatPattern.ts';
import { degrees } from '../units.ts';
import type { Words } from '../words/english.ts';
import { words } from '../words/language.ts';
import { exactTurn } from './convex.ts';
import type { Stock } from './packing.ts';
import type { Part } from './parts.ts';
import type { LaidSheet, PlacedPart } from './sheetLayout.ts';

/** `copy`: every blank is drawn in full. `block`: each kind is drawn once, and shown where it lies. */
export type PartDrawing = 'copy' | 'block';

const sheetLayer = ({ messages }: Words): Layer => ({
  name: 'SHEET',
  colour: 9, // light grey
  purpose: messages.layout.sheetEdge,
  cut: false,
  fill: () => [],
});

/** The bytes of the drawing; the same sheet gives the same bytes, in the language spoken now. */
export function layoutDrawing(sheet: LaidSheet, stock: Stock, parts: PartDrawing): Uint8Array {
  const table = words();
  const border: FilledLayer = {
    layer: sheetLayer(table),
    shapes: [{ kind: 'path', path: rectangle(stock.length, stock.width) }],
  };
  if (parts === 'copy') {
    const drawn = sheet.parts.map((placed) =>
      layersOf(placed.part, table).map((each) => moved(each, placed)),
    );
    const layers = layersIn(table).map((layer, i) => ({
      layer,
      shapes: drawn.flatMap((each) => each[i]!.shapes),
    }));
    return encoded(drawingText([border, ...layers]));
  }
  const kinds = [...new Set(sheet.parts.map((placed) => placed.part))];
  const blocks = kinds.map((part): Block => ({ name: part.name, layers: layersOf(part, table) }));
  const inserts = sheet.parts.map(
    ({ part, x, y, angle }): Shape => ({
      kind: 'insert',
      block: part.name,
      at: { x, y },
      angle: degrees(angle),
    }),
  );
  const layers = layersIn(table).map((layer, i) => ({ layer, shapes: i === 0 ? inserts : [] }));
  return encoded(drawingText([border, ...layers], blocks));
}

const encoded = (text: string): Uint8Array => new TextEncoder().encode(text);

function layersOf({ blank }: Part, table: Words): FilledLayer[] {
  // Without options the layers draw outlines, holes, scribe lines and labels: no more than a blank has.
  const whole = blank() as unknown as FlatPattern;
  const drawn = {
    pattern: whole,
    values: { text: 'inside', cutOnly: false },
    label: label(whole, 'inside', table),
  };
  return layersIn(table).map((layer) => ({ layer, shapes: layer.fill(drawn) }));
}

function moved({ layer, shapes }: FilledLayer, placed: PlacedPart): FilledLayer {
  return { layer, shapes: shapes.map((shape) => movedShape(shape, placed)) };
}

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
