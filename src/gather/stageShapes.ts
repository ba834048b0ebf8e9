/** The tray at the end of each stage as a mesh, each spot of the finished one followed back: for pictures of the way. */
import { Locator } from '../geometry/locate.ts';
import { strainAt } from './followedStrain.ts';
import { type Stage, stepsOf } from './stages.ts';
import type { Way } from './way.ts';
import type { WholeStrain } from './wholeStrain.ts';

export interface StageShape {
  /** mm, x y z per node of the finished tray. */
  readonly formed: Float64Array;
  /** How much shorter each node's surroundings still have to become in some direction, per cent of the flat. */
  readonly toCome: Float64Array;
}

/** The flat blank first, then the end of each stage. @throws GatherpanError as `stagesOf` */
export function stageShapes(way: Way, stages: readonly Pick<Stage, 'angle' | 'lip'>[]): StageShape[] {
  const { finished } = way;
  const least = shortest(finished.tensor);
  const angles = stages.filter(({ lip }) => !lip).map(({ angle }) => angle);
  const flat = Float64Array.from({ length: (3 * finished.flat.length) / 2 }, (_, i) =>
    i % 3 === 2 ? 0 : finished.flat[2 * Math.floor(i / 3) + (i % 3)]!,
  );
  const shape = (formed: Float64Array, tensor: Float64Array): StageShape => ({
    formed,
    toCome: shortest(tensor).map((now, i) => 100 * Math.max(0, Math.exp(now) - Math.exp(least[i]!))),
  });
  return [
    shape(flat, new Float64Array(finished.tensor.length)),
    ...stepsOf(way, angles).map(({ whole }) =>
      whole === finished
        ? shape(finished.formed, finished.tensor)
        : shape(formedAt(whole, finished.flat), strainAt(whole, finished.flat)),
    ),
  ];
}

/** The smaller principal strain of each tensor E11, E22, E12, logarithmic. */
const shortest = (tensor: Float64Array): Float64Array =>
  Float64Array.from({ length: tensor.length / 3 }, (_, i) => {
    const [a, b, c] = [tensor[3 * i]!, tensor[3 * i + 1]!, tensor[3 * i + 2]!];
    return (a + b) / 2 - Math.hypot((a - b) / 2, c);
  });

/** Where flat points lie on a stage. @param points x y each, mm */
function formedAt({ flat, triangles, formed }: WholeStrain, points: Float64Array): Float64Array {
  const locator = new Locator(flat, triangles);
  const out = new Float64Array((3 * points.length) / 2);
  const at = new Float64Array(3);
  for (let i = 0; i < points.length / 2; i++)
    out.set(locator.interpolate(locator.find(points[2 * i]!, points[2 * i + 1]!), formed, 3, at), 3 * i);
  return out;
}
