/** Area and volume of the kernel's shapes. */
import type { Bound } from './instance.ts';
import { type Keep, scoped } from './scope.ts';

/**
 * Share by which an area or volume may be off, face by face. The kernel's rule without one is a percent wrong for a
 * face that goes all round on a B-spline surface; on planes, cylinders, tori this one is no slower.
 */
const ACCURACY = 1e-9;
/**
 * Faces that go all round are cut up by so many lines first: even by that rule the kernel is two percent wrong for a
 * wall that goes all round an ellipse. With 7 lines it is right to eight figures, and faster than without.
 */
const LINES = 7;

/** The same shape without faces that go all round. */
function divided(occt: Bound, shape: Bound, keep: Keep): Bound {
  const tool = keep(new occt.ShapeUpgrade_ShapeDivideClosed(shape));
  tool.SetNbSplitPoints(LINES);
  tool.Perform(true);
  return keep(tool.Result());
}

/** mm² */
export const areaOf = (occt: Bound, shape: Bound): number =>
  scoped((keep) => {
    const properties = keep(new occt.GProp_GProps_1());
    occt.BRepGProp.SurfaceProperties_2(divided(occt, shape, keep), properties, ACCURACY, false);
    return Math.abs(properties.Mass());
  });

/** mm³, of a solid */
export const volumeOf = (occt: Bound, shape: Bound): number =>
  scoped((keep) => {
    const properties = keep(new occt.GProp_GProps_1());
    occt.BRepGProp.VolumeProperties_2(divided(occt, shape, keep), properties, ACCURACY, false, false);
    return Math.abs(properties.Mass());
  });
