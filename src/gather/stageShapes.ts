/** The tray at the end of each stage as a mesh, each spot of the finished one followed back: for pictures of the way. */
import { followed } from './followedStrain.ts';
import { type Stage, stepsOf } from './stages.ts';
import type { Way } from './way.ts';

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
    ...stepsOf(way, angles).map(({ whole }) => {
      if (whole === finished) return shape(finished.formed, finished.tensor);
      const there = followed(whole, finished.flat);
      return shape(there(whole.formed), there(whole.tensor));
    }),
  ];
}

/** The smaller principal strain of each tensor E11, E22, E12, logarithmic. */
const shortest = (tensor: Float64Array): Float64Array =>
  Float64Array.from({ length: tensor.length / 3 }, (_, i) => {
    const [a, b, c] = [tensor[3 * i]!, tensor[3 * i + 1]!, tensor[3 * i + 2]!];
    return (a + b) / 2 - Math.hypot((a - b) / 2, c);
  });
