/** Head and foot of the page. */
export const top = {
  title: 'gatherpan: flat blanks for trays',
  description: 'The flat blank of a one-piece sheet-metal tray with gathered corners.',
  skip: 'Skip to the result',
  what: 'The flat blank of a tray that is shaped by hand from one sheet, and what its corners will ask of you.',
  noScript: 'This page needs JavaScript to show a tray. The same can be had from the command `gatherpan`.',
  foot: {
    care: 'Figures are computed, not measured: make one trial corner before a series. Nothing you enter is kept on the server.',
    interface: 'HTTP interface (OpenAPI)',
    sheets: 'Sheets and their sources',
    problems: 'Error codes',
  },
};
