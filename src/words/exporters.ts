/** What formats are called and what their settings do: in the form, in `--help` and in the manifest of archives. */
const picture = {
  form: 'figures beside the blank (A4 across) or below it (for a phone)',
  contours: 'lines of equal gather with their levels',
  figures: 'the figures beside or below the blank',
};
const card = {
  paper: 'size of the sheet of paper',
  plan: 'stages and annealing; takes longer',
  stages: "number of stages; 0 for the tray's own",
  strip: 'height of a strip to be welded on the rim; 0 for none',
};

export const exporters = {
  unit: 'lengths in the unit of the tray file (own), in mm, in decimal inches, or in inches with fractions to 1/64',
  paper: 'size of the sheets of paper',
  trialBend:
    'by how much a strip opened that you bent by 90° over the inside bottom radius and let go; 0 to reckon with the table of sheets',
  large: 'what is larger than the sheet: over several sheets to be joined, or on a page of its own size',
  dxf: {
    label: 'DXF drawing for laser, plasma or water-jet cutting: what is cut and nothing else',
    marks: 'marks besides the cut, each kind on a layer of its own; such a drawing is not for cutting',
    version: 'version of DXF: R2000 (AC1015), or R12 (AC1009) for old controllers',
    earlier: 'from version 0.1; set marks instead',
  },
  json: {
    label: 'Report as JSON, for other programs',
    compact: 'everything on one line, without spaces',
  },
  step: {
    label: 'Flat blank as a solid, STEP (AP214 or AP242)',
    protocol: 'application protocol of the file',
    scribeLines: 'the scribe lines too, as curves on the upper face',
  },
  formedStep: {
    label: 'Finished tray as a solid of nominal thickness, STEP (AP214 or AP242)',
    protocol: 'application protocol of the file',
    withoutReliefs: 'The holes at the roots of the notches are in the blank and not shown here.',
    realThickness: (nominal: string, thin: string, thick: string) =>
      `The solid is ${nominal} mm thick all over; the formed sheet is really from ${thin} to ${thick} mm.`,
  },
  svg: { label: 'Picture of the blank with its gather (SVG)', ...picture },
  png: {
    label: 'Picture of the blank with its gather (PNG)',
    ...picture,
    dotsPerInch: 'dots per inch; 300 for print, 96 for a screen',
  },
  template: {
    label: 'Full-size template to print, on sheets or on a roll (PDF)',
    paper: 'sheets of a size, or a roll',
    rollWidth: 'width of the roll',
    margin: 'what the printer leaves free on each side',
    overlap: 'how far pages lie over one another',
    contours: 'lines of equal gather',
    tucks: 'marks where the tucks are set, or the rows of blows',
    dots: 'dots of the trial corner, see trial-pdf',
    tables: 'tables for marking out without a printer',
    rehearsal:
      'a corner to rehearse in paper, last of all, where a sheet has room for it; rehearsal-pdf has it at any size',
  },
  marking: {
    label: 'Drawing and tables for marking out with square, rule and trammel (PDF)',
    tolerance: 'how far a line marked out may lie off the true one',
    trammel: 'longest radius of your trammel',
  },
  rehearsal: { label: 'Rehearsal in paper: a corner at full size with darts to fold (PDF)' },
  trial: { label: 'Trial corner: what to measure, and with what (PDF)' },
  bench: { label: 'Bench sheets: tools, marking, stage by stage, and after (PDF)' },
  cardPdf: { label: 'Shop card for the bench (PDF)', ...card },
  cardSvg: { label: 'Shop card for the bench (SVG)', ...card },
  dxfOf: (what: string) => `${what} (DXF)`,
  pdfOf: (what: string) => `${what} (PDF)`,
  gauges: {
    label: 'Gauges for radii, corners, sections and crowns',
    hammerRadius: "crown radius of the hammer's face",
    dollyRadius: 'crown radius of the dolly; 0 for the one that goes into the bottom bend',
    face: 'width of face the crown gauges cover',
    stages: "number of stages with a section gauge; 0 for the tray's own",
  },
  former: {
    label: 'Former block to hammer over, as plies',
    clearance: "between the block and the tray's inside",
    ply: 'thickness of a ply',
    overbend: 'sides that lean in by what the sheet springs back',
  },
  strip: {
    label: 'Strip to weld on the rim for more height',
    height: 'height of the strip',
    thickness: "thickness of the strip; 0 for the tray's sheet",
    flush: 'which faces of strip and wall are flush',
    joint: 'how the ends of the strip meet',
    allowance: 'gap of a butt joint or length of an overlap',
    stock: 'length of the stock the strip is cut from',
  },
};
