/** The crowns that are offered where nobody asks for others, mm. Common practice, no source. */
export const HAMMER_CROWN = 300;
/** Width of a face. */
export const FACE = 40;
