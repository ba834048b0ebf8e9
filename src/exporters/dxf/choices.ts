/** What can be chosen of a DXF drawing; without imports, so that the command line has it at once. */

/** What can be drawn besides the cut, in the order in which it is named. */
export const MARKS = ['scribe', 'grain', 'text', 'gather', 'tucks', 'dots'] as const;
export type Mark = (typeof MARKS)[number];

/** What a marked drawing shows when nobody says otherwise. */
export const USUAL_MARKS: readonly Mark[] = ['scribe', 'grain', 'text'];

/** The marks that a blank on a sheet may have; those of its gather are only in a drawing of its own. */
export const SHEET_MARKS = ['scribe', 'grain', 'text'] as const satisfies readonly Mark[];
export type SheetMark = (typeof SHEET_MARKS)[number];

/** The versions that are written, by the names they go by; the first when nothing is said. */
export const DXF_VERSIONS = ['R2000', 'R12'] as const;
export type DxfVersion = (typeof DXF_VERSIONS)[number];

/** $ACADVER (DXF Reference, HEADER section). */
export const ACADVER: Readonly<Record<DxfVersion, string>> = { R2000: 'AC1015', R12: 'AC1009' };
