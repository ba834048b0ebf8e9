/** Strain of the finished tray's places at a stage on the way to it. */
import { Locator } from '../geometry/locate.ts';
import { equivalentStrain, type PlasticLaw } from '../material/law.ts';
import type { WholeStrain } from './wholeStrain.ts';

/**
 * Strain tensors of flat points at a stage, each found in the stage's own flat.
 *
 * @param points x y each, mm
 * @returns E11, E22, E12 each
 */
export function strainAt(stage: WholeStrain, points: Float64Array): Float64Array {
  const locator = new Locator(stage.flat, stage.triangles);
  const tensor = new Float64Array((3 * points.length) / 2);
  const values = new Float64Array(3);
  for (let i = 0; i < points.length / 2; i++) {
    const place = locator.find(points[2 * i]!, points[2 * i + 1]!);
    tensor.set(locator.interpolate(place, stage.tensor, 3, values), 3 * i);
  }
  return tensor;
}

/**
 * Equivalent strain from one state to another, one per point.
 *
 * @param before strain tensors; null where the sheet is flat yet
 */
export function strainBetween(
  law: PlasticLaw,
  before: Float64Array | null,
  after: Float64Array,
): Float64Array {
  return Float64Array.from({ length: after.length / 3 }, (_, i) => {
    const difference = (k: number): number => after[3 * i + k]! - (before?.[3 * i + k] ?? 0);
    return equivalentStrain(law, difference(0), difference(1), 2 * difference(2));
  });
}

/** Values of some nodes only, in their order. @param size numbers a node has */
export const valuesAt = (values: Float64Array, size: number, nodes: ArrayLike<number>): Float64Array =>
  Float64Array.from(
    { length: size * nodes.length },
    (_, i) => values[size * nodes[Math.floor(i / size)]! + (i % size)]!,
  );
