/** What is said of a hand found from measurements. */
export const hand = {
  found: (hand: string, error: string, percent: string) =>
    `The hand is ${hand} ± ${error}: ${percent} % of the gather goes up the wall, the rest into thickness.`,
  spread: (percent: string, error: string) => `The spread is ${percent} ± ${error} % of area.`,
  noSpread: 'The measurements do not tell hand and spread apart, so no spread is assumed.',
  spreadKept: (percent: string) =>
    `The measurements do not tell hand and spread apart, so the tray file's spread of ${percent} % is kept.`,
  /** @param entry goes into the tray file as it is */
  forFile: (entry: string) => `For the tray file: ${entry}`,
};
