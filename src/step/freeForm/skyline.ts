/**
 * Factor and solve of a sparse symmetric positive definite matrix with a short envelope.
 *
 * Rows are numbered by reverse Cuthill–McKee and kept from their first entry to the diagonal. Source: A. George,
 * J. W. H. Liu, "Computer Solution of Large Sparse Positive Definite Systems", 1981, chapter 4 (from memory).
 */

export interface Factored {
  /** Solves in place. @param b right-hand side in, solution out, length of the matrix */
  solve(b: Float64Array): void;
}

/**
 * @param count   rows
 * @param entries off-diagonal entries i, j, value, each pair once
 * @param diagonal all positive
 */
export function factorSkyline(
  count: number,
  entries: readonly (readonly [number, number, number])[],
  diagonal: Float64Array,
): Factored {
  const order = cuthillMcKee(count, entries);
  const place = new Int32Array(count);
  for (const [i, node] of order.entries()) place[node] = i;
  const first = Int32Array.from({ length: count }, (_, i) => i);
  for (const [i, j] of entries) {
    const [low, high] = [Math.min(place[i]!, place[j]!), Math.max(place[i]!, place[j]!)];
    first[high] = Math.min(first[high]!, low);
  }
  const start = new Int32Array(count + 1);
  for (let i = 0; i < count; i++) start[i + 1] = start[i]! + (i - first[i]! + 1);
  const L = new Float64Array(start[count]!);
  const index = (i: number, j: number): number => start[i]! + j - first[i]!;
  for (let node = 0; node < count; node++) L[index(place[node]!, place[node]!)] = diagonal[node]!;
  for (const [i, j, value] of entries) {
    const [low, high] = [Math.min(place[i]!, place[j]!), Math.max(place[i]!, place[j]!)];
    L[index(high, low)] = L[index(high, low)]! + value;
  }
  for (let i = 0; i < count; i++) {
    const fi = first[i]!;
    const si = start[i]! - fi;
    for (let j = fi; j <= i; j++) {
      const fj = first[j]!;
      const sj = start[j]! - fj;
      let sum = L[si + j]!;
      for (let k = Math.max(fi, fj); k < j; k++) sum -= L[si + k]! * L[sj + k]!;
      L[si + j] = j < i ? sum / L[sj + j]! : Math.sqrt(Math.max(sum, 1e-12 * Math.abs(diagonal[order[i]!]!)));
    }
  }
  const work = new Float64Array(count);
  return {
    solve(b) {
      for (let i = 0; i < count; i++) work[i] = b[order[i]!]!;
      for (let i = 0; i < count; i++) {
        let sum = work[i]!;
        const si = start[i]! - first[i]!;
        for (let k = first[i]!; k < i; k++) sum -= L[si + k]! * work[k]!;
        work[i] = sum / L[si + i]!;
      }
      for (let i = count - 1; i >= 0; i--) {
        const si = start[i]! - first[i]!;
        const value = work[i]! / L[si + i]!;
        work[i] = value;
        for (let k = first[i]!; k < i; k++) work[k] = work[k]! - L[si + k]! * value;
      }
      for (let i = 0; i < count; i++) b[order[i]!] = work[i]!;
    },
  };
}

function cuthillMcKee(count: number, entries: readonly (readonly [number, number, number])[]): number[] {
  const near: number[][] = Array.from({ length: count }, () => []);
  for (const [i, j] of entries) {
    near[i]!.push(j);
    near[j]!.push(i);
  }
  const walk = (start: number, seen: Uint8Array): number[] => {
    const order = [start];
    seen[start] = 1;
    for (let at = 0; at < order.length; at++) {
      const next = near[order[at]!]!.filter((node) => seen[node] === 0);
      next.sort((a, b) => near[a]!.length - near[b]!.length || a - b);
      for (const node of next) {
        if (seen[node] !== 0) continue;
        seen[node] = 1;
        order.push(node);
      }
    }
    return order;
  };
  const done = new Uint8Array(count);
  const out: number[] = [];
  for (let node = 0; node < count; node++) {
    if (done[node] !== 0) continue;
    // The far end of a walk is a better place to start from.
    const probe = walk(node, done.slice());
    out.push(...walk(probe[probe.length - 1]!, done));
  }
  return out.reverse();
}
