/** Two-by-two matrices and small linear systems, for checking tensors apart from the solver's closed forms. */

/** Rows. */
export type Matrix2 = readonly [readonly [number, number], readonly [number, number]];

export const times = (a: Matrix2, b: Matrix2): Matrix2 => [
  [a[0][0] * b[0][0] + a[0][1] * b[1][0], a[0][0] * b[0][1] + a[0][1] * b[1][1]],
  [a[1][0] * b[0][0] + a[1][1] * b[1][0], a[1][0] * b[0][1] + a[1][1] * b[1][1]],
];

export const transposed = ([[a, b], [c, d]]: Matrix2): Matrix2 => [
  [a, c],
  [b, d],
];

export const determinant = ([[a, b], [c, d]]: Matrix2): number => a * d - b * c;

export const inverse = (m: Matrix2): Matrix2 => {
  const det = determinant(m);
  return [
    [m[1][1] / det, -m[0][1] / det],
    [-m[1][0] / det, m[0][0] / det],
  ];
};

export const rotation = (angle: number): Matrix2 => [
  [Math.cos(angle), -Math.sin(angle)],
  [Math.sin(angle), Math.cos(angle)],
];

/** Eigenvalues and unit eigenvectors of a symmetric matrix by one Jacobi rotation; vectors are the columns. */
export function eigen(m: Matrix2): { values: readonly [number, number]; vectors: Matrix2 } {
  const angle = Math.atan2(2 * m[0][1], m[0][0] - m[1][1]) / 2;
  const vectors = rotation(angle);
  const diagonal = times(transposed(vectors), times(m, vectors));
  return { values: [diagonal[0][0], diagonal[1][1]], vectors };
}

/** f of a symmetric matrix, through its eigenvalues. */
export function matrixFunction(f: (value: number) => number, m: Matrix2): Matrix2 {
  const { values, vectors } = eigen(m);
  return times(
    vectors,
    times(
      [
        [f(values[0]), 0],
        [0, f(values[1])],
      ],
      transposed(vectors),
    ),
  );
}

/** Logarithmic strain ½ ln FᵀF of a map F from flat to formed. */
export const hencky = (map: Matrix2): Matrix2 =>
  matrixFunction((value) => Math.log(value) / 2, times(transposed(map), map));

/** Solves a small system by Gaussian elimination with partial pivoting. */
export function solveLinear(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, right[i]!]);
  const size = rows.length;
  for (let k = 0; k < size; k++) {
    let best = k;
    for (let i = k + 1; i < size; i++) if (Math.abs(rows[i]![k]!) > Math.abs(rows[best]![k]!)) best = i;
    [rows[k], rows[best]] = [rows[best]!, rows[k]!];
    for (let i = k + 1; i < size; i++) {
      const factor = rows[i]![k]! / rows[k]![k]!;
      for (let j = k; j <= size; j++) rows[i]![j] = rows[i]![j]! - factor * rows[k]![j]!;
    }
  }
  const out: number[] = new Array<number>(size).fill(0);
  for (let k = size - 1; k >= 0; k--) {
    let sum = rows[k]![size]!;
    for (let j = k + 1; j < size; j++) sum -= rows[k]![j]! * out[j]!;
    out[k] = sum / rows[k]![k]!;
  }
  return out;
}
