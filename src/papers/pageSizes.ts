/** Sizes of paper, mm. Source: ISO 216 for A4 and A3; Letter is 8.5 × 11 inches (ANSI/ASME Y14.1, from memory). */
export const PAGE_SIZES = {
  A4: { width: 210, height: 297 },
  A3: { width: 297, height: 420 },
  Letter: { width: 215.9, height: 279.4 },
} as const;

export type PageSize = keyof typeof PAGE_SIZES;
