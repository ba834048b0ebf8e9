/** What a DXF layer is filled with. */
import type { Path, Point } from '../../geometry/path.ts';

export type Shape =
  /** Becomes one LWPOLYLINE. */
  | { readonly kind: 'path'; readonly path: Path }
  /** Becomes one TEXT. `at` is on the base line, at the left end or the middle; height of capitals in mm. */
  | {
      readonly kind: 'text';
      readonly at: Point;
      readonly align: 'left' | 'center';
      readonly height: number;
      readonly text: string;
      /** Direction of reading, degrees counter-clockwise from the x axis; 0 when left out. */
      readonly angle?: number;
    }
  /** Becomes one INSERT of a block of the drawing: turned about the block's origin, then moved to `at`. */
  | {
      readonly kind: 'insert';
      readonly block: string;
      readonly at: Point;
      /** degrees, counter-clockwise */
      readonly angle: number;
    };

export const pathShape = (path: Path): Shape => ({ kind: 'path', path });
