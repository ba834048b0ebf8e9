/**
 * Elementary functions with the same bits on every machine.
 *
 * The language leaves the last digit of sine, logarithm or power to whoever implements it. Node 20 to 24 have those of
 * fdlibm for all but the power, whose last digit comes from the system; browsers have others. A tray has one file, byte
 * for byte, so a browser takes these in the place of its own (`browser/sameNumbers.ts`), and what is raised to a power
 * that is no whole number is raised by `pow`, everywhere. Sums, products and square roots are the same as they are.
 *
 * Written after fdlibm 5.3 (Sun Microsystems), whose notice reads: Copyright (C) 1993 by Sun Microsystems, Inc. All
 * rights reserved. Developed at SunPro, a Sun Microsystems, Inc. business. Permission to use, copy, modify, and distribute
 * this software is freely granted, provided that this notice is preserved.
 *
 * Angles are radians. Sine, cosine and tangent of more than 800,000 are left to the machine.
 */
const f64 = new Float64Array(1);
const i32 = new Int32Array(f64.buffer);
const high = (x: number): number => {
  f64[0] = x;
  return i32[1]!;
};
const low = (x: number): number => {
  f64[0] = x;
  return i32[0]!;
};
const of = (hi: number, lo: number): number => {
  i32[1] = hi;
  i32[0] = lo;
  return f64[0]!;
};
/** The number with another high word. */
const withHigh = (x: number, hi: number): number => {
  f64[0] = x;
  i32[1] = hi;
  return f64[0]!;
};
/** The number with its low word zero. */
const upper = (x: number): number => {
  f64[0] = x;
  i32[0] = 0;
  return f64[0]!;
};

const ABS = 0x7fffffff;
const INFINITE = 0x7ff00000;

// Sine and cosine on [-π/4, π/4]
const S1 = -0.16666666666666632;
const S2 = 0.00833333333332249;
const S3 = -0.0001984126982985795;
const S4 = 0.0000027557313707070068;
const S5 = -2.5050760253406863e-8;
const S6 = 1.58969099521155e-10;

function kernelSin(x: number, y: number, hasTail: boolean): number {
  const ix = high(x) & ABS;
  if (ix < 0x3e400000 && Math.trunc(x) === 0) return x;
  const z = x * x;
  const v = z * x;
  const r = S2 + z * (S3 + z * (S4 + z * (S5 + z * S6)));
  return hasTail ? x - (z * (0.5 * y - v * r) - y - v * S1) : x + v * (S1 + z * r);
}

const C1 = 0.0416666666666666;
const C2 = -0.001388888888887411;
const C3 = 0.00002480158728947673;
const C4 = -2.7557314351390663e-7;
const C5 = 2.087572321298175e-9;
const C6 = -1.1359647557788195e-11;

function kernelCos(x: number, y: number): number {
  const ix = high(x) & ABS;
  if (ix < 0x3e400000 && Math.trunc(x) === 0) return 1;
  const z = x * x;
  const r = z * (C1 + z * (C2 + z * (C3 + z * (C4 + z * (C5 + z * C6)))));
  if (ix < 0x3fd33333) return 1 - (0.5 * z - (z * r - x * y));
  const qx = ix > 0x3fe90000 ? 0.28125 : of(ix - 0x00200000, 0);
  const iz = 0.5 * z - qx;
  const a = 1 - qx;
  return a - (iz - (z * r - x * y));
}

// Tangent on [-π/4, π/4]
const T = [
  0.3333333333333341, 0.13333333333320124, 0.05396825397622605, 0.021869488294859542, 0.0088632398235993,
  0.0035920791075913124, 0.0014562094543252903, 0.0005880412408202641, 0.0002464631348184699,
  0.00007817944429395571, 0.00007140724913826082, -0.000018558637485527546, 0.00002590730518636337,
] as const;
const PIO4 = 0.7853981633974483;
const PIO4_LOW = 3.061616997868383e-17;

/** @param iy 1 for tan, -1 for -1/tan */
function kernelTan(given: number, tail: number, iy: number): number {
  let x = given;
  let y = tail;
  const hx = high(x);
  const ix = hx & ABS;
  if (ix < 0x3e300000 && Math.trunc(x) === 0) {
    if ((ix | low(x) | (iy + 1)) === 0) return 1 / Math.abs(x);
    if (iy === 1) return x;
    const w = x + y;
    const z = upper(w);
    const v = y - (z - x);
    const a = -1 / w;
    const t = upper(a);
    const s = 1 + t * z;
    return t + a * (s + t * v);
  }
  if (ix >= 0x3fe59428) {
    if (hx < 0) {
      x = -x;
      y = -y;
    }
    x = PIO4 - x + (PIO4_LOW - y);
    y = 0;
  }
  const z = x * x;
  const w = z * z;
  let r = T[1] + w * (T[3] + w * (T[5] + w * (T[7] + w * (T[9] + w * T[11]))));
  let v = z * (T[2] + w * (T[4] + w * (T[6] + w * (T[8] + w * (T[10] + w * T[12])))));
  let s = z * x;
  r = y + z * (s * (r + v) + y);
  r += T[0] * s;
  const sum = x + r;
  if (ix >= 0x3fe59428) {
    v = iy;
    return (1 - ((hx >> 30) & 2)) * (v - 2 * (x - ((sum * sum) / (sum + v) - r)));
  }
  if (iy === 1) return sum;
  const head = upper(sum);
  v = r - (head - x);
  const a = -1 / sum;
  const t = upper(a);
  s = 1 + t * head;
  return t + a * (s + t * v);
}

// Remainder by π/2
const INV_PIO2 = 0.6366197723675814;
const PIO2_1 = 1.5707963267341256;
const PIO2_1T = 6.077100506506192e-11;
const PIO2_2 = 6.077100506303966e-11;
const PIO2_2T = 2.0222662487959506e-21;
const PIO2_3 = 2.0222662487111665e-21;
const PIO2_3T = 8.4784276603689e-32;
/** Beyond these the remainder needs more digits of π. */
const MEDIUM = 0x413921fb;
let rest0 = 0;
let rest1 = 0;

/** How often π/2 goes into it; what is left stands in `rest0` and `rest1`. */
function remainder(x: number): number {
  const hx = high(x);
  const ix = hx & ABS;
  if (ix < 0x4002d97c) {
    if (hx > 0) {
      let z = x - PIO2_1;
      if (ix !== 0x3ff921fb) {
        rest0 = z - PIO2_1T;
        rest1 = z - rest0 - PIO2_1T;
      } else {
        z -= PIO2_2;
        rest0 = z - PIO2_2T;
        rest1 = z - rest0 - PIO2_2T;
      }
      return 1;
    }
    let z = x + PIO2_1;
    if (ix !== 0x3ff921fb) {
      rest0 = z + PIO2_1T;
      rest1 = z - rest0 + PIO2_1T;
    } else {
      z += PIO2_2;
      rest0 = z + PIO2_2T;
      rest1 = z - rest0 + PIO2_2T;
    }
    return -1;
  }
  const t = Math.abs(x);
  const n = Math.trunc(t * INV_PIO2 + 0.5);
  let r = t - n * PIO2_1;
  let w = n * PIO2_1T;
  rest0 = r - w;
  const j = ix >> 20;
  let i = j - ((high(rest0) >> 20) & 0x7ff);
  if (i > 16) {
    let before = r;
    w = n * PIO2_2;
    r = before - w;
    w = n * PIO2_2T - (before - r - w);
    rest0 = r - w;
    i = j - ((high(rest0) >> 20) & 0x7ff);
    if (i > 49) {
      before = r;
      w = n * PIO2_3;
      r = before - w;
      w = n * PIO2_3T - (before - r - w);
      rest0 = r - w;
    }
  }
  rest1 = r - rest0 - w;
  if (hx < 0) {
    rest0 = -rest0;
    rest1 = -rest1;
    return -n;
  }
  return n;
}

const native = { sin: Math.sin, cos: Math.cos, tan: Math.tan };

export function sin(x: number): number {
  const ix = high(x) & ABS;
  if (ix <= 0x3fe921fb) return kernelSin(x, 0, false);
  if (ix >= INFINITE) return x - x;
  if (ix > MEDIUM) return native.sin(x);
  switch (remainder(x) & 3) {
    case 0:
      return kernelSin(rest0, rest1, true);
    case 1:
      return kernelCos(rest0, rest1);
    case 2:
      return -kernelSin(rest0, rest1, true);
    default:
      return -kernelCos(rest0, rest1);
  }
}

export function cos(x: number): number {
  const ix = high(x) & ABS;
  if (ix <= 0x3fe921fb) return kernelCos(x, 0);
  if (ix >= INFINITE) return x - x;
  if (ix > MEDIUM) return native.cos(x);
  switch (remainder(x) & 3) {
    case 0:
      return kernelCos(rest0, rest1);
    case 1:
      return -kernelSin(rest0, rest1, true);
    case 2:
      return -kernelCos(rest0, rest1);
    default:
      return kernelSin(rest0, rest1, true);
  }
}

export function tan(x: number): number {
  const ix = high(x) & ABS;
  if (ix <= 0x3fe921fb) return kernelTan(x, 0, 1);
  if (ix >= INFINITE) return x - x;
  if (ix > MEDIUM) return native.tan(x);
  const n = remainder(x);
  return kernelTan(rest0, rest1, 1 - ((n & 1) << 1));
}

// Inverse functions
const PIO2 = 1.5707963267948966;
const PIO2_LOW = 6.123233995736766e-17;
const PI_LOW = 1.2246467991473532e-16;
const P0 = 0.16666666666666666;
const P1 = -0.3255658186224009;
const P2 = 0.20121253213486293;
const P3 = -0.04005553450067941;
const P4 = 0.0007915349942898145;
const P5 = 0.00003479331075960212;
const Q1 = -2.403394911734414;
const Q2 = 2.0209457602335057;
const Q3 = -0.6882839716054533;
const Q4 = 0.07703815055590194;
const ratio = (z: number): number =>
  (z * (P0 + z * (P1 + z * (P2 + z * (P3 + z * (P4 + z * P5)))))) /
  (1 + z * (Q1 + z * (Q2 + z * (Q3 + z * Q4))));

export function asin(x: number): number {
  const hx = high(x);
  const ix = hx & ABS;
  if (ix >= 0x3ff00000) {
    if (((ix - 0x3ff00000) | low(x)) === 0) return x * PIO2 + x * PIO2_LOW;
    return (x - x) / (x - x);
  }
  if (ix < 0x3fe00000) {
    if (ix < 0x3e400000) return x;
    return x + x * ratio(x * x);
  }
  const w = 1 - Math.abs(x);
  let t = w * 0.5;
  const quotient = ratio(t);
  const s = Math.sqrt(t);
  if (ix >= 0x3fef3333) {
    t = PIO2 - (2 * (s + s * quotient) - PIO2_LOW);
  } else {
    const head = upper(s);
    const c = (t - head * head) / (s + head);
    const p = 2 * s * quotient - (PIO2_LOW - 2 * c);
    const q = PIO4 - 2 * head;
    t = PIO4 - (p - q);
  }
  return hx > 0 ? t : -t;
}

export function acos(x: number): number {
  const hx = high(x);
  const ix = hx & ABS;
  if (ix >= 0x3ff00000) {
    if (((ix - 0x3ff00000) | low(x)) === 0) return hx > 0 ? 0 : Math.PI + 2 * PIO2_LOW;
    return (x - x) / (x - x);
  }
  if (ix < 0x3fe00000) {
    if (ix <= 0x3c600000) return PIO2 + PIO2_LOW;
    const z = x * x;
    return PIO2 - (x - (PIO2_LOW - x * ratio(z)));
  }
  if (hx < 0) {
    const z = (1 + x) * 0.5;
    const s = Math.sqrt(z);
    const w = ratio(z) * s - PIO2_LOW;
    return Math.PI - 2 * (s + w);
  }
  const z = (1 - x) * 0.5;
  const s = Math.sqrt(z);
  const df = upper(s);
  const c = (z - df * df) / (s + df);
  const w = ratio(z) * s + c;
  return 2 * (df + w);
}

const ATAN_HIGH = [0.4636476090008061, 0.7853981633974483, 0.982793723247329, PIO2] as const;
const ATAN_LOW = [2.2698777452961687e-17, 3.061616997868383e-17, 1.3903311031230998e-17, PIO2_LOW] as const;
const A = [
  0.3333333333333293, -0.19999999999876483, 0.14285714272503466, -0.11111110405462356, 0.09090887133436507,
  -0.0769187620504483, 0.06661073137387531, -0.058335701337905735, 0.049768779946159324,
  -0.036531572744216916, 0.016285820115365782,
] as const;

export function atan(given: number): number {
  let x = given;
  const hx = high(x);
  const ix = hx & ABS;
  if (ix >= 0x44100000) {
    if (ix > INFINITE || (ix === INFINITE && low(x) !== 0)) return x + x;
    return hx > 0 ? ATAN_HIGH[3] + ATAN_LOW[3] : -ATAN_HIGH[3] - ATAN_LOW[3];
  }
  let id = -1;
  if (ix < 0x3fdc0000) {
    if (ix < 0x3e400000) return x;
  } else {
    x = Math.abs(x);
    if (ix < 0x3ff30000) {
      if (ix < 0x3fe60000) {
        id = 0;
        x = (2 * x - 1) / (2 + x);
      } else {
        id = 1;
        x = (x - 1) / (x + 1);
      }
    } else if (ix < 0x40038000) {
      id = 2;
      x = (x - 1.5) / (1 + 1.5 * x);
    } else {
      id = 3;
      x = -1 / x;
    }
  }
  const z = x * x;
  const w = z * z;
  const s1 = z * (A[0] + w * (A[2] + w * (A[4] + w * (A[6] + w * (A[8] + w * A[10])))));
  const s2 = w * (A[1] + w * (A[3] + w * (A[5] + w * (A[7] + w * A[9]))));
  if (id < 0) return x - x * (s1 + s2);
  const r = ATAN_HIGH[id]! - (x * (s1 + s2) - ATAN_LOW[id]! - x);
  return hx < 0 ? -r : r;
}

export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return x + y;
  const hx = high(x);
  const lx = low(x);
  const ix = hx & ABS;
  const hy = high(y);
  const ly = low(y);
  const iy = hy & ABS;
  if (((hx - 0x3ff00000) | lx) === 0) return atan(y);
  const m = ((hy >> 31) & 1) | ((hx >> 30) & 2);
  if ((iy | ly) === 0) return m < 2 ? y : m === 2 ? Math.PI : -Math.PI;
  if ((ix | lx) === 0) return hy < 0 ? -PIO2 : PIO2;
  if (ix === INFINITE) {
    if (iy === INFINITE) return [PIO4, -PIO4, 3 * PIO4, -3 * PIO4][m]!;
    return [0, -0, Math.PI, -Math.PI][m]!;
  }
  if (iy === INFINITE) return hy < 0 ? -PIO2 : PIO2;
  let z: number;
  const k = (iy - ix) >> 20;
  let sign = m;
  if (k > 60) {
    z = PIO2 + 0.5 * PI_LOW;
    sign &= 1;
  } else if (hx < 0 && k < -60) z = 0;
  else z = atan(Math.abs(y / x));
  switch (sign) {
    case 0:
      return z;
    case 1:
      return -z;
    case 2:
      return Math.PI - (z - PI_LOW);
    default:
      return z - PI_LOW - Math.PI;
  }
}

// Exponentials
const LN2_HIGH = 0.6931471803691238;
const LN2_LOW = 1.9082149292705877e-10;
const INV_LN2 = Math.LOG2E;
const E1 = 0.16666666666666602;
const E2 = -0.0027777777777015593;
const E3 = 0.00006613756321437934;
const E4 = -0.0000016533902205465252;
const E5 = 4.1381367970572385e-8;
const LARGEST = 709.782712893384;
const SMALLEST = -745.1332191019411;

export function exp(given: number): number {
  let x = given;
  const word = high(x);
  const negative = word < 0;
  const hx = word & ABS;
  if (hx >= 0x40862e42) {
    if (hx >= INFINITE) {
      if (((hx & 0xfffff) | low(x)) !== 0) return x + x;
      return negative ? 0 : x;
    }
    if (x > LARGEST) return Infinity;
    if (x < SMALLEST) return 0;
  }
  let hi = 0;
  let lo = 0;
  let k = 0;
  if (hx > 0x3fd62e42) {
    if (hx < 0x3ff0a2b2) {
      if (x === 1) return Math.E;
      hi = x - (negative ? -LN2_HIGH : LN2_HIGH);
      lo = negative ? -LN2_LOW : LN2_LOW;
      k = negative ? -1 : 1;
    } else {
      k = Math.trunc(INV_LN2 * x + (negative ? -0.5 : 0.5));
      hi = x - k * LN2_HIGH;
      lo = k * LN2_LOW;
    }
    x = hi - lo;
  } else if (hx < 0x3e300000) return 1 + x;
  const t = x * x;
  const power = k >= -1021 ? of(0x3ff00000 + (k << 20), 0) : of(0x3ff00000 + ((k + 1000) << 20), 0);
  const c = x - t * (E1 + t * (E2 + t * (E3 + t * (E4 + t * E5))));
  if (k === 0) return 1 - ((x * c) / (c - 2) - x);
  const y = 1 - (lo - (x * c) / (2 - c) - hi);
  if (k >= -1021) return k === 1024 ? y * 2 * 2 ** 1023 : y * power;
  return y * power * 2 ** -1000;
}

const M1 = -0.03333333333333313;
const M2 = 0.0015873015872548146;
const M3 = -0.0000793650757867488;
const M4 = 0.000004008217827329362;
const M5 = -2.0109921818362437e-7;

export function expm1(given: number): number {
  let x = given;
  const word = high(x);
  const negative = word < 0;
  const hx = word & ABS;
  if (hx >= 0x4043687a) {
    if (hx >= 0x40862e42) {
      if (hx >= INFINITE) {
        if (((hx & 0xfffff) | low(x)) !== 0) return x + x;
        return negative ? -1 : x;
      }
      if (x > LARGEST) return Infinity;
    }
    if (negative) return -1;
  }
  let k = 0;
  let c = 0;
  if (hx > 0x3fd62e42) {
    let hi: number;
    let lo: number;
    if (hx < 0x3ff0a2b2) {
      hi = negative ? x + LN2_HIGH : x - LN2_HIGH;
      lo = negative ? -LN2_LOW : LN2_LOW;
      k = negative ? -1 : 1;
    } else {
      k = Math.trunc(INV_LN2 * x + (negative ? -0.5 : 0.5));
      hi = x - k * LN2_HIGH;
      lo = k * LN2_LOW;
    }
    x = hi - lo;
    c = hi - x - lo;
  } else if (hx < 0x3c900000) return x;
  const half = 0.5 * x;
  const hxs = x * half;
  const r1 = 1 + hxs * (M1 + hxs * (M2 + hxs * (M3 + hxs * (M4 + hxs * M5))));
  let t = 3 - r1 * half;
  let e = hxs * ((r1 - t) / (6 - x * t));
  if (k === 0) return x - (x * e - hxs);
  e = x * (e - c) - c;
  e -= hxs;
  if (k === -1) return 0.5 * (x - e) - 0.5;
  if (k === 1) return x < -0.25 ? -2 * (e - (x + 0.5)) : 1 + 2 * (x - e);
  const power = of((0x3ff + k) << 20, 0);
  if (k <= -2 || k > 56) {
    const y = 1 - (e - x);
    return (k === 1024 ? y * 2 * 2 ** 1023 : y * power) - 1;
  }
  if (k < 20) {
    t = of(0x3ff00000 - (0x200000 >> k), 0);
    return (t - (e - x)) * power;
  }
  t = of((0x3ff - k) << 20, 0);
  return (x - (e + t) + 1) * power;
}

// Logarithms
const L1 = 0.6666666666666735;
const L2 = 0.3999999999940942;
const L3 = 0.2857142874366239;
const L4 = 0.22222198432149784;
const L5 = 0.1818357216161805;
const L6 = 0.15313837699209373;
const L7 = 0.14798198605116586;

export function log(given: number): number {
  let x = given;
  let hx = high(x);
  const lx = low(x);
  let k = 0;
  if (hx < 0x00100000) {
    if (((hx & ABS) | lx) === 0) return -Infinity;
    if (hx < 0) return Number.NaN;
    k -= 54;
    x *= 2 ** 54;
    hx = high(x);
  }
  if (hx >= INFINITE) return x + x;
  k += (hx >> 20) - 1023;
  hx &= 0x000fffff;
  let i = (hx + 0x95f64) & 0x100000;
  x = withHigh(x, hx | (i ^ 0x3ff00000));
  k += i >> 20;
  const f = x - 1;
  if ((0x000fffff & (2 + hx)) < 3) {
    if (f === 0) return k === 0 ? 0 : k * LN2_HIGH + k * LN2_LOW;
    const r = f * f * (0.5 - 0.3333333333333333 * f);
    return k === 0 ? f - r : k * LN2_HIGH - (r - k * LN2_LOW - f);
  }
  const s = f / (2 + f);
  const z = s * s;
  i = hx - 0x6147a;
  const w = z * z;
  const j = 0x6b851 - hx;
  const t1 = w * (L2 + w * (L4 + w * L6));
  const t2 = z * (L1 + w * (L3 + w * (L5 + w * L7)));
  i |= j;
  const r = t2 + t1;
  if (i > 0) {
    const square = 0.5 * f * f;
    return k === 0
      ? f - (square - s * (square + r))
      : k * LN2_HIGH - (square - (s * (square + r) + k * LN2_LOW) - f);
  }
  return k === 0 ? f - s * (f - r) : k * LN2_HIGH - (s * (f - r) - k * LN2_LOW - f);
}

export function log1p(x: number): number {
  const hx = high(x);
  const ax = hx & ABS;
  let k = 1;
  let f = 0;
  let hu = 1;
  let c = 0;
  if (hx < 0x3fda827a) {
    if (ax >= 0x3ff00000) return x === -1 ? -Infinity : Number.NaN;
    if (ax < 0x3e200000) return ax < 0x3c900000 ? x : x - x * x * 0.5;
    if (hx > 0 || hx <= (0xbfd2bec4 | 0)) {
      k = 0;
      f = x;
      hu = 1;
    }
  }
  if (hx >= INFINITE) return x + x;
  if (k !== 0) {
    let u: number;
    if (hx < 0x43400000) {
      u = 1 + x;
      hu = high(u);
      k = (hu >> 20) - 1023;
      c = k > 0 ? 1 - (u - x) : x - (u - 1);
      c /= u;
    } else {
      u = x;
      hu = high(u);
      k = (hu >> 20) - 1023;
      c = 0;
    }
    hu &= 0x000fffff;
    if (hu < 0x6a09e) u = withHigh(u, hu | 0x3ff00000);
    else {
      k += 1;
      u = withHigh(u, hu | 0x3fe00000);
      hu = (0x00100000 - hu) >> 2;
    }
    f = u - 1;
  }
  const square = 0.5 * f * f;
  if (hu === 0) {
    if (f === 0) {
      if (k === 0) return 0;
      c += k * LN2_LOW;
      return k * LN2_HIGH + c;
    }
    const r = square * (1 - 0.6666666666666666 * f);
    return k === 0 ? f - r : k * LN2_HIGH - (r - (k * LN2_LOW + c) - f);
  }
  const s = f / (2 + f);
  const z = s * s;
  const r = z * (L1 + z * (L2 + z * (L3 + z * (L4 + z * (L5 + z * (L6 + z * L7))))));
  return k === 0
    ? f - (square - s * (square + r))
    : k * LN2_HIGH - (square - (s * (square + r) + (k * LN2_LOW + c)) - f);
}

export function cbrt(x: number): number {
  const sign = high(x) & 0x80000000;
  const hx = high(x) & ABS;
  if (hx >= INFINITE) return x + x;
  let t: number;
  if (hx < 0x00100000) {
    if ((hx | low(x)) === 0) return x;
    t = of(0x43500000, 0) * x;
    t = of(sign | (Math.trunc((high(t) & ABS) / 3) + 696219795), 0);
  } else t = of(sign | (Math.trunc(hx / 3) + 715094163), 0);
  let r = t * t * (t / x);
  t *=
    1.87595182427177 +
    r * (-1.8849797954337717 + r * 1.6214297201053545) +
    r * r * r * (-0.758397934778766 + r * 0.14599619288661245);
  // Rounded to 23 bits.
  f64[0] = t;
  const bits = new BigUint64Array(f64.buffer);
  bits[0] = (bits[0]! + 0x80000000n) & 0xffffffffc0000000n;
  t = f64[0]!;
  const s = t * t;
  r = x / s;
  const w = t + t;
  r = (r - t) / (w + r);
  return t + t * r;
}

export function cosh(x: number): number {
  const ix = high(x) & ABS;
  if (ix < 0x3fd62e43) {
    const t = expm1(Math.abs(x));
    const w = 1 + t;
    if (ix < 0x3c800000) return w;
    return 1 + (t * t) / (w + w);
  }
  if (ix < 0x40360000) {
    const t = exp(Math.abs(x));
    return 0.5 * t + 0.5 / t;
  }
  if (ix < 0x40862e42) return 0.5 * exp(Math.abs(x));
  if (Math.abs(x) <= 710.4758600739439) {
    const w = exp(0.5 * Math.abs(x));
    return 0.5 * w * w;
  }
  return ix >= INFINITE ? x * x : Infinity;
}

export function tanh(x: number): number {
  const jx = high(x);
  const ix = jx & ABS;
  if (ix >= INFINITE) return jx >= 0 ? 1 / x + 1 : 1 / x - 1;
  let z: number;
  if (ix < 0x40360000) {
    if (ix < 0x3e300000) return x;
    if (ix >= 0x3ff00000) {
      const t = expm1(2 * Math.abs(x));
      z = 1 - 2 / (t + 2);
    } else {
      const t = expm1(-2 * Math.abs(x));
      z = -t / (t + 2);
    }
  } else z = 1;
  return jx >= 0 ? z : -z;
}

// Powers
const BP = [1, 1.5] as const;
const DP_HIGH = [0, 0.5849624872207642] as const;
const DP_LOW = [0, 1.350039202129749e-8] as const;
const TWO53 = 9007199254740992;
const W1 = 0.5999999999999946;
const W2 = 0.4285714285785502;
const W3 = 0.33333332981837743;
const W4 = 0.272728123808534;
const W5 = 0.23066074577556175;
const W6 = 0.20697501780033842;
const LG2 = Math.LN2;
const LG2_HIGH = 0.6931471824645996;
const LG2_LOW = -1.904654299957768e-9;
const OVERFLOW = 8.008566259537294e-17;
const CP = 0.9617966939259756;
const CP_HIGH = 0.9617967009544373;
const CP_LOW = -7.028461650952758e-9;
const INV_LN2_HIGH = 1.4426950216293335;
const INV_LN2_LOW = 1.9259629911266175e-8;

export function pow(x: number, y: number): number {
  const hx = high(x);
  const lx = low(x);
  const hy = high(y);
  const ly = low(y);
  let ix = hx & ABS;
  const iy = hy & ABS;
  if ((iy | ly) === 0) return 1;
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
  // How the exponent stands to whole numbers: 0 none, 1 odd, 2 even.
  let whole = 0;
  if (hx < 0) {
    if (iy >= 0x43400000) whole = 2;
    else if (iy >= 0x3ff00000) {
      const k = (iy >> 20) - 0x3ff;
      if (k > 20) {
        const j = ly >>> (52 - k);
        if (j << (52 - k) === ly) whole = 2 - (j & 1);
      } else if (ly === 0) {
        const j = iy >> (20 - k);
        if (j << (20 - k) === iy) whole = 2 - (j & 1);
      }
    }
  }
  if (ly === 0) {
    if (iy === INFINITE) {
      if (((ix - 0x3ff00000) | lx) === 0) return Number.NaN;
      if (ix >= 0x3ff00000) return hy >= 0 ? y : 0;
      return hy < 0 ? -y : 0;
    }
    if (iy === 0x3ff00000) return hy < 0 ? 1 / x : x;
    if (hy === 0x40000000) return x * x;
    if (hy === 0x3fe00000) return x === -Infinity ? Infinity : Math.sqrt(x + 0);
    if (hy === (0xbfe00000 | 0)) return x === -Infinity ? 0 : 1 / Math.sqrt(x + 0);
  }
  let ax = Math.abs(x);
  if (lx === 0 && (ix === INFINITE || ix === 0 || ix === 0x3ff00000)) {
    let z = ax;
    if (hy < 0) z = 1 / z;
    if (hx < 0) {
      if (((ix - 0x3ff00000) | whole) === 0) z = Number.NaN;
      else if (whole === 1) z = -z;
    }
    return z;
  }
  const n = (hx >>> 31) - 1;
  if ((n | whole) === 0) return Number.NaN;
  const s = (n | (whole - 1)) === 0 ? -1 : 1;
  let t1: number;
  let t2: number;
  if (iy > 0x41e00000) {
    if (iy > 0x43f00000) {
      if (ix <= 0x3fefffff) return hy < 0 ? Infinity : 0;
      if (ix >= 0x3ff00000) return hy > 0 ? Infinity : 0;
    }
    if (ix < 0x3fefffff) return hy < 0 ? s * Infinity : s * 0;
    if (ix > 0x3ff00000) return hy > 0 ? s * Infinity : s * 0;
    const t = ax - 1;
    const w = t * t * (0.5 - t * (0.3333333333333333 - t * 0.25));
    const u = INV_LN2_HIGH * t;
    const v = t * INV_LN2_LOW - w * INV_LN2;
    t1 = upper(u + v);
    t2 = v - (t1 - u);
  } else {
    let m = 0;
    if (ix < 0x00100000) {
      ax *= TWO53;
      m -= 53;
      ix = high(ax);
    }
    m += (ix >> 20) - 0x3ff;
    const j = ix & 0x000fffff;
    ix = j | 0x3ff00000;
    let k = 0;
    if (j <= 0x3988e) k = 0;
    else if (j < 0xbb67a) k = 1;
    else {
      m += 1;
      ix -= 0x00100000;
    }
    ax = withHigh(ax, ix);
    const u = ax - BP[k]!;
    const v = 1 / (ax + BP[k]!);
    const ss = u * v;
    const head = upper(ss);
    const ht = of(((ix >> 1) | 0x20000000) + 0x00080000 + (k << 18), 0);
    const lt = ax - (ht - BP[k]!);
    const tail = v * (u - head * ht - head * lt);
    const s2 = ss * ss;
    let r = s2 * s2 * (W1 + s2 * (W2 + s2 * (W3 + s2 * (W4 + s2 * (W5 + s2 * W6)))));
    r += tail * (head + ss);
    const square = head * head;
    const th = upper(3 + square + r);
    const tl = r - (th - 3 - square);
    const uu = head * th;
    const vv = tail * th + tl * ss;
    const ph = upper(uu + vv);
    const pl = vv - (ph - uu);
    const zh = CP_HIGH * ph;
    const zl = CP_LOW * ph + pl * CP + DP_LOW[k]!;
    t1 = upper(zh + zl + DP_HIGH[k]! + m);
    t2 = zl - (t1 - m - DP_HIGH[k]! - zh);
  }
  const y1 = upper(y);
  const pl = (y - y1) * t1 + y * t2;
  let ph = y1 * t1;
  let z = pl + ph;
  let j = high(z);
  let i = low(z);
  if (j >= 0x40900000) {
    if (((j - 0x40900000) | i) !== 0) return s * Infinity;
    if (pl + OVERFLOW > z - ph) return s * Infinity;
  } else if ((j & ABS) >= 0x4090cc00) {
    if (((j - (0xc090cc00 | 0)) | i) !== 0) return s * 0;
    if (pl <= z - ph) return s * 0;
  }
  i = j & ABS;
  let k = (i >> 20) - 0x3ff;
  let count = 0;
  if (i > 0x3fe00000) {
    count = j + (0x00100000 >> (k + 1));
    k = ((count & ABS) >> 20) - 0x3ff;
    const t = of(count & ~(0x000fffff >> k), 0);
    count = ((count & 0x000fffff) | 0x00100000) >> (20 - k);
    if (j < 0) count = -count;
    ph -= t;
  }
  const t = upper(pl + ph);
  const u = t * LG2_HIGH;
  const v = (pl - (t - ph)) * LG2 + t * LG2_LOW;
  z = u + v;
  const w = v - (z - u);
  const tt = z * z;
  const p = z - tt * (E1 + tt * (E2 + tt * (E3 + tt * (E4 + tt * E5))));
  const r = (z * p) / (p - 2) - (w + z * w);
  z = 1 - (r - z);
  j = high(z) + (count << 20);
  if (j >> 20 <= 0) z = scaled(z, count);
  else z = withHigh(z, j);
  return s * z;
}

/** x·2ⁿ for results that are too small for a full fraction. */
const scaled = (x: number, n: number): number => x * 2 ** (n + 54) * 2 ** -54;

export function atanh(x: number): number {
  const hx = high(x);
  const ix = hx & ABS;
  if (Math.abs(x) > 1) return Number.NaN;
  if (ix === 0x3ff00000) return x / 0;
  if (ix < 0x3e300000) return x;
  const ax = Math.abs(x);
  let t: number;
  if (ix < 0x3fe00000) {
    t = ax + ax;
    t = 0.5 * log1p(t + (t * ax) / (1 - ax));
  } else t = 0.5 * log1p((ax + ax) / (1 - ax));
  return hx >= 0 ? t : -t;
}

export function log10(given: number): number {
  let x = given;
  let hx = high(x);
  let k = 0;
  if (hx < 0x00100000) {
    if (((hx & ABS) | low(x)) === 0) return -Infinity;
    if (hx < 0) return Number.NaN;
    k -= 54;
    x *= 2 ** 54;
    hx = high(x);
  }
  if (hx >= INFINITE) return x + x;
  if (x === 1) return 0;
  k += (hx >> 20) - 1023;
  const i = k < 0 ? 1 : 0;
  x = withHigh(x, (hx & 0x000fffff) | ((0x3ff - i) << 20));
  const y = k + i;
  const z = y * 3.694239077158931e-13 + Math.LOG10E * log(x);
  return z + y * 0.30102999566361177;
}

/** Root of the sum of squares, as Node has it: of the largest, of the shares of that in compensated summation (Kahan). */
export function hypot(...values: number[]): number {
  const sizes = values.map(Math.abs);
  if (sizes.includes(Infinity)) return Infinity;
  let most = 0;
  for (const size of sizes) {
    if (Number.isNaN(size)) return Number.NaN;
    if (size > most) most = size;
  }
  if (most === 0) return 0;
  let sum = 0;
  let compensation = 0;
  for (const size of sizes) {
    const share = size / most;
    const summand = share * share - compensation;
    const next = sum + summand;
    compensation = next - sum - summand;
    sum = next;
  }
  return Math.sqrt(sum) * most;
}
