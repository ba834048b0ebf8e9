/** Whether the corners of a plan, one by one, can be rolled and fit between their edges. Lengths in mm. */
import type { Fault } from '../errors.ts';
import { degrees } from '../units.ts';
import { alongEdge, edgeLength } from './edgeMeasures.ts';
import { LIMITS } from './limits.ts';
import { type LengthText, planEdgesOf, ROUNDING } from './planChecks.ts';
import type { PlanEdge } from './planEdges.ts';
import { jointAt, planVertices, turnedAngle } from './planLoop.ts';
import { type CornerKind, cornerKinds } from './readPlan.ts';
import { SMALLEST_TURN, turns } from './smoothJoints.ts';
import type { PlanVertex, TraySpec } from './spec.ts';

/** Kinds of all corners of a tray. */
export const kindsOf = (spec: TraySpec): CornerKind[] =>
  cornerKinds(planVertices(spec.plan).length, spec.plan.openEdges ?? [], spec.forming.corners);

/** Field of the plan radius at a vertex. */
export function radiusField({ plan }: TraySpec, vertex: number): string {
  if ('vertices' in plan) return `plan.vertices.${vertex}.radius`;
  return typeof plan.cornerRadius === 'number' ? 'plan.cornerRadius' : `plan.cornerRadius.${vertex}`;
}

/** Corners of which one radius for all says the same several times. */
export const withoutRepeats = (faults: readonly Fault[]): Fault[] => [
  ...new Map(faults.map((fault) => [fault.message, fault])).values(),
];

/** Notched corners that cannot be folded, and radii where a rectangle has nothing to round. */
export function makingFaults(spec: TraySpec, text: LengthText): Fault[] {
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const count = vertices.length;
  return kindsOf(spec).flatMap((kind, i): Fault[] => {
    const field = radiusField(spec, i);
    const radius = vertices[i]!.radius;
    if (kind !== 'gather' && radius > 0 && !('vertices' in spec.plan)) {
      const why = kind === 'open' ? 'a side next to this corner is open' : 'this corner is notched';
      return [{ path: field, message: `${field} is ${text.exact(radius)}, but ${why}; give 0.` }];
    }
    if (kind !== 'notch') return [];
    const { corners } = spec.forming;
    const path = typeof corners === 'string' ? 'forming.corners' : `forming.corners.${i}`;
    const fault = (why: string): Fault[] => [
      {
        path,
        message: `${path} is "notch", but plan.vertices.${i} ${why}; give "gather" for this corner${typeof corners === 'string' ? ' (a list gives every corner its own)' : ''}.`,
      },
    ];
    if ((vertices[i]!.bulge ?? 0) !== 0 || (vertices[(i + count - 1) % count]!.bulge ?? 0) !== 0) {
      return fault('is next to a bulged edge, and only straight sides meet at a mitre');
    }
    return turned[i]! < 0 ? fault('turns inwards, where the flat sides would lie on one another') : [];
  });
}

/**
 * Corners and bulged edges whose plan radius one edge radius cannot roll: the base's own radius would be
 * negative. And corners without a radius.
 */
export function cornersTooTight(spec: TraySpec, text: LengthText): Fault[] {
  const { bottomRadius, draft } = spec.section;
  const perRadius = Math.tan(turnedAngle(draft) / 2);
  const smallest = Math.max(bottomRadius * perRadius, 0);
  const why =
    draft === 0
      ? `smaller than section.bottomRadius of ${text.exact(bottomRadius)}`
      : `too small for section.bottomRadius of ${text.exact(bottomRadius)} at a draft of ${draft} degrees`;
  const orSmaller = (radius: number): string =>
    radius / perRadius >= LIMITS.radius[0]
      ? ` or a bottom radius of at most ${text.atMost(radius / perRadius)}`
      : '';
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const kinds = kindsOf(spec);
  const corners = vertices.flatMap(({ radius }, i): Fault[] => {
    const turn = turned[i]!;
    if (kinds[i] !== 'gather' || Math.abs(turn) < SMALLEST_TURN) return [];
    const path = radiusField(spec, i);
    const least = turn > 0 ? smallest : LIMITS.radius[0];
    if (radius >= least - ROUNDING) return [];
    if (radius === 0 && 'vertices' in spec.plan) {
      const way = turn > 0 ? 'outwards' : 'inwards';
      return [
        {
          path,
          message: `${path} is missing, but this corner turns ${way} by ${Math.round(degrees(Math.abs(turn)))} degrees; give a plan radius of at least ${text.atLeast(least)}, or plan.cornerRadius for all corners.`,
        },
      ];
    }
    if (turn < 0) {
      return [
        {
          path,
          message: `${path} is ${text.exact(radius)}; give a plan radius of at least ${text.atLeast(least)}.`,
        },
      ];
    }
    return [
      {
        path,
        message: `${path} is ${text.exact(radius)}, ${why}, and one edge radius cannot roll such a corner; give a plan radius of at least ${text.atLeast(smallest)}${orSmaller(radius)}.`,
      },
    ];
  });
  const open = new Set(spec.plan.openEdges ?? []);
  const arcs = planEdgesOf(vertices).flatMap((edge, i): Fault[] => {
    if (edge.curvature <= 0 || open.has(i) || 1 / edge.curvature >= smallest - ROUNDING) return [];
    const path = `plan.vertices.${i}.bulge`;
    const radius = 1 / edge.curvature;
    return [
      {
        path,
        message: `${path} is ${vertices[i]!.bulge}, an arc of radius ${text.exact(radius)}, ${why}, and one edge radius cannot roll such an edge; give an arc of at least ${text.atLeast(smallest)} radius${orSmaller(radius)}.`,
      },
    ];
  });
  return withoutRepeats([...corners, ...arcs]);
}

/** Edges too short for the arcs at their two ends. */
export function cornersThatDoNotFit(spec: TraySpec, text: LengthText): Fault[] {
  const { plan } = spec;
  const vertices = planVertices(plan);
  const taken = takenLengths(spec, vertices);
  const faults: Fault[] = [];
  planEdgesOf(vertices).forEach((edge, i) => {
    const j = (i + 1) % vertices.length;
    const [atStart, atEnd] = [taken[i]!.after, taken[j]!.before];
    const length = edgeLength(edge);
    const needed = atStart + atEnd;
    if (needed <= length + ROUNDING) return;
    const radius = (k: number): string => text.exact(vertices[k]!.radius);
    if ('vertices' in plan) {
      const far = Number.isFinite(needed);
      const ends = [i, j].filter((k) => vertices[k]!.radius > 0);
      const first = far ? ends[0]! : atStart === Number.POSITIVE_INFINITY ? i : j;
      const path = `plan.vertices.${first}.radius`;
      if (!far) {
        const most = largestRadius(spec, vertices, first);
        const give =
          most >= LIMITS.radius[0] ? `at most ${text.atMost(most)}` : 'a smaller radius, or move the vertex';
        faults.push({
          path,
          message: `${path} is ${radius(first)}, and such an arc does not touch both edges that meet there; give ${give}.`,
        });
        return;
      }
      const radii =
        ends.length === 2
          ? `plan.vertices.${i}.radius is ${radius(i)} and plan.vertices.${j}.radius is ${radius(j)}, which take`
          : `${path} is ${radius(first)}, which takes`;
      const side =
        ends.length === 2 ? 'of the side between them' : `of the side that starts at plan.vertices.${i}`;
      faults.push({
        path,
        message: `${radii} ${text.exact(needed)} ${side}, but it is ${text.exact(length)} long; give smaller radii there or a longer side.`,
      });
      return;
    }
    const sideName = i % 2 === 0 ? 'length' : 'width';
    if (typeof plan.cornerRadius === 'number') {
      faults.push({
        path: 'plan.cornerRadius',
        message: `plan.cornerRadius is ${text.exact(plan.cornerRadius)}, more than half the ${sideName} of ${text.exact(length)}; give at most ${text.atMost(length / 2)}.`,
      });
      return;
    }
    const [a, b] = [`plan.cornerRadius.${i}`, `plan.cornerRadius.${j}`];
    const rounded = [i, j].filter((k) => vertices[k]!.radius > 0);
    faults.push(
      rounded.length === 2
        ? {
            path: a,
            message: `${a} and ${b} add up to ${text.exact(needed)}, more than the ${sideName} of ${text.exact(length)} they share; give radii that add up to at most ${text.atMost(length)}.`,
          }
        : {
            path: `plan.cornerRadius.${rounded[0]}`,
            message: `plan.cornerRadius.${rounded[0]} is ${radius(rounded[0]!)}, more than the ${sideName} of ${text.exact(length)}; give at most ${text.atMost(length)}.`,
          },
    );
  });
  if ('vertices' in plan || typeof plan.cornerRadius !== 'number') return withoutRepeats(faults);
  // One radius for all: the shorter side rules, and opposite sides would only say the same again.
  const tighter = plan.width <= plan.length ? 'half the width' : 'half the length';
  return faults.filter((fault) => fault.message.includes(tighter)).slice(0, 1);
}

/** What a corner's arc takes of the edge before and the edge after; infinite where it touches neither. */
interface Taken {
  readonly before: number;
  readonly after: number;
}

function takenLengths(spec: TraySpec, vertices: readonly PlanVertex[]): Taken[] {
  const kinds = kindsOf(spec);
  const edges = planEdgesOf(vertices);
  const turned = turns(vertices);
  return vertices.map((vertex, i) => taken(vertex, before(edges, i), edges[i]!, turned[i]!, kinds[i]!));
}

const before = (edges: readonly PlanEdge[], i: number): PlanEdge =>
  edges[(i + edges.length - 1) % edges.length]!;

function taken(vertex: PlanVertex, from: PlanEdge, to: PlanEdge, turn: number, kind: CornerKind): Taken {
  if (vertex.radius === 0 || kind !== 'gather') return { before: 0, after: 0 };
  if (from.curvature === 0 && to.curvature === 0) {
    const tangent = vertex.radius * Math.tan(Math.abs(turn) / 2);
    return { before: tangent, after: tangent };
  }
  const joint = jointAt(vertex, from, to, kind);
  const infinite = { before: Number.POSITIVE_INFINITY, after: Number.POSITIVE_INFINITY };
  if (joint.kind !== 'fillet' || Math.sign(joint.sweep) !== Math.sign(turn)) return infinite;
  const onBefore = edgeLength(from) - alongEdge(from, joint.before[0], joint.before[1]);
  const onAfter = alongEdge(to, joint.after[0], joint.after[1]);
  const missed = (length: number): boolean => !(length > -ROUNDING);
  return missed(onBefore) || missed(onAfter) ? infinite : { before: onBefore, after: onAfter };
}

/** The largest radius at a vertex whose arc touches both edges, by halving. */
function largestRadius(spec: TraySpec, vertices: readonly PlanVertex[], i: number): number {
  const edges = planEdgesOf(vertices);
  const [from, to] = [before(edges, i), edges[i]!];
  const turn = turns(vertices)[i]!;
  const kind = kindsOf(spec)[i]!;
  const fits = (radius: number): boolean => {
    const needs = taken({ ...vertices[i]!, radius }, from, to, turn, kind);
    return needs.before <= edgeLength(from) && needs.after <= edgeLength(to);
  };
  let [least, most] = [0, vertices[i]!.radius];
  for (let k = 0; k < 50; k++) {
    const middle = (least + most) / 2;
    if (fits(middle)) least = middle;
    else most = middle;
  }
  return least;
}
