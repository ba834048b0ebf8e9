/** Finds the skin of a part that is to be unfolded, and the sheet's thickness. */
import { GatherpanError } from '../../errors.ts';
import { words } from '../../words/language.ts';
import type { LivePart } from '../kernel/readShape.ts';
import { rimIsBroken } from './brokenRim.ts';
import { boundaryLoops, edgeMap, type SkinMesh, type Stitched, stitch, submesh } from './skinMesh.ts';
import { measureThickness } from './thickness.ts';

export interface Skin {
  /** Seen from the inside of the tray. */
  readonly mesh: SkinMesh;
  /** Whether the kernel's normals of these faces point the other way. */
  readonly turned: boolean;
  /** mm; the part's own, or the one given for a surface. */
  readonly thickness: number;
  /** How far below the skin the neutral surface lies, mm. */
  readonly depth: number;
  /** Whether the sheet's edge is chamfered or slanted, so that the skin is not as long as the sheet. */
  readonly rimBroken: boolean;
}

/** Most triangles of the kernel's net on a skin; a pressed part with every blend has some thousands. */
const MOST_TRIANGLES = 20_000;

/** Faces whose normals differ less than this at their common edge are one skin; radians. */
const SMOOTH = (12 * Math.PI) / 180;

const say = () => words().messages.step.asItIs;

const refuse = (sentence: string): never => {
  throw new GatherpanError('NOT_MAKEABLE', sentence);
};

/**
 * @param given thickness in mm for a part that is a surface; null when none was given
 * @throws GatherpanError NOT_MAKEABLE when the part is no single sheet, BAD_INPUT when a thickness is missing
 */
export function findSkin(live: LivePart, given: number | null): Skin {
  const { part } = live;
  const size = Math.sqrt(part.area);
  const stitched = stitch(part, 1e-5 * size);
  const groups = smoothGroups(stitched, part.faces.length);
  const areas = groups.map((faces) => [...faces].reduce((sum, face) => sum + part.faces[face]!.area, 0));
  const order = groups.map((_, i) => i).sort((a, b) => areas[b]! - areas[a]!);
  if (part.kind === 'surface') {
    if (order.length > 1) {
      refuse(say().surfaceHasSharpEdges);
    }
    if (given === null) {
      throw new GatherpanError('BAD_INPUT', say().thicknessMissing);
    }
    const faces = groups[0]!;
    const up = opensUpwards(submesh(stitched.mesh, faces, false));
    const mesh = submesh(stitched.mesh, faces, !up);
    checkOneSheet(mesh);
    return { mesh, turned: !up, thickness: given, depth: 0, rimBroken: false };
  }
  const [first, second, third] = order;
  if (second === undefined || areas[second]! < 0.5 * areas[first!]!) {
    refuse(say().noTwoSkins);
  }
  if (third !== undefined && areas[third]! > 0.25 * areas[second!]!) {
    refuse(say().solidHasSharpEdges);
  }
  // The inside of a tray is its smaller skin.
  const faces = groups[second!]!;
  const mesh = submesh(stitched.mesh, faces, false);
  checkOneSheet(mesh);
  const thickness = measureThickness(live, stitched.mesh, faces, groups[first!]!);
  return { mesh, turned: false, thickness, depth: thickness / 2, rimBroken: rimIsBroken(stitched, faces) };
}

/** Faces joined where they meet smoothly. */
function smoothGroups({ mesh, normals }: Stitched, faceCount: number): Set<number>[] {
  const parent = Array.from({ length: faceCount }, (_, i) => i);
  const root = (face: number): number => {
    let at = face;
    while (parent[at] !== at) at = parent[at]!;
    return at;
  };
  for (const uses of edgeMap(mesh.triangles, mesh.position.length / 3).values()) {
    if (uses.length > 2) {
      refuse(say().branches);
    }
    if (uses.length !== 2) continue;
    const [t, s] = uses.map((use) => Math.floor(use / 3)) as [number, number];
    if (mesh.face[t] === mesh.face[s]) continue;
    const smooth = [0, 1, 2].every((k) => {
      const vertex = mesh.triangles[3 * t + k]!;
      const l = [0, 1, 2].find((corner) => mesh.triangles[3 * s + corner] === vertex);
      if (l === undefined) return true;
      const dot = [0, 1, 2].reduce(
        (sum, i) => sum + normals[9 * t + 3 * k + i]! * normals[9 * s + 3 * l + i]!,
        0,
      );
      return dot > Math.cos(SMOOTH);
    });
    if (smooth) parent[root(mesh.face[t]!)] = root(mesh.face[s]!);
  }
  const groups = new Map<number, Set<number>>();
  for (let face = 0; face < faceCount; face++) {
    const own = groups.get(root(face)) ?? new Set();
    own.add(face);
    groups.set(root(face), own);
  }
  return [...groups.values()];
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
  const normal = [0, 0, 0];
  const centre = [0, 0, 0];
  let area = 0;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) =>
      mesh.position.slice(3 * mesh.triangles[t + k]!, 3 * mesh.triangles[t + k]! + 3),
    );
    const [u, v] = [b!.map((value, i) => value - a![i]!), c!.map((value, i) => value - a![i]!)];
    const n = [u[1]! * v[2]! - u[2]! * v[1]!, u[2]! * v[0]! - u[0]! * v[2]!, u[0]! * v[1]! - u[1]! * v[0]!];
    const w = Math.hypot(n[0]!, n[1]!, n[2]!);
    area += w;
    for (let i = 0; i < 3; i++) {
      normal[i] = normal[i]! + n[i]!;
      centre[i] = centre[i]! + (w * (a![i]! + b![i]! + c![i]!)) / 3;
    }
  }
  const rim = boundaryLoops(mesh)[0] ?? [];
  const out = [0, 1, 2].reduce((sum, i) => {
    const mean =
      rim.reduce((total, vertex) => total + mesh.position[3 * vertex + i]!, 0) / Math.max(1, rim.length);
    return sum + normal[i]! * (mean - centre[i]! / area);
  }, 0);
  return out >= 0;
}
