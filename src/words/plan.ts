/** The working plan: anneals, grain, and changes that would turn the verdict. Lengths come with their unit. */
export const plan = {
  anneal: {
    figures: (strain: string, budget: string, material: string) =>
      `a strain of ${strain} against the ${budget} that ${material} takes`,
    none: (figures: string) => `No anneal is needed: ${figures}.`,
    tooMuch: (figures: string) =>
      `Do not heat this sheet, although it gets hard: ${figures}. That is too much to work in one go.`,
    oneGo: (figures: string) =>
      `Do not heat this sheet, although it gets hard: ${figures}. Work it in one go with many small blows, and stop at the first sign of a crack.`,
    before: (low: string, high: string) =>
      `This sheet is sold hard. Anneal the whole blank before stage 1: ${low} to ${high} °C. From then on it has the strain budget of the soft sheet.`,
    after: (stage: string, strain: string, low: string, high: string) =>
      `Anneal the worked corners after stage ${stage}, at a strain of ${strain}: ${low} to ${high} °C.`,
    within: (stage: string, strain: string, low: string, high: string) =>
      `Anneal the worked corners in the middle of stage ${stage}, at a strain of ${strain}: ${low} to ${high} °C.`,
    seen: (cue: string) => `How it is seen: ${cue}`,
    afterLast: (figures: string) => `After the last anneal: ${figures}.`,
  },
  grain: {
    same: 'This sheet works the same in every direction: its grain does not matter for the gather.',
    figures: (strain: string, grain: string, percent: string) =>
      `${strain} with the grain at ${grain} degrees (thickening ${percent} %)`,
    either: (given: string, turned: string) =>
      `The grain may lie either way: the hardest-worked spot takes ${given} and ${turned}.`,
    lay: (better: string, given: string, turned: string) =>
      `Lay the blank with the grain at ${better} degrees from the plan's x axis: the hardest-worked spot takes ${given} and ${turned}.`,
    zonesAlike: (count: string, percent: string) =>
      `All ${count} gather zones shrink alike, by ${percent} %.`,
    corner: (number: string) => `corner ${number}`,
    zone: (corners: string, percent: string) => `${corners} by ${percent} %`,
    zonesDiffer: (list: string) => `The corners differ: ${list}.`,
  },
  change: {
    sentence: (change: string, verdict: string, shrink: string, thickening: string, strain: string) =>
      `${change}: ${verdict} (shrink ${shrink} %, thickening ${thickening} %, strain ${strain}).`,
    planRadius: (to: string, from: string) => `A plan radius of at least ${to} instead of ${from}`,
    bottomRadius: (to: string, from: string) => `A bottom radius of ${to} instead of ${from}`,
    height: (to: string, from: string, strip: string) =>
      `A height of ${to} instead of ${from}, with a strip of ${strip} welded on`,
    thickness: (to: string, from: string) => `A sheet of ${to} instead of ${from}`,
    sheet: (to: string, from: string) => `${to} instead of ${from}`,
    cutShort: 'The search was cut short: there may be other changes that help.',
    about: {
      'plan radius': 'plan radius',
      'bottom radius': 'bottom radius',
      height: 'height',
      thickness: 'thickness',
      sheet: 'sheet',
    },
  },
};
