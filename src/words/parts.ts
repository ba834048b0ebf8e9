/** What is said of STEP parts that are taken as they are. */
export const parts = {
  sizesOnly:
    'Solved from the STEP part as it is. The tray in this report gives its outer sizes only; there is no tray file and no plan of stages.',
  middleOfSheet: 'The surface was taken for the middle of the sheet.',
  trimLaidOn: (trim: string) =>
    `The walls of a STEP part cannot be made higher: the ${trim} of trim is added to the flat blank all round, and gather, thickness and rim to lose are those without it.`,
  reliefAdded: (diameter: string) =>
    `Where two edges of the blank come together in a point, as at a mitred corner, there is a hole of ${diameter} at the root, which keeps weld and cut clean. These edges have no trim: the weld needs them where they are.`,
  rimBroken:
    'The edge of the sheet is chamfered or rounded in the part. The blank ends where the inner skin ends, so check whether it needs trim.',
  /** Why a part has no flat, beside the reasons that trays have (`verdict.noFlat`). */
  noFlat: {
    notSettled: (exponent: string, x: string, y: string, z: string) =>
      `No steady flat shape was found for this part: with a hardening exponent of ${exponent} the strain gathers in a narrow band near x ${x}, y ${y}, z ${z}. A sheet that hardens evenly would take this form: choose one that hardens more.`,
    noShape: (x: string, y: string, z: string) =>
      `No flat shape was found for this part, however evenly the sheet hardens: the cause is its form and not the sheet. It strains most near x ${x}, y ${y}, z ${z}.`,
    holeNotSettled: (x: string, y: string, z: string) =>
      `No steady flat shape was found for this part with the hole at x ${x}, y ${y}, z ${z} in it. It cannot be solved without the hole, since the faces round the hole do not go on to meet inside it. Save the part without this hole, or without the wall round it, and cut it when the tray is formed.`,
  },
  errors: {
    needsSection: (format: string, name: string) =>
      `The format ${format} draws the section of a tray file, and ${name} is a STEP part solved as it is, which has none; choose outline, template or another format that needs none.`,
  },
};
