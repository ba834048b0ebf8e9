/** What one needs to know while a tray file is turned into a tray. */
import type { Units } from './fields.ts';

export interface Reading {
  readonly units: Units;
  /** A length of the file in mm. */
  readonly mm: (length: number) => number;
  /** The text of the drawing at a path of the file. Throws a GatherpanError when it cannot be read. */
  readonly planDxf: ((path: string) => string) | undefined;
  /** Takes what a person should know of how a drawing was read. */
  readonly note: (sentence: string) => void;
}
