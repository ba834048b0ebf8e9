/** What is said of a drawing that becomes the plan of a tray. */
export const drawnPlan = {
  title: 'The plan in the drawing',
  size: (length: string, width: string, inchLength: string, inchWidth: string) =>
    `${length} × ${width} mm, ${inchLength} × ${inchWidth} in`,
  figures: (length: string, width: string) => `${length} × ${width} in the unit of the drawing`,
  grid: (grid: string) => `one square is ${grid}`,
  rectangle: 'The plan is a rectangle: its sizes are in the form, and its middle is the origin.',
  oldPlanLeftOut:
    'Holes, heights of single sides and single corners of the tray shown before were left out: they belong to its plan.',
  noUnitFits: (length: string, width: string, least: string, most: string) =>
    `The plan is drawn ${length} × ${width} large, which is no tray in any unit; a plan of ${least} to ${most} mm is accepted.`,
};
