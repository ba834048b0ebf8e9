/** What the commands print of a solved tray: figures, gather, working plan, hand. */
export const terminal = {
  /** Titles of lines, and those of the figures; they stand in a column ten letters wide. */
  titles: {
    gather: 'gather',
    tucks: 'tucks',
    blows: 'blows',
    hand: 'hand',
    trim: 'trim',
    verdict: 'verdict',
    change: 'change',
    stage: 'stage',
    anneal: 'anneal',
    caution: 'caution',
    grain: 'grain',
    measured: 'measured',
    trial: 'trial',
    kept: 'kept',
    blank: 'blank',
  },
  figures: {
    sheet: 'sheet',
    blank: 'blank',
    cut: 'cut',
    developed: 'wall, flat',
    corner: 'corner',
    corners: 'corners',
    thickness: 'thickness',
  },
  sheet: (material: string, thickness: string, grain: string) =>
    `${material}, ${thickness}, grain at ${grain}° (0° = along the length)`,
  blank: (length: string, width: string, area: string, mass: string) =>
    `${length} x ${width}, ${area}, ${mass}`,
  squareMetres: (area: string) => `${area} m²`,
  squareFeet: (area: string) => `${area} sq ft`,
  kilograms: (mass: string) => `${mass} kg`,
  pounds: (mass: string) => `${mass} lb`,
  metres: (length: string) => `${length} m`,
  cut: (length: string, pieces: string) => `${length} in ${pieces} lines and arcs`,
  developed: (length: string, width: string) => `${length} along the length, ${width} along the width`,
  cornerLoses: (length: string) => `rim to lose ${length}`,
  cornerGains: (length: string) => `rim to gain ${length}`,
  cornerKeeps: 'rim changes by less than 2 %',
  cornersTogether: (what: string, numbers: string) => `${what} (${numbers} together)`,
  cornerGather: (percent: string) => `gather ${percent} %`,
  cornerStretch: (percent: string) => `stretch ${percent} %`,
  cornerThick: (thin: string, thick: string) => `${thin} to ${thick} thick`,
  flatRadius: (flat: string, equalArea: string, arcLength: string) =>
    `corner radius of the blank ${flat} (equal-area rule ${equalArea}, arc-length rule ${arcLength})`,
  flatRadiusAlone: (flat: string) => `corner radius of the blank ${flat}`,
  each: (what: string) => `each ${what}`,
  thickness: (thin: string, thick: string) => `${thin} to ${thick}`,
  awayFromCorners: 'away from the corners',
  corner: (letter: string) => `corner ${letter}`,
  corners: (letters: string) => `corners ${letters}`,
  curvedSide: (letters: string) => `curved side ${letters}`,
  curvedSides: (letters: string) => `curved sides ${letters}`,
  shrinks: (percent: string) => `gathers by up to ${percent} %`,
  stretches: (percent: string) => `stretches by up to ${percent} %`,
  thickest: (thickness: string) => `thickest ${thickness}`,
  thinnest: (thickness: string) => `thinnest ${thickness}`,
  deep: (depth: string, area: string) => `${depth} deep, ${area}`,
  squareCentimetres: (area: string) => `${area} cm²`,
  squareInches: (area: string) => `${area} sq in`,
  rimToLose: (flat: string, formed: string, change: string) =>
    `rim ${flat} flat, ${formed} formed: ${change} to lose`,
  rimToGain: (flat: string, formed: string, change: string) =>
    `rim ${flat} flat, ${formed} formed: ${change} to gain`,
  reaches: (length: string) => `reaches ${length} beyond the corner`,
  reachesBoth: (less: string, more: string) => `reaches ${less} and ${more} beyond the corner`,
  marks: { refuse: 'no', care: 'care', good: 'good', note: 'note' },
  marked: (mark: string, sentence: string) => `${mark}: ${sentence}`,
  hand: (hand: string, percent: string) =>
    `${hand}: ${percent} % of the gather goes up the wall, the rest into thickness`,
  spread: (hand: string, percent: string) => `${hand}; planishing spreads the worked area by ${percent} %`,
  trim: (inwards: string, outwards: string, trim: string) =>
    `different hands move the rim ${inwards} to +${outwards}; ${trim} of trim covers that`,
  trimOpen: (
    inwards: string,
    outwards: string,
    strengthInwards: string,
    strengthOutwards: string,
    trim: string,
  ) =>
    `different hands move the rim ${inwards} to +${outwards}, strengths that are not known ${strengthInwards} to +${strengthOutwards}; ${trim} of trim covers both`,
  noHelpAlone: (what: string) => `Changing this alone would not help: ${what}.`,
  noHelp: (list: string) => `Changing these alone would not help: ${list}.`,
  turnLip: 'turn the lip',
  turnWall: (degrees: string) => `turn the wall up to ${degrees}°`,
  sides: (radius: string, held: string, left: string) =>
    `sides: bend over a radius of ${radius} to ${held}°; let go they stand at ${left}°`,
  inTurn: (stage: string, corners: string) => `${stage}; corners in turn: ${corners}`,
  stageLoses: (change: string, before: string, after: string, toCome: string) =>
    `rim from mark to mark ${before} to ${after}, ${change} to lose, ${toCome}`,
  stageGains: (change: string, before: string, after: string, toCome: string) =>
    `rim from mark to mark ${before} to ${after}, ${change} to gain, ${toCome}`,
  left: {
    nothing: 'nothing still to come',
    lose: (length: string) => `${length} still to lose`,
    gain: (length: string) => `${length} to gain in a later stage`,
  },
  stageWork: (used: string, thickness: string) =>
    `uses up ${used} % of the work between anneals, then ${thickness} thick`,
  act: (act: string, sentences: string) => `${act}: ${sentences}`,
  measured: (what: string, measured: string, error: string, predicted: string) =>
    `${what} ${measured} ± ${error}, the fit gives ${predicted}`,
  movesOut: (corners: string, move: string) => `corner ${corners}: the cut line moves out by ${move}`,
  movesIn: (corners: string, move: string) => `corner ${corners}: the cut line moves in by ${move}`,
  trial: (name: string, person: string, sheet: string, hand: string) =>
    `${name} (${person}), ${sheet}: ${hand}`,
  trialSheet: (sheet: string, thickness: string) => `${sheet}, ${thickness}`,
  trialHand: (hand: string, low: string, high: string) => `hand ${hand}, between ${low} and ${high} %`,
  nobody: 'nobody named',
  noTrials: 'none is kept',
  kept: (name: string, file: string) => `${name} in ${file}`,
  otherSheet: (name: string, sheet: string) =>
    `${name} was worked of ${sheet}, and this tray is of another sheet: the same person may have another hand on it.`,
  cutForHand: (hand: string) => `cut for a hand of ${hand}`,
};
