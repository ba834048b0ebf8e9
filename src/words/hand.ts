/** What is said of a hand found from measurements. */
export const hand = {
  found: (hand: string, error: string, percent: string) =>
    `The hand is ${hand} ± ${error}: ${percent} % of the gather goes up the wall, the rest into thickness.`,
  spread: (percent: string, error: string) =>
    `Planishing spreads the worked area by ${percent} ± ${error} %.`,
  noSpread: 'The measurements do not tell the hand from the spread of planishing, so no spread is assumed.',
  spreadKept: (percent: string) =>
    `The measurements do not tell the hand from the spread of planishing, so the tray file's spread of ${percent} % is kept.`,
  /** @param entry goes into the tray file as it is */
  forFile: (entry: string) => `For the tray file: ${entry}`,
};
