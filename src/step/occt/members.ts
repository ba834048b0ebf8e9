/** The parts a shape of the kernel is made of. */
import type { Bound } from './instance.ts';
import type { Keep } from './scope.ts';

/** All parts of one kind in a shape, in its order; a part that two others share comes twice. */
export function each(
  occt: Bound,
  shape: Bound,
  kind: 'SOLID' | 'SHELL' | 'FACE' | 'WIRE' | 'EDGE',
  keep: Keep,
): Bound[] {
  const out: Bound[] = [];
  const { TopAbs_ShapeEnum: kinds } = occt;
  const explorer = keep(new occt.TopExp_Explorer_2(shape, kinds[`TopAbs_${kind}`], kinds.TopAbs_SHAPE));
  for (; explorer.More(); explorer.Next()) out.push(keep(explorer.Current()));
  return out;
}

/** Whether a face is used against its surface's own direction. */
export const isReversed = (occt: Bound, shape: Bound): boolean =>
  shape.Orientation_1() === occt.TopAbs_Orientation.TopAbs_REVERSED;
