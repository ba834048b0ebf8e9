/** Two independent readers of DXF, the npm packages dxf-parser and dxf, behind one form. */
import { parseString } from 'dxf';
import dxfParser, { type ILwpolylineEntity } from 'dxf-parser';
import type { ReadDrawing } from './readDrawing.ts';

/** The package's types promise a named export; what it exports at run time is the class itself. */
const DxfParser = dxfParser as unknown as typeof dxfParser.DxfParser;

/** $INSUNITS, DXF Reference, HEADER section. */
const UNITS: Readonly<Record<number, string>> = { 1: 'in', 4: 'mm', 5: 'cm', 6: 'm' };

const textOf = (bytes: Uint8Array): string => new TextDecoder('utf-8', { fatal: true }).decode(bytes);

/** The drawing as the package dxf-parser reads it; throws when it cannot. */
export function readWithDxfParser(bytes: Uint8Array): ReadDrawing {
  const document = new DxfParser().parseSync(textOf(bytes));
  if (document === null) throw new Error('dxf-parser returned nothing');
  const cut = document.entities.filter((entity) => entity.layer === 'CUT');
  const other = cut.find((entity) => entity.type !== 'LWPOLYLINE' && entity.type !== 'POLYLINE');
  if (other !== undefined) throw new Error(`the layer CUT holds a ${other.type}`);
  return {
    unit: UNITS[document.header.$INSUNITS as number] ?? null,
    loops: (cut as ILwpolylineEntity[]).map(({ shape, vertices }) => ({
      closed: shape,
      vertices: vertices.map(({ x, y, bulge }) => ({ x, y, bulge: bulge ?? 0 })),
    })),
  };
}

/** The drawing as the package dxf reads it; throws when it cannot. */
export function readWithDxf(bytes: Uint8Array): ReadDrawing {
  const document = parseString(textOf(bytes));
  const cut = document.entities.filter((entity) => entity.layer === 'CUT');
  const other = cut.find((entity) => entity.type !== 'LWPOLYLINE' && entity.type !== 'POLYLINE');
  if (other !== undefined) throw new Error(`the layer CUT holds a ${other.type}`);
  return {
    unit: UNITS[document.header.insUnits ?? 0] ?? null,
    loops: cut.map(({ closed, vertices }) => ({
      closed: closed === true,
      vertices: (vertices ?? []).map(({ x, y, bulge }) => ({ x, y, bulge: bulge ?? 0 })),
    })),
  };
}
