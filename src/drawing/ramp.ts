/**
 * One ramp of colours for gather: even to the eye, and telling everything by lightness alone, so that it
 * survives a grey print and serves people who see few colours.
 *
 * The path is our own: from paper white over straw and copper to a dark plum, as a curve in OKLab whose
 * lightness falls all the way. It is walked at constant speed (equal steps in value are equal distances in
 * OKLab). Source of OKLab and of its matrices: Björn Ottosson (2020), A perceptual color space for image
 * processing. Source of the sRGB transfer curve: IEC 61966-2-1 (from memory).
 */
import { pow } from '../elementary.ts';

const cube = (x: number): number => x * x * x;

/** Lightness, chroma and hue (degrees) that the path runs through, evenly spaced. */
const STOPS: readonly (readonly [number, number, number])[] = [
  [0.985, 0.006, 95],
  [0.9, 0.065, 85],
  [0.78, 0.115, 65],
  [0.64, 0.135, 45],
  [0.5, 0.125, 22],
  [0.38, 0.1, 355],
  [0.27, 0.07, 330],
];
const SAMPLES = 256;

/** A colour in OKLab. */
export type Lab = readonly [lightness: number, a: number, b: number];

/** The ramp as colours at even steps, computed once. */
const TABLE: readonly Lab[] = evenTable();

/** Colour of a value, 0 (no gather) to 1 (the most the scale shows), as OKLab. Values outside are held. */
export function rampLab(value: number): Lab {
  const at = Math.min(1, Math.max(0, value)) * (SAMPLES - 1);
  const i = Math.min(SAMPLES - 2, Math.floor(at));
  return mix(TABLE[i]!, TABLE[i + 1]!, at - i);
}

/** The same as `#rrggbb`. */
export function rampColour(value: number): string {
  return `#${linearRgb(rampLab(value))
    .map((channel) =>
      Math.round(255 * encoded(Math.min(1, Math.max(0, channel))))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;
}

/** OKLab to linear sRGB; a channel outside 0 to 1 is a colour no screen has. */
export function linearRgb([lightness, a, b]: Lab): [number, number, number] {
  const l = cube(lightness + 0.3963377774 * a + 0.2158037573 * b);
  const m = cube(lightness - 0.1055613458 * a - 0.0638541728 * b);
  const s = cube(lightness - 0.0894841775 * a - 1.291485548 * b);
  return [
    4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
    -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s,
  ];
}

/** Transfer curve of sRGB, linear to encoded. */
const encoded = (value: number): number =>
  value <= 0.0031308 ? 12.92 * value : 1.055 * pow(value, 1 / 2.4) - 0.055;

function mix(from: Lab, to: Lab, part: number): Lab {
  return [
    from[0] + part * (to[0] - from[0]),
    from[1] + part * (to[1] - from[1]),
    from[2] + part * (to[2] - from[2]),
  ];
}

/** A smooth curve through the stops (Catmull–Rom), then walked at constant speed. */
function evenTable(): Lab[] {
  const stops = STOPS.map(([lightness, chroma, hue]): Lab => {
    const angle = (hue * Math.PI) / 180;
    return [lightness, chroma * Math.cos(angle), chroma * Math.sin(angle)];
  });
  const fine: Lab[] = [];
  const steps = 2000;
  for (let k = 0; k <= steps; k++) {
    const at = (k / steps) * (stops.length - 1);
    const i = Math.min(stops.length - 2, Math.floor(at));
    fine.push(curvePoint(stops, i, at - i));
  }
  const walked = [0];
  for (let k = 1; k < fine.length; k++) walked.push(walked[k - 1]! + distance(fine[k - 1]!, fine[k]!));
  const whole = walked[steps]!;
  const table: Lab[] = [];
  let k = 0;
  for (let i = 0; i < SAMPLES; i++) {
    const target = (whole * i) / (SAMPLES - 1);
    while (k < steps - 1 && walked[k + 1]! < target) k++;
    table.push(mix(fine[k]!, fine[k + 1]!, (target - walked[k]!) / (walked[k + 1]! - walked[k]!)));
  }
  return table;
}

function curvePoint(stops: readonly Lab[], i: number, t: number): Lab {
  const at = (j: number): Lab => stops[Math.min(stops.length - 1, Math.max(0, j))]!;
  const [p0, p1, p2, p3] = [at(i - 1), at(i), at(i + 1), at(i + 2)];
  const value = (c: 0 | 1 | 2): number =>
    0.5 *
    (2 * p1[c] +
      (p2[c] - p0[c]) * t +
      (2 * p0[c] - 5 * p1[c] + 4 * p2[c] - p3[c]) * t * t +
      (3 * p1[c] - p0[c] - 3 * p2[c] + p3[c]) * t * t * t);
  return [value(0), value(1), value(2)];
}

function distance(p: Lab, q: Lab): number {
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}
