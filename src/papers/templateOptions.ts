/** What may be chosen of a full-size template. */

import type { Words } from '../words/english.ts';
import type { LengthUnit } from './lengths.ts';
import type { PageSize } from './pageSizes.ts';

export interface TemplateOptions {
  readonly paper: PageSize | 'roll';
  /** Width of the roll, mm. */
  readonly rollWidth: number;
  /** What the printer leaves free on each side, mm. */
  readonly margin: number;
  /** mm */
  readonly overlap: number;
  readonly contours: boolean;
  readonly tucks: boolean;
  /** The dots of the trial corner, `trialDots`. */
  readonly dots: boolean;
  /** Whether the tables for marking out follow. */
  readonly markingOut: boolean;
  /** Whether the rehearsal in paper comes last, where a sheet has room for it. */
  readonly rehearsal: boolean;
  readonly unit: LengthUnit;
  readonly words?: Words;
}

export const TEMPLATE_DEFAULTS: Omit<TemplateOptions, 'words'> = {
  paper: 'A4',
  rollWidth: 610,
  margin: 10,
  overlap: 12,
  contours: true,
  tucks: true,
  dots: false,
  markingOut: true,
  rehearsal: true,
  unit: 'mm',
};

/** What a shear and a file hold, and what a trammel reaches, mm; common practice, no source. */
export const MARKING_DEFAULTS = { tolerance: 0.25, trammel: 600 } as const;
