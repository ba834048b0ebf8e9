/** What is wrong with measurements on a trial corner. */
export const gather = {
  file: (value: string, give: string) => `The measurements file is ${value}; give ${give}.`,
  nothingMeasured: 'The measurements file has no measurement; give rimHeight, rimThickness or marks.',
  noSuchCorner: (corner: string, known: string) =>
    `corner is ${corner}, which is no gathered corner of this tray; give one of ${known}.`,
  /** A measurement that no hand would give. */
  beyondAnyHand: (field: string, measured: string, least: string, most: string) =>
    `${field} is ${measured} mm, which cannot have come from this tray and blank: it lies between ${least} and ${most} mm there, whatever the hand; measure again, or check that the blank was cut from this tray file.`,
  againstTheOthers: (field: string, measured: string, wanted: string) =>
    `${field} is ${measured} mm, which cannot have come from this tray and blank: the other measurements give ${wanted} mm; measure again, or check that the blank was cut from this tray file.`,

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
