/** The one part in an exchange file, as a shape of the kernel. */
import { GatherpanError } from '../../errors.ts';
import { words } from '../../words/language.ts';
import type { Part } from '../part.ts';
import type { Bound } from './instance.ts';
import { each } from './members.ts';
import type { Keep } from './scope.ts';

/** Largest and smallest extent of a part, mm; the trays we solve are well within. */
const LARGEST_PART = 20_000;
const SMALLEST_PART = 1;

/** A part with the largest extent of the box about it, mm. */
export interface OnePart {
  readonly shape: Bound;
  readonly kind: Part['kind'];
  readonly size: number;
}

const say = () => words().messages.step.part;

const refuse = (sentence: string): never => {
  throw new GatherpanError('BAD_INPUT', sentence);
};

/**
 * Reads a file whose text has been checked. Its units are the kernel's business: what comes is in mm.
 *
 * @throws GatherpanError BAD_INPUT when the file holds no part, more than one, or one of no sensible size;
 *   NOT_MAKEABLE for a hollow solid
 */
export function onePart(occt: Bound, bytes: Uint8Array, keep: Keep): OnePart {
  const { shape, kind } = pick(occt, transfer(occt, bytes, keep), keep);
  const size = Math.max(...box(occt, shape, keep));
  if (!(size >= SMALLEST_PART && size <= LARGEST_PART)) {
    const [least, most] = [String(SMALLEST_PART), String(LARGEST_PART)];
    refuse(Number.isFinite(size) ? say().size(size.toPrecision(3), least, most) : say().endless(least, most));
  }
  return { shape, kind, size };
}

function transfer(occt: Bound, bytes: Uint8Array, keep: Keep): Bound {
  const reader = keep(new occt.STEPControl_Reader_1());
  occt.FS.writeFile('/i.stp', bytes);
  let done: boolean;
  try {
    // Names of more than some ten characters arrive spoilt in this build.
    done = reader.ReadFile('i.stp') === occt.IFSelect_ReturnStatus.IFSelect_RetDone;
  } finally {
    occt.FS.unlink('/i.stp');
  }
  if (!done) refuse(say().unreadable);
  if (reader.TransferRoots() === 0) refuse(say().noShape);
  const shape = keep(reader.OneShape());
  if (shape.IsNull()) refuse(say().noShape);
  return shape;
}

/** The one solid, or all faces when there is none. */
function pick(occt: Bound, whole: Bound, keep: Keep): { shape: Bound; kind: Part['kind'] } {
  const solids = each(occt, whole, 'SOLID', keep);
  if (solids.length > 1) {
    refuse(say().severalSolids(String(solids.length)));
  }
  if (solids.length === 1) {
    const shells = each(occt, solids[0], 'SHELL', keep);
    if (shells.length > 1) {
      throw new GatherpanError('NOT_MAKEABLE', say().hollow);
    }
    return { shape: solids[0], kind: 'solid' };
  }
  const shells = each(occt, whole, 'SHELL', keep);
  if (shells.length > 1) {
    refuse(say().severalSurfaces(String(shells.length)));
  }
  if (each(occt, whole, 'FACE', keep).length === 0) {
    refuse(say().noFaces);
  }
  return { shape: shells[0] ?? whole, kind: 'surface' };
}

/** Extents of the box about a shape, mm. */
function box(occt: Bound, shape: Bound, keep: Keep): number[] {
  const bounds = keep(new occt.Bnd_Box_1());
  occt.BRepBndLib.Add(shape, bounds, false);
  if (bounds.IsVoid()) return [0, 0, 0];
  const low = keep(bounds.CornerMin());
  const high = keep(bounds.CornerMax());
  return [high.X() - low.X(), high.Y() - low.Y(), high.Z() - low.Z()];
}
