/** What is wrong with blanks and stock sheets. */
export const layout = {
  tooMany: (blanks: string, most: string) =>
    `${blanks} blanks are asked for; at most ${most} are laid out at once.`,
  tooLarge: (tray: string, length: string, width: string, sheetLength: string, sheetWidth: string) =>
    `The blank of ${tray} is ${length} x ${width} mm as it has to lie, and the sheet within its edge is ${sheetLength} x ${sheetWidth} mm; give a larger sheet or a smaller tray.`,
  tooLargeAlong: (tray: string, length: string, width: string, sheetLength: string, sheetWidth: string) =>
    `The blank of ${tray} is ${length} x ${width} mm as it has to lie, and the sheet within its edge is ${sheetLength} x ${sheetWidth} mm; give a larger sheet or a smaller tray, or let the grain lie freely (--grain free).`,
  blocksInR12:
    'Blocks are not drawn in R12: controllers that are too old for more seldom read them; leave out --parts block, or choose --dxf-version R2000.',
  otherSheet: 'All trays are solved: the same command with --resume and another --sheet lays them out.',
  stopped: 'Stopped; nothing was written.',
  stoppedLooking: 'Stopped before the layout was found.',
  /** What the layer with the edge of the sheet is for. */
  sheetEdge: 'edge of the stock sheet, for reading only, never cut',
};
