/** What metal a sheet is and how it is coated: what cautions and published limits hang on. Stated, never guessed. */

/** Metals that are told apart. `not stated` is never written by a person: a tray file that says nothing has it. */
export const FAMILIES = [
  'steel',
  'stainless steel',
  'aluminium',
  'magnesium',
  'copper',
  'brass',
  'titanium',
  'nickel silver',
  'other',
] as const;

/** `zinc` also stands for its alloys (Z, ZF, ZA, ZM), `paint` for lacquer and plastic, `other` for tin, lead … */
export const COATINGS = ['none', 'zinc', 'paint', 'other'] as const;

export const NOT_STATED = 'not stated';

export type StatedFamily = (typeof FAMILIES)[number];
export type StatedCoating = (typeof COATINGS)[number];
export type Family = StatedFamily | typeof NOT_STATED;
export type Coating = StatedCoating | typeof NOT_STATED;

/** A metal with its coating: what a caution is chosen by. */
export interface Metal {
  readonly family: Family;
  readonly coating: Coating;
}

/** How the atoms of a metal lie: body-centred or face-centred cubic. */
export const CRYSTALS = ['bcc', 'fcc'] as const;

export type Crystal = (typeof CRYSTALS)[number];
