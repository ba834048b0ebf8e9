/**
 * What steps with old factors have shown about how the residual changes: Broyden's update of the inverse, kept as the
 * steps themselves.
 *
 * With factors K⁻¹ and full steps s₁, s₂, … the next step is Πⱼ (1 + sⱼ₊₁ sⱼᵀ/|sⱼ|²) (−K⁻¹ r), the last factor solved
 * for its own step (C. T. Kelley, Iterative Methods for Linear and Nonlinear Equations, SIAM 1995, section 7.3; from
 * memory).
 */
export class Corrections {
  private readonly steps: { readonly step: Float64Array; readonly square: number }[] = [];

  get count(): number {
    return this.steps.length;
  }

  clear(): void {
    this.steps.length = 0;
  }

  /** Remembers a full step that was taken; not changed. */
  add(step: Float64Array): void {
    this.steps.push({ step: step.slice(), square: dot(step, step) });
  }

  /** Turns a step with the old factors into the corrected one, in place. */
  apply(step: Float64Array): void {
    const { steps } = this;
    for (const [j, { step: before, square }] of steps.entries()) {
      const share = dot(before, step) / square;
      const next = steps[j + 1]?.step;
      if (next === undefined) {
        // Where the last step would be repeated in full, nothing is learnt from it.
        const scale = share < MOST_SHARE ? 1 / (1 - share) : 1;
        for (let i = 0; i < step.length; i++) step[i] = scale * step[i]!;
      } else {
        for (let i = 0; i < step.length; i++) step[i] = step[i]! + share * next[i]!;
      }
    }
  }
}

/** Part of the last step in the next one beyond which the two are as good as one. */
const MOST_SHARE = 0.95;

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
