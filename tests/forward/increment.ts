/**
 * Plastic work of one step at one point: a rigid-plastic sheet with Hill's quadratic function of 1948 and Swift's
 * hardening, that has an equivalent strain behind it and is stretched on by a metric C.
 *
 * The logarithmic strain of the step, ½ ln C, is written in m = (C11 + C22)/2, d = (C11 − C22)/2 and c = C12:
 * with z = (d² + c²)/m² and g(z) = artanh(√z)/√z, E11 + E22 = ½ ln(m² − d² − c²), E11 − E22 = d·g/m, 2·E12 = c·g/m.
 * (Eigenvalues m ± m√z; derived.) g is smooth where the stretches are equal, and so are its derivatives.
 */
import type { LawParameters } from '../../src/material/law.ts';
import { stressMatrix } from '../support/hill.ts';
import { solveLinear } from '../support/smallMatrices.ts';

export interface StepLaw {
  readonly K: number;
  readonly epsilon0: number;
  readonly n: number;
  /** Of ε̄² = yᵀQy, y = (E11 + E22, E11 − E22, 2·E12) with 1 along the plan's x axis; row by row. */
  readonly form: readonly number[];
  /** Rounds the work off at rest: Δε̄ → √(Δε̄² + δ²) − δ. */
  readonly smoothing: number;
}

/** @param sheet with its rolling direction along x */
export function stepLaw(sheet: LawParameters, smoothing: number): StepLaw {
  const inverse = [0, 1, 2].map((k) =>
    solveLinear(
      stressMatrix(sheet),
      [0, 1, 2].map((i) => (i === k ? 1 : 0)),
    ),
  );
  // Rows give (E11, E22, 2·E12) from y.
  const rows = [
    [0.5, 0.5, 0],
    [0.5, -0.5, 0],
    [0, 0, 1],
  ];
  const form: number[] = [];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++) sum += rows[a]![i]! * inverse[a]![b]! * rows[b]![j]!;
      form.push(sum);
    }
  const { K, epsilon0, n } = sheet;
  return { K, epsilon0, n, form, smoothing };
}

/** What `increment` fills: work, first derivatives by (C11, C22, C12) and second ones (11 12 13 22 23 33). */
export interface Increment {
  work: number;
  strain: number;
  readonly first: Float64Array;
  readonly second: Float64Array;
}

export const newIncrement = (): Increment => ({
  work: 0,
  strain: 0,
  first: new Float64Array(3),
  second: new Float64Array(6),
});

const y = new Float64Array(3);
const slope = new Float64Array(9); // of y by (m, d, c), row by row
const bend = new Float64Array(18); // second derivatives of y, each mm md mc dd dc cc
const gradient = new Float64Array(3);
const w1 = new Float64Array(3);
const w2 = new Float64Array(9);
const ENTRY = [0, 1, 2, 1, 3, 4, 2, 4, 5] as const;

/**
 * @param before equivalent strain before the step
 * @param second whether second derivatives are wanted
 * @param ease   from 0, the true second derivatives, to 1, those of a work that grows with the square of the strain
 */
export function increment(
  law: StepLaw,
  before: number,
  c11: number,
  c22: number,
  c: number,
  second: boolean,
  out: Increment,
  ease = 0,
): void {
  const m = (c11 + c22) / 2;
  const d = (c11 - c22) / 2;
  const q = d * d + c * c;
  const D = m * m - q;
  if (!(D > 0)) {
    out.work = Number.POSITIVE_INFINITY;
    return;
  }
  const z = q / (m * m);
  let g: number;
  let g1: number;
  let g2: number;
  if (z < 1e-3) {
    g = 1 + z * (1 / 3 + z * (1 / 5 + z * (1 / 7 + z / 9)));
    g1 = 1 / 3 + z * (2 / 5 + z * (3 / 7 + (z * 4) / 9));
    g2 = 2 / 5 + z * (6 / 7 + (z * 12) / 9);
  } else {
    const root = Math.sqrt(z);
    g = Math.atanh(root) / root;
    g1 = (1 / (1 - z) - g) / (2 * z);
    g2 = (1 / (1 - z) ** 2 - 3 * g1) / (2 * z);
  }
  // h = g/m and its derivatives by m and q.
  const h = g / m;
  const hm = -1 / D;
  const hq = g1 / m ** 3;
  y[0] = Math.log(D) / 2;
  y[1] = d * h;
  y[2] = c * h;
  slope[0] = m / D;
  slope[1] = -d / D;
  slope[2] = -c / D;
  slope[3] = d * hm;
  slope[4] = h + 2 * d * d * hq;
  slope[5] = 2 * d * c * hq;
  slope[6] = c * hm;
  slope[7] = slope[5];
  slope[8] = h + 2 * c * c * hq;

  const { K, epsilon0, n, form, smoothing } = law;
  let square = 0;
  for (let i = 0; i < 3; i++) {
    let sum = 0;
    for (let j = 0; j < 3; j++) sum += form[3 * i + j]! * y[j]!;
    gradient[i] = sum;
    square += sum * y[i]!;
  }
  const radius = Math.sqrt(square + smoothing * smoothing);
  const strain = before + radius - smoothing;
  const flow = K * (epsilon0 + strain) ** n;
  out.strain = strain;
  out.work = (flow * (epsilon0 + strain) - K * (epsilon0 + before) ** (n + 1)) / (n + 1);
  const secant = flow / radius; // twice the derivative by the square
  for (let i = 0; i < 3; i++) {
    let sum = 0;
    for (let k = 0; k < 3; k++) sum += secant * gradient[k]! * slope[3 * k + i]!;
    w1[i] = sum;
  }
  const { first } = out;
  first[0] = (w1[0]! + w1[1]!) / 2;
  first[1] = (w1[0]! - w1[1]!) / 2;
  first[2] = w1[2]!;
  if (!second) return;

  const hmm = (2 * m) / (D * D);
  const hmq = -1 / (D * D);
  const hqq = g2 / m ** 5;
  const D2 = D * D;
  bend.set(
    [1 / D - (2 * m * m) / D2, (2 * m * d) / D2, (2 * m * c) / D2].concat([
      -1 / D - (2 * d * d) / D2,
      (-2 * d * c) / D2,
      -1 / D - (2 * c * c) / D2,
    ]),
  );
  bend[6] = d * hmm;
  bend[7] = hm + 2 * d * d * hmq;
  bend[8] = 2 * d * c * hmq;
  bend[9] = 6 * d * hq + 4 * d ** 3 * hqq;
  bend[10] = 2 * c * hq + 4 * d * d * c * hqq;
  bend[11] = 2 * d * hq + 4 * d * c * c * hqq;
  bend[12] = c * hmm;
  bend[13] = 2 * d * c * hmq;
  bend[14] = hm + 2 * c * c * hmq;
  bend[15] = 2 * c * hq + 4 * d * d * c * hqq;
  bend[16] = 2 * d * hq + 4 * d * c * c * hqq;
  bend[17] = 6 * c * hq + 4 * c ** 3 * hqq;
  const change = ((1 - ease) * ((n * flow) / (epsilon0 + strain) - secant)) / (radius * radius);
  for (let i = 0; i < 3; i++)
    for (let j = i; j < 3; j++) {
      let sum = (change * w1[i]! * w1[j]!) / (secant * secant);
      for (let a = 0; a < 3; a++) {
        sum += secant * gradient[a]! * bend[6 * a + ENTRY[3 * i + j]!]!;
        for (let b = 0; b < 3; b++) sum += secant * form[3 * a + b]! * slope[3 * a + i]! * slope[3 * b + j]!;
      }
      w2[3 * i + j] = sum;
    }
  const [mm, md, mc, dd, dc, cc] = [w2[0]!, w2[1]!, w2[2]!, w2[4]!, w2[5]!, w2[8]!];
  const { second: twice } = out;
  twice[0] = (mm + 2 * md + dd) / 4;
  twice[1] = (mm - dd) / 4;
  twice[2] = (mc + dc) / 2;
  twice[3] = (mm - 2 * md + dd) / 4;
  twice[4] = (mc - dc) / 2;
  twice[5] = cc;
}
