/**
 * The strain form of a law with strengths, in AssemblyScript: the same formulas as `strainFormAt` of
 * ../../material/law.ts and `dualForm` of ../../material/yieldFunction.ts, which are the reference and say what they
 * mean.
 *
 * Behind the strain form, at byte 40 of the law: [88] exponent, [96] cosine and [104] sine of twice the grain, [112]
 * share of the dual, [120] scale of the starts (3), [144] mp, mt, ms, qp, qt, np, nt, ns, [208] forms of the starts.
 */
const DIRECTION_FOUND: f64 = 1e-7;
const MOST_EVALUATIONS = 60;
const NO_WORSE: f64 = 1 + 1e-12;
const NO_STRAIN: f64 = 1e-150;
const PLACES = 20;
const FORMS: usize = 208;

/** Where `strainForm` writes, in the plan's axes. */
export const form = memory.data(6 * 8, 16);
/** In the rolling axes. */
const rolling = memory.data(6 * 8, 16);

export function strainForm(law: usize, e11: f64, e22: f64, e12Twice: f64): void {
  const c = load<f64>(law, 96);
  const s = load<f64>(law, 104);
  const share = load<f64>(law, 112);
  const gap = e11 - e22;
  dualForm(law, e11 + e22, c * gap + s * e12Twice, c * e12Twice - s * gap);
  const r12 = load<f64>(rolling, 8);
  const r13 = load<f64>(rolling, 16);
  const r22 = load<f64>(rolling, 24);
  const r23 = load<f64>(rolling, 32);
  const r33 = load<f64>(rolling, 40);
  const a = load<f64>(rolling);
  const b = c * r12 - s * r13;
  const d = s * r12 + c * r13;
  const cc = c * c;
  const ss = s * s;
  const cs = c * s;
  const twice = 2 * cs * r23;
  const g = cc * r22 - twice + ss * r33;
  const h = cs * (r22 - r33) + (cc - ss) * r23;
  const k = ss * r22 + twice + cc * r33;
  const rest = 1 - share;
  store<f64>(form, share * (a + 2 * b + g) + rest * load<f64>(law, 40));
  store<f64>(form, share * (a - g) + rest * load<f64>(law, 48), 8);
  store<f64>(form, share * (d + h) + rest * load<f64>(law, 56), 16);
  store<f64>(form, share * (a - 2 * b + g) + rest * load<f64>(law, 64), 24);
  store<f64>(form, share * (d - h) + rest * load<f64>(law, 72), 32);
  store<f64>(form, share * k + rest * load<f64>(law, 80), 40);
}

function dualForm(law: usize, sum: f64, gap: f64, shear: f64): void {
  const scaleSum = load<f64>(law, 120);
  const scaleGap = load<f64>(law, 128);
  const scaleShear = load<f64>(law, 136);
  const size = Math.sqrt(sum * sum + gap * gap + shear * shear);
  if (!(size > NO_STRAIN)) {
    memory.fill(rolling, 0, 48);
    store<f64>(rolling, scaleSum * scaleSum);
    store<f64>(rolling, scaleGap * scaleGap, 24);
    store<f64>(rolling, scaleShear * scaleShear, 40);
    return;
  }
  const exponent = load<f64>(law, 88);
  const mp = load<f64>(law, 144);
  const mt = load<f64>(law, 152);
  const ms = load<f64>(law, 160);
  const qp = load<f64>(law, 168);
  const qt = load<f64>(law, 176);
  const np = load<f64>(law, 184);
  const nt = load<f64>(law, 192);
  const ns = load<f64>(law, 200);
  const u = sum / size;
  const v = gap / size;
  const w = shear / size;
  const at = law + FORMS + 48 * placeOf(scaleSum * u, scaleGap * v, scaleShear * w);
  let p = load<f64>(at) * u + load<f64>(at, 8) * v + load<f64>(at, 16) * w;
  let t = load<f64>(at, 8) * u + load<f64>(at, 24) * v + load<f64>(at, 32) * w;
  let s = load<f64>(at, 16) * u + load<f64>(at, 32) * v + load<f64>(at, 40) * w;
  let p0 = p;
  let t0 = t;
  let s0 = s;
  let before: f64 = Infinity;
  for (let left = MOST_EVALUATIONS; ; left--) {
    const work = 1 / (p * u + t * v + s * w);
    p *= work;
    t *= work;
    s *= work;

    const m = mp * p + mt * t;
    const mh = ms * s;
    const q = qp * p + qt * t;
    const n = np * p + nt * t;
    const nh = ns * s;
    const A = m * m + mh * mh;
    const z = q * q;
    const D = n * n + nh * nh;
    let a0: f64;
    let a1: f64;
    let a2: f64;
    let b0: f64;
    let bz: f64;
    let bd: f64;
    let bzz: f64;
    let bzd: f64;
    let bdd: f64;
    if (exponent == 8) {
      const AA = A * A;
      const zz = z * z;
      const zD = z * D;
      const DD = D * D;
      a0 = 0.5 * AA * AA;
      a1 = 2 * AA * A;
      a2 = 6 * AA;
      b0 = zz * (zz + 28 * zD + 70 * DD) + DD * (28 * zD + DD);
      bz = z * (4 * zz + 84 * zD + 140 * DD) + 28 * DD * D;
      bd = 28 * zz * z + D * (140 * zz + 84 * zD + 4 * DD);
      bzz = 12 * zz + 168 * zD + 140 * DD;
      bzd = 84 * zz + 280 * zD + 84 * DD;
      bdd = 140 * zz + 168 * zD + 12 * DD;
    } else if (exponent == 6) {
      const AA = A * A;
      const zz = z * z;
      const zD = z * D;
      const DD = D * D;
      a0 = 0.5 * AA * A;
      a1 = 1.5 * AA;
      a2 = 3 * A;
      b0 = z * (zz + 15 * zD + 15 * DD) + DD * D;
      bz = 3 * zz + 30 * zD + 15 * DD;
      bd = 15 * zz + 30 * zD + 3 * DD;
      bzz = 6 * z + 30 * D;
      bzd = 30 * z + 30 * D;
      bdd = 30 * z + 6 * D;
    } else {
      a0 = 0.5 * A;
      a1 = 0.5;
      a2 = 0;
      b0 = z + D;
      bz = 1;
      bd = 1;
      bzz = 0;
      bzd = 0;
      bdd = 0;
    }
    const value = a0 + b0;
    if (value > NO_WORSE * before && left > 0) {
      p = 0.5 * (p + p0);
      t = 0.5 * (t + t0);
      s = 0.5 * (s + s0);
      continue;
    }
    const ap = m * mp;
    const at = m * mt;
    const as = mh * ms;
    const dp = n * np;
    const dt = n * nt;
    const ds = nh * ns;
    const qz = q * bz;
    const gp = a1 * ap + qz * qp + bd * dp;
    const gt = a1 * at + qz * qt + bd * dt;
    const gs = a1 * as + bd * ds;
    const aa = 2 * a2;
    const qq = 2 * z * bzz + bz;
    const qd = 2 * q * bzd;
    const dd = 2 * bdd;
    const kpp = aa * ap * ap + a1 * mp * mp + qq * qp * qp + 2 * qd * qp * dp + dd * dp * dp + bd * np * np;
    const kpt = aa * ap * at + a1 * mp * mt + qq * qp * qt + qd * (qp * dt + qt * dp) + dd * dp * dt + bd * np * nt;
    const ktt = aa * at * at + a1 * mt * mt + qq * qt * qt + 2 * qd * qt * dt + dd * dt * dt + bd * nt * nt;
    const kps = aa * ap * as + qd * qp * ds + dd * dp * ds;
    const kts = aa * at * as + qd * qt * ds + dd * dt * ds;
    const kss = aa * as * as + a1 * ms * ms + dd * ds * ds + bd * ns * ns;

    const scale = 0.5 * exponent * value;
    const misfit = Math.abs(gp - scale * u) + Math.abs(gt - scale * v) + Math.abs(gs - scale * w);
    const factor = (2 * (exponent - 2)) / (exponent * value);
    const c11 = kpp - factor * gp * gp;
    const c12 = kpt - factor * gp * gt;
    const c13 = kps - factor * gp * gs;
    const c22 = ktt - factor * gt * gt;
    const c23 = kts - factor * gt * gs;
    const c33 = kss - factor * gs * gs;
    const i11 = c22 * c33 - c23 * c23;
    const i12 = c13 * c23 - c12 * c33;
    const i13 = c12 * c23 - c13 * c22;
    const i22 = c11 * c33 - c13 * c13;
    const i23 = c12 * c13 - c11 * c23;
    const i33 = c11 * c22 - c12 * c12;
    if (misfit <= DIRECTION_FOUND * scale || left <= 0) {
      const det = c11 * i11 + c12 * i12 + c13 * i13;
      let overSquare: f64;
      if (exponent == 8) {
        const half = Math.sqrt(value);
        overSquare = half * Math.sqrt(half);
      } else {
        overSquare = Math.pow(value, 1 - 2 / exponent);
      }
      const k = (0.5 * exponent * overSquare) / det;
      store<f64>(rolling, k * i11);
      store<f64>(rolling, k * i12, 8);
      store<f64>(rolling, k * i13, 16);
      store<f64>(rolling, k * i22, 24);
      store<f64>(rolling, k * i23, 32);
      store<f64>(rolling, k * i33, 40);
      return;
    }
    before = value;
    p0 = p;
    t0 = t;
    s0 = s;
    p = i11 * u + i12 * v + i13 * w;
    t = i12 * u + i22 * v + i23 * w;
    s = i13 * u + i23 * v + i33 * w;
  }
}

// @ts-ignore: decorator
@inline function placeOf(x: f64, y: f64, z: f64): usize {
  const ax = Math.abs(x);
  const ay = Math.abs(y);
  const az = Math.abs(z);
  let side = 2;
  let a: f64;
  let b: f64;
  if (ax >= ay && ax >= az) {
    side = 0;
    a = y / x;
    b = z / x;
  } else if (ay >= az) {
    side = 1;
    a = x / y;
    b = z / y;
  } else {
    a = x / z;
    b = y / z;
  }
  return <usize>((side * PLACES + along(a)) * PLACES + along(b));
}

// @ts-ignore: decorator
@inline function along(share: f64): i32 {
  const place = <i32>((share + 1) * (<f64>PLACES / 2));
  return place < PLACES ? place : PLACES - 1;
}
