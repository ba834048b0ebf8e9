/** A flat carried from one mesh to another: by the faces' parameters, whatever the first flat shapes of the two. */
import { describe, expect, it } from 'vitest';
import { carriedFlat } from '../../../src/step/freeForm/carriedFlat.ts';
import type { PartMesh } from '../../../src/step/freeForm/partMesh.ts';
import type { PartPlace } from '../../../src/step/freeForm/skin.ts';
import { troughMesh } from '../../support/troughMesh.ts';

type Point = readonly [number, number];
const PLATE = { base: 60, length: 40, bendRadius: 0, wall: 0 };

/**
 * A plate meshed by cells; its points are the parameters of its face.
 *
 * @param start first flat shape, by the parameters
 */
function plate(cells: number, start: (u: number, v: number) => Point, face = 0, shift = 0): PartMesh {
  const mesh = troughMesh(PLATE, cells, cells, 0.2);
  const at = (node: number): Point => [mesh.placed[11 * node]!, mesh.placed[11 * node + 1]!];
  const nodes = [...Array(mesh.nodeCount).keys()];
  return {
    mesh,
    start: Float64Array.from(nodes.flatMap((node) => [...start(...at(node))])),
    holes: [],
    borders: [],
    places: nodes.map((node): PartPlace[] => [{ face, u: at(node)[0] + shift, v: at(node)[1] }]),
  };
}

/** A flat that six-node triangles hold exactly: of the second degree in the parameters. */
const flatAt = (u: number, v: number): Point => [
  1.1 * u + 0.2 * v + 0.002 * u * v,
  0.9 * v - 0.003 * u * u + 0.001 * v * v,
];

const flatOf = ({ places }: PartMesh, shift = 0): Float64Array =>
  Float64Array.from(places.flatMap(([place]) => [...flatAt(place!.u - shift, place!.v)]));

const worst = (a: Float64Array, b: Float64Array): number => Math.max(...a.map((x, i) => Math.abs(x - b[i]!)));

const same = (u: number, v: number): Point => [u, v];

describe('a flat is carried', () => {
  it('to its own mesh as it is', () => {
    const from = plate(4, same);
    expect(worst(carriedFlat(from, flatOf(from), from), flatOf(from))).toBeLessThan(1e-9);
  });

  it('to a finer and to a coarser mesh by the parameters, though the first flat shapes of the two differ', () => {
    // Shifted by less than a cell and sheared: the parameters put it right.
    const other = (u: number, v: number): Point => [u + 0.3 + 0.005 * v, v - 0.2 - 0.003 * u];
    for (const [coarse, fine] of [
      [4, 7],
      [7, 4],
    ] as const) {
      const [from, to] = [plate(coarse, same), plate(fine, other)];
      expect(worst(carriedFlat(from, flatOf(from), to), flatOf(to))).toBeLessThan(1e-9);
    }
  });

  it('by the first flat shape where no face is common, or its parameters jump at a seam', () => {
    const from = plate(4, same);
    for (const to of [plate(6, same, 1), plate(6, same, 0, 1000)]) {
      const shift = to.places[0]![0]!.u > 500 ? 1000 : 0;
      expect(worst(carriedFlat(from, flatOf(from), to), flatOf(to, shift))).toBeLessThan(1e-9);
    }
  });
});
