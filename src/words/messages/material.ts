/** What is wrong with a sheet, or with the figures given to a law or a limit. Names of fields stand as they are. */
export const material = {
  notInTable: (field: string, name: string, first: string, second: string, third: string) =>
    `${field} is '${name}', which is not in the table of sheets; the nearest names are ${first}, ${second} and ${third}, or give the material in full.`,
  nearInTable: (field: string, name: string, near: string, title: string) =>
    `${field} is '${name}', which is not in the table of sheets; the nearest is ${near} (${title}): give that name, or the material in full.`,
  thickness: (field: string, thickness: string, material: string, least: string, most: string) =>
    `${field} is ${thickness} mm; ${material} is taken from ${least} to ${most} mm.`,
  grain: (field: string, grain: string) =>
    `${field} is ${grain}; it must be the rolling direction in degrees from the plan's x axis.`,

  // A material in full
  range: (field: string, value: string, least: string, most: string) =>
    `${field} is ${value}; it must be a number from ${least} to ${most}.`,
  rangeOf: (field: string, value: string, least: string, most: string, unit: string) =>
    `${field} is ${value}; it must be a number from ${least} to ${most} ${unit}.`,
  tensileBelowYield: (field: string, tensile: string, yieldStrength: string) =>
    `${field} is ${tensile} N/mm², less than the yield strength of ${yieldStrength} N/mm²; it must be at least that.`,
  strainBudget: (field: string, budget: string) =>
    `${field} is ${budget}; it must be a logarithmic strain above 0 and up to 5.`,
  annealTemperature: (field: string, first: string, second: string) =>
    `${field} is ${first} to ${second} °C; it must rise from its first to its second value, between 20 and 1500 °C.`,
  coatedNotAnnealed: (field: string, coatingField: string, coating: string) =>
    `${field} is given, but ${coatingField} is "${coating}", and a coated sheet must not be annealed; leave the temperature out, or give the coating "none" if it is stripped before.`,
  annealMelts: (field: string, temperature: string, family: string, melts: string) =>
    `${field} goes up to ${temperature} °C, but ${family} melts at ${melts} °C or before; give lower temperatures.`,
  annealedStrainBudget: (field: string, budget: string, least: string) =>
    `${field} is ${budget}; it must be a logarithmic strain above the ${least} that the sheet takes before its first anneal, and up to 5.`,
  hexagonal: (field: string, family: string) =>
    `${field} is given, but the crystals of ${family} are hexagonal, and the law for strengths is for cubic ones; leave it out.`,
  crystalMissing: (field: string) =>
    `${field} is missing; give "bcc" for steel and ferritic stainless steel, "fcc" for aluminium, copper, brass and austenitic stainless steel (such as 1.4301).`,
  noLaw: (field: string, strengths: string, r: string, nearestStrengths: string, nearestR: string) =>
    `${field} cannot be right together with the r-values: no convex law gives back strengths of ${strengths} with r of ${r} (along, at 45°, across, biaxial); as near as one comes from an even sheet it has ${nearestStrengths} with r of ${nearestR}; check these figures, or leave the strengths out.`,

  // Bends
  thicknessNotPositive: (thickness: string) => `The thickness is ${thickness} mm; it must be above 0.`,
  insideRadius: (radius: string, thickness: string, least: string) =>
    `The inside radius is ${radius} mm; with a thickness of ${thickness} mm it must be at least ${least} mm.`,

  trialBend: (opened: string, radius: string, least: string, most: string) =>
    `The trial bend opened by ${opened}°; a strip of this sheet bent by 90° over a former of radius ${radius} mm opens by ${least} to ${most}°.`,

  // Buckling
  halfWave: (halfWave: string, least: string) =>
    `The half-wave is ${halfWave} times the width; it must be a number from ${least} up.`,
  poisson: (ratio: string) => `Poisson's ratio is ${ratio}; it must be from 0 to 0.5.`,
  tangentRatio: (ratio: string) =>
    `The ratio of tangent to secant modulus is ${ratio}; it must be from 0 to 1.`,
  notPositive: {
    thickness: (value: string) => `The thickness is ${value}; it must be above 0.`,
    flangeWidth: (value: string) => `The width of the flange is ${value}; it must be above 0.`,
    flangeLength: (value: string) => `The length of the flange is ${value}; it must be above 0.`,
    hardeningExponent: (value: string) => `The hardening exponent n is ${value}; it must be above 0.`,
  },
};
