/** What the corners of a pattern are called, wherever a person reads of them. */
import { turnName } from '../tray/cornerLetter.ts';
import { planVertices } from '../tray/planLoop.ts';
import type { FlatPattern } from './flatPattern.ts';

type Named = Pick<FlatPattern, 'kind' | 'spec'>;

/** Corners of the plan; a report's corner of this number or more is a curved side. All of a part's are corners. */
export const cornerCount = ({ kind, spec }: Named): number =>
  kind === 'part' ? Number.POSITIVE_INFINITY : planVertices(spec.plan).length;

/** A corner by its letter, a curved side by its two. */
export const cornerName = (pattern: Named, index: number): string => turnName(index, cornerCount(pattern));

/** Corners that share a zone, as one: "A + D". */
export const joinedNames = (pattern: Named, corners: readonly number[]): string =>
  corners.map((index) => cornerName(pattern, index)).join(' + ');
