/**
 * A trough without corners, and a flat plate, meshed by hand: a strip of base, one bend, one wall, free all
 * round. Places its own points, so that it also checks the frames the solver works in.
 */

import { type QuadraticMesh, quadraticMesh } from '../../src/mesh/quadraticMesh.ts';
import { midpoints, type Skeleton } from '../../src/mesh/skeleton.ts';
import { PLACED_SIZE } from '../../src/tray/neutralSurface.ts';

export interface Trough {
  /** Width of the base strip along x, length along y, mm. */
  readonly base: number;
  readonly length: number;
  /** Bend to upright, and straight wall above it; both 0 for a flat plate. */
  readonly bendRadius: number;
  readonly wall: number;
}

/** Developed length of a trough across. */
export const developedLength = ({ base, bendRadius, wall }: Trough): number =>
  base + (Math.PI / 2) * bendRadius + wall;

/** Point of the trough whose developed coordinates are (x, y): position, images of flat x and y, flat place. */
function place({ base, bendRadius, wall }: Trough, x: number, y: number, out: Float64Array): void {
  const arc = (Math.PI / 2) * bendRadius;
  let [px, pz, angle] = [x, 0, 0];
  if (x > base && wall + arc > 0) {
    const along = Math.min(x - base, arc);
    angle = bendRadius > 0 ? along / bendRadius : Math.PI / 2;
    const above = x - base - along;
    px = base + bendRadius * Math.sin(angle);
    pz = bendRadius * (1 - Math.cos(angle)) + above;
  }
  out.set([px, y, pz, Math.cos(angle), 0, Math.sin(angle), 0, 1, 0, x, y]);
}

/**
 * Mesh of the trough: `across` cells over base, bend and wall each, `along` cells in y; inner corners of the base
 * shifted by `distortion` of a cell, so that no two triangles are alike.
 */
export function troughMesh(trough: Trough, across: number, along: number, distortion: number): QuadraticMesh {
  const { base, length, bendRadius, wall } = trough;
  const arc = (Math.PI / 2) * bendRadius;
  const cells = wall + arc > 0 ? 3 * across : across;
  const stations = Array.from({ length: cells + 1 }, (_, i) => {
    const step = (i % across) / across;
    if (i <= across) return (i / across) * base;
    if (i <= 2 * across) return base + (i === 2 * across ? 1 : step) * arc;
    return base + arc + (i === 3 * across ? 1 : step) * wall;
  });
  const placed = new Float64Array(PLACED_SIZE * (cells + 1) * (along + 1));
  const developed: (readonly [number, number])[] = [];
  for (let i = 0; i <= cells; i++) {
    for (let j = 0; j <= along; j++) {
      const inner = i > 0 && i < across && j > 0 && j < along;
      const shift = inner ? distortion * Math.sin(3 * i + 7 * j) : 0;
      const other = inner ? distortion * Math.cos(5 * i + 2 * j) : 0;
      const x = stations[i]! + (shift * base) / across;
      const y = ((j + other) / along) * length;
      developed.push([x, y]);
      place(trough, x, y, placed.subarray(PLACED_SIZE * (developed.length - 1)));
    }
  }
  const triangles: number[] = [];
  const chart: number[] = [];
  const at = (i: number, j: number): number => i * (along + 1) + j;
  for (let i = 0; i < cells; i++) {
    for (let j = 0; j < along; j++) {
      const [p, q, r, s] = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
      if ((i + j) % 2 === 0) triangles.push(p, q, r, p, r, s);
      else triangles.push(p, q, s, q, r, s);
      chart.push(i < across ? 0 : 1, i < across ? 0 : 1);
    }
  }
  const placeAt = (x: number, y: number, out: Float64Array): void => place(trough, x, y, out);
  const skeleton: Skeleton = {
    charts: [
      { planar: true, place: placeAt },
      { planar: false, place: placeAt },
    ],
    placed,
    mirror: new Uint8Array(developed.length),
    triangles: Uint32Array.from(triangles),
    chart: Uint16Array.from(chart),
    coordinates: Float64Array.from(triangles.flatMap((vertex) => [...developed[vertex]!])),
  };
  return quadraticMesh(skeleton, midpoints(skeleton), null);
}
