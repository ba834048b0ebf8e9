/** What the page's scripts say, when it is known what there is to say. */
import { plural } from './plural.ts';

export const scripts = {
  // The service
  unreachable: 'The service cannot be reached; is it running?',
  status: 'The service answers with status {status}.',
  lost: 'The connection was lost; try again.',
  version: 'Version {version}',

  // The tray that is shown
  summary: '{verdict}. Blank {size}.',
  summaryNoFlat: '{verdict}. There is no flat to cut.',
  summaryOfPart: '{file}: {verdict}. Blank {size}.',
  summaryOfPartNoFlat: '{file}: {verdict}. There is no flat to cut.',
  working: 'Working …',
  workingFor: 'Working … {seconds} s',
  live: 'Live, within {accuracy} …',
  stopped:
    'Stopped. Shown is the last tray that was solved, not the one in the form. Change a size to try again.',
  stale: 'Shown is the last tray that could be solved, not the one in the form.',
  cannotSave: 'The tray in the form cannot be solved yet, so there is nothing to save. See the form.',
  use: 'Use {value}',
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
  notJson: 'This is not JSON: {fault}.',
  /** Rows of the form, one a corner, a side or a hole. */
  rows: {
    cornerRadius: 'Radius at {corner}',
    cornerMaking: 'Corner {corner} is',
    gather: 'gathered, in one piece',
    notch: 'cut out and welded',
    /** Of a rectangle, in the order of its sides. */
    places: ['top', 'left', 'bottom', 'right'],
    rectangleSide: '{side} ({place})',
    sideHeight: 'Height of {side}',
    sideOpen: '{side} open',
    hole: 'Hole {number}',
    oneMoreHole: 'Add hole {number}',
    none: 'choose a shape',
    without: 'take it away',
    round: 'round',
    slot: 'slot',
    polygon: 'with corners',
    place: 'It is in',
    onBase: 'the base',
    onWall: 'the wall {side}',
    x: 'To the right',
    y: 'Upwards',
    along: 'Along',
    height: 'Height',
    diameter: 'Diameter',
    length: 'Length',
    width: 'Width',
    angle: 'Turned by, °',
    points: 'Its corners: right and up, a ; between',
  },
  planPicture: 'Plan of the tray, seen from above; A is at the top right.',
  ownPlan: 'The plan comes from the file.',
  ownPlanCorners: plural({ other: 'The plan comes from the file: {count} corners.' }),
  /** What a gauge or another name for a sheet was taken for. */
  gaugeTaken: 'taken as {thickness}',
  sheetTaken: '{name}: {title}',
  sheetNear: 'Nearest in the table: {name} ({title})',

  // A drawing that leaves something open
  drawing: {
    of: '{file} does not say everything. Nothing is taken from it until you do.',
    choose: 'Choose',
    size: '{length} × {width} {unit}',
    sizeInMillimetres: '{length} × {width} {unit} ({lengthInMillimetres} × {widthInMillimetres} mm)',
    place: 'x {x}, y {y}',
    outline: '{length} × {width}, its middle at x {x}, y {y}',
    corners: plural({
      one: '{count} corner is drawn sharp: {places}. It is formed with this radius, seen from above.',
      other: '{count} corners are drawn sharp: {places}. They are formed with this radius, seen from above.',
    }),
    missing: 'Answer this first.',
    picture: 'The outline in the drawing, over a grid.',
  },

  // Figures
  range: '{from} to {to}',
  figures: {
    blank: 'Size to cut',
    rimToLose: 'Rim to lose',
    rimEach: 'at each corner',
    rimKept: 'less than 2 %',
    anneals: 'Anneals',
    thickest: 'Thickest corner',
    thickestFrom: 'from {thickness}',
    mass: 'Mass of the blank',
    cutLength: 'Cut length',
    area: 'Area of the blank',
  },
  noAnneals: 'none needed',
  neverAnneal: 'must not be annealed',
  whenAnnealed: {
    before: 'before stage {stage}',
    after: 'after stage {stage} ({angle}°)',
    within: 'in stage {stage} ({angle}°)',
  },
  atPoint: '{thickness} thick; gathers by {gather} %, stretches by {stretch} %',
  corners: {
    corner: 'Corner',
    cornerRadius: 'Corner radius',
    rimToLose: 'Rim to lose',
    gather: 'Gather',
    stretch: 'Stretch',
    thickness: 'Thickness',
    together: '{length} together',
  },
  searching: 'Looking for changes that would help …',
  noHelp: 'Changing these alone would not help: {list}.',
  cutShort: 'The search was cut short: there may be other changes that help.',
  pictures: {
    blank: 'The blank, {size}, with its scribe lines and gather zones.',
    formed: 'The formed tray seen from an angle, {height} high.',
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
  making: 'Making it …',
  linkCopied: 'Copied: the link opens this tray in any browser that reaches this page.',
  linkNotCopied: 'This browser does not let the page copy. The link is in its address line.',

  phonePicture: 'The link to this tray, as a code for a camera.',
  linkTooLongForPhone:
    'The link to this tray is too long for a code that a camera reads. Copy the link, or save the tray file.',

  // What is kept
  keptNot: 'This browser keeps nothing for this page ({fault}). The link in the address line has the tray.',
  keptFull: 'There is no more room in this browser: the oldest trays went.',
  keptNone: 'No tray yet.',
  linkTooLong: 'This tray is too large for the address line. Save the tray file to keep it.',
  linkWrong: 'The link holds no tray that can be read.',

  // Without network
  offlineReady:
    'The page and all that it solves with are on this device: it opens and works without network.',
  offlineNot:
    'Browsers keep a page for use without network only if it comes over HTTPS or from this very device. Here it needs the network to open; once open, it goes on without.',
  offlineComing: 'The page is being stored on this device.',
  offlineFailed: 'The page could not be stored on this device ({fault}).',
  offlineRemoved: 'Removed from this device. The next visit stores it again.',
  offlineNewer: 'A newer version of this page is ready.',

  // A table of sizes
  table: {
    noName: '(no name)',
    cannotBeMade: 'cannot be made',
    reading: 'Reading {file}',
    /** They would keep a browser for minutes. */
    tooMany:
      'A table of more than {most} rows is sent to the service, which solves it faster than this browser. With {most} rows or fewer at a time it stays on this device.',
    madeByService:
      'Only the service makes these, so the table is sent to it: {formats}. Without them it stays on this device.',
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

  // At the bench
  bench: {
    part: '{number} of {count}: {title}',
    wrongTray: 'This address holds no tray. Open the form, and take "Bench view" there.',
    needsSolver:
      'This browser cannot solve the tray itself; the service can, and shows the same as a plain page.',
    solving: 'Working out the stages …',
    turns: 'Corners in turn',
    done: 'Corner {corner} is done',
    note: 'Note what you measure',
    wanted: 'should be {value}',
    as: 'as it should be',
    more: '{value} more than it should be',
    less: '{value} less than it should be',
    noNumber: 'This is no number.',
    troubles: 'What goes wrong here',
    cautions: 'Cautions',
    trial: {
      title: 'Trial corner',
      how: 'Work one corner as you always do, and measure it before you trim the rim: all that you have, one is enough. It tells your hand, and how to cut the blank for it.',
      sheet: 'What to measure, and with what (PDF)',
      corner: 'Corner',
      middle: "Rim above the table, corner's middle ({unit})",
      start: 'Rim above the table, corner begins ({unit})',
      end: 'Rim above the table, corner ends ({unit})',
      thickness: "Thickness of the rim, corner's middle ({unit})",
      dots: 'Dots apart, formed, outside ({unit}); {apart} when flat, {inset} from the edge',
      find: 'Find my hand',
      finding: 'Solving for the hand …',
      out: 'Corner {letter}: the cut line moves out by {move}.',
      in: 'Corner {letter}: the cut line moves in by {move}.',
      use: 'Cut this tray for it',
      used: 'This tray is now cut for a hand of {hand}; go back to the form for its files.',
      keepTitle: 'Keep it',
      name: 'Name of the trial',
      person: 'Who worked it',
      keep: 'Keep',
      nameless: 'Give the trial a name first.',
      kept: 'Kept trials',
      none: 'None is kept yet.',
      one: '{name} ({person}), {material}, {thickness}: {hand} % of the gather goes up the wall, between {low} and {high} %',
      nobody: 'nobody named',
      otherSheet:
        '{name} was worked of another sheet ({material}, {thickness}): the same person may have another hand on this one.',
      useIt: 'Cut this tray for {name}',
      forget: 'Forget {name}',
      save: 'Save all as a file',
      open: 'Open a file of trials',
      notTrials: '{file} holds no trials.',
      unreadable:
        'The trials kept here cannot be read any more: {fault} What you keep now takes their place.',
    },
    notKept: 'Ticks and notes are not kept: the browser refuses to ({fault}).',
  },
};
