/** The verdict and its reasons. Lengths come with their unit. */
export const verdict = {
  words: {
    'can be worked': 'can be worked',
    'can be worked with care': 'can be worked with care',
    'not in one piece': 'not in one piece',
  },
  noFlat: {
    'no equilibrium':
      'No flat shape was found that can be worked into this tray: at a corner the metal would fold or tear at one place instead of moving evenly.',
    shrinkage: (percent: string, material: string, limit: string) =>
      `The metal would have to gather by ${percent} %; beyond ${limit} % ${material} no longer gathers evenly (computed from its hardening and r), and no flat shape is sure.`,
    overlapsAtNotch: (corner: string) =>
      `At the notch of corner ${corner} the flat shape of this tray overlaps itself: the two edges lie over one another, so it cannot be cut from one sheet.`,
    overlaps: 'The flat shape of this tray overlaps itself, so it cannot be cut from one sheet.',
  },
  thickening: {
    refuse: (percent: string, thickest: string, limit: string) =>
      `The metal thickens by up to ${percent} %, to ${thickest}: more than ${limit} %* is too much for hand work.`,
    care: (percent: string, thickest: string, from: string, limit: string) =>
      `The metal thickens by up to ${percent} %, to ${thickest}: from ${from} %* the rim is heavy to work, up to ${limit} %* it can be done by hand.`,
    good: (percent: string, thickest: string, from: string) =>
      `The metal thickens by up to ${percent} %, to ${thickest}: it gets heavy to work from ${from} %*.`,
  },
  stretch: {
    necks: (limit: string) =>
      `there it begins to neck at ${limit} % (forming limit of steel sheet, FLD0 after Keeler and Brazier)`,
    evenly: (material: string, limit: string) =>
      `${material} stretches evenly up to ${limit} % (its uniform elongation; no forming limit was found for it)`,
    refuse: (percent: string, where: string) =>
      `Where the metal thins it would have to stretch by ${percent} %: it tears, because ${where}.`,
    care: (percent: string, where: string) =>
      `Where the metal thins it stretches by up to ${percent} %, and ${where}: keep the gathering ahead of the stretching.`,
    good: (percent: string, where: string) =>
      `Where the metal thins it stretches by up to ${percent} %, and ${where}.`,
    nowhere: 'The metal hardly stretches anywhere that it thins, so no limit of stretching applies.',
  },
  strain: {
    found: (percent: string, material: string) =>
      `At the hardest-worked spot the forming uses up ${percent} % of the work that ${material} takes before it needs annealing*`,
    foundHard: (percent: string, material: string, soft: string) =>
      `${material} is sold hard: at the hardest-worked spot the forming uses up ${percent} % of the work that it takes as it comes*, and ${soft} % of what it takes once annealed*`,
    firstOnly: (found: string) =>
      `${found}: anneal the whole blank before the first stage; no other anneal is needed.`,
    firstAndMore: (found: string, anneals: string) =>
      `${found}: anneal the whole blank before the first stage; then it takes ${anneals} on the way.`,
    noAnneal: (found: string) => `${found}: no anneal is needed.`,
    noHeat: (found: string, most: string) =>
      `${found}. This sheet must not be annealed in the workshop. Worked in one go, gathered metal takes up to ${most} %*.`,
    noHeatInstead: (found: string, most: string, instead: string) =>
      `${found}. This sheet must not be annealed in the workshop. Worked in one go, gathered metal takes up to ${most} %*. ${instead}`,
    oneAnneal: 'one anneal',
    manyAnneals: (count: string) => `${count} anneals`,
    tooMany: (found: string, anneals: string, most: string) =>
      `${found}: that would take ${anneals} on the way, more than the ${most} that are worth it*.`,
    anneals: (found: string, anneals: string) => `${found}: that takes ${anneals} on the way.`,
  },
  edge: {
    shrinks: (percent: string, family: string, thickness: string) =>
      `The rim gathers by up to ${percent} % of its length. No published limit of gathering a free edge by hand was found for ${family} sheet of ${thickness}, so none is applied.`,
    puckers: (width: string, percent: string, regime: string) =>
      `The free edge will pucker: gather it in tucks, in small steps. A free wall of ${width} buckles once it gathers by ${percent} % (${regime}).`,
    staysFlat: (width: string, percent: string, regime: string) =>
      `The free edge stays flat: a free wall of ${width} buckles once it gathers by ${percent} % (${regime}), and this one gathers less.`,
    elastic: 'before the sheet yields; Timoshenko and Gere, Theory of Elastic Stability',
    plastic: 'after the sheet has yielded; Stowell, NACA TN 1556',
  },
  /** What the star in the sentences above means. */
  star: '* Common practice or a rule of this program: no published limit was found.',
};
