/** What is said of STEP parts that are taken as they are. */
export const parts = {
  sizesOnly:
    'Solved from the STEP part as it is: the tray in this report tells its outer sizes only, and there is no tray file and no stage plan of it.',
  middleOfSheet: 'The surface was taken for the middle of the sheet.',
  rimBroken:
    'The edge of the sheet is chamfered or cut at a slant in the part. The blank ends where the inner skin ends, so look whether trim is needed.',
  errors: {
    needsSection: (format: string, name: string) =>
      `The format ${format} draws the section of a tray file, and ${name} is a STEP part solved as it is, which has none; outline, holes, lines, zones and the paper templates are made of it.`,
  },
};
