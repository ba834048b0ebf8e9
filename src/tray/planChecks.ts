/**
 * Whether a plan is one that can be formed: edges that do not cross, counter-clockwise, corners that are
 * corners.
 *
 * Lengths in mm, angles in radians. Every function returns faults instead of throwing, so that a person sees
 * all of them at once.
 */
import type { Fault } from '../errors.ts';
import { edgeBounds, edgesArea } from '../geometry/edgeMeasures.ts';
import { type PlanEdge, planEdge } from '../geometry/planEdges.ts';
import { degrees } from '../units.ts';
import { words } from '../words/language.ts';
import { sideLetters } from './cornerLetter.ts';
import { meetingEdges } from './edgeIndex.ts';
import { LIMITS } from './limits.ts';
import { SMOOTH_TURN } from './planLoop.ts';
import type { CornerKind } from './readPlan.ts';
import { fieldName } from './sentences.ts';
import { SMALLEST_TURN, turns } from './smoothJoints.ts';
import type { PlanVertex } from './spec.ts';

/** Writes a length in the units of the file; `atLeast` and `atMost` round to the side that is accepted. */
export interface LengthText {
  exact(mm: number): string;
  atLeast(mm: number): string;
  atMost(mm: number): string;
}

/** Rounding of conversion and of sums of lengths; far below what anybody can measure. */
export const ROUNDING = 1e-9;

/** Nearer than this, two vertices are one, and two edges meet. */
export const SMALLEST_EDGE = 0.01;

/** The edges of a plan. */
export const planEdgesOf = (vertices: readonly PlanVertex[]): PlanEdge[] =>
  vertices.map((vertex, i) => planEdge(vertex, vertices[(i + 1) % vertices.length]!));

/** Faults of a general plan's shape, the radii's sizes aside; empty when it is sound. */
export function polygonFaults(
  vertices: readonly PlanVertex[],
  kinds: readonly CornerKind[],
  text: LengthText,
): Fault[] {
  const say = words().messages.tray.plan;
  const fault = (message: string): Fault[] => [{ path: 'plan.vertices', message }];
  const straight = (i: number): boolean => (vertices[i]!.bulge ?? 0) === 0;
  if (vertices.length === 2 && (straight(0) || straight(1))) return fault(say.twoVertices);
  const repeated = repeatedVertices(vertices);
  if (repeated.length > 0) return repeated;
  const edges = planEdgesOf(vertices);
  const turned = turns(vertices);
  const crossing = crossingEdges(edges, turned);
  if (crossing !== undefined)
    return fault(say.crosses(sideLetters(crossing[0], edges.length), sideLetters(crossing[1], edges.length)));
  if (edgesArea(edges) < 0) return fault(say.clockwise);
  const corners = vertices.flatMap((_, i) => cornerFaults(vertices, i, turned[i]!, kinds[i]!, text));
  return corners.length > 0 ? corners : extentFaults(edges, text);
}

/** What a vertex has to be by itself: a corner with a radius, a smooth joint, or an end of a wall. */
function cornerFaults(
  vertices: readonly PlanVertex[],
  i: number,
  turn: number,
  kind: CornerKind,
  text: LengthText,
): Fault[] {
  const say = words().messages.tray;
  const path = `plan.vertices.${i}`;
  const radiusPath = `${path}.radius`;
  const [before, after] = [vertices[(i + vertices.length - 1) % vertices.length]!, vertices[i]!];
  const { radius } = after;
  const straight = (before.bulge ?? 0) === 0 && (after.bulge ?? 0) === 0;
  if (Math.abs(turn) < SMALLEST_TURN) {
    if (straight) return [{ path, message: say.plan.onStraight(fieldName(path)) }];
    if (radius > 0)
      return [{ path, message: say.plan.radiusAtSmooth(fieldName(radiusPath), text.exact(radius)) }];
    if (Math.abs(turn) < SMOOTH_TURN) return [];
    const turnedBy = degrees(Math.abs(turn)).toPrecision(2);
    return [{ path, message: say.plan.betweenSmoothAndCorner(fieldName(path), turnedBy) }];
  }
  if (kind === 'gather' || radius === 0) return [];
  const sentence = kind === 'open' ? say.vertexRadiusBesideOpen : say.vertexRadiusAtNotch;
  return [{ path: radiusPath, message: sentence(fieldName(radiusPath), text.exact(radius)) }];
}

function repeatedVertices(vertices: readonly PlanVertex[]): Fault[] {
  return vertices.flatMap(({ x, y }, i) => {
    const j = vertices.findIndex((other) => Math.hypot(other.x - x, other.y - y) < SMALLEST_EDGE);
    const path = `plan.vertices.${i}`;
    return j === i
      ? []
      : [
          {
            path,
            message: words().messages.tray.plan.samePlace(fieldName(path), fieldName(`plan.vertices.${j}`)),
          },
        ];
  });
}

/** Numbers of two edges that meet elsewhere than at a vertex they share, or undefined. */
function crossingEdges(
  edges: readonly PlanEdge[],
  turned: readonly number[],
): readonly [number, number] | undefined {
  const count = edges.length;
  const folded = turned.findIndex((turn) => Math.abs(turn) > Math.PI - SMALLEST_TURN);
  return folded < 0 ? meetingEdges(edges, SMALLEST_EDGE) : [(folded + count - 1) % count, folded];
}

function extentFaults(edges: readonly PlanEdge[], text: LengthText): Fault[] {
  const [minimum, maximum] = LIMITS.planSize;
  const bounds = edgeBounds(edges);
  return (['x', 'y'] as const).flatMap((axis, k) => {
    const extent = bounds[k]![1] - bounds[k]![0];
    if (extent >= minimum - ROUNDING && extent <= maximum + ROUNDING) return [];
    return [
      {
        path: 'plan.vertices',
        message: words().messages.tray.plan.extent(
          text.exact(extent),
          axis,
          text.atLeast(minimum),
          text.atMost(maximum),
        ),
      },
    ];
  });
}
