/** Lengths are given to 1e-6 mm, angles to 1e-7°: what lies beyond is rounding. */
export const tidy = (value: number, scale = 1e6): number => Math.round(value * scale) / scale + 0;
