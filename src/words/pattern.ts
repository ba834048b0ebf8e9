/** Warnings and notes of a flat pattern. */
export const pattern = {
  stretchesUnevenly: (percent: string, material: string, limit: string) =>
    `The metal stretches by ${percent} % up the wall at a corner, more than ${material} stretches evenly (${limit} %): keep the shrinking ahead of the stretching, or choose a lower wall or a larger corner radius.`,
  uncertain: (mm: string) => `The outline is uncertain by about ${mm} mm; leave more trim.`,
  kerfCompensated: (half: string) =>
    `The outline is moved out by half the kerf (${half} mm): tell the cutting service not to compensate again.`,
  kerfLeft: 'The outline is the finished size: the cutting service allows for its own kerf.',
  holeDistorts: (name: string, percent: string) =>
    `The hole ${name} lies where the metal is strained by ${percent} %: its place comes out right but its shape will distort in the forming; drill it afterwards, or move it.`,
  holeNearBend: (name: string, mm: string, thicknesses: string, least: string) =>
    `The hole ${name} is ${mm} mm from a bend, less than ${thicknesses} sheet thicknesses (${least} mm): its edge will pull out of shape.`,
};
