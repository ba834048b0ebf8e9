/** Area and volume of the kernel's shapes. */
import type { Bound } from './instance.ts';
import { scoped } from './scope.ts';

/**
 * Share by which an area or volume may be off, face by face. The kernel's rule without one is a percent wrong for a
 * face that goes all round on a B-spline surface; on planes, cylinders, tori this one is no slower.
 */
const ACCURACY = 1e-9;

/** mm² */
export const areaOf = (kernel: Bound, shape: Bound): number =>
  scoped((keep) => {
    const properties = keep(new kernel.GProp_GProps_1());
    kernel.BRepGProp.SurfaceProperties_2(shape, properties, ACCURACY, false);
    return Math.abs(properties.Mass());
  });

/** mm³, of a solid */
export const volumeOf = (kernel: Bound, shape: Bound): number =>
  scoped((keep) => {
    const properties = keep(new kernel.GProp_GProps_1());
    kernel.BRepGProp.VolumeProperties_2(shape, properties, ACCURACY, false, false);
    return Math.abs(properties.Mass());
  });
