/**
 * How large the triangles of a part may be: at first from its shape, then from what a solution on such triangles
 * shows of its own error.
 *
 * The error of a triangle's strains is taken as their difference from the smooth strains of the nodes
 * (O. C. Zienkiewicz, J. Z. Zhu, "A simple error estimator and adaptive procedure for practical engineering
 * analysis", 1987; title from memory), times its size a displacement. Six-node triangles have displacements that
 * are right to the third power of their size.
 */
import { extentOf } from '../../geometry/extent.ts';
import { shapeFunctions } from '../../geometry/shapeFunctions.ts';
import { INTEGRATION_POINTS } from '../../solve/elements.ts';
import type { TraySolution } from '../../solve/solveTray.ts';
import { flatGradient, logStrain, nodalStrains } from '../../solve/strains.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { FlatAtlas } from './flatAtlas.ts';
import { curvaturesOf } from './neutralFibre.ts';
import type { Skin } from './skin.ts';
import { boundaryLoops } from './skinMesh.ts';

/** Edge length wanted at a point of the first flat shape, mm. */
export type SizeField = (x: number, y: number) => number;

export interface PartDensity {
  /** Angle a triangle may span before anything is solved, radians: where the part is curved both ways. */
  readonly strained: number;
  /** The same, always, where the sheet is only bent. */
  readonly bent: number;
  /** Growth of triangle size per distance. */
  readonly growth: number;
  /** Displacement by which one triangle may be wrong, mm. */
  readonly error: number;
}

export const PART_DENSITY: PartDensity = { strained: 0.5, bent: 1.2, growth: 0.3, error: 0.004 };

/** Largest triangles, and smallest ones that a curvature asks for, one way and both ways: the part's size over these. */
const COARSEST = 8;
const FINEST_BENT = 40;
const FINEST = 60;
/** Most triangles that an error asks for. */
const MOST_TRIANGLES = 12_000;
/** Change of size by one solution, at the most. */
const LEAST_SHARE = 0.3;
const LARGEST_SHARE = 2;
/**
 * The least change where the metal necks: there the stretch gathers in a band as narrow as the triangles let it, so
 * that smaller ones find another answer, or none, and no better one.
 */
const NECKED_SHARE = 1;
/** Angle of the boundary that one edge may span, radians, and the shortest such edge: the part's size over this. */
const EDGE_ANGLE = 0.5;
const FINEST_EDGE = 600;
/** A turn of the boundary that is a corner and no curve, radians. */
const SHARP = 0.5;
/** Largest radius that is one, as a multiple of the part's size. */
const LARGEST_RADIUS = 20;

/** Extent of the flat shape along x or y, whichever is larger, mm. */
function largerExtent(flat: Float64Array): number {
  const { minX, minY, maxX, maxY } = extentOf(flat);
  return Math.max(maxX - minX, maxY - minY);
}

/**
 * Sizes at the net's vertices as the part's shape asks for them, mm; not yet graded.
 *
 * @param strained angle a triangle may span where the part is curved both ways, radians
 * @param bent     the same where the sheet is only bent
 */
export function sizesByShape(
  live: LivePart,
  skin: Skin,
  flat: Float64Array,
  { strained, bent }: { readonly strained: number; readonly bent: number },
): Float64Array {
  const { triangles, parameters, face, position } = skin.mesh;
  const extent = largerExtent(flat);
  const flattest = 1 / (LARGEST_RADIUS * extent);
  const sizes = new Float64Array(position.length / 3).fill(extent / COARSEST);
  const rates = new Float64Array(18);
  const seen = new Set<number>();
  for (const [at, vertex] of triangles.entries()) {
    const number = face[Math.floor(at / 3)]!;
    const key = number * sizes.length + vertex;
    if (seen.has(key)) continue;
    seen.add(key);
    live.differentiate(number, parameters[2 * at]!, parameters[2 * at + 1]!, rates);
    const [a, b] = curvaturesOf(rates, 1).values.map(Math.abs) as [number, number];
    const [most, least] = [Math.max(a, b), Math.min(a, b)];
    // At the pole of a face there is no telling; its other points do.
    if (!(most > flattest)) continue;
    const wanted =
      least > flattest
        ? Math.max(extent / FINEST, strained / most)
        : Math.max(extent / FINEST_BENT, bent / most);
    sizes[vertex] = Math.min(sizes[vertex]!, wanted);
  }
  for (const loop of boundaryLoops(skin.mesh)) {
    for (const [k, vertex] of loop.entries()) {
      const radius = turningRadius(
        flat,
        loop[(k + loop.length - 1) % loop.length]!,
        vertex,
        loop[(k + 1) % loop.length]!,
      );
      sizes[vertex] = Math.min(sizes[vertex]!, Math.max(extent / FINEST_EDGE, EDGE_ANGLE * radius));
    }
  }
  return sizes;
}

/** Radius of the flat boundary at a vertex, mm; endless where it is straight or has a corner. */
function turningRadius(flat: Float64Array, before: number, at: number, after: number): number {
  const [ax, ay] = [flat[2 * at]! - flat[2 * before]!, flat[2 * at + 1]! - flat[2 * before + 1]!];
  const [bx, by] = [flat[2 * after]! - flat[2 * at]!, flat[2 * after + 1]! - flat[2 * at + 1]!];
  const turn = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
  return turn < 1e-6 || turn > SHARP ? Infinity : (Math.hypot(ax, ay) + Math.hypot(bx, by)) / 2 / turn;
}

/** A point of the first flat shape and the size wanted there, mm. */
export interface WantedAt {
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

/**
 * Sizes at the middles of a solution's triangles with which each would be wrong by no more than wanted.
 *
 * @param start x y per node: the first flat shape
 * @param error displacement by which a triangle may be wrong, mm
 * @param even  share of the even elongation above which triangles are made no smaller
 */
export function sizesByError(
  solution: TraySolution,
  start: Float64Array,
  error: number,
  even: number,
): WantedAt[] {
  const { mesh, geometry, law, flat } = solution;
  const { triangles } = mesh;
  const { tensor } = nodalStrains(mesh, geometry, law, flat);
  const [shape, own] = [new Float64Array(6), new Float64Array(3)];
  const shapes = INTEGRATION_POINTS.map(([u, v]) => {
    shapeFunctions(u, v, shape);
    return shape.slice();
  });
  const out: WantedAt[] = [];
  let expected = 0;
  for (let t = 0; t < triangles.length / 6; t++) {
    const node = (k: number): number => triangles[6 * t + k]!;
    let square = 0;
    for (const [g, weights] of shapes.entries()) {
      logStrain(...flatGradient(mesh, geometry, flat, t, g), own);
      for (let j = 0; j < 3; j++) {
        let smooth = 0;
        for (let i = 0; i < 6; i++) smooth += weights[i]! * tensor[3 * node(i) + j]!;
        square += ((j === 2 ? 2 : 1) * (own[j]! - smooth) ** 2) / shapes.length;
      }
    }
    const at = (k: number, axis: number): number => start[2 * node(k) + axis]!;
    const area =
      ((at(1, 0) - at(0, 0)) * (at(2, 1) - at(0, 1)) - (at(1, 1) - at(0, 1)) * (at(2, 0) - at(0, 0))) / 2;
    // Edge of the equilateral triangle of this area.
    const size = Math.sqrt((4 / Math.sqrt(3)) * area);
    const share = Math.cbrt(error / Math.max(1e-12, Math.sqrt(square) * size));
    const least = isNecked(even * law.n, tensor, triangles.subarray(6 * t, 6 * t + 3))
      ? NECKED_SHARE
      : LEAST_SHARE;
    const kept = Math.min(LARGEST_SHARE, Math.max(least, share));
    expected += 1 / kept ** 2;
    out.push({
      x: (at(0, 0) + at(1, 0) + at(2, 0)) / 3,
      y: (at(0, 1) + at(1, 1) + at(2, 1)) / 3,
      size: size * kept,
    });
  }
  const stretch = Math.max(1, Math.sqrt(expected / MOST_TRIANGLES));
  return stretch === 1 ? out : out.map((each) => ({ ...each, size: stretch * each.size }));
}

/**
 * Whether a triangle is stretched beyond the even elongation, which is the hardening exponent (A. Considère, 1885,
 * from memory), or a share of it.
 *
 * @param tensor E11 E22 E12 per node
 */
function isNecked(even: number, tensor: Float64Array, corners: Uint32Array): boolean {
  return corners.some((node) => {
    const [a, b, c] = [tensor[3 * node]!, tensor[3 * node + 1]!, tensor[3 * node + 2]!];
    return (a + b) / 2 + Math.hypot((a - b) / 2, c) > even;
  });
}

/**
 * A field of sizes without jumps: each limits those farther away.
 *
 * @param flat   x y per vertex of the skin's net
 * @param sizes  at these vertices, mm
 * @param points where other sizes are wanted
 */
export function sizeField(
  flat: Float64Array,
  atlas: FlatAtlas,
  sizes: Float64Array,
  points: readonly WantedAt[],
  growth: number,
): SizeField {
  const graded = sizes.slice();
  const limit = (x: number, y: number, size: number): void => {
    for (let j = 0; j < graded.length; j++) {
      // Most vertices are limited by nearer ones already.
      const room = (graded[j]! - size) / growth;
      if (room <= 0) continue;
      const [dx, dy] = [x - flat[2 * j]!, y - flat[2 * j + 1]!];
      const square = dx * dx + dy * dy;
      if (square < room * room) graded[j] = size + growth * Math.sqrt(square);
    }
  };
  for (const { x, y, size } of [...points].sort((a, b) => a.size - b.size)) limit(x, y, size);
  const order = Array.from(graded, (_, i) => i).sort((a, b) => graded[a]! - graded[b]!);
  for (const i of order) limit(flat[2 * i]!, flat[2 * i + 1]!, graded[i]!);
  return (x, y) => atlas.interpolate(x, y, graded);
}
