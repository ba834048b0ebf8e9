/** What a reader that is not ours finds in an exporter's bytes: the common form the conformance suite looks at. */
import type { Vertex } from '../../../src/geometry/path.ts';

export interface ReadDrawing {
  /** The unit of length that the file itself declares; null when the file does not say. */
  readonly unit: string | null;
  /** Everything to be cut, arcs as bulges. */
  readonly loops: readonly ReadLoop[];
}

export interface ReadLoop {
  /** As the reader understood it, not as we hoped. */
  readonly closed: boolean;
  readonly vertices: readonly Vertex[];
}

export type Reader = (bytes: Uint8Array) => ReadDrawing;
