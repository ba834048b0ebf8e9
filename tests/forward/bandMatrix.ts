/** Symmetric band matrices and their factors L·Lᵀ (A.-L. Cholesky's; no pivoting). */
export class BandMatrix {
  readonly size: number;
  readonly band: number;
  /** Row by row, the band's `band` entries left of the diagonal, then the diagonal. */
  readonly values: Float64Array;

  /** @param band how far left of the diagonal entries may stand */
  constructor(size: number, band: number) {
    this.size = size;
    this.band = band;
    this.values = new Float64Array(size * (band + 1));
  }

  /** Adds to an entry of the lower triangle. */
  add(row: number, column: number, value: number): void {
    this.values[row * (this.band + 1) + column - row + this.band]! += value;
  }

  /** The factor of this matrix with `shift` added to its diagonal; null where it is not positive definite. */
  factor(shift: number): BandMatrix | null {
    const { size, band } = this;
    const out = new BandMatrix(size, band);
    const width = band + 1;
    const l = out.values;
    l.set(this.values);
    for (let i = 0; i < size; i++) {
      const row = i * width + band - i;
      const first = Math.max(0, i - band);
      const diagonal = l[row + i]! + shift;
      l[row + i] = diagonal;
      for (let j = first; j <= i; j++) {
        const other = j * width + band - j;
        let sum = l[row + j]!;
        for (let k = Math.max(first, j - band); k < j; k++) sum -= l[row + k]! * l[other + k]!;
        if (j < i) l[row + j] = sum / l[other + j]!;
        else if (sum > 1e-12 * diagonal) l[row + i] = Math.sqrt(sum);
        else return null;
      }
    }
    return out;
  }

  /** Solves L·Lᵀ·x = right of a factor, in place. */
  solve(right: Float64Array): void {
    const { size, band, values: l } = this;
    const width = band + 1;
    for (let i = 0; i < size; i++) {
      const row = i * width + band - i;
      let sum = right[i]!;
      for (let k = Math.max(0, i - band); k < i; k++) sum -= l[row + k]! * right[k]!;
      right[i] = sum / l[row + i]!;
    }
    for (let i = size - 1; i >= 0; i--) {
      const row = i * width + band - i;
      const value = right[i]! / l[row + i]!;
      right[i] = value;
      for (let k = Math.max(0, i - band); k < i; k++) right[k]! -= l[row + k]! * value;
    }
  }
}
