/** What a DXF layer is filled with. */
import type { Path, Point } from '../../outline/path.ts';

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
    };

export const pathShape = (path: Path): Shape => ({ kind: 'path', path });
