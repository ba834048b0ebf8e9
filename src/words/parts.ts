/** What is said of STEP parts that are taken as they are. */
export const parts = {
  sizesOnly:
    'Solved from the STEP part as it is. The tray in this report gives its outer sizes only; there is no tray file and no plan of stages.',
  middleOfSheet: 'The surface was taken for the middle of the sheet.',
  trimLaidOn: (trim: string) =>
    `The walls of a STEP part cannot be made higher: the ${trim} of trim is added to the flat blank all round, and gather, thickness and rim to lose are those without it.`,
  rimBroken:
    'The edge of the sheet is chamfered or cut at a slant in the part. The blank ends where the inner skin ends, so check whether it needs trim.',
  errors: {
    needsSection: (format: string, name: string) =>
      `The format ${format} draws the section of a tray file, and ${name} is a STEP part solved as it is, which has none; choose outline, template or another format that needs none.`,
  },
};
