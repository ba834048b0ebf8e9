/** What a PDF needs of fonts: the bytes of a regular and a bold one that have the letters of a text. */

/** A regular and a bold font of one design, each a whole TrueType file. */
export interface Typeface {
  /** Tells it from the others that a document uses. */
  readonly name: string;
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

/** The typeface for a text. Where one has all letters, it is always the same. */
export type Fonts = (text: string) => Promise<Typeface>;
