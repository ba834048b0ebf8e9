/** Whether the corners of a plan, one by one, can be rolled and fit between their edges. Lengths in mm. */
import type { Fault } from '../errors.ts';
import { alongEdge, edgeLength } from '../geometry/edgeMeasures.ts';
import type { PlanEdge } from '../geometry/planEdges.ts';
import { degrees } from '../units.ts';
import { words } from '../words/language.ts';
import { cornerLetter } from './cornerLetter.ts';
import { LIMITS } from './limits.ts';
import { type LengthText, planEdgesOf, ROUNDING } from './planChecks.ts';
import { jointAt, planVertices, turnedAngle } from './planLoop.ts';
import { type CornerKind, cornerKinds } from './readPlan.ts';
import { edgeName, fieldName } from './sentences.ts';
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
  const say = words().messages.tray;
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const count = vertices.length;
  return kindsOf(spec).flatMap((kind, i): Fault[] => {
    const field = radiusField(spec, i);
    const radius = vertices[i]!.radius;
    if (kind !== 'gather' && radius > 0 && !('vertices' in spec.plan)) {
      const sentence = kind === 'open' ? say.radiusBesideOpen : say.radiusAtNotch;
      return [{ path: field, message: sentence(fieldName(field), text.exact(radius)) }];
    }
    if (kind !== 'notch') return [];
    const { corners } = spec.forming;
    const ofAll = typeof corners === 'string';
    const path = ofAll ? 'forming.corners' : `forming.corners.${i}`;
    const fault = (sentence: typeof say.notch.inwards): Fault[] => [
      {
        path,
        message: sentence(
          fieldName(path),
          cornerLetter(i),
          ofAll ? say.notch.gatherInList : say.notch.gather,
        ),
      },
    ];
    if ((vertices[i]!.bulge ?? 0) !== 0 || (vertices[(i + count - 1) % count]!.bulge ?? 0) !== 0) {
      return fault(say.notch.besideBulge);
    }
    return turned[i]! < 0 ? fault(say.notch.inwards) : [];
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
  const say = words().messages.tray;
  const [least, bottom] = [text.atLeast(smallest), text.exact(bottomRadius)];
  /** The bottom radius that a radius goes with, where there is one. */
  const bottomFor = (radius: number): string | undefined =>
    radius / perRadius >= LIMITS.radius[0] ? text.atMost(radius / perRadius) : undefined;
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const kinds = kindsOf(spec);
  const corners = vertices.flatMap(({ radius }, i): Fault[] => {
    const turn = turned[i]!;
    if (kinds[i] !== 'gather' || Math.abs(turn) < SMALLEST_TURN) return [];
    const path = radiusField(spec, i);
    const own = turn > 0 ? smallest : LIMITS.radius[0];
    if (radius >= own - ROUNDING) return [];
    if (radius === 0 && 'vertices' in spec.plan) {
      const missing = turn > 0 ? say.radiusMissing.outwards : say.radiusMissing.inwards;
      const turnedBy = String(Math.round(degrees(Math.abs(turn))));
      return [{ path, message: missing(fieldName(path), turnedBy, text.atLeast(own)) }];
    }
    const given = text.exact(radius);
    if (turn < 0) {
      return [
        { path, message: say.notAccepted(fieldName(path), given, say.tight.cornerRadius(text.atLeast(own))) },
      ];
    }
    const most = bottomFor(radius);
    const give =
      most === undefined ? say.tight.cornerRadius(least) : say.tight.cornerOrBottomRadius(least, most);
    const message =
      draft === 0
        ? say.tight.corner(fieldName(path), given, bottom, give)
        : say.tight.cornerLeaning(fieldName(path), given, bottom, String(draft), give);
    return [{ path, message }];
  });
  const open = new Set(spec.plan.openEdges ?? []);
  const arcs = planEdgesOf(vertices).flatMap((edge, i): Fault[] => {
    if (edge.curvature <= 0 || open.has(i) || 1 / edge.curvature >= smallest - ROUNDING) return [];
    const path = `plan.vertices.${i}.bulge`;
    const radius = 1 / edge.curvature;
    const given = say.arc(String(vertices[i]!.bulge), text.exact(radius));
    const most = bottomFor(radius);
    const give = most === undefined ? say.tight.arcRadius(least) : say.tight.arcOrBottomRadius(least, most);
    const message =
      draft === 0
        ? say.tight.arc(fieldName(path), given, bottom, give)
        : say.tight.arcLeaning(fieldName(path), given, bottom, String(draft), give);
    return [{ path, message }];
  });
  return withoutRepeats([...corners, ...arcs]);
}

/** Edges too short for the arcs at their two ends. */
export function cornersThatDoNotFit(spec: TraySpec, text: LengthText): Fault[] {
  const { plan } = spec;
  const say = words().messages.tray;
  const vertices = planVertices(plan);
  const taken = takenLengths(spec, vertices);
  const short = planEdgesOf(vertices).flatMap((edge, i) => {
    const j = (i + 1) % vertices.length;
    const [atStart, atEnd] = [taken[i]!.after, taken[j]!.before];
    const length = edgeLength(edge);
    const needed = atStart + atEnd;
    return needed <= length + ROUNDING ? [] : [{ i, j, atStart, length, needed }];
  });
  const radius = (k: number): string => text.exact(vertices[k]!.radius);
  if ('vertices' in plan) {
    return withoutRepeats(
      short.map(({ i, j, atStart, length, needed }): Fault => {
        const ends = [i, j].filter((k) => vertices[k]!.radius > 0);
        if (!Number.isFinite(needed)) {
          const first = atStart === Number.POSITIVE_INFINITY ? i : j;
          const path = `plan.vertices.${first}.radius`;
          const most = largestRadius(spec, vertices, first);
          const give = most >= LIMITS.radius[0] ? say.atMost(text.atMost(most)) : say.fit.smallerOrMoved;
          return { path, message: say.fit.missesEdges(fieldName(path), radius(first), give) };
        }
        const first = ends[0]!;
        const path = `plan.vertices.${first}.radius`;
        const [wanted, found] = [text.exact(needed), text.exact(length)];
        const message =
          ends.length === 2
            ? say.fit.twoOnSide(
                fieldName(path),
                radius(i),
                fieldName(radiusField(spec, j)),
                radius(j),
                wanted,
                found,
              )
            : say.fit.oneOnSide(fieldName(path), radius(first), wanted, edgeName(spec, i), found);
        return { path, message };
      }),
    );
  }
  const sideOf = (i: number): 'length' | 'width' => (i % 2 === 0 ? 'length' : 'width');
  if (typeof plan.cornerRadius === 'number') {
    // One radius for all: the shorter side rules, and opposite sides would only say the same again.
    const tighter = plan.width <= plan.length ? 'width' : 'length';
    const { cornerRadius } = plan;
    return short
      .filter(({ i }) => sideOf(i) === tighter)
      .slice(0, 1)
      .map(({ length }) => ({
        path: 'plan.cornerRadius',
        message: say.fit.overHalf[tighter](
          text.exact(cornerRadius),
          text.exact(length),
          text.atMost(length / 2),
        ),
      }));
  }
  return withoutRepeats(
    short.map(({ i, j, length, needed }): Fault => {
      const rounded = [i, j].filter((k) => vertices[k]!.radius > 0);
      const path = `plan.cornerRadius.${rounded[0]}`;
      const [found, most] = [text.exact(length), text.atMost(length)];
      const message =
        rounded.length === 2
          ? say.fit.two[sideOf(i)](
              fieldName(path),
              fieldName(radiusField(spec, j)),
              text.exact(needed),
              found,
              most,
            )
          : say.fit.one[sideOf(i)](fieldName(path), radius(rounded[0]!), found, most);
      return { path, message };
    }),
  );
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
