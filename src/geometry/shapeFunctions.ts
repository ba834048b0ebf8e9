/** The four triangles into which the middles cut a six-node one: corners 0 1 2, middles 3 of 01, 4 of 12, 5 of 20. */
export const QUARTERS = [
  [0, 3, 5],
  [3, 1, 4],
  [5, 4, 2],
  [3, 4, 5],
] as const;

/** Shape functions of the six-node triangle at area coordinates (1−u−v, u, v). */
export function shapeFunctions(u: number, v: number, out: Float64Array): void {
  const w = 1 - u - v;
  out[0] = w * (2 * w - 1);
  out[1] = u * (2 * u - 1);
  out[2] = v * (2 * v - 1);
  out[3] = 4 * w * u;
  out[4] = 4 * u * v;
  out[5] = 4 * v * w;
}

/** Derivatives of the six shape functions by u and v. */
export function shapeDerivatives(u: number, v: number, du: Float64Array, dv: Float64Array): void {
  const w = 1 - u - v;
  du[0] = 1 - 4 * w;
  dv[0] = 1 - 4 * w;
  du[1] = 4 * u - 1;
  dv[1] = 0;
  du[2] = 0;
  dv[2] = 4 * v - 1;
  du[3] = 4 * (w - u);
  dv[3] = -4 * u;
  du[4] = 4 * v;
  dv[4] = 4 * u;
  du[5] = -4 * v;
  dv[5] = 4 * (w - v);
}

/** Value at a fraction along a quadratic edge, from those at its ends and its middle. */
export const alongEdge = (s: number, from: number, middle: number, to: number): number =>
  (1 - s) * (1 - 2 * s) * from + 4 * s * (1 - s) * middle + s * (2 * s - 1) * to;
