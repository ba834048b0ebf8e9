/**
 * What is wrong with a tray file, and what to give instead. Names of fields stand as the file has them.
 *
 * Where a parameter is called `give` it is one of the noun phrases of the table, what would be accepted.
 */
import { trayFields } from './trayFields.ts';

const lowered = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1);

export const tray = {
  fields: trayFields,

  // The file as a whole
  tooLarge: (megabytes: string, most: string) =>
    `The tray file is ${megabytes} MB; a tray file of at most ${most} MB is accepted.`,
  empty: 'The tray file is empty; give a JSON object with name, plan, section and sheet.',
  notJson: (fault: string) => `The tray file is not JSON: ${fault}.`,
  file: (value: string, give: string) => `The tray file is ${value}; give ${give}.`,
  nameMissing: (give: string) => `name is missing; give ${give}.`,

  // Where a text stops being JSON
  json: {
    endsTooEarly: (line: string, column: string, expected: string) =>
      `the text ends too early (line ${line}, column ${column}): ${expected}`,
    at: (line: string, column: string, expected: string) => `line ${line}, column ${column}: ${expected}`,
    expected: {
      value: 'a value is expected here',
      valueOrEnd: 'a value or ] is expected here',
      name: 'a name in double quotation marks is expected here (no comma before a closing bracket)',
      nameOrEnd: 'a name in double quotation marks or } is expected here',
      colon: 'a colon is expected here',
      comma: 'a comma or a closing bracket is expected here',
      end: 'nothing more is expected here',
    },
  },

  // One field by itself
  missing: (field: string, give: string) => `${field} is missing; give ${give}.`,
  notAccepted: (field: string, value: string, give: string) => `${field} is ${value}; give ${give}.`,
  fieldsThatExclude: (field: string, others: string) =>
    `${field} does not go together with ${others}; give one or the other.`,
  fieldOfOtherKind: (field: string, kind: string) =>
    `${field} does not go together with ${kind}; leave it out.`,
  unknownNear: (field: string, near: string) => `${field} is not known; the nearest known field is ${near}.`,
  unknownHere: (field: string, elsewhere: string) =>
    `${field} is not known here; the known field of that name is ${elsewhere}.`,
  unknown: (field: string, known: string) => `${field} is not known; the fields known here are ${known}.`,
  /** A field whose name is of no corner and no side. */
  unnamed: (field: string, give: string) => `${field} is not known here; give ${give}.`,
  /** A value found, where it is not a text or a number. */
  found: {
    nothing: 'missing',
    list: (count: string) => `a list of ${count}`,
    object: 'an object',
    other: {
      bigint: 'a bigint',
      function: 'a function',
      symbol: 'a symbol',
    },
  },

  // Noun phrases that sentences of several kinds take as `give`
  atMost: (length: string) => `at most ${length}`,

  // Sides and corners
  side: (letters: string) => `side ${letters}`,
  sideOfRectangle: {
    top: (letters: string) => `side ${letters} (top)`,
    left: (letters: string) => `side ${letters} (left)`,
    bottom: (letters: string) => `side ${letters} (bottom)`,
    right: (letters: string) => `side ${letters} (right)`,
  },
  corner: (letter: string) => `corner ${letter}`,
  /** A field of a list that goes by corners. */
  ofCorner: (field: string, letter: string) => `${field} (corner ${letter})`,
  sideUnknown: (field: string, value: string, first: string, last: string) =>
    `${field} is ${value}, which is no side of this plan; its sides are ${first} to ${last}.`,
  sideKeyUnknown: (field: string, first: string, last: string) =>
    `${field} is no side of this plan; its sides are ${first} to ${last}.`,
  cornerKeyUnknown: (field: string, first: string, last: string) =>
    `${field} is no corner of this plan; its corners are ${first} to ${last}.`,
  /** Two names of one side or corner. */
  sameTwice: (field: string, other: string) => `${field} and ${other} are the same; leave one of them out.`,

  // Sheet
  tooThick: {
    outside: (thickness: string, bottomRadius: string, inside: string, give: string) =>
      `sheet.thickness is ${thickness}, but section.bottomRadius of ${bottomRadius} measured outside leaves an inside radius of only ${inside}, and the inside radius must not be smaller than the thickness; give ${give}.`,
    nothingInside: (thickness: string, bottomRadius: string, give: string) =>
      `sheet.thickness is ${thickness}, but section.bottomRadius of ${bottomRadius} measured outside leaves no inside radius, and the inside radius must not be smaller than the thickness; give ${give}.`,
    inside: (thickness: string, inside: string, give: string) =>
      `sheet.thickness is ${thickness}, but the inside radius is only ${inside}, and the inside radius must not be smaller than the thickness; give ${give}.`,
    thinnerOrRounder: (thickness: string, radius: string) =>
      `a thickness of at most ${thickness} or a bottom radius of at least ${radius}`,
  },
  tensileBelowYield: (tensile: string, yieldStrength: string) =>
    `sheet.material.tensileStrength is ${tensile}, below yieldStrength; give at least ${yieldStrength} N/mm².`,
  annealFalls: (first: string, second: string) =>
    `sheet.material.annealTemperature is ${first} to ${second} °C; give the lower temperature first.`,
  gaugeSystemUnknown: (system: string, known: string) =>
    `sheet.thickness.system is ${system}, which is not known; give one of ${known}.`,
  gaugeSystemNear: (system: string, near: string, known: string) =>
    `sheet.thickness.system is ${system}, which is not known (the nearest is ${near}); give one of ${known}.`,
  gaugeUnknown: (gauge: string, least: string, most: string, system: string) =>
    `sheet.thickness.gauge is ${gauge}; give a whole number from ${least} to ${most} for the system ${system}.`,

  // Bottom radius over the whole plan
  bottomRadius: {
    overHalf: {
      length: (radius: string, length: string, most: string) =>
        `section.bottomRadius is ${radius}, more than half the plan length of ${length}; give at most ${most}.`,
      width: (radius: string, width: string, most: string) =>
        `section.bottomRadius is ${radius}, more than half the plan width of ${width}; give at most ${most}.`,
    },
    over: {
      length: (radius: string, length: string, most: string) =>
        `section.bottomRadius is ${radius}, more than the plan length of ${length}; give at most ${most}.`,
      width: (radius: string, width: string, most: string) =>
        `section.bottomRadius is ${radius}, more than the plan width of ${width}; give at most ${most}.`,
    },
    leaning: {
      length: (radius: string, draft: string, length: string, most: string) =>
        `section.bottomRadius is ${radius}, whose bends at a draft of ${draft} degrees take more than the plan length of ${length}; give at most ${most}.`,
      width: (radius: string, draft: string, width: string, most: string) =>
        `section.bottomRadius is ${radius}, whose bends at a draft of ${draft} degrees take more than the plan width of ${width}; give at most ${most}.`,
    },
    nothingLeft: (radius: string, side: string, give: string) =>
      `section.bottomRadius is ${radius}, and the bends leave nothing of the base along ${side}; give ${give}.`,
    meet: (radius: string, one: string, other: string, give: string) =>
      `section.bottomRadius is ${radius}, and the bends of ${one} and ${other} run into each other on the base; give ${give}.`,
    widerPlan: 'a wider plan',
  },

  // Corners
  radiusBesideOpen: (field: string, radius: string) =>
    `${field} is ${radius}, but a side next to this corner is open; give 0.`,
  radiusAtNotch: (field: string, radius: string) =>
    `${field} is ${radius}, but this corner is notched; give 0.`,
  vertexRadiusBesideOpen: (field: string, radius: string) =>
    `${field} is ${radius}, but a side next to this corner is open; leave the radius out or give 0.`,
  vertexRadiusAtNotch: (field: string, radius: string) =>
    `${field} is ${radius}, but this corner is notched; leave the radius out or give 0.`,
  notch: {
    besideBulge: (field: string, corner: string, give: string) =>
      `${field} is "notch", but corner ${corner} is next to a bulged edge, and only straight sides meet at a mitre; give ${give}.`,
    inwards: (field: string, corner: string, give: string) =>
      `${field} is "notch", but corner ${corner} turns inwards, where the flat sides would lie on one another; give ${give}.`,
    gapTooWide: (field: string, gap: string, side: string, most: string) =>
      `${field} is ${gap}, and the notches at the ends of ${side} leave nothing of its wall; give at most ${most}, or a longer side.`,
    partTooLittle: (field: string, kerf: string, corner: string, apart: string, most: string) =>
      `${field} is ${kerf}, but the edges of the notch at corner ${corner} are only ${apart} apart at the top of the wall, too little for a cut between them; give at most ${most}, a wider forming.weldGap, or "gather" for this corner.`,
    noRoom: (field: string, corner: string) =>
      `${field} makes corner ${corner} a notch, but the base and the wall around its root leave no room for the cut; give longer sides, a higher wall, or "gather" for this corner.`,
    reliefTooLarge: (field: string, relief: string, corner: string, most: string) =>
      `${field} is ${relief}, and the hole at the root of the notch at corner ${corner} leaves less than the thickness of the sheet to an edge, another hole or another notch; give at most ${most}.`,
    gather: '"gather" for this corner',
    gatherInList: '"gather" for this corner (a list gives every corner its own)',
  },
  radiusMissing: {
    outwards: (field: string, degrees: string, least: string) =>
      `${field} is missing, but this corner turns outwards by ${degrees} degrees; give a corner radius of at least ${least}, or plan.cornerRadius for all corners.`,
    inwards: (field: string, degrees: string, least: string) =>
      `${field} is missing, but this corner turns inwards by ${degrees} degrees; give a corner radius of at least ${least}, or plan.cornerRadius for all corners.`,
  },
  /** A bulge, as it is given, in a sentence. */
  arc: (bulge: string, radius: string) => `${bulge}, an arc of radius ${radius}`,
  tight: {
    corner: (field: string, radius: string, bottomRadius: string, give: string) =>
      `${field} is ${radius}, smaller than section.bottomRadius of ${bottomRadius}, and a corner cannot be tighter than its bend; give ${give}.`,
    cornerLeaning: (field: string, radius: string, bottomRadius: string, draft: string, give: string) =>
      `${field} is ${radius}, too small for section.bottomRadius of ${bottomRadius} at a draft of ${draft} degrees, and a corner cannot be tighter than its bend; give ${give}.`,
    arc: (field: string, arc: string, bottomRadius: string, give: string) =>
      `${field} is ${arc}, smaller than section.bottomRadius of ${bottomRadius}, and a curved edge cannot be tighter than its bend; give ${give}.`,
    arcLeaning: (field: string, arc: string, bottomRadius: string, draft: string, give: string) =>
      `${field} is ${arc}, too small for section.bottomRadius of ${bottomRadius} at a draft of ${draft} degrees, and a curved edge cannot be tighter than its bend; give ${give}.`,
    cornerRadius: (least: string) => `a corner radius of at least ${least}`,
    cornerOrBottomRadius: (least: string, most: string) =>
      `a corner radius of at least ${least} or a bottom radius of at most ${most}`,
    arcRadius: (least: string) => `an arc of at least ${least} radius`,
    arcOrBottomRadius: (least: string, most: string) =>
      `an arc of at least ${least} radius or a bottom radius of at most ${most}`,
  },
  fit: {
    missesEdges: (field: string, radius: string, give: string) =>
      `${field} is ${radius}, and such an arc does not touch both edges that meet there; give ${give}.`,
    smallerOrMoved: 'a smaller radius, or move the vertex',
    twoOnSide: (
      field: string,
      radius: string,
      next: string,
      nextRadius: string,
      needed: string,
      length: string,
    ) =>
      `${field} is ${radius} and ${next} is ${nextRadius}, which take ${needed} of the side between them, but it is ${length} long; give smaller radii there or a longer side.`,
    oneOnSide: (field: string, radius: string, needed: string, side: string, length: string) =>
      `${field} is ${radius}, which takes ${needed} of ${side}, but it is ${length} long; give smaller radii there or a longer side.`,
    overHalf: {
      length: (radius: string, length: string, most: string) =>
        `plan.cornerRadius is ${radius}, more than half the length of ${length}; give at most ${most}.`,
      width: (radius: string, width: string, most: string) =>
        `plan.cornerRadius is ${radius}, more than half the width of ${width}; give at most ${most}.`,
    },
    two: {
      length: (field: string, next: string, sum: string, length: string, most: string) =>
        `${field} and ${next} add up to ${sum}, more than the length of ${length} they share; give radii that add up to at most ${most}.`,
      width: (field: string, next: string, sum: string, width: string, most: string) =>
        `${field} and ${next} add up to ${sum}, more than the width of ${width} they share; give radii that add up to at most ${most}.`,
    },
    one: {
      length: (field: string, radius: string, length: string, most: string) =>
        `${field} is ${radius}, more than the length of ${length}; give at most ${most}.`,
      width: (field: string, radius: string, width: string, most: string) =>
        `${field} is ${radius}, more than the width of ${width}; give at most ${most}.`,
    },
  },

  // Shape of the plan
  plan: {
    twoVertices:
      'plan.vertices is a list of 2; give at least 3 vertices, or two with a bulge each, such as 1 and 1 for a circle.',
    crosses: (one: string, other: string) =>
      `plan.vertices crosses itself: side ${one} meets side ${other}; give the corners in the order one walks around the plan.`,
    clockwise:
      'plan.vertices runs clockwise; give the vertices counter-clockwise (the same list in reverse order).',
    onStraight: (field: string) =>
      `${field} lies on a straight side (it turns by less than 1 degree); leave this vertex out or move it.`,
    radiusAtSmooth: (field: string, radius: string) =>
      `${field} is ${radius}, but the edges meet smoothly there; leave the radius out.`,
    betweenSmoothAndCorner: (field: string, degrees: string) =>
      `${field} turns by ${degrees} degrees, too little for a corner and too much for a smooth joint; give the vertex, or the bulges next to it, more exactly.`,
    samePlace: (field: string, other: string) =>
      `${field} is at the same place as ${other}; leave one of them out (the first vertex is not repeated at the end).`,
    extent: (extent: string, axis: string, least: string, most: string) =>
      `plan.vertices is ${extent} wide along ${axis}; give a plan that is from ${least} to ${most} along ${axis}.`,
    drawnSharp: (count: string, places: string) =>
      `plan.cornerRadius is missing, but the drawing has corners that are not round (${count}: ${places}); give one radius for them in plan.cornerRadius, or draw them round.`,
    moreCorners: (places: string) => `${places} …`,
    noWall: 'plan.openEdges leaves no side with a wall; leave at least one side out of it.',
    cornersCount: (count: string, corners: string) =>
      `forming.corners is a list of ${count}; give one word, or a list of ${corners}, one for every corner of the plan.`,
  },

  // Walls and rim
  heights: {
    disagree: (height: string, largest: string) =>
      `section.height is ${height}, but the largest of section.heights is ${largest}; leave section.height out, or make them equal.`,
    count: (count: string, edges: string) =>
      `section.heights is a list of ${count}; give a list of ${edges}, one for every side of the plan.`,
    sideMissing: (side: string, give: string) =>
      `section.heights has none for ${side}; give ${give}, or section.height for the sides that are left out.`,
    belowBend: (height: string, side: string, bottomRadius: string, least: string) =>
      `section.heights is ${height} at ${side}, which needs a straight wall above the bend of section.bottomRadius ${bottomRadius}; give a height of at least ${least}.`,
    lipNotLevel:
      'section.heights gives different heights, and a lip has to be level all round; give one height, or a plain rim.',
    meetSmoothly: (one: string, height: string, other: string, otherHeight: string) =>
      `section.heights is ${height} at ${one} and ${otherHeight} at ${other}, but these sides meet smoothly; give both the same height (the rim runs from one height to another at rounded corners only).`,
    meetAtMitre: (one: string, height: string, other: string, otherHeight: string) =>
      `section.heights is ${height} at ${one} and ${otherHeight} at ${other}, but these sides meet at a mitre; give both the same height (the rim runs from one height to another at rounded corners only).`,
    runOut: (runOut: string, straight: string, side: string, most: string) =>
      `section.runOut is ${runOut}, more than half of the ${straight} of ${side} that are straight; give at most ${most}.`,
  },
  height: {
    belowLip: (height: string, bottomRadius: string, bendRadius: string, least: string) =>
      `section.height is ${height}, too low for the bends of section.bottomRadius ${bottomRadius} and section.rim.bendRadius ${bendRadius}; give a height of at least ${least}.`,
    belowBend: (height: string, bottomRadius: string, rolled: string, least: string, most: string) =>
      `section.height is ${height}, below the end of the bend with section.bottomRadius ${bottomRadius}, so the wall would only turn up to ${rolled} degrees and not upright; give a height of at least ${least} or a bottom radius of at most ${most}.`,
    belowLeaningBend: (
      height: string,
      bottomRadius: string,
      rolled: string,
      full: string,
      least: string,
      most: string,
    ) =>
      `section.height is ${height}, below the end of the bend with section.bottomRadius ${bottomRadius}, so the wall would only turn up to ${rolled} degrees and not to ${full} degrees; give a height of at least ${least} or a bottom radius of at most ${most}.`,
  },
  draft: {
    leanIntoEachOther: (draft: string, one: string, other: string, most: string) =>
      `section.draft is ${draft} degrees, and the walls of ${one} and ${other} lean into each other; give at most ${most} degrees.`,
  },
  lip: {
    bend: (bendRadius: string, thickness: string, least: string) =>
      `section.rim.bendRadius is ${bendRadius}, and the inside radius of a bend must not be smaller than the thickness of ${thickness}; give at least ${least}.`,
    bendOnOtherSkin: (bendRadius: string, inside: string, thickness: string, least: string) =>
      `section.rim.bendRadius is ${bendRadius}, which leaves an inside radius of only ${inside} on the other skin, and the inside radius must not be smaller than the thickness of ${thickness}; give at least ${least}.`,
    noBendOnOtherSkin: (bendRadius: string, thickness: string, least: string) =>
      `section.rim.bendRadius is ${bendRadius}, which leaves no inside radius on the other skin, and the inside radius must not be smaller than the thickness of ${thickness}; give at least ${least}.`,
    narrow: (width: string, bendRadius: string, least: string, most: string) =>
      `section.rim.width is ${width}, less than the bend of section.rim.bendRadius ${bendRadius} takes; give a width of at least ${least} or a bend radius of at most ${most}.`,
    meet: (width: string, one: string, other: string, most: string) =>
      `section.rim.width is ${width}, and the lips of ${one} and ${other} run into each other; give at most ${most}.`,
  },
  /** What is left of a corner or an arc at the rim; `radius` is the arc where it is one, `causes` is one of the phrases at the end, or some of them. */
  rimRadius: {
    outwards: (field: string, radius: string, causes: string, give: string) =>
      `${field} is ${radius}, too small where the plan turns outwards with ${causes}; give ${give}.`,
    inwards: (field: string, radius: string, causes: string, give: string) =>
      `${field} is ${radius}, too small where the plan turns inwards with ${causes}; give ${give}.`,
    radius: (least: string) => `a radius of at least ${least}`,
    radiusOrLip: (least: string, width: string) =>
      `a radius of at least ${least} or section.rim.width of at most ${width}`,
    lip: (width: string) => `a lip of ${width}`,
    draft: (degrees: string) => `a draft of ${degrees} degrees`,
    thickness: 'the thickness',
    and: (causes: string, last: string) => `${causes} and ${last}`,
  },

  // Holes
  hole: {
    /** Its field and its name; as such a hole goes into the sentences below. */
    called: (field: string, name: string) => `${field} (${name})`,
    sameName: (field: string, name: string, other: string) =>
      `${field} is ${name}, the name of ${other} too; give every hole a name of its own.`,
    near: (hole: string, gap: string, other: string, least: string) =>
      `${hole} is only ${gap} from ${other}; leave at least ${least} between them, the thickness of the sheet.`,
    into: (hole: string, other: string, least: string) =>
      `${hole} runs into ${other}; leave at least ${least} between them, the thickness of the sheet.`,
    slotTooShort: (field: string, length: string, width: string) =>
      `${field} is ${length}, not more than the width of ${width}; give a greater length, or a round hole.`,
    cornerTwice: (field: string, corner: string) =>
      `${field} has the same corner twice, number ${corner} and the next; leave one of them out.`,
    crosses: (field: string) =>
      `${field} crosses itself; give the corners in the order one walks around the hole.`,
    clockwise: (field: string) =>
      `${field} runs clockwise; give the corners counter-clockwise (the same list in reverse order).`,
    nearEndOfBase: (hole: string, room: string, least: string) =>
      `${hole} comes within ${room} of where the flat of the base ends; leave at least ${least}, the thickness of the sheet, to bends and edges.`,
    offBase: (hole: string, least: string) =>
      `${hole} is not all on the flat of the base; leave at least ${least}, the thickness of the sheet, to bends and edges.`,
    onOpenSide: (hole: string, side: string) =>
      `${hole} is on ${side}, which is open; give a side that has a wall.`,
    beyondCorners: (hole: string, side: string, thickness: string, give: string) =>
      `${hole} is not all between the corners of ${side}, clear of them by the thickness of ${thickness}; give ${give}.`,
    along: (least: string, most: string) => `along from ${least} to ${most}`,
    smallerOrOtherWall: 'a smaller hole or another wall',
    beyondWall: (hole: string, side: string, thickness: string, give: string) =>
      `${hole} is not all in the straight wall of ${side}, clear of bend and rim by the thickness of ${thickness}; give ${give}.`,
    height: (least: string, most: string) => `a height from ${least} to ${most}`,
    smallerOrHigherWall: 'a smaller hole or a higher wall',
  },

  // A plan from a drawing
  drawing: {
    /** @param fault one of the sentences below, or what is wrong with the file */
    fault: (drawing: string, fault: string) => `plan.dxf is ${drawing}: ${lowered(fault)}`,
    cannotBeRead: (drawing: string) =>
      `plan.dxf is ${drawing}, but no drawing can be read from here; give length, width and cornerRadius, or vertices.`,
    layerUnknown: (layer: string, known: string) =>
      `plan.layer is ${layer}, on which nothing is drawn; give one of ${known}.`,
    layerNear: (layer: string, near: string, known: string) =>
      `plan.layer is ${layer}, on which nothing is drawn (the nearest is ${near}); give one of ${known}.`,
    someLayers: (layers: string) => `${layers} …`,

    unitNames: {
      mm: 'millimetres',
      cm: 'centimetres',
      dm: 'decimetres',
      m: 'metres',
      in: 'inches',
      ft: 'feet',
    },

    // Go after the name of the drawing
    unit: (unit: string) =>
      `its unit is number ${unit} of $INSUNITS; give a drawing in mm, cm, dm, m, inches or feet.`,
    severalLoops: (outlines: string, sizes: string) =>
      `plan.loop is missing, and the drawing shows ${outlines} outlines beside each other; give the number of the plan, the largest being 1 (${sizes} mm).`,
    noSuchLoop: (loop: string, outlines: string, sizes: string) =>
      `plan.loop is ${loop}, and the drawing shows ${outlines === '1' ? 'one outline' : `${outlines} outlines`}; give the number of the plan, the largest being 1 (${sizes} mm).`,
    severalChainsOnLayers: (chains: string, layers: string) =>
      `plan.layer is missing, and the drawing shows ${chains} closed chains on several layers; give the layer of the plan (${layers}), and draw the holes of the base on the same one.`,
    holeInHole: (place: string) =>
      `the closed chain at ${place} lies within another one that is a hole; leave one of them out.`,
    manyHoles: (holes: string, most: string) =>
      `it shows ${holes} closed chains inside the plan; give at most ${most} holes.`,
    oddHole: (place: string) =>
      `the closed chain about ${place} inside the plan would be a hole, and is neither a circle, a slot with round ends nor straight all round; draw it as one of them, or leave it out.`,

    otherUnit: (unit: string, own: string) =>
      `plan.units (--units on the command line) is ${unit}, but the drawing itself is in ${own} ($INSUNITS); leave plan.units out, or correct the drawing.`,

    // Sentences by themselves
    size: (length: string, width: string, unit: string) => `${length} × ${width} ${unit}`,
    unitTaken: (unit: string, size: string, other: string, otherSize: string, units: string) =>
      `The drawing names no unit; it was taken to be in ${unit}, which makes the plan ${size}. If it is in ${other}, the plan is ${otherSize}: give the unit in plan.units, or with --units on the command line (${units}).`,
    holes: (holes: string, place: string) =>
      `Closed chains inside the plan (${holes}, the first about ${place}) became holes in the base.`,
  },
};
