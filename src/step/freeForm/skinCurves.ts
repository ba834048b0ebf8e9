/** The boundaries of a skin in its first flat shape, and the lines inside it at which its curvature jumps. */
import { borderChains, type FaceBorder } from './faceBorders.ts';
import type { Skin } from './skin.ts';
import { boundaryLoops } from './skinMesh.ts';

export interface SkinCurve {
  /** Vertices of the skin's net, from one stop to the next (the same one for a closed curve). */
  readonly vertices: readonly number[];
  /** Their flat points. */
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Flat distance from the start, one per vertex. */
  readonly along: readonly number[];
  /** Per edge its triangle and the corner of it where the edge starts, or ends when it runs `backward`. */
  readonly owner: readonly EdgeOwner[];
  /** The same for the triangle on the other side; empty on the boundary. */
  readonly other: readonly EdgeOwner[];
  /** For a curve with material on both sides; null on the boundary. */
  readonly inside: {
    readonly border: FaceBorder;
    /** Whether the face of the lower number lies to its left. */
    readonly lowerLeft: boolean;
  } | null;
}

export interface EdgeOwner {
  readonly triangle: number;
  readonly edge: number;
  readonly backward: boolean;
}

/** A turn of more than this between two edges stops a curve; radians. */
const CORNER_TURN = 0.35;

/** @param breaks vertices at which the boundary turns by an angle, however small */
export function skinCurves(
  skin: Skin,
  flat: Float64Array,
  jumps: readonly FaceBorder[],
  breaks: ReadonlySet<number>,
): SkinCurve[] {
  const { triangles } = skin.mesh;
  const owners = new Map<string, EdgeOwner>();
  for (let at = 0; at < triangles.length; at++) {
    const to = triangles[at % 3 === 2 ? at - 2 : at + 1]!;
    owners.set(`${triangles[at]} ${to}`, { triangle: Math.floor(at / 3), edge: at % 3, backward: false });
  }
  const loops = boundaryLoops(skin.mesh);
  const turns = (before: number, at: number, after: number): boolean => {
    const [ax, ay] = [flat[2 * at]! - flat[2 * before]!, flat[2 * at + 1]! - flat[2 * before + 1]!];
    const [bx, by] = [flat[2 * after]! - flat[2 * at]!, flat[2 * after + 1]! - flat[2 * at + 1]!];
    return Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) > CORNER_TURN;
  };
  const curve = (
    vertices: number[],
    inside: SkinCurve['inside'],
    owner?: readonly EdgeOwner[],
    other: readonly EdgeOwner[] = [],
  ): SkinCurve => {
    const x = vertices.map((vertex) => flat[2 * vertex]!);
    const y = vertices.map((vertex) => flat[2 * vertex + 1]!);
    const along = [0];
    for (let i = 0; i + 1 < vertices.length; i++) {
      along.push(along[i]! + Math.hypot(x[i + 1]! - x[i]!, y[i + 1]! - y[i]!));
    }
    return {
      vertices,
      x,
      y,
      along,
      owner: owner ?? along.slice(1).map((_, i) => owners.get(`${vertices[i]} ${vertices[i + 1]}`)!),
      other,
      inside,
    };
  };
  const chains = jumps.flatMap((border) =>
    borderChains(border.borders).map(({ steps }) => ({ border, steps })),
  );
  const meetings = new Set(
    chains.flatMap(({ steps }) => steps.flatMap((step) => [step.border.from, step.border.to])),
  );
  const out: SkinCurve[] = [];
  for (const loop of loops) {
    const size = loop.length;
    const stops = loop.flatMap((vertex, i) =>
      meetings.has(vertex) ||
      breaks.has(vertex) ||
      turns(loop[(i + size - 1) % size]!, vertex, loop[(i + 1) % size]!)
        ? [i]
        : [],
    );
    if (stops.length === 0) stops.push(0);
    for (const [k, from] of stops.entries()) {
      const to = k + 1 < stops.length ? stops[k + 1]! : stops[0]! + size;
      out.push(
        curve(
          Array.from({ length: to - from + 1 }, (_, i) => loop[(from + i) % size]!),
          null,
        ),
      );
    }
  }
  for (const { border, steps } of chains) {
    const vertices = steps.map((step) => (step.forward ? step.border.from : step.border.to));
    const last = steps[steps.length - 1]!;
    vertices.push(last.forward ? last.border.to : last.border.from);
    const owners = [0, 1].map((side) =>
      steps.map((step) => {
        const [triangle, edge] = step.border.sides[side]!;
        // The two triangles run along their common edge in opposite ways.
        return { triangle, edge, backward: step.forward === (side === 1) };
      }),
    );
    out.push(curve(vertices, { border, lowerLeft: steps[0]!.forward }, owners[0], owners[1]));
  }
  return out;
}

/** Edge of the curve at a distance along, and the fraction of it. */
export function edgeAt({ along }: SkinCurve, s: number): { edge: number; fraction: number } {
  let [low, high] = [0, along.length - 2];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (along[middle]! <= s) low = middle;
    else high = middle - 1;
  }
  return {
    edge: low,
    fraction: Math.max(0, Math.min(1, (s - along[low]!) / (along[low + 1]! - along[low]!))),
  };
}

export function pointAt(curve: SkinCurve, s: number): [number, number] {
  const { edge, fraction } = edgeAt(curve, s);
  return [
    curve.x[edge]! + fraction * (curve.x[edge + 1]! - curve.x[edge]!),
    curve.y[edge]! + fraction * (curve.y[edge + 1]! - curve.y[edge]!),
  ];
}
