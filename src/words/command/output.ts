/** What the commands print beside the figures of a tray (`terminal.ts`): what is going on, what was done, lists. */

/** English has two forms of a thing that is counted. */
const counted = (count: string, one: string, several: string): string =>
  `${count} ${count === '1' ? one : several}`;

export const output = {
  /** A file argument that is no file. */
  standardInput: 'standard input',
  /** Leads a sentence. */
  standardOutput: 'Standard output',

  /** Titles of lines; they stand in a column ten letters wide. */
  titles: {
    solved: 'solved',
    warnings: 'warnings',
    warning: 'warning',
    note: 'note',
    wrote: 'wrote',
  },
  solved: (triangles: string, steps: string, residual: string) =>
    `${triangles} triangles, ${steps} steps, residual ${residual}`,
  noWarnings: 'none',
  nothingWritten: 'There is no flat to cut, so nothing was written.',
  wrote: (path: string) => `wrote ${path}`,

  /** Shown while something is done. */
  progress: {
    tray: (number: string, count: string, name: string) => `${number} of ${count}: ${name}`,
    solved: (number: string, count: string, name: string) => `solved ${number} of ${count}: ${name}`,
    layingOut: (count: string) => `laying out ${count} blanks`,
    hand: (name: string) => `${name}: solving for the hand`,
    rows: (done: string, total: string, rate: string, left: string) =>
      `${done} of ${total}, ${rate} a second, ${left} left`,
    aWhile: 'a while',
    seconds: (count: string) => `${count} s`,
    minutes: (count: string) => `${count} min`,
    hours: (count: string) => `${count} h`,
  },

  batch: {
    counts: (made: string, warned: string, notInOnePiece: string, failed: string, refused: string) =>
      `${made} made (${warned} with warnings), ${notInOnePiece} not to be worked in one piece, ${failed} failed, ${refused} refused`,
    countsResumed: (counts: string, resumed: string) => `${counts}, ${resumed} were there already`,
    verdict: (verdict: string) => `The verdict is "${verdict}".`,
  },

  layout: {
    verdict: (name: string, verdict: string) =>
      `${name}: the verdict is "${verdict}"; it is laid out all the same.`,
    leftOut: (name: string, verdict: string) => `${name}: the verdict is "${verdict}"; it is left out.`,
    blanks: (count: string, percent: string) => `${counted(count, 'blank', 'blanks')}, ${percent} % used`,
    cut: (length: string, pierces: string) => `${length} of cut, ${counted(pierces, 'pierce', 'pierces')}`,
    mass: (blanks: string, sheet: string) => `${blanks} of ${sheet}`,
    noOffcut: 'no offcut',
    offcut: (length: string, width: string) => `offcut ${length} x ${width}`,
    cost: (amount: string) => `about ${amount} at your rates`,
    sheets: (count: string, least: string) =>
      `${counted(count, 'sheet', 'sheets')} (the bare area would need ${least})`,
    edges: 'Cut edges are sharp: wear gloves when you take blanks off the sheet.',
  },

  service: {
    running: (address: string) => `gatherpan is at ${address} (Ctrl-C stops it)`,
    stopping: 'gatherpan is stopping; what is done within a second is still answered',
  },

  worker: {
    waiting: 'waiting for trays (Ctrl-C stops)',
    stopping: 'stopping; trays that are not done within a second are left to other workers',
    solved: (count: string) => `${count} trays solved`,
  },

  /** Rows of the list of sheets; what each property is. */
  sheets: {
    K: 'strength K of flow stress = K (epsilon0 + strain)^n',
    epsilon0: 'strain offset epsilon0',
    n: 'hardening exponent n',
    r0: 'Lankford coefficient along the grain',
    r45: 'Lankford coefficient at 45 degrees',
    r90: 'Lankford coefficient across the grain',
    strengths: 'strengths at 45 degrees, across, biaxial',
    strengthsOver: (at45: string, at90: string, biaxial: string) =>
      `${at45}, ${at90}, ${biaxial} (1 is along the grain)`,
    hosford: 'Hosford’s',
    density: 'density',
    youngsModulus: "Young's modulus",
    yieldStrength: 'yield strength',
    tensileStrength: 'tensile strength',
    uniformElongation: 'uniform elongation',
    thicknessRange: 'thickness usually sold',
    thicknesses: (from: string, to: string) => `${from} to ${to} mm`,
    metal: (family: string, coating: string) => `${family}, ${coating}`,
    anneal: 'anneal',
    temperatures: (from: string, to: string) => `${from} to ${to} °C`,
    noAnneal: 'not in the workshop',
    strainBudget: 'strain between anneals',
    cue: (sentence: string) => `cue: ${sentence}`,
    instead: (sentence: string) => `instead: ${sentence}`,
    caution: (sentence: string) => `caution: ${sentence}`,
  },
};
