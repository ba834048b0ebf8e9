/**
 * √(x² + y²). Other than `Math.hypot` it does not guard against overflow, which millimetres never come near, and it
 * leaves no garbage behind: in the loops that fit outlines that is most of the garbage there is.
 */
export const hypotenuse = (x: number, y: number): number => Math.sqrt(x * x + y * y);
