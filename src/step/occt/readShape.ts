/** Reads an exchange file with the kernel and describes the one part in it. */
import { GatherpanError } from '../../errors.ts';
import { words } from '../../words/language.ts';
import type { PartFace } from '../part.ts';
import { describeFace } from './describeFace.ts';
import { EdgeList } from './edgeList.ts';
import { type BoundSurface, differentiator, evaluator } from './evaluators.ts';
import type { Bound } from './instance.ts';
import type { LivePart } from './livePart.ts';
import { volumeOf } from './measures.ts';
import { each, isReversed } from './members.ts';
import { onePart } from './onePart.ts';
import { scoped } from './scope.ts';

/** Most points of the kernel's net on all faces together. */
const MAXIMUM_POINTS = 400_000;
/** A chord of the net lies at most one part in so many of the part's size away from its curve. */
const CHORDS = 400;
/** mm² and mm³ */
const LARGEST_AREA = 1e9;
const LARGEST_VOLUME = 1e12;

export interface ReadOptions {
  /** Largest turn of the normal across a triangle, radians. */
  readonly angle: number;
}

const refuse = (sentence: string): never => {
  throw new GatherpanError('BAD_INPUT', sentence);
};

/**
 * Reads the file and hands its part to `use`.
 *
 * @throws GatherpanError BAD_INPUT when the file holds no part, more than one, or one the kernel has misread;
 *   NOT_MAKEABLE for a hollow solid; and whatever `use` throws
 */
export function withPart<T>(
  occt: Bound,
  bytes: Uint8Array,
  options: ReadOptions,
  use: (live: LivePart) => T,
): T {
  return scoped((keep) => {
    const { shape, kind, size } = onePart(occt, bytes, keep);
    keep(new occt.BRepMesh_IncrementalMesh_2(shape, size / CHORDS, false, options.angle, false));
    const edges = new EdgeList(occt, keep);
    const faces: PartFace[] = [];
    const surfaces: BoundSurface[] = [];
    let points = 0;
    for (const face of each(occt, shape, 'FACE', keep)) {
      const bound = keep(occt.TopoDS.Face_1(face));
      const adaptor = keep(new occt.BRepAdaptor_Surface_2(bound, true));
      const surface = { adaptor, reversed: isReversed(occt, bound) };
      const described = describeFace(occt, bound, surface, edges);
      points += described.points.length / 3;
      if (points > MAXIMUM_POINTS) refuse(words().messages.step.part.tooManyDetails);
      faces.push(described);
      surfaces.push(surface);
    }
    const area = faces.reduce((sum, face) => sum + face.area, 0);
    const volume = kind === 'solid' ? volumeOf(occt, shape) : 0;
    // NaN is not sane either.
    const sane = area > 0 && area < LARGEST_AREA && volume < LARGEST_VOLUME;
    if (!sane) {
      refuse(words().messages.step.part.noSense);
    }
    return use({
      part: { kind, faces, edges: edges.list, volume, area },
      evaluate: evaluator(occt, surfaces, keep),
      differentiate: differentiator(occt, surfaces, keep),
      snapToEdge: (edge, point) => edges.snap(edge, point),
    });
  });
}
