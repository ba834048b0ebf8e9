/** One kernel for all tests of a worker, in the worker's own thread. */
import { type Bound, loadOcct } from '../../src/step/occt/instance.ts';
import type { LivePart } from '../../src/step/occt/livePart.ts';
import { withPart } from '../../src/step/occt/readShape.ts';
import { scoped } from '../../src/step/occt/scope.ts';
import type { Part } from '../../src/step/part.ts';

let loading: Promise<Bound> | null = null;

export function occt(): Promise<Bound> {
  loading ??= loadOcct();
  return loading;
}

export async function readPart(bytes: Uint8Array): Promise<Part> {
  return withPart(await occt(), bytes, { angle: 0.35 }, ({ part }) => part);
}

export async function withLivePart<T>(bytes: Uint8Array, use: (live: LivePart) => T): Promise<T> {
  return withPart(await occt(), bytes, { angle: 0.35 }, use);
}

/** What the kernel itself makes of a file, without our reader. */
interface Judged {
  readonly solids: number;
  /** Its analyser's word. */
  readonly valid: boolean;
  readonly surfaces: Record<string, number>;
}

const known = new WeakMap<Uint8Array, Judged>();

export async function judged(bytes: Uint8Array): Promise<Judged> {
  const found = known.get(bytes) ?? (await withShape(bytes, looked));
  known.set(bytes, found);
  return found;
}

/** Volume and area by the kernel's own integration, mm³ and mm². */
export const measured = (bytes: Uint8Array): Promise<{ volume: number; area: number }> =>
  withShape(bytes, (k, shape) =>
    scoped((keep) => {
      const inside = keep(new k.GProp_GProps_1());
      k.BRepGProp.VolumeProperties_1(shape, inside, false, false, false);
      const skin = keep(new k.GProp_GProps_1());
      k.BRepGProp.SurfaceProperties_1(shape, skin, false, false);
      return { volume: inside.Mass(), area: skin.Mass() };
    }),
  );

async function withShape<T>(bytes: Uint8Array, use: (k: Bound, shape: Bound) => T): Promise<T> {
  const k = await occt();
  return scoped((keep) => {
    k.FS.writeFile('/t.stp', bytes);
    const reader = keep(new k.STEPControl_Reader_1());
    reader.ReadFile('t.stp');
    k.FS.unlink('/t.stp');
    reader.TransferRoots();
    return use(k, keep(reader.OneShape()));
  });
}

function looked(k: Bound, shape: Bound): Judged {
  const { TopAbs_ShapeEnum: kinds } = k;
  let solids = 0;
  for (const e = new k.TopExp_Explorer_2(shape, kinds.TopAbs_SOLID, kinds.TopAbs_SHAPE); e.More(); e.Next())
    solids++;
  const surfaces: Record<string, number> = {};
  for (const e = new k.TopExp_Explorer_2(shape, kinds.TopAbs_FACE, kinds.TopAbs_SHAPE); e.More(); e.Next()) {
    const adaptor = new k.BRepAdaptor_Surface_2(k.TopoDS.Face_1(e.Current()), true);
    // GeomAbs_SurfaceType of the kernel's documentation.
    const kind = ['plane', 'cylinder', 'cone', 'sphere', 'torus'][adaptor.GetType().value] ?? 'other';
    surfaces[kind] = (surfaces[kind] ?? 0) + 1;
  }
  return { solids, valid: new k.BRepCheck_Analyzer(shape, true).IsValid_2(), surfaces };
}
