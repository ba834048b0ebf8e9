/** The largest of numbers none of which counts when it is negative; 0 of none. */
export function largest(values: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < values.length; i++) most = Math.max(most, values[i]!);
  return most;
}
