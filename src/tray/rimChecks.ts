/** Whether heights and lip fit the bends and the corners. Lengths in mm. */
import type { Fault } from '../errors.ts';
import { degrees, radians } from '../units.ts';
import { kindsOf, radiusField, withoutRepeats } from './cornerChecks.ts';
import { edgeLength } from './edgeMeasures.ts';
import { LIMITS } from './limits.ts';
import { edgeName } from './loopChecks.ts';
import { type LengthText, planEdgesOf, ROUNDING } from './planChecks.ts';
import { planVertices, turnedAngle } from './planLoop.ts';
import { insideLipRadius, lipAngle } from './section.ts';
import { SMALLEST_TURN, turns } from './smoothJoints.ts';
import type { LipRim, TraySpec } from './spec.ts';

/** Where heights differ, every side keeps at least this much straight wall. */
const LEAST_WALL = 1;

/** Radius that a corner's edge keeps at the rim, wherever the rim runs. */
const LEAST_RIM_RADIUS = LIMITS.radius[0];

/** Walls lower than the bends that have to be in them. */
export function heightFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { bottomRadius, height, heights, draft, rim } = spec.section;
  const angle = turnedAngle(draft);
  if (heights !== undefined) {
    const least = bottomRadius * (1 - Math.cos(angle)) + LEAST_WALL;
    const open = new Set(spec.plan.openEdges ?? []);
    return heights.flatMap((own, edge) => {
      if (open.has(edge) || own >= least - ROUNDING) return [];
      const path = `section.heights.${edge}`;
      return [
        {
          path,
          message: `${path} is ${text.exact(own)}, and ${edgeName(spec, edge)} needs a straight wall above the bend of section.bottomRadius ${text.exact(bottomRadius)}; give a height of at least ${text.atLeast(least)}.`,
        },
      ];
    });
  }
  if (rim.kind === 'lip') {
    const tangents = bottomRadius * Math.tan(angle / 2) + rim.bendRadius * Math.tan(lipAngle(spec, rim) / 2);
    const least = tangents * Math.sin(angle);
    if (height >= least - ROUNDING) return [];
    return [
      {
        path: 'section.height',
        message: `section.height is ${text.exact(height)}, too low for the bends of section.bottomRadius ${text.exact(bottomRadius)} and section.rim.bendRadius ${text.exact(rim.bendRadius)}; give a height of at least ${text.atLeast(least)}.`,
      },
    ];
  }
  // The bend rises r·(1 − sin draft).
  const perRadius = 1 - Math.cos(angle);
  if (height >= bottomRadius * perRadius - ROUNDING) return [];
  const rolled = degrees(Math.acos(1 - height / bottomRadius));
  const full = draft === 0 ? 'upright' : `to ${90 - draft} degrees`;
  return [
    {
      path: 'section.height',
      message: `section.height is ${text.exact(height)}, below the end of the bend with section.bottomRadius ${text.exact(bottomRadius)}, so the side would only be rolled up to ${rolled.toFixed(1)} degrees and not ${full}; give a height of at least ${text.atLeast(bottomRadius * perRadius)} or a bottom radius of at most ${text.atMost(height / perRadius)}.`,
    },
  ];
}

/** Sides of different heights that do not meet, and run-outs that are too long. */
export function heightsFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { heights, rim, runOut } = spec.section;
  if (heights === undefined) return [];
  if (rim.kind === 'lip') {
    return [
      {
        path: 'section.heights',
        message:
          'section.heights gives different heights, and a lip has to be level all round; give one height, or a plain rim.',
      },
    ];
  }
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const kinds = kindsOf(spec);
  const count = vertices.length;
  const changes = vertices.map((_, i) => {
    const differ = Math.abs(heights[i]! - heights[(i + count - 1) % count]!) > ROUNDING;
    return differ && kinds[i] !== 'open';
  });
  const faults = vertices.flatMap((_, i): Fault[] => {
    const before = (i + count - 1) % count;
    const smooth = Math.abs(turned[i]!) < SMALLEST_TURN;
    if (!changes[i] || !(smooth || kinds[i] === 'notch')) return [];
    const why = smooth ? 'meet smoothly' : 'meet at a mitre';
    const [a, b] = [`section.heights.${before}`, `section.heights.${i}`];
    return [
      {
        path: b,
        message: `${a} is ${text.exact(heights[before]!)} and ${b} is ${text.exact(heights[i]!)}, but their sides ${why}; give both the same height (the rim runs from one height to another at rounded corners only).`,
      },
    ];
  });
  if (faults.length > 0 || runOut === undefined) return faults;
  return planEdgesOf(vertices)
    .flatMap((edge, i): Fault[] => {
      const ends = [i, (i + 1) % count];
      if (edge.curvature !== 0 || !ends.some((vertex) => changes[vertex])) return [];
      const tangent = (vertex: number): number =>
        vertices[vertex]!.radius * Math.tan(Math.abs(turned[vertex]!) / 2);
      const straight = edgeLength(edge) - tangent(ends[0]!) - tangent(ends[1]!);
      if (runOut <= straight / 2 + ROUNDING) return [];
      return [
        {
          path: 'section.runOut',
          message: `section.runOut is ${text.exact(runOut)}, more than half of the ${text.exact(straight)} that are straight of ${edgeName(spec, i)}; give at most ${text.atMost(straight / 2)}.`,
        },
      ];
    })
    .slice(0, 1);
}

/** A lip bent too tightly, or narrower than its bend. */
export function lipFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { rim } = spec.section;
  if (rim.kind !== 'lip') return [];
  const faults: Fault[] = [];
  const { thickness } = spec.sheet;
  const inside = insideLipRadius(spec, rim);
  if (inside < thickness - ROUNDING) {
    const taken = rim.bendRadius - inside;
    const leaves =
      taken === 0
        ? 'the inside radius of the bend'
        : `which leaves ${inside > 0 ? `an inside radius of only ${text.exact(inside)}` : 'no inside radius'} on the other skin`;
    faults.push({
      path: 'section.rim.bendRadius',
      message: `section.rim.bendRadius is ${text.exact(rim.bendRadius)}, ${leaves}, and the inside radius must not be smaller than the thickness of ${text.exact(thickness)}; give at least ${text.atLeast(thickness + taken)}.`,
    });
  }
  const perRadius = Math.tan(lipAngle(spec, rim) / 2);
  if (rim.width < rim.bendRadius * perRadius - ROUNDING) {
    faults.push({
      path: 'section.rim.width',
      message: `section.rim.width is ${text.exact(rim.width)}, less than the bend of section.rim.bendRadius ${text.exact(rim.bendRadius)} takes; give a width of at least ${text.atLeast(rim.bendRadius * perRadius)} or a bend radius of at most ${text.atMost(rim.width / perRadius)}.`,
    });
  }
  return faults;
}

/** Corners and arcs of which draft, thickness or lip leave no radius at the rim. */
export function rimRadiusFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { draft, rim, height } = spec.section;
  const lean = Math.tan(radians(draft));
  const out = rim.kind === 'lip' && rim.direction === 'out' ? rim.width : 0;
  const inwards = rim.kind === 'lip' && rim.direction === 'in' ? rim.width : 0;
  // Of a corner that turns inwards the outside skin has the smaller radius.
  const skin = spec.measured === 'inside' ? spec.sheet.thickness / Math.cos(radians(draft)) : 0;
  const heightAt = (edges: readonly number[]): number =>
    Math.max(...edges.map((edge) => spec.section.heights?.[edge] ?? height));
  const check = (path: string, what: string, radius: number, turn: number, top: number): Fault[] => {
    // A level lip starts where the planes of wall and lip meet, on the measured skin.
    const lost = turn > 0 ? inwards - top * lean : top * lean + (out > 0 ? Math.max(out, skin) : skin);
    if (lost <= 0 || radius - lost >= LEAST_RIM_RADIUS - ROUNDING) return [];
    const least = lost + LEAST_RIM_RADIUS;
    const width = radius - (lost - (inwards + out)) - LEAST_RIM_RADIUS;
    const causes = [
      ...(inwards + out > 0 ? [`a lip of ${text.exact(inwards + out)}`] : []),
      ...(turn < 0 && lean > 0 ? [`a draft of ${draft} degrees`] : []),
      ...(turn < 0 && skin > 0 && out === 0 ? ['the thickness'] : []),
    ].join(' and ');
    const way = turn > 0 ? 'outwards' : 'inwards';
    const narrower =
      rim.kind === 'lip' && width >= rim.bendRadius * Math.tan(lipAngle(spec, rim as LipRim) / 2)
        ? ` or section.rim.width of at most ${text.atMost(width)}`
        : '';
    return [
      {
        path,
        message: `${path} ${what}, too small where the plan turns ${way} with ${causes}; give a radius of at least ${text.atLeast(least)}${narrower}.`,
      },
    ];
  };
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const kinds = kindsOf(spec);
  const count = vertices.length;
  const corners = vertices.flatMap(({ radius }, i) => {
    if (kinds[i] !== 'gather' || Math.abs(turned[i]!) < SMALLEST_TURN) return [];
    const top = heightAt([i, (i + count - 1) % count]);
    return check(radiusField(spec, i), `is ${text.exact(radius)}`, radius, turned[i]!, top);
  });
  const open = new Set(spec.plan.openEdges ?? []);
  const arcs = planEdgesOf(vertices).flatMap(({ curvature }, i) => {
    if (curvature === 0 || open.has(i)) return [];
    const radius = 1 / Math.abs(curvature);
    const what = `is ${vertices[i]!.bulge}, an arc of radius ${text.exact(radius)}`;
    return check(`plan.vertices.${i}.bulge`, what, radius, curvature, heightAt([i]));
  });
  return withoutRepeats([...corners, ...arcs]);
}
