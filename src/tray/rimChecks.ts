/** Whether heights and lip fit the bends and the corners. Lengths in mm. */
import type { Fault } from '../errors.ts';
import { edgeLength } from '../geometry/edgeMeasures.ts';
import { degrees, radians } from '../units.ts';
import { words } from '../words/language.ts';
import { kindsOf, radiusField, withoutRepeats } from './cornerChecks.ts';
import { LIMITS } from './limits.ts';
import { type LengthText, planEdgesOf, ROUNDING } from './planChecks.ts';
import { planVertices, turnedAngle } from './planLoop.ts';
import { insideLipRadius, lipAngle } from './section.ts';
import { edgeName, fieldName } from './sentences.ts';
import { SMALLEST_TURN, turns } from './smoothJoints.ts';
import type { LipRim, TraySpec } from './spec.ts';

/** Where heights differ, every side keeps at least this much straight wall. */
const LEAST_WALL = 1;

/** Radius that a corner's edge keeps at the rim, wherever the rim runs. */
const LEAST_RIM_RADIUS = LIMITS.radius[0];

/** Walls lower than the bends that have to be in them. */
export function heightFaults(spec: TraySpec, text: LengthText): Fault[] {
  const say = words().messages.tray;
  const { bottomRadius, height, heights, draft, rim } = spec.section;
  const bottom = text.exact(bottomRadius);
  const angle = turnedAngle(draft);
  if (heights !== undefined) {
    const least = bottomRadius * (1 - Math.cos(angle)) + LEAST_WALL;
    const open = new Set(spec.plan.openEdges ?? []);
    return heights.flatMap((own, edge) => {
      if (open.has(edge) || own >= least - ROUNDING) return [];
      const path = `section.heights.${edge}`;
      const side = edgeName(spec, edge);
      return [{ path, message: say.heights.belowBend(text.exact(own), side, bottom, text.atLeast(least)) }];
    });
  }
  const fault = (message: string): Fault[] => [{ path: 'section.height', message }];
  const given = text.exact(height);
  if (rim.kind === 'lip') {
    const tangents = bottomRadius * Math.tan(angle / 2) + rim.bendRadius * Math.tan(lipAngle(spec, rim) / 2);
    const least = tangents * Math.sin(angle);
    if (height >= least - ROUNDING) return [];
    return fault(say.height.belowLip(given, bottom, text.exact(rim.bendRadius), text.atLeast(least)));
  }
  // The bend rises r·(1 − sin draft).
  const perRadius = 1 - Math.cos(angle);
  if (height >= bottomRadius * perRadius - ROUNDING) return [];
  const rolled = degrees(Math.acos(1 - height / bottomRadius)).toFixed(1);
  const [least, most] = [text.atLeast(bottomRadius * perRadius), text.atMost(height / perRadius)];
  return fault(
    draft === 0
      ? say.height.belowBend(given, bottom, rolled, least, most)
      : say.height.belowLeaningBend(given, bottom, rolled, String(90 - draft), least, most),
  );
}

/** Sides of different heights that do not meet, and run-outs that are too long. */
export function heightsFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { heights, rim, runOut } = spec.section;
  if (heights === undefined) return [];
  const say = words().messages.tray.heights;
  if (rim.kind === 'lip') return [{ path: 'section.heights', message: say.lipNotLevel }];
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
    const sentence = smooth ? say.meetSmoothly : say.meetAtMitre;
    const [a, b] = [edgeName(spec, before), edgeName(spec, i)];
    const message = sentence(a, text.exact(heights[before]!), b, text.exact(heights[i]!));
    return [{ path: `section.heights.${i}`, message }];
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
          message: say.runOut(
            text.exact(runOut),
            text.exact(straight),
            edgeName(spec, i),
            text.atMost(straight / 2),
          ),
        },
      ];
    })
    .slice(0, 1);
}

/** A lip bent too tightly, or narrower than its bend. */
export function lipFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { rim } = spec.section;
  if (rim.kind !== 'lip') return [];
  const say = words().messages.tray.lip;
  const faults: Fault[] = [];
  const { thickness } = spec.sheet;
  const inside = insideLipRadius(spec, rim);
  if (inside < thickness - ROUNDING) {
    const taken = rim.bendRadius - inside;
    const [radius, sheet] = [text.exact(rim.bendRadius), text.exact(thickness)];
    const give = text.atLeast(thickness + taken);
    const message =
      taken === 0
        ? say.bend(radius, sheet, give)
        : inside > 0
          ? say.bendOnOtherSkin(radius, text.exact(inside), sheet, give)
          : say.noBendOnOtherSkin(radius, sheet, give);
    faults.push({ path: 'section.rim.bendRadius', message });
  }
  const perRadius = Math.tan(lipAngle(spec, rim) / 2);
  if (rim.width < rim.bendRadius * perRadius - ROUNDING) {
    faults.push({
      path: 'section.rim.width',
      message: say.narrow(
        text.exact(rim.width),
        text.exact(rim.bendRadius),
        text.atLeast(rim.bendRadius * perRadius),
        text.atMost(rim.width / perRadius),
      ),
    });
  }
  return faults;
}

/** Corners and arcs of which draft, thickness or lip leave no radius at the rim. */
export function rimRadiusFaults(spec: TraySpec, text: LengthText): Fault[] {
  const say = words().messages.tray.rimRadius;
  const { draft, rim, height } = spec.section;
  const lean = Math.tan(radians(draft));
  const out = rim.kind === 'lip' && rim.direction === 'out' ? rim.width : 0;
  const inwards = rim.kind === 'lip' && rim.direction === 'in' ? rim.width : 0;
  // Of a corner that turns inwards the outside skin has the smaller radius.
  const skin = spec.measured === 'inside' ? spec.sheet.thickness / Math.cos(radians(draft)) : 0;
  const heightAt = (edges: readonly number[]): number =>
    Math.max(...edges.map((edge) => spec.section.heights?.[edge] ?? height));
  const check = (
    path: string,
    bulge: number | undefined,
    radius: number,
    turn: number,
    top: number,
  ): Fault[] => {
    // A level lip starts where the planes of wall and lip meet, on the measured skin.
    const lost = turn > 0 ? inwards - top * lean : top * lean + (out > 0 ? Math.max(out, skin) : skin);
    if (lost <= 0 || radius - lost >= LEAST_RIM_RADIUS - ROUNDING) return [];
    const least = lost + LEAST_RIM_RADIUS;
    const width = radius - (lost - (inwards + out)) - LEAST_RIM_RADIUS;
    const causes = [
      ...(inwards + out > 0 ? [say.lip(text.exact(inwards + out))] : []),
      ...(turn < 0 && lean > 0 ? [say.draft(String(draft))] : []),
      ...(turn < 0 && skin > 0 && out === 0 ? [say.thickness] : []),
    ].reduce((before, last) => say.and(before, last));
    const mayNarrow =
      rim.kind === 'lip' && width >= rim.bendRadius * Math.tan(lipAngle(spec, rim as LipRim) / 2);
    const give = mayNarrow
      ? say.radiusOrLip(text.atLeast(least), text.atMost(width))
      : say.radius(text.atLeast(least));
    const exact = text.exact(radius);
    const given = bulge === undefined ? exact : words().messages.tray.arc(String(bulge), exact);
    return [{ path, message: (turn > 0 ? say.outwards : say.inwards)(fieldName(path), given, causes, give) }];
  };
  const vertices = planVertices(spec.plan);
  const turned = turns(vertices);
  const kinds = kindsOf(spec);
  const count = vertices.length;
  const corners = vertices.flatMap(({ radius }, i) => {
    if (kinds[i] !== 'gather' || Math.abs(turned[i]!) < SMALLEST_TURN) return [];
    const top = heightAt([i, (i + count - 1) % count]);
    return check(radiusField(spec, i), undefined, radius, turned[i]!, top);
  });
  const open = new Set(spec.plan.openEdges ?? []);
  const arcs = planEdgesOf(vertices).flatMap(({ curvature }, i) => {
    if (curvature === 0 || open.has(i)) return [];
    const radius = 1 / Math.abs(curvature);
    return check(`plan.vertices.${i}.bulge`, vertices[i]!.bulge ?? 0, radius, curvature, heightAt([i]));
  });
  return withoutRepeats([...corners, ...arcs]);
}
