/**
 * All words of the papers and pictures, in one table: another language is one more file of this form.
 *
 * Sentences that hold figures are functions of the finished figures, so that a language may order them as it
 * likes.
 */
export const english = {
  // The picture of the blank
  blankTitle: (name: string) => `Flat blank of ${name}`,
  scale: (ratio: string) => `Scale ${ratio}`,
  grain: 'grain',
  gather: 'Gather: shrink in the plane',
  gatherShort: 'Gather, %',
  most: (value: string) => `most ${value}\u00a0%`,
  percent: (value: string) => `${value}\u00a0%`,
  legendCut: 'cut',
  legendRim: 'net rim',
  legendScribe: 'scribe, do not cut',
  legendContour: 'equal gather, %',
  legendStretch: 'equal stretch, +%',
  insideUp: 'Inside of the tray faces you.',

  // Figures
  tray: 'Tray',
  sheet: 'Sheet',
  sheetLine: (material: string, thickness: string, grain: string) =>
    `${material}, ${thickness}, grain at ${grain}°`,
  blank: 'Blank',
  mass: 'Mass',
  massLine: (kilograms: string, area: string) => `${kilograms} kg, ${area} m²`,
  cutLength: 'Cut',
  metres: (value: string) => `${value} m`,
  trim: 'Trim',
  trimLine: (trim: string) => `${trim} outside the net rim`,
  developed: 'Wall in the flat',
  developedLine: (length: string, width: string) => `${length} at the ends, ${width} at the sides`,
  corners: 'Corners',
  corner: (numbers: string) => `Corner ${numbers}`,
  eachCorner: 'Each corner',
  rimToLose: (length: string) => `rim over the arc to lose ${length}`,
  rimToGain: (length: string) => `rim over the arc to gain ${length}`,
  peaks: (gather: string, stretch: string) =>
    `gather up to ${gather}\u00a0%, stretch up to ${stretch}\u00a0%`,
  thicknessRange: (thin: string, thick: string) => `${thin} to ${thick} thick`,
  plan: 'Plan',
  planRectangle: (size: string, radius: string) => `${size}, corner radius ${radius}`,
  planPolygon: (corners: string, size: string) => `${corners} corners, ${size} overall`,
  section: 'Wall',
  sectionLine: (height: string, radius: string) => `height ${height}, bottom radius ${radius}`,
  draft: (degrees: string) => `, leaning out ${degrees}°`,
  measuredOutside: 'measured outside',
  measuredInside: 'measured inside',

  // The template
  templateTitle: (name: string) => `Full-size template of ${name}`,
  measureFirst: 'Measure this before you trust it.',
  printSettings: 'Print at 100 %, never "fit to page".',
  squareSide: (length: string) => `This square is ${length} on each side.`,
  rule: (length: string) => `This rule is ${length} long.`,
  pageMap: 'Page map',
  tile: (row: string, column: string) => `Row ${row}, column ${column}`,
  tileOf: (page: string, pages: string) => `page ${page} of ${pages}`,
  joinHow: (overlap: string) =>
    `Cut off the left and the lower margin of a page along its frame wherever it has a neighbour there. Lay it on the dashed line of that neighbour so that the half circles with the same name make whole ones, and tape. Pages overlap by ${overlap}.`,
  cutHere: 'cut line',
  scribeHere: 'scribe line, do not cut',
  contourHere: 'line of equal gather, %',
  stretchHere: 'line of equal stretch, +%',
  tuckHere: 'tuck',
  legend: 'Lines',
  centreLine: 'centre line',

  // Marking out
  markingTitle: (name: string) => `Marking out ${name} without a printer`,
  markingHow: (length: string, width: string) =>
    `Square two edges of the sheet: the lower one and the left one are the datum edges. The blank touches both and is ${length} long and ${width} wide. x is measured from the left edge, y from the lower edge. Scribe the stations, join the straight ones with a rule, and strike the arcs from their centres with dividers or trammel.`,
  stations: 'Stations on the cut line',
  pieces: 'Lines and arcs of the cut line',
  scribePieces: (kind: string) => `Scribe line: ${kind}`,
  bendBegin: 'bend begins',
  bendEnd: 'bend ends',
  hole: (name: string) => `Hole: ${name}`,
  number: 'No.',
  from: 'from',
  to: 'to',
  length: 'length',
  radius: 'radius',
  centre: 'centre',
  line: 'line',
  arc: 'arc',

  // The card
  cardTitle: 'Shop card',
  view: 'Formed tray',
  sectionTitle: 'Section across the wall',
  madeWith: (version: string) => `gatherpan ${version}`,
  date: 'Date',
  worker: 'Made by',
  stages: 'Stages',
  stage: (number: string) => `Stage ${number}`,
  wallAt: (angle: string, zones: string) => `wall at ${angle}°; along the rim of the zone ${zones}`,
  lipTurned: (zones: string) => `turn the lip; along the rim of the zone ${zones}`,
  zoneLoses: (length: string, thickness: string) => `lose ${length}, then ${thickness} thick`,
  zoneGains: (length: string, thickness: string) => `gain ${length}, then ${thickness} thick`,
  zone: (numbers: string) => `Zone ${numbers}`,
  anneals: 'Annealing',
  tuckLine: (count: string, pitch: string, takeUp: string, rounds: string) =>
    `${count} tucks, ${pitch} apart, each to take up ${takeUp} in ${rounds === '1' ? 'one round' : `${rounds} rounds`}`,
  tucks: 'Tucks',
  verdict: 'Verdict',
  verdictWords: {
    'can be worked': 'can be worked',
    'can be worked with care': 'can be worked with care',
    'not in one piece': 'not in one piece',
  },
  warnings: 'Mind',
  checks: 'Checks on the way',
  checkList: [
    'Before bending: length and width of the blank, and both diagonals, against the figures above.',
    'At every stage: the section gauge at the middle of a side and at the middle of a corner.',
    'At every corner: tape along the rim; it has to lose the length given above.',
    'At the end: bottom radius and plan corner with their gauges, base flat on a surface plate.',
  ],
  measured: 'Measured (feeds the hand)',
  measureRows: [
    "Rim height at a corner's middle",
    'Rim height where the corner begins / ends',
    "Thickness at the rim, corner's middle",
    'Two scribed marks: before / after',
  ],
  cautions: 'Cautions',
  cautionEdges:
    'Cut edges are sharp: break all edges before the sheet is handled, and wear cut-resistant gloves to carry it.',
  cautionNoise: 'Hammering is loud enough to harm: wear ear protection, and eye protection against chips.',
  cautionHot:
    'Hot metal does not always look hot: gloves, goggles, nothing that burns near by, and let it cool before you touch it.',
  cautionZinc:
    'Zinc-coated sheet: no heating to red and no welding over the coating. The fumes make you ill with fever; strip the zinc well back first and extract the fumes.',
  cautionCut:
    'Peel off plastic film that is not made for laser cutting; extract the fumes of laser and plasma cutting.',
  cautionWeld:
    'Welding: helmet and gloves, no bare skin, fumes drawn off, nothing that burns within reach of sparks. Stainless steel fumes are poisonous.',

  // Gauges
  gaugesTitle: (name: string) => `Gauges of ${name}`,
  gaugesHow: 'Cut from thin sheet or stiff card at full size. Round the edges where a hand holds the gauge.',
  gaugeBottomInside: (radius: string) => `bottom radius inside ${radius}`,
  gaugeBottomOutside: (radius: string) => `bottom radius outside ${radius}`,
  gaugeCornerInside: (corner: string, radius: string) => `plan corner ${corner} inside ${radius}`,
  gaugeCornerOutside: (corner: string, radius: string) => `plan corner ${corner} outside ${radius}`,
  gaugeSectionSide: (angle: string) => `section inside at a side, wall ${angle}°`,
  gaugeSectionCorner: (angle: string) => `section inside at a corner's middle, wall ${angle}°`,
  gaugeSideLip: 'section inside at a side, lip turned',
  gaugeCornerLip: "section inside at a corner's middle, lip turned",
  gaugeHammer: (radius: string) => `hammer crown ${radius}`,
  gaugeDolly: (radius: string) => `dolly ${radius}`,
  gaugeSagitta: (sagitta: string, face: string) => `${sagitta} deep over ${face}`,
  // Formers
  formerTitle: (name: string) => `Former block of ${name}`,
  formerHow:
    'Stack the plies on their centre lines and screw them together. Round the lower edge of the block; plane the edges to the lean of the wall where it leans.',
  formerPly: (from: string, to: string, count: string) => `ply ${from} to ${to}, ${count} of this outline`,
  formerOnePly: (ply: string) => `ply ${ply}`,
  formerEdge: (radius: string) => `round the lower edge to ${radius}`,
  formerStack: (count: string, thickness: string, height: string) =>
    `${count} plies of ${thickness}, block ${height} high`,

  // The strip
  strip: 'Strip for the rim',
  stripHow:
    'Bend the strip between the scribed lines, try it on the trimmed rim, tack at the sides first. The seam lies in the middle of the longest side.',
  stripParts: 'Parts',
  stripBends: 'Bends',
  stripJoint: 'Joints',
  stripBendLine: (begin: string, end: string, radius: string) =>
    `${begin} to ${end}, inside radius ${radius}`,
  stripTitle: (name: string) => `Strip for the rim of ${name}`,
  stripLine: (length: string, height: string, thickness: string) =>
    `${length} long around the rim, ${height} high, ${thickness} thick`,
  stripPart: (number: string, length: string) => `part ${number}: ${length}`,
  stripBend: (radius: string) => `bend, inside radius ${radius}`,
  stripOverlap: (length: string) => `overlap ${length}`,
  stripGap: (length: string) => `gap ${length} between the ends`,
};

export type Words = typeof english;
