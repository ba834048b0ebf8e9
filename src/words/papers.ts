/** Words of the papers and pictures. */

export const papers = {
  // The picture of the blank
  blankTitle: (name: string) => `Flat blank of ${name}`,
  scale: (ratio: string) => `Scale ${ratio}`,
  grain: 'grain',
  gather: 'Gather, % of length',
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
    `${material}, ${thickness}, grain at ${grain}° (0° = along the length)`,
  blank: 'Blank',
  trayAndBlank: 'Tray and blank',
  mass: 'Mass',
  massLine: (kilograms: string, squareMetres: string) => `${kilograms} kg, ${squareMetres} m²`,
  massLineInches: (pounds: string, squareFeet: string) => `${pounds} lb, ${squareFeet} sq ft`,
  cutLength: 'Cut',
  metres: (value: string) => `${value} m`,
  trim: 'Trim',
  trimLine: (trim: string) => `${trim} outside the net rim`,
  named: (name: string, value: string) => `${name}: ${value}.`,
  notches: 'Notches',
  notchesLine: (corners: string, relief: string, slot: string) =>
    `${corners}: relief Ø ${relief} at the root of each notch, then a slot ${slot} wide to where its edges part`,
  developed: 'Wall, flat',
  developedLine: (length: string, width: string) => `${length} at the ends, ${width} at the sides`,
  corners: 'Corners',
  corner: (letters: string) => `Corner ${letters}`,
  curvedSide: (letters: string) => `Curved side ${letters}`,
  allRound: 'All round',
  eachCorner: 'Each corner',
  cornerLine: {
    lose: (length: string) => `rim to lose ${length} from mark to mark`,
    gain: (length: string) => `rim to gain ${length} from mark to mark`,
    kept: 'rim changes by less than 2\u00a0%',
    together: (what: string, corners: string) => `${what} (${corners} together)`,
  },
  peaks: (gather: string, stretch: string) =>
    `gather up to ${gather}\u00a0%, stretch up to ${stretch}\u00a0%`,
  thicknessRange: (thin: string, thick: string) => `${thin} to ${thick} thick`,
  cornerTable: {
    heads: {
      rim: 'rim, mark to mark',
      gather: 'peak gather',
      stretch: 'peak stretch',
      thickness: 'thickness',
    },
    lose: (length: string) => `lose ${length}`,
    gain: (length: string) => `gain ${length}`,
    kept: 'as it is',
    together: (what: string, corners: string) => `${what} (${corners})`,
    all: 'all',
    thickness: (thin: string, thick: string) => `${thin}–${thick}`,
  },
  plan: 'Plan',
  planRectangle: (size: string, radius: string) => `${size}, corner radius ${radius}`,
  planPolygon: (corners: string, size: string, radii: string) =>
    `${corners} corners, ${size} overall, corner radius ${radii}`,
  planRound: (diameter: string) => `round, ${diameter} across`,
  section: 'Wall',
  sectionLine: (height: string, radius: string) => `height ${height}, bottom radius ${radius}`,
  leaning: (wall: string, degrees: string) => `${wall}, leaning out ${degrees}°`,
  range: (from: string, to: string) => `${from} to ${to}`,
  rim: 'Rim',
  lipOut: (width: string, radius: string) => `lip turned out, ${width} wide, bend radius ${radius}`,
  lipIn: (width: string, radius: string) => `lip turned in, ${width} wide, bend radius ${radius}`,
  measuredOutside: 'measured outside',
  measuredInside: 'measured inside',

  // The template
  templateTitle: (name: string) => `Full-size template of ${name}`,
  measureFirst: 'Measure this before you trust it.',
  printSettings: 'Print at 100 %, never "fit to page".',
  squareSide: (length: string) => `This square is ${length} on each side.`,
  rule: (length: string) => `This rule is ${length} long.`,
  pageMap: 'Page map',
  pageMapLeftOut: (count: string) =>
    count === '1' ? 'Page map (one empty page is left out)' : `Page map (${count} empty pages are left out)`,
  tile: (row: string, column: string) => `row ${row}, column ${column}`,
  tileOf: (tile: string, page: string, pages: string) => `${tile}, page ${page} of ${pages}`,
  joinHow: (overlap: string) =>
    `1. Where a page has a neighbour on its left or below it, cut that margin off along the frame. 2. Lay the page on the dashed line of its neighbour, so that half circles with the same name make whole ones. 3. Tape. Pages overlap by ${overlap}.`,
  cutHere: 'cut line',
  scribeHere: 'scribe line, do not cut',
  contourHere: 'line of equal gather, %',
  stretchHere: 'line of equal stretch, +%',
  legend: 'Lines',
  centreLine: 'centre line',

  // Marking out
  markingTitle: (name: string) => `Marking out ${name} without a printer`,
  markingHow: {
    rectangle: (length: string, width: string, diagonal: string) =>
      `1. Scribe a rectangle ${length} × ${width}; both diagonals measure ${diagonal}. It gives the straight edges of the blank.`,
    edges:
      '1. Square the lower and the left edge of the sheet. Mark where the straight edges meet (x from the left edge, y from the lower edge) and join the points with a rule.',
    curves:
      '1. Square the lower and the left edge of the sheet. All figures are from them: x from the left edge, y from the lower edge.',
    corners:
      '2. At each corner measure from the two edges that meet there: mark the points, then strike the arcs from their centres, one from point to point. Where a centre lies off the sheet, clamp scrap of the same thickness there.',
    arcs: '2. Mark the points, then strike the arcs from their centres, one from point to point.',
    lath: 'Where a lath is named, lay a straight edge from point to point, mark the offsets square to it towards the middle of the blank (− away from it), and bend the lath through the marks.',
    rest: '3. Straight edges and bend lines run on straight between the curves of two corners. Scribe what is dashed, and do not cut it.',
    tolerance: (tolerance: string, trammel: string) =>
      `Lines so drawn lie within ${tolerance} of the true ones; no radius is longer than ${trammel}.`,
  },
  edgesMeet: 'Where the straight edges meet',
  atCorner: (letters: string) => `At corner ${letters}`,
  atCorners: (letters: string) => `At the corners ${letters}`,
  turnedOver: (letters: string) => `${letters}: the same turned over, x and y in each other's place.`,
  alongEdges: (edges: string) => `x along ${edges}, y square to it.`,
  wholeLines: 'From the datum edges',
  point: 'point',
  begins: 'from',
  meets: 'edges meet',
  lath: 'lath',
  circle: 'circle',
  lathOffsets: (pitch: string, offsets: string) => `offsets every ${pitch}: ${offsets}`,
  cutLine: 'cut line',
  holes: 'Holes',
  rimMarks: 'Marks of the rim to lose: lay a tape along the edge from mark to mark',
  rimFlat: 'flat',
  rimFormed: 'formed',
  bendBegin: 'bend begins',
  bendEnd: 'bend ends',
  netRim: 'net rim',
  from: 'from',
  to: 'to',
  radius: 'radius',
  centre: 'centre',
  line: 'line',
  arc: 'arc',

  // The card
  cardTitle: 'Shop card',
  cardFront: 'Shop card, front',
  cardBack: 'Shop card, back',
  cardBackPage: (page: string, pages: string) => `Shop card, back, page ${page} of ${pages}`,
  cutSize: (size: string) => `Cut ${size}`,
  stagesOnBack: 'The stages are on the back.',
  frontBend: (radius: string, held: string, left: string) =>
    `Sides: bend over a radius of ${radius} to ${held}°; let go they stand at ${left}°.`,
  frontAnneal: {
    none: 'No anneal.',
    never: 'Never anneal: see the back.',
    line: (when: string, low: string, high: string) => `Anneal ${when}: ${low} to ${high} °C.`,
    before: 'before stage 1',
    after: (stage: string) => `after stage ${stage}`,
    within: (stage: string, angle: string) => `in stage ${stage} at ${angle}°`,
  },
  view: 'Formed tray',
  sectionTitle: 'Section across the wall',
  madeWith: (version: string) => `gatherpan ${version}`,
  date: 'Date',
  worker: 'Made by',
  stages: 'Stages',
  stageWall: (number: string, angle: string) => `${number}: wall at ${angle}°`,
  stageLip: (number: string) => `${number}: lip turned`,
  stageKey: (unit: string) =>
    `Rim: − to lose, + to gain / thickness then, ${unit}. Check each stage with its two section gauges (side, corner), which bear the same angle.`,
  inches: 'inches',
  zone: (numbers: string) => `Zone ${numbers}`,
  anneals: 'Annealing',
  severalTimes: (times: string, sentence: string) => `${times} times: ${sentence}`,
  gatherings: {
    tucks: {
      title: 'Tucks',
      here: 'tuck',
      heads: { where: 'from the mark', takeUp: 'take up', rounds: 'rounds', height: 'high' },
    },
    blows: {
      title: 'Rows of blows',
      here: 'row of blows',
      heads: { where: 'from the mark', takeUp: 'take up', rounds: 'passes', height: 'wave' },
    },
  },
  inMillimetres: (what: string) => `${what}, mm`,
  apart: (count: string, lengths: string) => `${count}, ${lengths} apart`,
  verdict: 'Verdict',
  warnings: 'Watch for',
  checks: 'Checks on the way',
  checkList: [
    'Before bending: length and width of the blank, and both diagonals, against the figures above.',
    'At every stage: its section gauges at the middle of a side and at the middle of a corner.',
    'At every corner: a tape along the rim; it has to lose (or gain) the length given above.',
    'At the end: bottom radius and corner radius with their gauges, base flat on a surface plate.',
  ],
  measured:
    'Measured before the rim is trimmed (how: the sheet of the trial corner; `hand` finds your hand from it)',
  cautions: 'Cautions',

  // The trial corner
  trial: {
    title: (name: string) => `Trial corner of ${name}`,
    how: [
      'Turn the blank over and punch the two dots of a corner lightly before you shape it: they are measured outside. Work the corner as you always do, planish it, and measure before you trim the rim. One corner is enough; give what you have.',
      'Stand the tray on a flat table, base down, and hold it so that the base lies flat.',
    ],
    dotsTitle: 'The dots on the flat blank',
    placesTitle: 'Where a corner begins and ends, from above',
    sectionTitle: 'Height with a rule or height gauge, outside; thickness with a micrometer',
    begins: 'begins',
    middle: 'middle',
    ends: 'ends',
    table: 'table',
    height: 'height',
    thickness: "thickness, at the corner's middle",
    tableTitle: 'Measured before the rim is trimmed',
    rows: [
      "Rim height above the table, corner's middle",
      'Rim height above the table, corner begins',
      'Rim height above the table, corner ends',
      "Thickness of the rim, corner's middle",
    ],
    dotsBefore: 'Dots apart, flat',
    dotsAfter: 'Dots apart, formed, paper laid along the outside',
    fileTitle: 'In a file for the command `hand`, for each corner',
    clear: (distance: string) =>
      `A dot keeps ${distance} from every edge, so that it starts no crack (common practice).`,
  },
  dotsHere: 'dots of the trial corner',

  // The rehearsal in paper
  rehearsal: {
    title: (name: string) => `Rehearsal in paper: a corner of ${name}`,
    how: 'Print on strong paper and cut the corner out. Crease every dart on its middle line, bring its two edges together inside, and tape it: the rim gets shorter by what the metal has to lose there, and the wall stands up: it bends between the two dashed lines along the corner. Metal does this without folds: it gets thicker and higher instead. This is no template to cut metal by.',
    paperOnly: 'for paper, not for metal',
    nothing: 'Nothing of this tray is gathered: there is nothing to rehearse.',
    apart:
      'The corner to rehearse in paper takes several sheets. It is not among these, so that nobody joins them to the blank: print it by itself (rehearsal-pdf).',
    darts: (count: string, width: string, all: string) => `${count} darts of ${width}: ${all} of rim to lose`,
  },

  // Gauges
  gaugesTitle: (name: string) => `Gauges of ${name}`,
  gaugesHow:
    'Cut from thin sheet or stiff card at full size. Round the edges where a hand holds the gauge. A side has two section gauges a stage: bend until the one "under the hammer" fits, then let go, and the other one fits. Hammering and a hard or soft batch change the springback: bend a strip first. Corners hardly spring and have one gauge.',
  gaugeBottomInside: (radius: string) => `bottom radius inside ${radius}`,
  gaugeBottomOutside: (radius: string) => `bottom radius outside ${radius}`,
  gaugeCornerInside: (corner: string, radius: string) => `corner ${corner} inside ${radius}`,
  gaugeCornerOutside: (corner: string, radius: string) => `corner ${corner} outside ${radius}`,
  gaugeSideInside: (side: string, radius: string) => `curved side ${side} inside ${radius}`,
  gaugeSideOutside: (side: string, radius: string) => `curved side ${side} outside ${radius}`,
  gaugeSectionSide: (angle: string) => `section inside at a side, wall ${angle}°, let go`,
  gaugeSectionHeld: (angle: string, held: string) =>
    `section inside at a side under the hammer, wall ${held}°, springs to ${angle}°`,
  gaugeSectionNotHeld: (angle: string) =>
    `section inside at a side, wall ${angle}°, let go; springs too far for a gauge under the hammer`,
  gaugeSectionCorner: (angle: string) => `section inside at a corner's middle, wall ${angle}°`,
  gaugeSideLip: 'section inside at a side, lip turned',
  gaugeCornerLip: "section inside at a corner's middle, lip turned",
  gaugeHammer: (radius: string) => `hammer crown ${radius}`,
  gaugeDolly: (radius: string) => `dolly ${radius}`,
  gaugeSagitta: (sagitta: string, face: string) => `${sagitta} deep over ${face}`,
  /** On gauges too small for more. */
  gaugeBrief: {
    radius: (radius: string) => `R ${radius}`,
    side: (angle: string) => `side ${angle}°`,
    held: (angle: string) => `held, for ${angle}°`,
    corner: (angle: string) => `corner ${angle}°`,
    angle: (angle: string) => `${angle}°`,
    sideLip: 'side, lip',
    cornerLip: 'corner, lip',
  },
  // Springback
  overbendTitle: 'Springback',
  overbendHow:
    'Hammering leaves less of it: bend a strip first. Corners hardly spring: work them to their angle.',
  overbendBottom: 'Bottom bend, sides',
  overbendLip: 'Lip bend, sides',
  overbendLine: (radius: string, made: string, left: string) =>
    `over a radius of ${radius}, to ${made}°, to leave ${left}°`,
  inState: {
    asItComes: (line: string) => `as it comes ${line}`,
    annealed: (line: string) => `annealed ${line}`,
  },

  // Formers
  formerTitle: (name: string) => `Former block of ${name}`,
  formerHow:
    'Stack the plies on the marks of their centre lines and screw them together. Round the lower edge of the block to the dashed line on its underside; plane the edges to the lean of the wall where it leans.',
  formerOverbentHow:
    'The sides of this block lean in so that the walls spring back to their angle; at the corners, which hardly spring, it stands as the tray does, and a side leans fully from one wall height beside a corner on.',
  formerPly: (from: string, to: string, count: string) => `ply ${from} to ${to}, ${count} of this outline`,
  formerOnePly: (ply: string) => `ply ${ply}`,
  formerEdge: (radius: string) => `round the lower edge to ${radius}`,
  formerOverbent: (radius: string, corner: string, angle: string) =>
    `round the lower edge to ${radius} at the sides, ${corner} at the corners; sides at ${angle}°`,
  formerStack: (count: string, thickness: string, height: string) =>
    `${count} plies of ${thickness}, block ${height} high`,

  // The strip
  strip: 'Strip for the rim',
  stripHow:
    'Bend the strip between the scribed lines, try it on the trimmed rim, tack at the sides first. The seam lies in the middle of the longest side.',
  stripHowRound:
    'Roll the strip to a ring, try it on the trimmed rim, and tack it at even distances before welding. The seam may lie anywhere.',
  stripRolled: (radius: string) => `rolled to a ring, inside radius ${radius}`,
  stripFromEnd: 'Bend lines, measured from the left end.',
  stripTable: {
    heads: { begins: 'begins at', ends: 'ends at', radius: 'inside radius', angle: 'angle' },
    bend: (number: string) => `bend ${number}`,
    inwards: 'in',
    outwards: 'out',
  },
  stripParts: 'Parts',
  stripBends: 'Bends',
  stripSeam: 'Seam',
  stripSeamSide: 'in the middle of the longest side; bends are measured from it',
  stripSeamAnywhere: 'anywhere',
  stripJoint: 'Joints',
  stripBendLine: (spans: string, radius: string) => `${spans}: inside radius ${radius}`,
  stripTitle: (name: string) => `Strip for the rim of ${name}`,
  stripLine: (length: string, height: string, thickness: string) =>
    `${length} long around the rim, ${height} high, ${thickness} thick`,
  stripPart: (number: string, length: string) => `part ${number}: ${length}`,
  stripOverlap: (length: string) => `overlap ${length}`,
  stripGap: (length: string) => `gap ${length} between the ends`,

  // What cannot be drawn
  errors: {
    formerLipIn: (name: string) => `${name} has its lip turned in, so a former could not be taken out again.`,
    formerOpen: (name: string) =>
      `The former cannot be drawn for ${name}: it needs a wall all round with gathered corners.`,
    formerPlies: (height: string, plies: string, ply: string, most: string) =>
      `A former ${height} mm high takes ${plies} plies of ${ply} mm; up to ${most} are drawn.`,
    formerClearance: (clearance: string, name: string, bend: string) =>
      `A clearance of ${clearance} mm is wider than the bottom bend of ${name} (${bend} mm); give less.`,
    crownFace: (radius: string, face: string, below: string) =>
      `A crown of radius ${radius} mm has no face ${face} mm wide; give a face of less than ${below} mm.`,
    stripRim: (name: string) =>
      `A strip cannot be set on ${name}: its rim has to be plain, level and closed.`,
    stripSeam: (name: string) => `The seam of a strip has no place on ${name}: it needs a straight side.`,
    stripCorner: (corner: string, thickness: string, radius: string) =>
      `Corner ${corner} is too tight for a strip ${thickness} mm thick: its inside radius would be ${radius} mm.`,
    stripStock: (stock: string, name: string) =>
      `Stock ${stock} mm long does not reach from one straight side of ${name} to the next; longer stock is needed.`,
    stripThickness: (thickness: string) =>
      `The strip's thickness is ${thickness} mm; 0 or a thickness of 0.2 mm and more is accepted.`,
    pageLength: (title: string, length: string, most: string) =>
      `A page of ${title} would be ${length} mm long; up to ${most} mm are accepted: take shorter stock, or the DXF drawing.`,
    pages: (name: string, pages: string, paper: string, most: string) =>
      `The template of ${name} needs ${pages} pages of ${paper}; up to ${most} are printed: choose a larger paper or a roll, or mark out from the tables.`,
  },
};
