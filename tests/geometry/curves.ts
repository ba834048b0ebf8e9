/** Smooth curves with known curvature, as samples of a rim. Shares no code with src. */

/** A curve by its curvature over its length, integrated finely from the origin along +x. */
export interface Curve {
  readonly length: number;
  readonly curvature: (s: number) => number;
  readonly at: (s: number) => { readonly x: number; readonly y: number; readonly angle: number };
}

/** Simpson's rule for the direction and the place, in steps of a 6,000th of the length. */
export function curveOf(curvature: (s: number) => number, length: number): Curve {
  const n = 6000;
  const h = length / n;
  const x = new Float64Array(n + 1);
  const y = new Float64Array(n + 1);
  const angle = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) {
    const k = [0, 0.25, 0.5, 0.75, 1].map((t) => curvature((i + t) * h));
    const half = angle[i]! + (h / 12) * (k[0]! + 4 * k[1]! + k[2]!);
    const full = angle[i]! + (h / 6) * (k[0]! + 4 * k[2]! + k[4]!);
    x[i + 1] = x[i]! + (h / 6) * (Math.cos(angle[i]!) + 4 * Math.cos(half) + Math.cos(full));
    y[i + 1] = y[i]! + (h / 6) * (Math.sin(angle[i]!) + 4 * Math.sin(half) + Math.sin(full));
    angle[i + 1] = full;
  }
  const at = (s: number) => {
    const i = Math.min(n - 1, Math.max(0, Math.floor(s / h)));
    const t = s / h - i;
    const [a, b] = [angle[i]!, angle[i + 1]!];
    // Along the chord, and out from it by the sagitta of the short arc.
    const out = (-t * (1 - t) * h * (b - a)) / 2;
    const middle = (a + b) / 2;
    return {
      x: x[i]! + t * (x[i + 1]! - x[i]!) - out * Math.sin(middle),
      y: y[i]! + t * (y[i + 1]! - y[i]!) + out * Math.cos(middle),
      angle: a + t * (b - a),
    };
  };
  return { length, curvature, at };
}

/** A corner of 90° between two sides: curvature a bell, with a slight hollow on either side as a gathered rim has. */
export function bellCorner(width: number, length: number, hollow: number): Curve {
  const bell = (s: number, turn: number) =>
    (turn / (width * Math.sqrt(Math.PI))) * Math.exp(-((s / width) ** 2));
  const raw = (s: number) =>
    bell(s - length / 2, Math.PI / 2 + 2 * hollow) -
    bell(s - length / 2 - 2.2 * width, hollow) -
    bell(s - length / 2 + 2.2 * width, hollow);
  // The tails are cut off at the ends: scale so that the turn is 90° again.
  let turn = 0;
  const n = 4000;
  for (let i = 0; i < n; i++) turn += (raw(((i + 0.5) * length) / n) * length) / n;
  return curveOf((s) => (raw(s) * Math.PI) / 2 / turn, length);
}

/** Line, clothoid, clothoid, line: curvature rises and falls evenly, 90° in all. */
export function clothoidCorner(side: number, ramp: number): Curve {
  const length = 2 * side + 2 * ramp;
  return curveOf((s) => {
    const d = Math.abs(s - length / 2);
    return d < ramp ? (Math.PI / 2 / ramp) * (1 - d / ramp) : 0;
  }, length);
}

/** Line, arc of 90°, line. */
export function filletCorner(before: number, radius: number, after: number): Curve {
  const arc = (radius * Math.PI) / 2;
  const at = (s: number) => {
    if (s <= before) return { x: s, y: 0, angle: 0 };
    if (s >= before + arc) return { x: before + radius, y: radius + s - before - arc, angle: Math.PI / 2 };
    const angle = (s - before) / radius;
    return { x: before + radius * Math.sin(angle), y: radius * (1 - Math.cos(angle)), angle };
  };
  return {
    length: before + arc + after,
    curvature: (s) => (s > before && s < before + arc ? 1 / radius : 0),
    at,
  };
}

/**
 * Where a graded mesh puts its nodes: `finest` apart within `half` of the centre, growing by a quarter of the
 * distance beyond, at most `widest` apart.
 */
export function gradedPlaces(
  length: number,
  half: number,
  finest: number,
  widest: number,
  centre = length / 2,
): number[] {
  const from = (room: number): number[] => {
    const places: number[] = [];
    for (let d = 0; d < room; ) {
      d += Math.min(widest, finest + 0.25 * Math.max(0, d - half));
      if (d < room - finest / 2) places.push(d);
    }
    return places;
  };
  const before = from(centre).map((d) => centre - d);
  const after = from(length - centre).map((d) => centre + d);
  return [0, ...before.reverse(), centre, ...after, length];
}

/** x y per place. `noise`: largest error of a sample, mm, square to the curve, from a fixed sequence. */
export function samplesOf(curve: Curve, places: readonly number[], noise = 0): Float64Array {
  const points = new Float64Array(2 * places.length);
  let seed = 12345;
  for (const [i, s] of places.entries()) {
    seed = (seed * 16807) % 2147483647; // Park and Miller's minimal standard generator
    const off = i === 0 || i === places.length - 1 ? 0 : noise * ((2 * seed) / 2147483647 - 1);
    const { x, y, angle } = curve.at(s);
    points[2 * i] = x - off * Math.sin(angle);
    points[2 * i + 1] = y + off * Math.cos(angle);
  }
  return points;
}
