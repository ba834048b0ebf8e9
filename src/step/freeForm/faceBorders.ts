/** Where two faces of a skin meet and the curvature across their common edge jumps. */
import { distance, dot, minus, vectorAt } from '../../geometry/vector3.ts';
import type { LivePart } from '../occt/livePart.ts';
import { curvaturesOf } from './neutralFibre.ts';
import type { Skin } from './skin.ts';
import { edgeMap } from './skinMesh.ts';

/** An edge of the net between two faces. */
export interface Border {
  readonly from: number;
  readonly to: number;
  /** Its two triangles with the corner where the edge starts in them, the one of the lower face number first. */
  readonly sides: readonly (readonly [triangle: number, corner: number])[];
}

/** All edges of the net between two faces. */
export interface FaceBorder {
  readonly borders: readonly Border[];
  /** Curvature square to the edge on the side of the lower and the higher face number, 1/mm, mean over the edge. */
  readonly curvatures: readonly [number, number];
}

/** Change of curvature that counts, as a share of the larger one. */
const JUMP = 0.05;
/** Largest radius that is one, as a multiple of the part's size. */
const LARGEST_RADIUS = 20;

export function faceBorders(live: LivePart, skin: Skin): FaceBorder[] {
  const { triangles, position, face } = skin.mesh;
  const groups = new Map<string, Border[]>();
  for (const uses of edgeMap(triangles, position.length / 3).values()) {
    if (uses.length !== 2) continue;
    const sides = uses
      .map((use) => [Math.floor(use / 3), use % 3] as const)
      .sort((a, b) => face[a[0]]! - face[b[0]]!);
    const [lower, upper] = [face[sides[0]![0]]!, face[sides[1]![0]]!];
    if (lower === upper) continue;
    const [t, k] = sides[0]!;
    const border = { from: triangles[3 * t + k]!, to: triangles[3 * t + ((k + 1) % 3)]!, sides };
    const key = `${lower} ${upper}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [border]);
    else group.push(border);
  }
  const straight = 1 / (LARGEST_RADIUS * Math.sqrt(live.part.area / 2));
  return [...groups.values()].flatMap((borders) => {
    const curvatures = [0, 0];
    let length = 0;
    for (const border of borders) {
      const size = borderLength(skin, border);
      length += size;
      for (const [side, [t, k]] of border.sides.entries()) {
        curvatures[side] = curvatures[side]! + size * curvatureAcross(live, skin, t, k);
      }
    }
    const [a, b] = [curvatures[0]! / length, curvatures[1]! / length];
    const largest = Math.max(Math.abs(a), Math.abs(b));
    return largest > straight && Math.abs(a - b) > JUMP * largest
      ? [{ borders, curvatures: [a, b] as const }]
      : [];
  });
}

export function borderLength({ mesh: { position } }: Skin, { from, to }: Border): number {
  return distance(vectorAt(position, 3 * to), vectorAt(position, 3 * from));
}

/** Curvature of the skin square to an edge of a triangle, at the edge's middle; positive where it is the inside. */
function curvatureAcross(live: LivePart, skin: Skin, t: number, k: number): number {
  const { triangles, parameters, position, face } = skin.mesh;
  const next = (k + 1) % 3;
  const middle = [0, 1].map((i) => (parameters[6 * t + 2 * k + i]! + parameters[6 * t + 2 * next + i]!) / 2);
  const rates = new Float64Array(18);
  live.differentiate(face[t]!, middle[0]!, middle[1]!, rates);
  const { values, directions } = curvaturesOf(rates, skin.turned ? -1 : 1);
  const [from, to] = [triangles[3 * t + k]!, triangles[3 * t + next]!];
  const edge = minus(vectorAt(position, 3 * to), vectorAt(position, 3 * from));
  const along = directions.map((direction) => dot(edge, direction));
  // Square to the edge: each direction has the other one's share of it.
  const square = along[0]! ** 2 + along[1]! ** 2;
  return (values[0] * along[1]! ** 2 + values[1] * along[0]! ** 2) / square;
}

/** Edges of the net in the order in which they follow each other. */
export interface BorderChain {
  /** Each with the end it is entered at. */
  readonly steps: readonly { readonly border: Border; readonly forward: boolean }[];
  readonly closed: boolean;
}

/** Chains from junction to junction, in the order of their first vertices. */
export function borderChains(borders: readonly Border[]): BorderChain[] {
  const at = new Map<number, Border[]>();
  for (const border of borders) {
    for (const vertex of [border.from, border.to]) {
      const list = at.get(vertex);
      if (list === undefined) at.set(vertex, [border]);
      else list.push(border);
    }
  }
  const used = new Set<Border>();
  const walk = (start: number): { border: Border; forward: boolean }[] => {
    const steps: { border: Border; forward: boolean }[] = [];
    for (let vertex = start; ; ) {
      const border = at.get(vertex)!.find((each) => !used.has(each));
      if (border === undefined) return steps;
      used.add(border);
      const forward = border.from === vertex;
      steps.push({ border, forward });
      vertex = forward ? border.to : border.from;
      if (at.get(vertex)!.length !== 2) return steps;
    }
  };
  const out: BorderChain[] = [];
  const vertices = [...at.keys()].sort((a, b) => a - b);
  for (const vertex of vertices) {
    if (at.get(vertex)!.length === 2) continue;
    for (const border of at.get(vertex)!)
      if (!used.has(border)) out.push({ steps: walk(vertex), closed: false });
  }
  for (const vertex of vertices) {
    if (at.get(vertex)!.some((border) => !used.has(border))) out.push({ steps: walk(vertex), closed: true });
  }
  return out;
}
