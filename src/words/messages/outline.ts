/** What is wrong with an outline, or with what it is to be fitted through. */
export const outline = {
  // Fitting lines and arcs
  cornerNoSample: (corner: string, last: string) =>
    `Corner ${corner} is not the number of a sample (0 to ${last}).`,
  cornerMidEdge: (corner: string) =>
    `Corner ${corner} is the middle of a quadratic edge; even numbers are accepted.`,
  turnsTooSharply: (x: string, y: string, least: string) =>
    `The outline turns too sharply near (${x}, ${y}) mm to be followed by smooth arcs of at least ${least} mm.`,
  fewSamples: (least: string, found: string) => `A fit takes at least ${least} samples; found ${found}.`,
  notPositive: (name: string, value: string) => `${name} is ${value}; a number of mm above 0 is accepted.`,
  notRadians: (name: string, value: string) => `${name} is ${value}; radians are accepted.`,
  evenRow: (found: string) => `Quadratic edges have an odd number of nodes in a row; found ${found}.`,
  oddLoop: (found: string) => `Quadratic edges have an even number of nodes in a loop; found ${found}.`,
  sampleNoNumber: (sample: string, next: string) => `Sample ${sample} or ${next} is not a number.`,
  samplesSame: (sample: string, next: string) => `Samples ${sample} and ${next} are the same.`,

  // Offsets
  offsetOfWhat: (distance: string) => `An offset of ${distance} mm needs a closed outline and a number.`,
  noSingleOutline: {
    outward: (distance: string, most: string) =>
      `Moving the outline outward by ${distance} mm leaves no single outline; at most ${most} mm works.`,
    inward: (distance: string, most: string) =>
      `Moving the outline inward by ${distance} mm leaves no single outline; at most ${most} mm works.`,
  },
  trimTooLarge: {
    tightCurve: (distance: string) =>
      `The outline cannot be moved out by ${distance} mm: an inward curve of the outline is too tight; give a smaller forming.trim.`,
    crosses: (distance: string) =>
      `The outline cannot be moved out by ${distance} mm: the outline would cross itself; give a smaller forming.trim.`,
    piecesApart: (distance: string) =>
      `The outline cannot be moved out by ${distance} mm: two of its pieces do not meet any more; give a smaller forming.trim.`,
  },
};
