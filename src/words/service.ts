/** What the page and the order note say of a tray; the note is plain text that goes to the cutting service. */
export const service = {
  noAnneal: 'The sheet takes this work without an anneal.',
  anneal: (low: string, high: string, cue: string) => `Anneal at ${low} to ${high} °C. ${cue}`,
  annealFirst: (low: string, high: string, cue: string) =>
    `This sheet is sold hard: anneal the whole blank before the first stage, at ${low} to ${high} °C. ${cue}`,
  pictures: {
    gather: 'gather, %',
    blank: (name: string) => `${name}, blank`,
    formed: (name: string) => `${name}, formed`,
  },
  order: {
    title: 'Order note for cutting a flat blank',
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
      `Rolling direction at ${degrees} degrees to the x axis of the drawing, as the arrow shows. Turn the part only with the arrow.`,
    side: 'Side',
    sideIs:
      'The face drawn is the inside of the tray. Keep it free of scratches and of marks other than those drawn.',
    kerf: 'Kerf',
    kerfCompensated: (mm: string) =>
      `The outline is already moved out by half a kerf of ${mm} mm: cut on the line, do not compensate.`,
    kerfLeft: 'Yours: the outline is the finished size, so compensate for your own kerf.',
    edges: 'Edges',
    edgesAre: 'Free of burr. No tags in the rounded parts of the outline, where the metal is gathered.',
    layers: 'Layers of the drawing',
    files: 'Files',
    care: 'Take care',
  },
};
