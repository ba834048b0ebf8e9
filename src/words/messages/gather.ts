/** What is wrong with measurements on a trial corner. */
export const gather = {
  file: (value: string, give: string) => `The measurements file is ${value}; give ${give}.`,
  nothingMeasured: 'The measurements file has no measurement; give rimHeight, rimThickness or marks.',
  noSuchCorner: (corner: string, known: string) =>
    `corner is ${corner}, which is no gathered corner of this tray; give one of ${known}.`,
  /** A measurement that no hand would give. */
  beyondAnyHand: (field: string, measured: string, least: string, most: string) =>
    `${field} is ${measured}, which cannot have come from this tray and blank: it lies between ${least} and ${most} there, whatever the hand; measure again, or check that the blank was cut from this tray file.`,
  againstTheOthers: (field: string, measured: string, wanted: string) =>
    `${field} is ${measured}, which cannot have come from this tray and blank: the other measurements give ${wanted}; measure again, or check that the blank was cut from this tray file.`,

  // Trials kept under names
  trials: {
    file: (value: string, give: string) => `The file of trials is ${value}; give ${give}.`,
    twice: (name: string) => `The file of trials has two of the name ${name}; give each a name of its own.`,
    noSuch: (name: string, known: string) => `No trial is kept under the name ${name}; there are: ${known}.`,
    full: (most: string) =>
      `The file of trials holds ${most} trials already, and no more are taken; keep this one in another file.`,
    described: {
      title: 'Trial corners kept under names',
      name: 'name of the trial',
      person: 'who worked it',
      date: 'when it was measured',
      tray: 'name of the tray whose blank was worked',
      material: 'sheet material',
      thickness: 'thickness of the sheet',
      hand: 'share of the gather that goes up the wall',
      low: 'lower end of the range that holds it, 95 of 100 times',
      high: 'upper end of that range',
      spread: 'area gained by planishing, per cent, where the measurements told it',
      measurements: 'what was measured, as in a measurements file',
    },
    accepted: {
      file: 'an object with a list trials',
      trials: 'a list of trials',
      trial: 'an object with name, tray, sheet, hand and measurements',
      name: 'a text of one line',
      sheet: 'an object with material and thickness',
      hand: 'an object with value, low and high',
      most: (most: string) => `a list of at most ${most} trials`,
    },
  },

  /** What the fields of a measurements file mean, for editors. */
  described: {
    title: 'Measurements of a trial corner',
    file: 'What was measured on one corner before the rim was trimmed. Give as many of the measurements as you have.',
    corner: 'letter of the corner, letters of a curved side, or its number from 0',
    rimHeight: 'height of the edge of the blank, before it is trimmed, with a rule or a height gauge',
    from: '"table": above the table the tray stands on, outside; "base": above the base, on the side the tray file measures on',
    middle: "at the corner's middle",
    start: 'where the corner begins, counter-clockwise',
    end: 'where the corner ends',
    rimThickness: 'thickness of the edge of the blank, with a micrometer',
    thickness: "at the corner's middle",
    marks: 'pairs of dots or scribed marks on the middle line of the corner, measured before and after',
    direction: '"along": side by side along the rim, the middle line between them; "up": one above the other',
    inset: 'from the cut edge of the flat blank to the marks (the upper one), on the middle line',
    before: 'between the marks on the flat blank, straight',
    after: 'between the marks on the formed tray, along the metal, with a strip of paper or a flexible rule',
    skin: 'on which side of the metal "after" was measured',
    error: 'what a measurement may be off, one standard error',
  },

  /** What would be accepted, after "give". */
  accepted: {
    file: 'an object with rimHeight, rimThickness or marks',
    corner:
      'the letter of a corner such as "A", the letters of a curved side such as "A–B", or its number, from 0',
    rimHeight: 'an object with middle, start and end',
    rimThickness: 'an object with middle',
    mark: 'an object with direction, inset, before and after',
    marks: 'a list of marks',
    mostMarks: (most: string) => `a list of at most ${most} marks`,
  },
};
