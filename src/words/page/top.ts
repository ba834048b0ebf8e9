/** Head and foot of the page. */
export const top = {
  title: 'gatherpan: flat blanks for trays',
  description: 'The flat blank of a one-piece sheet-metal tray with gathered corners.',
  skip: 'Skip to the result',
  units: 'Unit of the page',
  open: 'Open file',
  openHint: 'Tray file (JSON), table of sizes (CSV), plan (DXF) or solid (STEP)',
  undo: 'Undo',
  redo: 'Redo',
  foot: {
    what: 'gatherpan works out the flat blank of a tray that is shaped by hand from one sheet, and what its corners will ask of you.',
    care: 'Figures are computed, not measured: make one trial corner before a series.',
    interface: 'HTTP interface (OpenAPI)',
    sheets: 'Sheets and their sources',
    problems: 'Error codes',
  },
};
