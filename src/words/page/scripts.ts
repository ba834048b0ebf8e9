/** What the page's scripts say, when it is known what there is to say. */
import { plural } from './plural.ts';

export const scripts = {
  // The service
  unreachable: 'The service cannot be reached; is it running?',
  status: 'The service answers with status {status}.',
  lost: 'The connection was lost; try again.',
  version: 'Version {version}',

  // The tray that is shown
  blank: 'Blank {size}',
  summary: '{verdict}. Blank {size}.',
  summaryNoFlat: '{verdict}. There is no flat to cut.',
  summaryOfPart: '{file}: {verdict}. Blank {size}.',
  summaryOfPartNoFlat: '{file}: {verdict}. There is no flat to cut.',
  working: 'Working …',
  stale: 'Shown is the last tray that could be solved, not the one in the form.',
  cannotSave: 'The tray in the form cannot be solved yet, so there is nothing to save. See the form.',
  /** Why the service has to solve. */
  lacking: {
    webAssembly:
      'This browser cannot solve a tray itself (it has no WebAssembly), so the service does: that takes a little longer.',
    workers:
      'This browser cannot solve a tray itself (it has no threads of modules), so the service does: that takes a little longer.',
    language:
      'What solves a tray in the browser speaks another language, so the service solves: that takes a little longer.',
    files:
      'What solves a tray in the browser could not be loaded, so the service does: that takes a little longer.',
  },
  stalePart: 'Shown, and saved by the buttons here, is the STEP part {file}.',
  staleDrawing:
    'Shown, and saved by the buttons here, is still the tray from before: the drawing {file} still has questions to answer.',
  seeForm: 'See the form',
  notJson: 'This is not JSON: {fault}.',
  ownMaterial: '{name} (from the file)',
  ownPlan: 'The plan comes from the file.',
  ownPlanCorners: plural({ other: 'The plan comes from the file: {count} corners.' }),

  // A drawing that leaves something open
  drawing: {
    of: '{file} does not say everything. Nothing is taken from it until you do.',
    choose: 'Choose',
    size: '{length} × {width} {unit}',
    sizeInMillimetres: '{length} × {width} {unit} ({lengthInMillimetres} × {widthInMillimetres} mm)',
    place: 'x {x}, y {y}',
    corners: plural({
      one: '{count} corner is drawn sharp: {places}. It is formed with this radius, seen from above.',
      other: '{count} corners are drawn sharp: {places}. They are formed with this radius, seen from above.',
    }),
    missing: 'Answer this first.',
  },

  // Figures
  range: '{from} to {to}',
  figures: {
    blank: 'Blank',
    rimToLose: 'Rim to lose',
    rimToLoseEach: 'Rim to lose, each corner',
    rimToLoseIs: 'by this the flat edge, trim included, is too long between its marks',
    rimKept: 'changes by less than 2 %',
    rimTogether: '{length} mm ({corners} together)',
    thickest: 'Thickest corner',
    thickestFrom: 'from {thickness} mm',
    anneals: 'Anneals',
    mass: 'Mass',
    massOf: 'of the blank',
    cutLength: 'Cut length',
  },
  noAnneals: 'none needed',
  neverAnneal: 'must not be annealed',
  noHelp: 'Changing these alone would not help: {list}.',
  cutShort: 'The search was cut short: there may be other changes that help.',
  noFlat: 'No flat to cut',
  pictures: {
    blank: 'The blank, {length} by {width} mm, with its scribe lines and gather zones.',
    formed: 'The formed tray seen from an angle, {height} mm high.',
    blankCaption: 'The blank, {length} × {width} mm',
  },

  /** The sizes on the printed sheet. */
  sizes: {
    name: 'Name',
    measured: 'Measured',
    /** By the value in the tray file. */
    skins: { outside: 'outside', inside: 'inside' },
    lengthAndWidth: 'Length × width',
    cornerRadius: 'Corner radius',
    plan: 'Plan',
    corners: plural({ other: '{count} corners' }),
    height: 'Height',
    bottomRadius: 'Bottom radius',
    draft: 'Draft',
    sheet: 'Sheet',
    grain: 'Grain',
    trim: 'Trim',
  },

  // Files to take away
  toPrint: 'To print',
  toLookAt: 'To look at',
  forPrograms: 'For other programs',
  toCut: 'To cut, and for CAD',
  save: 'Save',
  saveFormat: 'Save {format}',
  setting: '{help}, {unit}',
  marked: 'DXF drawing with marks for marking out, not for cutting',

  // A table of sizes
  table: {
    noName: '(no name)',
    cannotBeMade: 'cannot be made',
    reading: 'Reading {file}',
    solving: plural({ one: 'Solving {count} tray', other: 'Solving {count} trays' }),
    progress: '{done} of {total} solved',
    solved: plural({ one: '{count} tray solved', other: '{count} trays solved' }),
    solvedSome: plural({
      one: '{count} tray solved, {failed} cannot be made',
      other: '{count} trays solved, {failed} cannot be made',
    }),
    stopped: 'Stopped after {done} of {total}',
    brokenOff: 'Broken off after {done} of {total}',
    brokenOffByService: 'The service broke off before the table was done; try again.',
    connectionLost: 'The connection was lost before the table was done; try again.',
    tickOne: 'Tick at least one kind of file for the archive.',
    archiving: 'Making the archive',
  },
};
