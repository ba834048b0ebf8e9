/** The working plan: anneals, grain, and changes that would turn the verdict. Lengths come with their unit. */
export const plan = {
  anneal: {
    figures: (percent: string, material: string) =>
      `the forming uses up ${percent} % of the work that ${material} takes before it needs annealing`,
    none: (figures: string) => `No anneal is needed: ${figures}.`,
    tooMuch: (figures: string) =>
      `Do not heat this sheet, although it gets hard: ${figures}. That is too much for one go.`,
    oneGo: (figures: string) =>
      `Do not heat this sheet, although it gets hard: ${figures}. Work it in one go with many small blows, and stop at the first sign of a crack.`,
    before: (low: string, high: string) =>
      `This sheet is sold hard. Anneal the whole blank before stage 1, at ${low} to ${high} °C. From then on it takes as much work as soft sheet.`,
    onTheWay: (when: string, where: string, low: string, high: string, percent: string) =>
      `Anneal the worked corners ${when}, with ${where}, at ${low} to ${high} °C: by then ${percent} % of the work that the sheet takes is used up.`,
    after: (stage: string) => `after stage ${stage}`,
    within: (stage: string) => `during stage ${stage}`,
    wallUp: (degrees: string, percent: string) => `the wall at ${degrees}° (${percent} % of the way up)`,
    wallAllUp: 'the wall all the way up and the lip not turned yet',
    lipTurned: (percent: string) => `the lip turned ${percent} % of the way`,
    seen: (cue: string) => `What to look for: ${cue}`,
    afterLast: (figures: string) => `From the last anneal on ${figures}.`,
  },
  tucks: {
    line: (count: string, where: string, takeUp: string, rounds: string, height: string) =>
      `${count === '1' ? '1 tuck' : `${count} tucks`}, ${where}; each takes up ${takeUp} in ${rounds === '1' ? '1 round' : `${rounds} rounds`}, up to ${height} high`,
    blows: (count: string, where: string, takeUp: string, rounds: string, height: string) =>
      `${count === '1' ? '1 row' : `${count} rows`} of blows, ${where}; each takes up ${takeUp} in ${rounds === '1' ? '1 pass' : `${rounds} passes`}, waves up to ${height} high`,
    edge: {
      fromMarkToMark: (length: string) => `Over the ${length} from mark to mark`,
      tucks: {
        between: (length: string) => `Between two tucks ${length} apart`,
        byItself: (where: string, takeUp: string) =>
          `${where} the edge takes ${takeUp} at a time by itself without folding; what is more goes into the tucks.`,
        thumb: (slope: string, percent: string) =>
          `Rule of thumb: no tuck steeper than ${slope}°, which is ${percent} % of its length in a round.`,
      },
      blows: {
        between: (length: string) => `Between two rows ${length} apart`,
        byItself: (where: string, takeUp: string) =>
          `${where} the edge takes ${takeUp} at a time by itself without folding; what is more rises in waves.`,
        thumb: (slope: string, percent: string) =>
          `Rule of thumb: no wave steeper than ${slope}°, which is ${percent} % of its length in a pass.`,
      },
    },
    /** Along the flat rim. */
    places: (list: string) => `${list} from the mark, going anticlockwise`,
    apart: (least: string, most: string) =>
      least === most ? `${least} apart along the rim` : `${least} to ${most} apart along the rim`,
  },
  grain: {
    same: 'This sheet works the same in every direction: its grain does not matter for the gather.',
    figures: (used: string, grain: string, thickening: string) =>
      `${used} % with the grain at ${grain}° (the metal thickens by ${thickening} %)`,
    either: (given: string, turned: string) =>
      `The grain may lie either way (0° = along the length). Of the work the sheet takes before it needs annealing, the forming uses up ${given} and ${turned}.`,
    lay: (better: string, given: string, turned: string) =>
      `Lay the blank with the grain at ${better}° (0° = along the length). Of the work the sheet takes before it needs annealing, the forming uses up ${given} and ${turned}.`,
    onlyAsGiven: (grain: string) =>
      `Keep the grain at ${grain}° (0° = along the length): no flat shape was found for the blank turned by 90°.`,
    bandEither: (material: string) =>
      `If ${material} is as strong every way, which its r-values do not tell, the grain may lie either way.`,
    bandLay: (material: string, better: string) =>
      `If ${material} is as strong every way, which its r-values do not tell, the grain is better at ${better}°.`,
    zonesAlike: (count: string, percent: string) =>
      `${count === '2' ? 'Both' : `All ${count}`} zones gather alike, by ${percent} %.`,
    corner: (letter: string) => `corner ${letter}`,
    side: (letters: string) => `side ${letters}`,
    zone: (corners: string, percent: string) => `${corners} by ${percent} %`,
    zonesDiffer: (list: string) => `The corners gather differently: ${list}.`,
  },
  change: {
    sentence: (change: string, verdict: string, gather: string, thickening: string, used: string) =>
      `${change}: ${verdict} (the rim gathers by ${gather} %, the metal thickens by ${thickening} %, ${used} % of the work between anneals is used up).`,
    cornerRadius: (to: string, from: string) => `A corner radius of at least ${to} instead of ${from}`,
    bottomRadius: (to: string, from: string) => `A bottom radius of ${to} instead of ${from}`,
    height: (to: string, from: string, strip: string) =>
      `A height of ${to} instead of ${from}, with a strip of ${strip} welded on`,
    thickness: (to: string, from: string) => `A sheet of ${to} instead of ${from}`,
    sheet: (to: string, from: string) => `${to} instead of ${from}`,
    cutShort: 'The search was cut short: there may be other changes that help.',
    about: {
      'corner radius': 'corner radius',
      'bottom radius': 'bottom radius',
      height: 'height',
      thickness: 'thickness',
      sheet: 'sheet',
    },
  },
};
