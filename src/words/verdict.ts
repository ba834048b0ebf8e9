/** The verdict and its reasons. Lengths come with their unit. */
export const verdict = {
  words: {
    'can be worked': 'can be worked',
    'can be worked with care': 'can be worked with care',
    'not in one piece': 'not in one piece',
  },
  noFlat: {
    'no equilibrium':
      'No flat shape was found that can be worked into this tray: at a corner the metal would give way in a narrow band instead of evenly.',
    shrinkage: (percent: string, material: string, limit: string) =>
      `The metal would have to shrink by ${percent} %; beyond ${limit} % ${material} no longer gathers evenly (computed from its hardening and r), and no flat shape is sure.`,
    overlaps: 'The flat shape of this tray overlaps itself, so it cannot be cut from one sheet.',
  },
  thickening: {
    refuse: (percent: string, thickest: string, limit: string) =>
      `The metal thickens by at most ${percent} %, to ${thickest}; more than ${limit} % is taken as too much for hand work (a rule of this program, no published limit).`,
    care: (percent: string, thickest: string, from: string, limit: string) =>
      `The metal thickens by at most ${percent} %, to ${thickest}; from ${from} % the rim is heavy to work, up to ${limit} % it is accepted (rules of this program, no published limit).`,
    good: (percent: string, thickest: string, from: string) =>
      `The metal thickens by at most ${percent} %, to ${thickest}, below the ${from} % from which it gets heavy to work (a rule of this program, no published limit).`,
  },
  stretch: {
    necks: (limit: string) =>
      `it begins to neck at ${limit} % there (forming limit of steel sheet, FLD0 after Keeler and Brazier)`,
    evenly: (material: string, limit: string) =>
      `${material} stretches evenly up to ${limit} % (its uniform elongation: no forming limit is published for it here)`,
    refuse: (percent: string, where: string) =>
      `Where the metal gets thinner it would have to stretch by ${percent} %, and ${where}: it tears.`,
    care: (percent: string, where: string) =>
      `Where the metal gets thinner it stretches by up to ${percent} %, and ${where}: shrink ahead of stretching.`,
    good: (percent: string, where: string) =>
      `Where the metal gets thinner it stretches by up to ${percent} %, and ${where}.`,
    nowhere: 'The metal stretches nowhere that it gets thinner, so no limit of stretching applies.',
  },
  strain: {
    found: (strain: string, material: string, budget: string) =>
      `The hardest-worked spot takes a strain of ${strain}; ${material} takes about ${budget} before it wants softening (common practice, no source)`,
    foundHard: (strain: string, material: string, hard: string, soft: string) =>
      `The hardest-worked spot takes a strain of ${strain}; ${material} is sold hard and takes about ${hard} as it comes, and ${soft} once it is annealed (common practice, no source)`,
    firstOnly: (found: string) =>
      `${found}: anneal the whole blank before the first stage; no other anneal is needed.`,
    firstAndMore: (found: string, anneals: string) =>
      `${found}: anneal the whole blank before the first stage; then it takes ${anneals} on the way.`,
    noAnneal: (found: string) => `${found}: no anneal is needed.`,
    noAnnealStraight: (found: string) =>
      `${found}: straight from flat to finished no anneal is needed, but metal in a lip is worked there and back, so go by the working plan.`,
    noHeat: (found: string, most: string) =>
      `${found}, and must not be annealed in the workshop; up to ${most} is accepted in one go because gathered metal is pressed together (a rule of this program).`,
    noHeatInstead: (found: string, most: string, instead: string) =>
      `${found}, and must not be annealed in the workshop; up to ${most} is accepted in one go because gathered metal is pressed together (a rule of this program). ${instead}`,
    oneAnneal: 'one anneal',
    manyAnneals: (count: string) => `${count} anneals`,
    tooMany: (found: string, anneals: string, most: string) =>
      `${found}: that would take ${anneals} on the way, more than the ${most} that are worth it (a rule of this program).`,
    anneals: (found: string, anneals: string) => `${found}: that takes ${anneals} on the way.`,
  },
  edge: {
    shrinks: (percent: string, family: string, thickness: string) =>
      `The sheet shrinks by at most ${percent} %; no published limit of shrinking a free edge by hand was found for ${family} sheet of ${thickness}, so none is applied.`,
    puckers: (width: string, percent: string, times: string) =>
      `A free wall of ${width} buckles from ${percent} % (plastic buckling of a flange, Stowell, NACA TN 1556), ${times} times less than this corner needs: it always puckers when it is not held, so gather it in tucks and knock them down in small steps.`,
    staysFlat: (width: string, percent: string) =>
      `A free wall of ${width} buckles from ${percent} % (plastic buckling of a flange, Stowell, NACA TN 1556); this wall shrinks less and stays flat.`,
  },
};
