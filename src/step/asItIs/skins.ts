/** Finds the skin of a part that is to be unfolded, and the sheet's thickness. */
import { GatherpanError } from '../../errors.ts';
import type { LivePart } from '../kernel/readShape.ts';
import { boundaryLoops, edgeMap, type SkinMesh, type Stitched, stitch, submesh } from './skinMesh.ts';

export interface Skin {
  /** Seen from the inside of the tray. */
  readonly mesh: SkinMesh;
  /** Whether the kernel's normals of these faces point the other way. */
  readonly turned: boolean;
  /** mm; the part's own, or the one given for a surface. */
  readonly thickness: number;
  /** How far below the skin the neutral surface lies, mm. */
  readonly depth: number;
}

/** Most triangles of the kernel's net on a skin; a pressed part with every blend has some thousands. */
const MOST_TRIANGLES = 20_000;
/** Places at which the thickness is measured, at most. */
const MOST_PLACES = 2000;

/** Faces whose normals differ less than this at their common edge are one skin; radians. */
const SMOOTH = (12 * Math.PI) / 180;

const refuse = (message: string): never => {
  throw new GatherpanError('NOT_MAKEABLE', message);
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
      refuse(
        'The surface in the STEP file has sharp edges inside it; give every bend a radius, as the sheet will have.',
      );
    }
    if (given === null) {
      throw new GatherpanError(
        'BAD_INPUT',
        'The STEP file holds a surface and not a solid; give the sheet thickness (--thickness at the command line, sheet.thickness elsewhere).',
      );
    }
    const faces = groups[0]!;
    const up = opensUpwards(submesh(stitched.mesh, faces, false));
    const mesh = submesh(stitched.mesh, faces, !up);
    checkOneSheet(mesh);
    return { mesh, turned: !up, thickness: given, depth: 0 };
  }
  const [first, second, third] = order;
  if (second === undefined || areas[second]! < 0.5 * areas[first!]!) {
    refuse(
      'No two skins of one sheet were found in the solid; save the tray as a thin solid of even thickness.',
    );
  }
  if (third !== undefined && areas[third]! > 0.25 * areas[second!]!) {
    refuse('The solid has sharp edges between its faces; give every bend a radius, as the sheet will have.');
  }
  // The inside of a tray is its smaller skin.
  const faces = groups[second!]!;
  const mesh = submesh(stitched.mesh, faces, false);
  checkOneSheet(mesh);
  const thickness = measureThickness(live, mesh, submesh(stitched.mesh, groups[first!]!, false));
  return { mesh, turned: false, thickness, depth: thickness / 2 };
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
      refuse('The part branches: more than two faces meet at one edge, which one sheet cannot do.');
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
    refuse(
      'The part has too many details to be unfolded as it is; leave out what is smaller than the bends, such as lettering and small holes.',
    );
  }
  const vertices = mesh.position.length / 3;
  const edges = edgeMap(mesh.triangles, vertices);
  const loops = boundaryLoops(mesh);
  if (loops.length === 0) {
    refuse('The part is closed all round; a tray needs a rim, where the sheet ends.');
  }
  if (vertices - edges.size + mesh.triangles.length / 3 !== 2 - loops.length) {
    refuse(
      'The part is not one sheet with a rim (it is a tube, has a handle or falls apart): one flat blank cannot become it.',
    );
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

/** The distance of the skins, the same within 1 % everywhere. */
function measureThickness(live: LivePart, inner: SkinMesh, outer: SkinMesh): number {
  const found: { at: number[]; thickness: number }[] = [];
  const rim = new Set(boundaryLoops(inner).flat());
  const out = new Float64Array(6);
  const seen = new Set<number>();
  const stride = Math.ceil(inner.position.length / 3 / MOST_PLACES);
  for (let corner = 0; corner < inner.triangles.length; corner++) {
    const vertex = inner.triangles[corner]!;
    if (rim.has(vertex) || seen.has(vertex) || vertex % stride !== 0) continue;
    seen.add(vertex);
    const at = inner.position.slice(3 * vertex, 3 * vertex + 3);
    const near = nearestTriangle(outer, at);
    const thickness = distanceToSurface(live, outer.face[near.triangle]!, near.u, near.v, at, out);
    found.push({ at, thickness });
  }
  if (found.length === 0)
    refuse('The skins of the solid are too small to measure the thickness between them.');
  found.sort((a, b) => a.thickness - b.thickness);
  const middle = commonest(found.map(({ thickness }) => thickness));
  const worst = [found[0]!, found[found.length - 1]!].sort(
    (a, b) => Math.abs(b.thickness - middle) - Math.abs(a.thickness - middle),
  )[0]!;
  if (!(Math.abs(worst.thickness - middle) <= 0.01 * middle)) {
    refuse(
      `The solid is ${middle.toFixed(2)} mm thick in the main and ${worst.thickness.toFixed(2)} mm at (${worst.at.map((value) => value.toFixed(0)).join(', ')}); a sheet has one thickness, within 1 %.`,
    );
  }
  return middle;
}

/** From a guess of the foot's parameters, two Gauss–Newton steps with differences for derivatives. */
function distanceToSurface(
  live: LivePart,
  face: number,
  u: number,
  v: number,
  at: readonly number[],
  out: Float64Array,
): number {
  const beside = new Float64Array(6);
  for (let step = 0; step < 3; step++) {
    live.evaluate(face, u, v, out);
    const gap = [0, 1, 2].map((i) => at[i]! - out[i]!);
    const rates = [0, 1].map((axis) => {
      const reach = 1e-4;
      live.evaluate(face, axis === 0 ? u + reach : u, axis === 1 ? v + reach : v, beside);
      return [0, 1, 2].map((i) => (beside[i]! - out[i]!) / reach);
    });
    const dot = (a: readonly number[], b: readonly number[]): number =>
      a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!;
    const [p, q] = rates as [number[], number[]];
    const [pp, pq, qq, pg, qg] = [dot(p, p), dot(p, q), dot(q, q), dot(p, gap), dot(q, gap)];
    const det = pp * qq - pq * pq;
    if (!(det > 1e-12 * pp * qq)) break;
    u += (qq * pg - pq * qg) / det;
    v += (pp * qg - pq * pg) / det;
  }
  live.evaluate(face, u, v, out);
  return Math.hypot(at[0]! - out[0]!, at[1]! - out[1]!, at[2]! - out[2]!);
}

/** The value most agree on to a 10,000th; on curved faces the foot is a little off, on plane ones never. */
function commonest(sorted: readonly number[]): number {
  const median = sorted[Math.floor(sorted.length / 2)]!;
  let best = { from: 0, count: 0 };
  for (let from = 0, to = 0; from < sorted.length; from++) {
    while (to < sorted.length && sorted[to]! - sorted[from]! < 1e-6 * median) to++;
    if (to - from > best.count) best = { from, count: to - from };
  }
  return sorted[best.from + Math.floor(best.count / 2)]!;
}

/** The triangle nearest to a point, and the surface parameters of its nearest point. */
function nearestTriangle(mesh: SkinMesh, p: readonly number[]): { triangle: number; u: number; v: number } {
  let best = Infinity;
  let out = { triangle: 0, u: 0, v: 0 };
  for (let t = 0; t < mesh.face.length; t++) {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * mesh.triangles[3 * t + k]!) as [number, number, number];
    const q = mesh.position;
    const e: number[] = [];
    const f: number[] = [];
    const d: number[] = [];
    for (let i = 0; i < 3; i++) {
      e.push(q[b + i]! - q[a + i]!);
      f.push(q[c + i]! - q[a + i]!);
      d.push(p[i]! - q[a + i]!);
    }
    const dot = (x: readonly number[], y: readonly number[]): number =>
      x[0]! * y[0]! + x[1]! * y[1]! + x[2]! * y[2]!;
    const [ee, ef, ff, ed, fd] = [dot(e, e), dot(e, f), dot(f, f), dot(e, d), dot(f, d)];
    const det = ee * ff - ef * ef;
    let r = (ff * ed - ef * fd) / det;
    let s = (ee * fd - ef * ed) / det;
    // Outside the triangle: a nearest point on its edges, good enough to choose by.
    r = Math.max(0, r);
    s = Math.max(0, s);
    if (r + s > 1) [r, s] = [r / (r + s), s / (r + s)];
    const off = Math.hypot(
      d[0]! - r * e[0]! - s * f[0]!,
      d[1]! - r * e[1]! - s * f[1]!,
      d[2]! - r * e[2]! - s * f[2]!,
    );
    if (!(off < best)) continue;
    best = off;
    const uv = (k: number, i: number): number => mesh.parameters[6 * t + 2 * k + i]!;
    out = {
      triangle: t,
      u: uv(0, 0) + r * (uv(1, 0) - uv(0, 0)) + s * (uv(2, 0) - uv(0, 0)),
      v: uv(0, 1) + r * (uv(1, 1) - uv(0, 1)) + s * (uv(2, 1) - uv(0, 1)),
    };
  }
  return out;
}
