/** Strain of the finished tray's places at a stage on the way to it. */
import { Locator } from '../geometry/locate.ts';
import { equivalentStrain, type PlasticLaw } from '../material/law.ts';
import type { WholeStrain } from './wholeStrain.ts';

/**
 * Finds flat points in a stage's own flat.
 *
 * @param points x y each, mm
 * @returns what gives three values of each node of the stage at these points
 */
export function followed(
  { flat, triangles }: Pick<WholeStrain, 'flat' | 'triangles'>,
  points: Float64Array,
): (values: Float64Array) => Float64Array {
  const locator = new Locator(flat, triangles);
  const places = Array.from({ length: points.length / 2 }, (_, i) =>
    locator.find(points[2 * i]!, points[2 * i + 1]!),
  );
  return (values) => {
    const out = new Float64Array(3 * places.length);
    const at = new Float64Array(3);
    for (const [i, place] of places.entries()) out.set(locator.interpolate(place, values, 3, at), 3 * i);
    return out;
  };
}

/** Strain tensors of flat points at a stage: E11, E22, E12 each. @param points x y each, mm */
export const strainAt = (stage: WholeStrain, points: Float64Array): Float64Array =>
  followed(stage, points)(stage.tensor);

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
