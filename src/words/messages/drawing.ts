/** Why a picture cannot be written. */
export const drawing = {
  pageTooLarge: (width: string, height: string, most: string) =>
    `A page of ${width} × ${height} mm is asked for; PDF takes pages up to ${most} mm.`,
};
