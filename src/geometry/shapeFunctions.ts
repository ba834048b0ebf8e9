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
