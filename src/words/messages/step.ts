/**
 * What is wrong with a STEP file, and with the part in it.
 *
 * What is found in the part is said in the kernel's thread, which has a table of its own (`src/words/language.ts`).
 */
export const step = {
  /** The text of the file, before the kernel sees it. `instance` is a number of the file, as it stands behind #. */
  file: {
    tooLarge: (megabytes: string, most: string) =>
      `The STEP file is ${megabytes} MB; at most ${most} MB is accepted.`,
    empty: 'The STEP file is empty; give a part saved as STEP.',
    notStep: 'The STEP file does not begin with ISO-10303-21; save the part as STEP (AP203, AP214 or AP242).',
    cutOff: 'The STEP file does not end with END-ISO-10303-21: it is cut off; save or send it again.',
    noData: 'The STEP file has no DATA section.',
    noFaces: 'The STEP file holds no faces; save the tray as a solid, or as a surface.',
    textWithoutEnd: 'The STEP file has a text without an end.',
    commentWithoutEnd: 'The STEP file has a comment without an end.',
    dataWithoutEnd: 'The STEP file has a DATA section without an end.',
    noInstanceNumber: (found: string) => `The STEP file has an instance number that is none (${found}).`,
    noEquals: (instance: string) => `The STEP file has no = after #${instance}.`,
    tooManyInstances: (most: string) =>
      `The STEP file has more than ${most} instances; save the tray alone, without its surroundings.`,
    tooManyFaces: (most: string) =>
      `The STEP file has more than ${most} faces; save the tray alone, as faces on smooth surfaces and not as a net of facets.`,
    noNumber: (found: string) => `The STEP file has a number that is none (${found}).`,
    numberTooLarge: (found: string) =>
      `The STEP file holds the number ${found}; numbers up to 1e9 are accepted.`,
    noInstance: (found: string) => `The STEP file has ${found} where an instance should begin.`,
    nestedTooDeep: (most: string) => `The STEP file nests brackets more than ${most} deep.`,
    closesTooMuch: 'The STEP file closes a bracket that was not opened.',
    endsWithin: 'The STEP file has a ; in the middle of an instance.',
    character: (code: string) => `The STEP file has the character code ${code} outside of a text.`,
    betweenInstances: 'The STEP file has something between its instances that is none.',
    instanceTwice: (instance: string) => `The STEP file defines #${instance} twice.`,
    noTarget: (target: string, instance: string) =>
      `The STEP file refers to #${target} in #${instance}, and there is no #${target}.`,
    circle: (instance: string) => `The STEP file refers in a circle by way of #${instance}.`,
  },

  /** Instances that do not hold what their kind asks for; `kind` is the keyword of the standard. */
  misfit: {
    values: (instance: string, values: string, kind: string, wanted: string) =>
      `The STEP file cannot be right: #${instance} has ${values} values where ${kind} has ${wanted}.`,
    noList: (instance: string, found: string, kind: string) =>
      `The STEP file cannot be right: #${instance} has ${found} where ${kind} has a list.`,
    coordinates: (instance: string, coordinates: string) =>
      `The STEP file cannot be right: #${instance} has ${coordinates} coordinates.`,
    value: (instance: string, found: string, place: string, kind: string) =>
      `The STEP file cannot be right: #${instance} has ${found} at place ${place} of ${kind}.`,
    noLength: (instance: string) =>
      `The STEP file cannot be right: #${instance} is a direction of no length.`,
    /** A value found, where there is none. */
    nothing: 'nothing',
  },

  /** The kernel itself. */
  occt: {
    notLoaded: (reason: string) =>
      `The geometry kernel cannot be loaded (${reason}); install the package opencascade.js.`,
    /** The reason above, where there is no other. */
    threadEnded: 'its thread ended',
    failed:
      'The STEP file holds geometry that the kernel fails on; check the part in the CAD program and save it again.',
    tooMuchMemory: (megabytes: string) =>
      `The STEP file needs more memory than ${megabytes} MB; save the tray alone, with as few faces as it has.`,
    tooLong: (seconds: string) =>
      `The STEP file took longer than ${seconds} s; save the tray alone, with as few faces as it has.`,
  },

  /** The part in the file. */
  part: {
    unreadable: 'The STEP file cannot be read; save it again as AP214 or AP242.',
    noShape: 'The STEP file holds no shape; save the tray as a solid.',
    noFaces: 'The STEP file holds no faces; save the tray as a solid, or as a surface.',
    severalSolids: (solids: string) =>
      `The STEP file holds ${solids} solids; save the tray alone, as one solid.`,
    severalSurfaces: (surfaces: string) =>
      `The STEP file holds ${surfaces} separate surfaces; join them into one, or save a solid.`,
    hollow: 'The solid in the STEP file has a hollow inside it: that cannot be made from one sheet.',
    size: (size: string, least: string, most: string) =>
      `The part in the STEP file measures ${size} mm; ${least} to ${most} mm is accepted: look at the units it was saved in.`,
    endless: (least: string, most: string) =>
      `The part in the STEP file measures endless mm; ${least} to ${most} mm is accepted: look at the units it was saved in.`,
    tooManyDetails: 'The part in the STEP file has too many details for a tray.',
    noSense: 'The part in the STEP file has no sensible area or volume; check it in the CAD program.',
    noTriangles:
      'A face of the part in the STEP file cannot be divided into triangles; check it in the CAD program.',
    solidHasThickness: 'The STEP file holds a solid, which has its own thickness; leave --thickness out.',
    surfaceIsNoTray:
      'The STEP file holds a surface; a tray file is recognised from a solid, while make and check take a surface as it is, with --thickness.',
    notOneSection:
      'The part is not a base with walls of one section, so no tray file says it; make and check take it as it is.',
    rimSquared:
      'The edges of the rim are chamfered, rounded or cut at a slant in the part; the tray is made with a square rim, as a blank is cut.',
  },

  /** A part that is to be unfolded as it is: it has to be one sheet. */
  freeForm: {
    surfaceHasSharpEdges:
      'The surface in the STEP file has sharp edges inside it; give every bend a radius, as the sheet will have.',
    solidHasSharpEdges:
      'The solid has sharp edges between its faces; give every bend a radius, as the sheet will have.',
    sharpSeam: (x: string, y: string, z: string) =>
      `Two faces of the sheet meet at a sharp edge at x ${x}, y ${y}, z ${z}; give it a radius where the sheet is bent there, or a gap of a tenth of a millimetre or more where it is a seam that is welded.`,
    thicknessMissing:
      'The STEP file holds a surface and not a solid; give the sheet thickness (--thickness at the command line, sheet.thickness elsewhere).',
    noTwoSkins:
      'No two skins of one sheet were found in the solid; save the tray as a thin solid of even thickness, with the edges of its rim sharp.',
    branches: 'The part branches: more than two faces meet at one edge, which one sheet cannot do.',
    tooManyDetails:
      'The part has too many details to be unfolded as it is; leave out what is smaller than the bends, such as lettering and small holes.',
    closed: 'The part is closed all round; a tray needs a rim, where the sheet ends.',
    notOneSheet:
      'The part is not one sheet with a rim (it is a tube, has a handle or falls apart): one flat blank cannot become it.',
    skinsTooSmall: 'The skins of the solid are too small to measure the thickness between them.',
    uneven: (thickness: string, other: string, x: string, y: string, z: string) =>
      `The solid is ${thickness} mm thick in the main and ${other} mm at (${x}, ${y}, ${z}); a sheet has one thickness, within 1 %.`,
    volume: (volume: string, expected: string, thickness: string) =>
      `The solid holds ${volume} mm³, and its two skins ${thickness} mm apart hold ${expected} mm³: some of it is no part of one sheet. Save the sheet alone, as one thin solid.`,
    /** What one sheet does not have, or one that is supported; the size is that of its foot, in mm. */
    odd: {
      sharpBend: (x: string, y: string, z: string) =>
        `The solid has sharp edges where the sheet bends, as at x ${x}, y ${y}, z ${z}; give every bend a radius, as the sheet will have.`,
      turnedHole: (x: string, y: string, z: string, size: string) =>
        `The sheet is turned up or down round the hole of about ${size} mm at x ${x}, y ${y}, z ${z} over a sharp edge; give that bend a radius, as the sheet will have, or save the part with the plain hole and join the collar on when the tray is formed.`,
      closedHem: (x: string, y: string, z: string) =>
        `The sheet is doubled at its edge at x ${x}, y ${y}, z ${z}, as by a closed hem; hems are not supported: save the part without it, and add the width of the fold to the blank.`,
      fold: (x: string, y: string, z: string) =>
        `The sheet is folded back on itself at x ${x}, y ${y}, z ${z}, as by a hem or a rolled edge; these are not supported: save the part without it, and add the width of the fold to the blank.`,
      boss: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: a solid boss of about ${size} mm stands on it at x ${x}, y ${y}, z ${z}. Save the sheet without it, and fix it on when the tray is formed.`,
      rib: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: a rib or divider of about ${size} mm stands on it at x ${x}, y ${y}, z ${z}. Save the sheet without it, and fix it on when the tray is formed.`,
      tube: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: a tube or ring of about ${size} mm stands on it at x ${x}, y ${y}, z ${z}. Save the sheet without it, and fix it on when the tray is formed.`,
      handle: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: a handle or a stay meets it in more than one place, over about ${size} mm at x ${x}, y ${y}, z ${z}. Save the sheet without it, and fix it on when the tray is formed.`,
      pocket: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: a pocket of about ${size} mm that does not go through it begins at x ${x}, y ${y}, z ${z}. Save the sheet without it.`,
      collar: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: a nut, a collar or a chamfer wider than the sheet is thick goes round a hole, over about ${size} mm at x ${x}, y ${y}, z ${z}. Save the sheet with the plain hole.`,
      edge: (x: string, y: string, z: string, size: string) =>
        `The part is not one sheet: its edge is wider than the sheet is thick over about ${size} mm at x ${x}, y ${y}, z ${z}, as where a lug or a bar is joined to it, or where it is cut at a long slant. Save the sheet alone, with its edges cut square.`,
    },
  },
};
