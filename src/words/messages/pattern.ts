/** Why a tray has no flat pattern, and what would work. */
export const pattern = {
  overlaps: 'The flat pattern overlaps itself where the walls of an inward corner meet.',
  /** @param refusal why, a sentence */
  noLowerWall: (refusal: string) =>
    `${refusal} No lower wall was found that works either: give larger corner radii.`,
  withHeight: (refusal: string, height: string) => `${refusal} With section.height ${height} mm it works.`,
};
