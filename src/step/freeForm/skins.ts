/** Finds the skin of a part that is to be unfolded, and the sheet's thickness. */

import { GatherpanError } from '../../errors.ts';
import { cross, dot, minus, moved, norm, scaled, type Vector3, vectorAt } from '../../geometry/vector3.ts';
import { words } from '../../words/language.ts';
import type { LivePart } from '../occt/livePart.ts';
import type { SheetFaces } from '../sheet/accounting.ts';
import { refuseFolds } from '../sheet/folds.ts';
import { neighboursOf, sheetFaces } from '../sheet/sheetFaces.ts';
import { rimIsBroken } from './brokenRim.ts';
import { edgeFaces } from './sheetEdge.ts';
import type { Skin } from './skin.ts';
import { areaVector, boundaryLoops, edgeMap, type SkinMesh, stitch, submesh } from './skinMesh.ts';

/** Most triangles of the kernel's net on a skin; a pressed part with every blend has some thousands. */
const MOST_TRIANGLES = 20_000;

const say = () => words().messages.step.freeForm;

const refuse = (sentence: string): never => {
  throw new GatherpanError('NOT_MAKEABLE', sentence);
};

/**
 * @param given thickness in mm for a part that is a surface; null when none was given
 * @param sheet the accounting of a solid's faces, where it is at hand
 * @throws GatherpanError NOT_MAKEABLE when the part is no single sheet, BAD_INPUT when a thickness is missing
 */
export function findSkin(live: LivePart, given: number | null, sheet: SheetFaces | null = null): Skin {
  if (live.part.kind === 'surface') return surfaceSkin(live, given);
  const found = sheet ?? sheetFaces(live);
  const { inner, outer, thickness, stitched, smoothNeighbours } = found;
  const sharp = sharpEdge(live, inner, smoothNeighbours);
  if (sharp !== null) refuse(say().sharpSeam(...sharp));
  if (!isSmooth(inner, smoothNeighbours)) refuse(say().solidHasSharpEdges);
  refuseFolds(found);
  const mesh = submesh(stitched.mesh, inner, false);
  checkOneSheet(mesh);
  const faces = edgeFaces(live, inner, outer);
  return {
    mesh,
    turned: false,
    thickness,
    depth: thickness / 2,
    rimBroken: rimIsBroken(stitched, inner, new Set(faces.values())),
    edgeFaces: faces,
    bridges: [],
  };
}

function surfaceSkin({ part }: LivePart, given: number | null): Skin {
  const stitched = stitch(part, 1e-5 * Math.sqrt(part.area));
  const edges = edgeMap(stitched.mesh.triangles, stitched.mesh.position.length / 3);
  const { smoothNeighbours } = neighboursOf(stitched, edges, part.faces.length);
  const faces = new Set(part.faces.keys());
  if (!isSmooth(faces, smoothNeighbours)) refuse(say().surfaceHasSharpEdges);
  if (given === null) {
    throw new GatherpanError('BAD_INPUT', say().thicknessMissing);
  }
  const up = opensUpwards(submesh(stitched.mesh, faces, false));
  const mesh = submesh(stitched.mesh, faces, !up);
  checkOneSheet(mesh);
  return {
    mesh,
    turned: !up,
    thickness: given,
    depth: 0,
    rimBroken: false,
    edgeFaces: new Map(),
    bridges: [],
  };
}

/** The middle of an edge at which two faces of a skin meet and not smoothly, as it is said; null where there is none. */
function sharpEdge(
  { part }: LivePart,
  faces: ReadonlySet<number>,
  smooth: readonly ReadonlySet<number>[],
): [x: string, y: string, z: string] | null {
  const owner = new Map<number, number>();
  for (const face of faces) {
    for (const edge of part.faces[face]!.wires.flat()) {
      const other = owner.get(edge);
      owner.set(edge, face);
      if (other === undefined || other === face || smooth[face]!.has(other)) continue;
      const { samples } = part.edges[edge]!;
      const middle = vectorAt(samples, 3 * Math.floor(samples.length / 6));
      return middle.map((value) => String(Math.round(value) + 0)) as [string, string, string];
    }
  }
  return null;
}

/** Whether faces hang together over edges where they meet smoothly. */
function isSmooth(faces: ReadonlySet<number>, smooth: readonly ReadonlySet<number>[]): boolean {
  const seen = new Set<number>();
  const open = [...faces].slice(0, 1);
  for (let face = open.pop(); face !== undefined; face = open.pop()) {
    seen.add(face);
    for (const other of smooth[face]!) if (faces.has(other) && !seen.has(other)) open.push(other);
  }
  return seen.size === faces.size;
}

/** A sheet is one piece with a rim: in one part, with a boundary, and without handles. */
function checkOneSheet(mesh: SkinMesh): void {
  if (mesh.face.length > MOST_TRIANGLES) {
    refuse(say().tooManyDetails);
  }
  const vertices = mesh.position.length / 3;
  const edges = edgeMap(mesh.triangles, vertices);
  const loops = boundaryLoops(mesh);
  if (loops.length === 0) {
    refuse(say().closed);
  }
  if (vertices - edges.size + mesh.triangles.length / 3 !== 2 - loops.length) {
    refuse(say().notOneSheet);
  }
}

/** Whether the rim lies on the side the triangles face: then they are seen from inside the tray. */
function opensUpwards(mesh: SkinMesh): boolean {
  let centre: Vector3 = [0, 0, 0];
  let area = 0;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const corners = [0, 1, 2].map((k) => vectorAt(mesh.position, 3 * mesh.triangles[t + k]!));
    const [a, b, c] = corners as [Vector3, Vector3, Vector3];
    const weight = norm(cross(minus(b, a), minus(c, a)));
    area += weight;
    for (const corner of corners) centre = moved(centre, weight / 3, corner);
  }
  const rim = boundaryLoops(mesh)[0] ?? [];
  let mean: Vector3 = [0, 0, 0];
  for (const vertex of rim) mean = moved(mean, 1 / rim.length, vectorAt(mesh.position, 3 * vertex));
  return dot(areaVector(mesh), minus(mean, scaled(1 / area, centre))) >= 0;
}
