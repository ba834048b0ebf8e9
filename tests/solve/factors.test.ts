import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { quadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import { midpoints } from '../../src/mesh/skeleton.ts';
import { traySkeleton } from '../../src/mesh/traySkeleton.ts';
import { type Factors, plainFactors } from '../../src/solve/factors.ts';
import { kernelFactors, theKernel } from '../../src/solve/kernel/kernel.ts';
import { KERNEL_BASE64 } from '../../src/solve/kernel/kernelBytes.ts';
import type { KernelLayout } from '../../src/solve/kernel/layout.ts';
import { solverStructure } from '../../src/solve/structure.ts';
import { compileKernel } from '../../src/tools/compileKernel.ts';
import { neutralSurface } from '../../src/tray/neutralSurface.ts';
import type { TraySpec } from '../../src/tray/spec.ts';

const SPEC: TraySpec = {
  name: 'factors',
  measured: 'inside',
  plan: { length: 300, width: 200, cornerRadius: [40, 30, 25, 20] },
  section: { bottomRadius: 20, height: 50, draft: 5, rim: { kind: 'plain' } },
  sheet: { material: 'DC04', thickness: 1, grain: 0 },
  forming: { trim: 0 },
  cut: { process: 'laser', kerf: 0, compensate: false },
};

const skeleton = traySkeleton(neutralSurface(SPEC), null);
const mesh = quadraticMesh(skeleton, midpoints(skeleton), null);
const structure = solverStructure(mesh);
const { tree, unknownCount } = structure;

/** A small generator with a seed, so that a failure can be repeated (Park & Miller 1988, minimal standard). */
function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** An unsymmetric, diagonally dominant matrix in the leaf fronts, and the same matrix as a list of entries. */
function fill(factors: Factors): Map<number, number> {
  const random = randomNumbers(7);
  const entries = new Map<number, number>();
  factors.store.fill(0);
  for (let t = 0; t < mesh.triangles.length / 6; t++) {
    const front = tree.fronts[tree.frontOfTriangle[t]!]!;
    const size = front.unknowns.length;
    for (let i = 0; i < 12; i++) {
      const row = tree.placeInFront[12 * t + i]!;
      if (row < 0) continue;
      for (let j = 0; j < 12; j++) {
        const column = tree.placeInFront[12 * t + j]!;
        if (column < 0) continue;
        const value = (i === j ? 9 : 0) + random() - 0.4;
        const at = front.offset + row * size + column;
        factors.store[at] = factors.store[at]! + value;
        const key = front.unknowns[row]! * unknownCount + front.unknowns[column]!;
        entries.set(key, (entries.get(key) ?? 0) + value);
      }
    }
  }
  return entries;
}

const variants: [string, Factors | null][] = [
  ['in TypeScript', plainFactors(tree)],
  ['in WebAssembly', kernelFactors(tree)],
];

/** A layout without fronts. */
const NOTHING: KernelLayout = {
  frontCount: 0,
  storeSize: 0,
  storeAt: 0,
  vectorAt: 0,
  localAt: 0,
  integersAt: 0,
  integers: new Int32Array(0),
  descriptionsAt: 0,
  bytes: 0,
};

describe('factors', () => {
  it.each(variants)('%s solve the assembled system to rounding', (_, factors) => {
    expect(factors).not.toBeNull();
    const entries = fill(factors!);
    expect(factors!.factorise()).toBe(true);
    const random = randomNumbers(11);
    const right = Float64Array.from({ length: unknownCount }, () => random() - 0.5);
    const solution = right.slice();
    factors!.solve(solution);
    const rest = right.slice();
    for (const [key, value] of entries) {
      const row = Math.floor(key / unknownCount);
      rest[row] = rest[row]! - value * solution[key % unknownCount]!;
    }
    const norm = (v: Float64Array): number => Math.sqrt(v.reduce((sum, value) => sum + value * value, 0));
    expect(norm(rest) / norm(right)).toBeLessThan(1e-13);
  });

  it('report a singular matrix instead of hiding it', () => {
    for (const [, factors] of variants) {
      factors!.store.fill(0);
      expect(factors!.factorise()).toBe(false);
      factors!.store.fill(Number.NaN);
      expect(factors!.factorise()).toBe(false);
    }
  });

  it('live in WebAssembly memory where there is WebAssembly', () => {
    // Such memory comes in pages of 64 KiB (WebAssembly Core Specification, "memory instances").
    const bytes = kernelFactors(tree)!.store.buffer.byteLength;
    expect(bytes % 65536).toBe(0);
    expect(bytes).toBeGreaterThan(8 * tree.storeSize);
  });

  it('are lost, and say so, when another tree takes the memory', () => {
    const first = kernelFactors(tree)!;
    fill(first);
    expect(first.factorise()).toBe(true);
    fill(kernelFactors(tree)!);
    expect(() => first.factorise()).toThrow(/given up/);
    expect(() => first.solve(new Float64Array(unknownCount))).toThrow(/given up/);
  });

  it('give back the memory of an unusually large tray', () => {
    const kernel = theKernel()!;
    const large = 2 ** 27;
    const empty = new Int32Array(1);
    kernel.claim({}, { ...NOTHING, integers: empty, integersAt: large - 4, bytes: large });
    expect(kernel.bytes).toBeGreaterThanOrEqual(large);
    const factors = kernelFactors(tree)!;
    fill(factors);
    expect(kernel.bytes).toBeLessThan(large / 4);
    const plain = plainFactors(tree);
    fill(plain);
    expect(factors.factorise()).toBe(plain.factorise());
    const [one, other] = [new Float64Array(unknownCount).fill(1), new Float64Array(unknownCount).fill(1)];
    factors.solve(one);
    plain.solve(other);
    for (const [i, value] of one.entries()) expect(Math.abs(value - other[i]!)).toBeLessThan(1e-12);
  });

  it('have a kernel that is the compiled source', async () => {
    const entry = fileURLToPath(new URL('../../src/solve/kernel/kernel.as.ts', import.meta.url));
    const bytes = await compileKernel(entry);
    expect(Buffer.from(bytes).toString('base64')).toBe(KERNEL_BASE64);
  });
});
