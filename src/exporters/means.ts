import type { Fonts } from '../drawing/fonts.ts';
import type { Picture } from '../drawing/picture.ts';

/** What some formats need from where they are written. Without it they are not there. */
export interface Means {
  /** For PDF. */
  readonly fonts?: Fonts;
  /** A picture as PNG. @param dotsPerInch resolution */
  readonly png?: (picture: Picture, dotsPerInch: number) => Promise<Uint8Array>;
}
