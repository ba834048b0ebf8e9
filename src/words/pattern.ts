/** Warnings and notes of a flat pattern. Lengths come with their unit. */
export const pattern = {
  stretchesUnevenly: (percent: string, material: string, limit: string) =>
    `Where the metal thins it stretches by ${percent} %, and ${material} stretches evenly only up to ${limit} %. Keep the gathering ahead of the stretching.`,
  metalNotStated:
    'The tray file does not say what metal the sheet is (sheet.material.family) or how it is coated (sheet.material.coating), so the cautions of all that it might be are given.',
  familyNotStated:
    'The tray file does not say what metal the sheet is (sheet.material.family), so the cautions of every metal are given.',
  coatingNotStated:
    'The tray file does not say how the sheet is coated (sheet.material.coating), so the cautions of every coating are given.',
  solvedHardOf: (material: string, soft: string) =>
    `The blank is solved for ${material} as it comes, but the sheet is annealed before the first stage. For a blank that fits the soft sheet, solve the tray as ${soft}.`,
  solvedHard: (material: string) =>
    `The blank is solved for ${material} as it comes, but the sheet is annealed before the first stage. For a blank that fits the soft sheet, solve the tray with the values of that.`,
  handUneven: (material: string, hand: string, percent: string) =>
    `No law has both the strengths of ${material} by direction and the r-values of a hand of ${hand}: the blank is solved with ${percent} % of the difference between its directions.`,
  trimTooSmall: (inwards: string, outwards: string, trim: string, wanted: string) =>
    `Different hands move the rim by ${inwards} to +${outwards}: the trim of ${trim} is too small, ${wanted} covers it.`,
  trimTooSmallOpen: (
    inwards: string,
    outwards: string,
    strengthInwards: string,
    strengthOutwards: string,
    trim: string,
    wanted: string,
  ) =>
    `Different hands move the rim by ${inwards} to +${outwards}, and strengths that are not known by ${strengthInwards} to +${strengthOutwards}: the trim of ${trim} is too small, ${wanted} covers both.`,
  strengthsOpen: (material: string, inwards: string, outwards: string) =>
    `The strength of ${material} by direction is taken from its r-values. If it is as strong every way, the rim moves by ${inwards} to +${outwards}.`,
  noTrimBand: (trim: string) =>
    `How far different hands move the rim could not be computed for this tray: whether the trim of ${trim} is enough is not known.`,
  lipWayUnknown:
    'No flat shape was found for the wall before its lip is turned: anneals are counted straight from flat to finished, and may be too few.',
  trimLessened: (trim: string, to: string) =>
    `With ${trim} of trim this tray cannot be made from one flat blank: the trim is lessened to ${to}.`,
  trimLaidOn: (trim: string) =>
    `Along open sides, and at the ends of the walls beside them, the ${trim} of trim is added to the flat blank; gather and thickness are those without it there.`,
  live: (accuracy: string) => `A live outline, right to about ${accuracy}: not for cutting.`,
  uncertain: (error: string) => `The outline is uncertain by about ${error}; leave more trim.`,
  kerfCompensated: (half: string) =>
    `The outline is moved out by half the kerf (${half}): tell the cutting service not to compensate again.`,
  kerfLeft: 'The outline is the finished size: the cutting service allows for its own kerf.',
  bendBeginLeftOut:
    'Some or all of the line where the bend begins is left out: it could not be drawn as lines and arcs. The outline of the blank is not affected.',
  bendEndLeftOut:
    'Some or all of the line where the bend ends is left out: it could not be drawn as lines and arcs. The outline of the blank is not affected.',
  holeDistorts: (name: string, percent: string) =>
    `The hole ${name} lies where the metal is strained by ${percent} %: it comes out in the right place but out of shape. Drill it after forming, or move it.`,
  holeAtBend: (name: string) => `The hole ${name} reaches a bend: its edge will pull out of shape.`,
  holeNearBend: (name: string, distance: string, thicknesses: string, least: string) =>
    `The hole ${name} is ${distance} from a bend, less than ${thicknesses} sheet thicknesses (${least}): its edge will pull out of shape.`,
};
