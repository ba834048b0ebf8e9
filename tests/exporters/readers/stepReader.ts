/** The flat blank's upper face as the geometry kernel (npm package opencascade.js) reads it. */
import { occt } from '../../step/occt.ts';
import { loopArea } from '../loopGeometry.ts';
import type { ReadDrawing, ReadLoop } from './readDrawing.ts';

// A reader answers at once, so the kernel is loaded with this file.
const k = await occt();

/** The cut lines are the boundaries of the highest level face. */
export function readStep(bytes: Uint8Array): ReadDrawing {
  const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  k.FS.writeFile('/r.stp', bytes);
  const reader = new k.STEPControl_Reader_1();
  if (reader.ReadFile('r.stp') !== k.IFSelect_ReturnStatus.IFSelect_RetDone) throw new Error('not read');
  k.FS.unlink('/r.stp');
  reader.TransferRoots();
  const shape = reader.OneShape();
  const { TopAbs_ShapeEnum: kinds } = k;
  let [face, height] = [null, -Infinity] as [unknown, number];
  for (const e = new k.TopExp_Explorer_2(shape, kinds.TopAbs_FACE, kinds.TopAbs_SHAPE); e.More(); e.Next()) {
    const one = k.TopoDS.Face_1(e.Current());
    const surface = new k.BRepAdaptor_Surface_2(one, true);
    if (surface.GetType().value !== 0 || Math.abs(surface.Plane().Axis().Direction().Z()) < 0.5) continue;
    const z = surface.Plane().Location().Z();
    if (z > height) [face, height] = [one, z];
  }
  const loops: ReadLoop[] = [];
  for (const e = new k.TopExp_Explorer_2(face, kinds.TopAbs_WIRE, kinds.TopAbs_SHAPE); e.More(); e.Next()) {
    loops.push(loopOf(k.TopoDS.Wire_1(e.Current())));
  }
  // The outline is the largest; holes keep their order.
  loops.sort((a, b) => Math.abs(loopArea(b.vertices)) - Math.abs(loopArea(a.vertices)));
  return { unit: /LENGTH_UNIT\(\)[^;]*SI_UNIT\(\.MILLI\.,\.METRE\.\)/.test(text) ? 'mm' : null, loops };
}

function loopOf(wire: unknown): ReadLoop {
  const vertices: { x: number; y: number; bulge: number }[] = [];
  let end: { x: number; y: number } | null = null;
  for (const e = new k.BRepTools_WireExplorer_2(wire); e.More(); e.Next()) {
    const edge = k.TopoDS.Edge_1(e.Current());
    const curve = new k.BRepAdaptor_Curve_2(edge);
    const backwards = e.Orientation() === k.TopAbs_Orientation.TopAbs_REVERSED;
    const [from, to] = [curve.FirstParameter(), curve.LastParameter()];
    const at = (share: number): { x: number; y: number } => {
      const p = curve.Value(from + (to - from) * (backwards ? 1 - share : share));
      return { x: p.X(), y: p.Y() };
    };
    const [start, middle, stop] = [at(0), at(0.5), at(1)];
    // bulge = tan(sweep / 4) = sagitta over half the chord, positive when the arc bulges to the right of travel.
    const [dx, dy] = [stop.x - start.x, stop.y - start.y];
    const chord = Math.hypot(dx, dy);
    const off = ((middle.x - (start.x + stop.x) / 2) * dy - (middle.y - (start.y + stop.y) / 2) * dx) / chord;
    vertices.push({ ...start, bulge: curve.GetType().value === 0 ? 0 : (2 * off) / chord });
    end = stop;
  }
  const first = vertices[0]!;
  return { closed: Math.hypot(first.x - end!.x, first.y - end!.y) < 1e-6, vertices };
}
