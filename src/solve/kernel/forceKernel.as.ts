/**
 * Membrane force and its derivative at one point, in AssemblyScript: the same formulas as ../constitutive.ts,
 * which is the reference and says what they mean.
 *
 * The law is doubles: K, n, epsilon0, smoothing at rest, eased strain, the strain form (6), and what dualKernel.as.ts
 * names; the exponent there is 0 where the form is a constant.
 */
import { form, strainForm } from './dualKernel.as';

/** Which derivatives are wanted, as in ../constitutive.ts. */
export const NONE = 0;
const EASED = 1;
const SERIES_LIMIT: f64 = 0.02;
const AGAINST_TURNS: f64 = 0.7;

/** Writes T11, T22, T12 and, when asked, its 12 derivatives to `out`. */
export function membraneForce(
  law: usize,
  g11: f64,
  g12: f64,
  g21: f64,
  g22: f64,
  growth: f64,
  derivatives: i32,
  out: usize,
): void {
  const det = g11 * g22 - g12 * g21;
  const m11 = g11 * g11 + g12 * g12;
  const m22 = g21 * g21 + g22 * g22;
  const s = g11 * g21 + g12 * g22;
  const m = 0.5 * (m11 + m22);
  const c = 0.5 * (m11 - m22);
  const q = c * c + s * s;
  const D = det * det; // det M = m² − q, without cancellation
  const a = Math.log(det);
  const z = q / (m * m);
  let b: f64;
  let bq: f64; // ∂b/∂q
  let bqq: f64; // ∂²b/∂q²
  if (z < SERIES_LIMIT) {
    const im = 1.0 / m;
    const im3 = im * im * im;
    b =
      im * (1 + z * (1.0 / 3.0 + z * (1.0 / 5.0 + z * (1.0 / 7.0 + z * (1.0 / 9.0 + z * (1.0 / 11.0 + z * (1.0 / 13.0 + z / 15)))))));
    bq =
      im3 *
      (1.0 / 3.0 +
        z * (2.0 / 5.0 + z * (3.0 / 7.0 + z * (4.0 / 9.0 + z * (5.0 / 11.0 + z * (6.0 / 13.0 + z * (7.0 / 15.0 + (z * 8) / 17.0)))))));
    bqq =
      im3 *
      im *
      im *
      (2.0 / 5.0 +
        z *
          (6.0 / 7.0 +
            z * (12.0 / 9.0 + z * (20.0 / 11.0 + z * (30.0 / 13.0 + z * (42.0 / 15.0 + z * (56.0 / 17.0 + (z * 72) / 19)))))));
  } else {
    const d = Math.sqrt(q);
    b = (0.5 * Math.log((m + d) / (m - d))) / d;
    bq = (m / D - b) / (2 * q);
    bqq = (m / (D * D) - 3 * bq) / (2 * q);
  }

  // Strain in the flat axes, e = (E11, E22, 2·E12), less the growth.
  const e1 = -0.5 * (a + b * c) - growth;
  const e2 = -0.5 * (a - b * c) - growth;
  const e3 = -b * s;

  let at = law + 40;
  if (load<f64>(law, 88) != 0) {
    strainForm(law, e1, e2, e3);
    at = form;
  }
  let q11 = load<f64>(at);
  let q12 = load<f64>(at, 8);
  let q13 = load<f64>(at, 16);
  let q22 = load<f64>(at, 24);
  let q23 = load<f64>(at, 32);
  let q33 = load<f64>(at, 40);
  const h1 = q11 * e1 + q12 * e2 + q13 * e3;
  const h2 = q12 * e1 + q22 * e2 + q23 * e3;
  const h3 = q13 * e1 + q23 * e2 + q33 * e3;
  const rest = load<f64>(law, 24);
  const eased = load<f64>(law, 32);
  const y = h1 * e1 + h2 * e2 + h3 * e3;
  const r = Math.sqrt(y + rest * rest);
  const base = load<f64>(law, 16) + (r - rest);
  const flow = load<f64>(law) * Math.pow(base, load<f64>(law, 8));
  const w1 = flow / (2 * r); // dw/d(ε̄²)

  // First derivatives of e by v = (m, c, s).
  const iD = 1.0 / D;
  const am = m * iD;
  const ac = -c * iD;
  const as = -s * iD;
  const bm = -iD;
  const bc = 2 * c * bq;
  const bs = 2 * s * bq;
  const e1m = -0.5 * (am + bm * c);
  const e1c = -0.5 * (ac + bc * c + b);
  const e1s = -0.5 * (as + bs * c);
  const e2m = -0.5 * (am - bm * c);
  const e2c = -0.5 * (ac - bc * c - b);
  const e2s = -0.5 * (as - bs * c);
  const e3m = -bm * s;
  const e3c = -bc * s;
  const e3s = -(bs * s + b);
  const ym = h1 * e1m + h2 * e2m + h3 * e3m; // half the derivative of ε̄²
  const yc = h1 * e1c + h2 * e2c + h3 * e3c;
  const ys = h1 * e1s + h2 * e2s + h3 * e3s;
  const wm = 2 * w1 * ym;
  const wc = 2 * w1 * yc;
  const ws = 2 * w1 * ys;

  // W = ∂w/∂M
  const W11 = 0.5 * (wm + wc);
  const W22 = 0.5 * (wm - wc);
  const W12 = 0.5 * ws;
  // H = W·G, B = Gᵀ·W·G, T = −2·det·B
  const H11 = W11 * g11 + W12 * g21;
  const H12 = W11 * g12 + W12 * g22;
  const H21 = W12 * g11 + W22 * g21;
  const H22 = W12 * g12 + W22 * g22;
  const B11 = g11 * H11 + g21 * H21;
  const B22 = g12 * H12 + g22 * H22;
  const B12 = g11 * H12 + g21 * H22;
  const f = -2 * det;
  store<f64>(out, f * B11, 0);
  store<f64>(out, f * B22, 8);
  store<f64>(out, f * B12, 16);
  if (derivatives == NONE) return;

  const slope = (load<f64>(law, 8) * flow) / base;
  const part = derivatives == EASED ? y / (y + eased * eased) : 1;
  const w2 = (part * (slope - flow / r)) / (4 * r * r); // d²w/d(ε̄²)²
  if (derivatives == EASED && load<f64>(law, 88) != 0) {
    const f11 = load<f64>(law, 40);
    const f12 = load<f64>(law, 48);
    const f13 = load<f64>(law, 56);
    const f22 = load<f64>(law, 64);
    const f23 = load<f64>(law, 72);
    const f33 = load<f64>(law, 80);
    const s1 = f11 * e1 + f12 * e2 + f13 * e3;
    const s2 = f12 * e1 + f22 * e2 + f23 * e3;
    const s3 = f13 * e1 + f23 * e2 + f33 * e3;
    const square = s1 * e1 + s2 * e2 + s3 * e3;
    const weight = AGAINST_TURNS * (1 - part);
    const along = square > 0 ? weight / square : 0;
    q11 += weight * f11 - along * s1 * s1;
    q12 += weight * f12 - along * s1 * s2;
    q13 += weight * f13 - along * s1 * s3;
    q22 += weight * f22 - along * s2 * s2;
    q23 += weight * f23 - along * s2 * s3;
    q33 += weight * f33 - along * s3 * s3;
  }
  // Second derivatives of e, contracted with h: t_uv = Σ h_i ∂²e_i/∂u∂v, all from a and b.
  const iD2 = iD * iD;
  const amm = iD - 2 * m * m * iD2;
  const amc = 2 * m * c * iD2;
  const ams = 2 * m * s * iD2;
  const acc = -iD - 2 * c * c * iD2;
  const acs = -2 * c * s * iD2;
  const ass = -iD - 2 * s * s * iD2;
  const bmm = 2 * m * iD2;
  const bmc = -2 * c * iD2;
  const bms = -2 * s * iD2;
  const bcc = 2 * bq + 4 * c * c * bqq;
  const bcs = 4 * c * s * bqq;
  const bss = 2 * bq + 4 * s * s * bqq;
  const ha = -0.5 * (h1 + h2); // multiplies second derivatives of a
  const hb = -0.5 * (h1 - h2); // multiplies those of b·c
  const hs = -h3; // multiplies those of b·s
  const tmm = ha * amm + hb * bmm * c + hs * bmm * s;
  const tmc = ha * amc + hb * (bmc * c + bm) + hs * bmc * s;
  const tms = ha * ams + hb * bms * c + hs * (bms * s + bm);
  const tcc = ha * acc + hb * (bcc * c + 2 * bc) + hs * bcc * s;
  const tcs = ha * acs + hb * (bcs * c + bs) + hs * (bcs * s + bc);
  const tss = ha * ass + hb * bss * c + hs * (bss * s + 2 * bs);
  // Q·e_v for the three directions
  const km1 = q11 * e1m + q12 * e2m + q13 * e3m;
  const km2 = q12 * e1m + q22 * e2m + q23 * e3m;
  const km3 = q13 * e1m + q23 * e2m + q33 * e3m;
  const kc1 = q11 * e1c + q12 * e2c + q13 * e3c;
  const kc2 = q12 * e1c + q22 * e2c + q23 * e3c;
  const kc3 = q13 * e1c + q23 * e2c + q33 * e3c;
  const w24 = 4 * w2;
  const w12 = 2 * w1;
  const wmm = w24 * ym * ym + w12 * (km1 * e1m + km2 * e2m + km3 * e3m + tmm);
  const wmc = w24 * ym * yc + w12 * (km1 * e1c + km2 * e2c + km3 * e3c + tmc);
  const wms = w24 * ym * ys + w12 * (km1 * e1s + km2 * e2s + km3 * e3s + tms);
  const wcc = w24 * yc * yc + w12 * (kc1 * e1c + kc2 * e2c + kc3 * e3c + tcc);
  const wcs = w24 * yc * ys + w12 * (kc1 * e1s + kc2 * e2s + kc3 * e3s + tcs);
  const wss =
    w24 * ys * ys +
    w12 *
      (q11 * e1s * e1s +
        q22 * e2s * e2s +
        q33 * e3s * e3s +
        2 * (q12 * e1s * e2s + q13 * e1s * e3s + q23 * e2s * e3s) +
        tss);

  for (let k = 0; k < 4; k++) {
    // dM for a unit change of one entry of G, as (dm, dc, ds)
    let dm: f64;
    let dc: f64;
    let ds: f64;
    let dDet: f64;
    if (k == 0) {
      dm = g11;
      dc = g11;
      ds = g21;
      dDet = g22;
    } else if (k == 1) {
      dm = g12;
      dc = g12;
      ds = g22;
      dDet = -g21;
    } else if (k == 2) {
      dm = g21;
      dc = -g21;
      ds = g11;
      dDet = -g12;
    } else {
      dm = g22;
      dc = -g22;
      ds = g12;
      dDet = g11;
    }
    const dwm = wmm * dm + wmc * dc + wms * ds;
    const dwc = wmc * dm + wcc * dc + wcs * ds;
    const dws = wms * dm + wcs * dc + wss * ds;
    const d11 = 0.5 * (dwm + dwc);
    const d22 = 0.5 * (dwm - dwc);
    const d12 = 0.5 * dws;
    // Gᵀ dW G
    const x1 = d11 * g11 + d12 * g21;
    const x2 = d12 * g11 + d22 * g21;
    const y1 = d11 * g12 + d12 * g22;
    const y2 = d12 * g12 + d22 * g22;
    let b11 = g11 * x1 + g21 * x2;
    let b22 = g12 * y1 + g22 * y2;
    let b12 = g11 * y1 + g21 * y2;
    // dGᵀ·H + Hᵀ·dG: dG has one unit entry
    if (k == 0) {
      b11 += 2 * H11;
      b12 += H12;
    } else if (k == 1) {
      b22 += 2 * H12;
      b12 += H11;
    } else if (k == 2) {
      b11 += 2 * H21;
      b12 += H22;
    } else {
      b22 += 2 * H22;
      b12 += H21;
    }
    const o = out + 24 + <usize>k * 24;
    store<f64>(o, f * b11 - 2 * dDet * B11);
    store<f64>(o, f * b22 - 2 * dDet * B22, 8);
    store<f64>(o, f * b12 - 2 * dDet * B12, 16);
  }
}
