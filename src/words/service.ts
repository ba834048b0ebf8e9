/** What the page and the order note say of a tray; the note is plain text that goes to the cutting service. */
export const service = {
  /** Where a tray stands that is a file of its own, and no row of a table. */
  wholeFile: 'tray',
  noAnneal: 'The sheet takes this work without an anneal.',
  anneal: (low: string, high: string, cue: string) =>
    `Anneal at ${low} to ${high} °C. What to look for: ${cue}`,
  annealFirst: (low: string, high: string, cue: string) =>
    `This sheet is sold hard: anneal the whole blank before the first stage, at ${low} to ${high} °C. What to look for: ${cue}`,
  pictures: {
    gather: 'gather, % of length',
    blank: (name: string) => `${name}, blank`,
    formed: (name: string) => `${name}, formed`,
  },
  order: {
    title: 'Order note for cutting a flat blank',
    date: 'Date',
    revision: 'Revision',
    contact: 'Contact',
    part: 'Part',
    quantity: 'Quantity',
    onePiece: '1 piece',
    pieces: (count: string) => `${count} pieces`,
    sheet: 'Sheet',
    sheetNamed: (name: string, title: string) => `${name} (${title})`,
    thickness: 'Thickness',
    size: 'Overall size',
    sizeIs: (length: string, width: string) =>
      `${length} x ${width} mm. The drawing is in millimetres at scale 1:1; if it measures otherwise on your screen, ask before cutting.`,
    mass: 'Mass',
    massEach: (kilograms: string) => `${kilograms} kg each`,
    cutLength: 'Cut length',
    cutOnce: (metres: string) => `${metres} m each, pierced once`,
    cutTimes: (metres: string, times: string) => `${metres} m each, pierced ${times} times`,
    grain: 'Grain',
    grainIs: (degrees: string) =>
      `Rolling direction of the sheet at ${degrees} degrees to the x axis of the drawing, counter-clockwise. When nesting turn the part by half a turn only.`,
    side: 'Side',
    sideIs:
      'The face drawn is the inside of the tray. Keep it free of scratches, and put no mark on it that is not asked for.',
    tolerance: 'Tolerance',
    /** By the way it is cut. ISO 9013 is for thermal cuts; class 1 is the finer of its two. */
    tolerances: {
      laser: 'We ask for ISO 9013, tolerance class 1. If you work to another, tell us which before you cut.',
      plasma: 'We ask for ISO 9013, tolerance class 2. If you work to another, tell us which before you cut.',
      'water jet':
        'We ask for +/- 0.3 mm on the outline and the holes. If you work to another, tell us which before you cut.',
      hand: 'We ask for +/- 0.5 mm on the outline and the holes. If you work to another, tell us which before you cut.',
    },
    kerf: 'Kerf',
    kerfCompensated: (mm: string) =>
      `The outline is already moved out by half a kerf of ${mm} mm: cut on the line, do not compensate.`,
    kerfLeft: 'Yours: the outline is the finished size, so compensate for your own kerf.',
    edges: 'Edge finish',
    edgesAre:
      'As cut, free of burr on both faces. No tags in the rounded parts of the outline, where the metal is gathered.',
    toCut: 'To be cut',
    cutAlone: 'Cut this drawing and no other. It holds what is cut and nothing else:',
    notToCut: 'Not to be cut',
    sameCut: (layer: string) =>
      `For marking out. ${layer} shows the same blank once more; cut nothing from this drawing. The marks are open lines and text:`,
    files: 'Files',
    otherFiles: 'Other files, not part of this order',
    care: 'Take care',
  },
};
