/** What is said of a hand found from measurements. */
export const hand = {
  more: (percent: string, blank: string) =>
    `You stretch more than the blank was cut for: about ${percent} % of the gather goes up the wall, not ${blank} %; the rest goes into thickness.`,
  less: (percent: string, blank: string) =>
    `You shrink more than the blank was cut for: about ${percent} % of the gather goes up the wall, not ${blank} %; the rest goes into thickness.`,
  same: (percent: string, blank: string) =>
    `As far as these measurements tell, you work as the blank was cut for: about ${percent} % of the gather goes up the wall (the blank: ${blank} %); the rest goes into thickness.`,
  found: (hand: string, low: string, high: string) =>
    `The hand is ${hand}, between ${low} and ${high} % of the gather (95 of 100 such ranges hold the true hand).`,
  spread: (percent: string, low: string, high: string) =>
    `Planishing spreads the worked area by ${percent} % (between ${low} and ${high} %).`,
  noSpread: 'The measurements do not tell the hand from the spread of planishing, so no spread is assumed.',
  spreadKept: (percent: string) =>
    `The measurements do not tell the hand from the spread of planishing, so the tray file's spread of ${percent} % is kept.`,
  next: {
    heightMiddle: (now: string, then: string) =>
      `What would tell most next is the height of the rim at the corner's middle: the hand is known to ± ${now} %, then to ± ${then} %.`,
    heightStart: (now: string, then: string) =>
      `What would tell most next is the height of the rim where the corner begins: the hand is known to ± ${now} %, then to ± ${then} %.`,
    heightEnd: (now: string, then: string) =>
      `What would tell most next is the height of the rim where the corner ends: the hand is known to ± ${now} %, then to ± ${then} %.`,
    thickness: (now: string, then: string) =>
      `What would tell most next is the thickness of the rim at the corner's middle: the hand is known to ± ${now} %, then to ± ${then} %.`,
  },
  /** @param entry goes into the tray file as it is */
  forFile: (entry: string) => `For the tray file: ${entry}`,
};
