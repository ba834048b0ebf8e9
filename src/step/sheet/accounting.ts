/** What is found out about a solid's faces on the way to one sheet. */
import type { Stitched } from '../freeForm/skinMesh.ts';
import type { Probe } from './throughMaterial.ts';

/** A solid that is one sheet. */
export interface SheetFaces {
  /** Face numbers of the skin inside the tray, the smaller one, and of the other. */
  readonly inner: ReadonlySet<number>;
  readonly outer: ReadonlySet<number>;
  /** mm */
  readonly thickness: number;
  readonly stitched: Stitched;
  /** Per face those that it meets smoothly. */
  readonly smoothNeighbours: readonly ReadonlySet<number>[];
  readonly probes: readonly Probe[];
}

/** Faces that are no skin and hang together, with their borders on the two skins. */
export interface Region {
  readonly faces: ReadonlySet<number>;
  /** mm² */
  readonly area: number;
  /** Vertices of the net along each border on a skin. */
  readonly borders: readonly [inner: readonly Set<number>[], outer: readonly Set<number>[]];
  /** Vertices less edges plus triangles: 0 of a ring, 1 of a cap, less of what has more holes. */
  readonly euler: number;
}

/** All that was found out about a solid's faces. */
export interface Accounting extends SheetFaces {
  /** Which faces share an edge. */
  readonly neighbours: readonly ReadonlySet<number>[];
}
