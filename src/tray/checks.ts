/**
 * Whether the numbers of a tray fit together: each is within its own limits by then.
 *
 * All lengths refer to the measured skin, in mm. The bend from base to wall turns through θ = 90° − draft
 * and begins r·tan(θ/2) inside the line where the planes of base and wall meet; both that line's distance
 * and the corner radius it leaves are the same whichever skin they are reckoned on.
 */
import type { Fault } from '../errors.ts';
import { degrees, MILLIMETRES_PER_INCH } from '../units.ts';
import type { Units } from './fields.ts';
import { LIMITS } from './limits.ts';
import { cornersThatDoNotFit, type LengthText, polygonFaults, ROUNDING } from './planChecks.ts';
import { planVertices, turnedAngle } from './planLoop.ts';
import type { TraySpec } from './spec.ts';

/**
 * Faults of a tray as a whole, each one sentence with what to give instead; empty when it can be solved.
 *
 * @param units of the file, for the sentences
 */
export function trayFaults(spec: TraySpec, units: Units): Fault[] {
  const text = lengthText(units);
  const shape = 'vertices' in spec.plan ? polygonFaults(spec.plan.vertices) : [];
  return [
    ...planFaults(spec, shape, text),
    ...heightFaults(spec, text),
    ...thicknessFaults(spec, text),
    ...materialFaults(spec),
  ];
}

/** Lengths in the units of the file, to a thousandth of a mm or a ten-thousandth of an inch. */
export function lengthText(units: Units): LengthText {
  const write = (mm: number, round: (value: number) => number): string => {
    const [value, scale] = units === 'mm' ? [mm, 1e3] : [mm / MILLIMETRES_PER_INCH, 1e4];
    // A length that is round but for rounding must not be pushed to the next step.
    const whole = Math.round(value * scale);
    const rounded = Math.abs(value * scale - whole) < 1e-7 ? whole : round(value * scale);
    return `${rounded / scale} ${units}`;
  };
  return {
    exact: (mm) => write(mm, Math.round),
    atLeast: (mm) => write(mm, Math.ceil),
    atMost: (mm) => write(mm, Math.floor),
  };
}

function planFaults(spec: TraySpec, shape: Fault[], text: LengthText): Fault[] {
  if (shape.length > 0) return shape;
  const { plan } = spec;
  const vertices = planVertices(plan);
  if ('vertices' in plan) {
    const size = extentFaults(vertices, text);
    if (size.length > 0) return size;
  } else {
    const wide = bottomRadiusTooWide(spec, Math.min(plan.length, plan.width), text);
    if (wide.length > 0) return wide;
  }
  const fit = cornersThatDoNotFit(plan, vertices, text);
  return fit.length > 0 ? fit : cornersTooTight(spec, text);
}

function extentFaults(vertices: readonly { x: number; y: number }[], text: LengthText): Fault[] {
  const [minimum, maximum] = LIMITS.planSize;
  return (['x', 'y'] as const).flatMap((axis) => {
    const values = vertices.map((vertex) => vertex[axis]);
    const extent = Math.max(...values) - Math.min(...values);
    if (extent >= minimum - ROUNDING && extent <= maximum + ROUNDING) return [];
    return [
      {
        path: 'plan.vertices',
        message: `plan.vertices is ${text.exact(extent)} wide along ${axis}; give a plan that is from ${text.atLeast(minimum)} to ${text.atMost(maximum)} along ${axis}.`,
      },
    ];
  });
}

function bottomRadiusTooWide(spec: TraySpec, width: number, text: LengthText): Fault[] {
  const { bottomRadius, draft } = spec.section;
  const perRadius = Math.tan(turnedAngle(draft) / 2);
  if (bottomRadius * perRadius <= width / 2 + ROUNDING) return [];
  const side = spec.plan;
  const name = 'vertices' in side || side.width <= side.length ? 'width' : 'length';
  const why =
    draft === 0
      ? `more than half the plan ${name} of ${text.exact(width)}`
      : `whose bends at a draft of ${draft} degrees take more than the plan ${name} of ${text.exact(width)}`;
  return [
    {
      path: 'section.bottomRadius',
      message: `section.bottomRadius is ${text.exact(bottomRadius)}, ${why}; give at most ${text.atMost(width / 2 / perRadius)}.`,
    },
  ];
}

/** Corners whose plan radius one edge radius cannot roll: the base's own corner radius would be negative. */
function cornersTooTight(spec: TraySpec, text: LengthText): Fault[] {
  const { bottomRadius, draft } = spec.section;
  const perRadius = Math.tan(turnedAngle(draft) / 2);
  const smallest = bottomRadius * perRadius;
  const fault = (path: string, radius: number): Fault[] => {
    if (radius >= smallest - ROUNDING) return [];
    const why =
      draft === 0
        ? `smaller than section.bottomRadius of ${text.exact(bottomRadius)}`
        : `too small for section.bottomRadius of ${text.exact(bottomRadius)} at a draft of ${draft} degrees`;
    return [
      {
        path,
        message: `${path} is ${text.exact(radius)}, ${why}, and one edge radius cannot roll such a corner; give a plan radius of at least ${text.atLeast(smallest)} or a bottom radius of at most ${text.atMost(radius / perRadius)}.`,
      },
    ];
  };
  const { plan } = spec;
  if ('vertices' in plan)
    return plan.vertices.flatMap(({ radius }, i) => fault(`plan.vertices.${i}.radius`, radius));
  const radii = plan.cornerRadius;
  if (typeof radii === 'number') return fault('plan.cornerRadius', radii);
  return radii.flatMap((radius, i) => fault(`plan.cornerRadius.${i}`, radius));
}

/** A rim that would lie in the bottom bend: the bend rises r·(1 − sin draft). */
function heightFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { bottomRadius, height, draft } = spec.section;
  const perRadius = 1 - Math.cos(turnedAngle(draft));
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

/** A bend tighter on the inside than the sheet is thick. */
function thicknessFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { thickness } = spec.sheet;
  const { bottomRadius } = spec.section;
  const outside = spec.measured === 'outside';
  const inside = outside ? bottomRadius - thickness : bottomRadius;
  if (thickness <= inside + ROUNDING) return [];
  const radius = outside
    ? `section.bottomRadius of ${text.exact(bottomRadius)} measured outside leaves ${inside > 0 ? `an inside radius of only ${text.exact(inside)}` : 'no inside radius'}`
    : `the inside radius is only ${text.exact(inside)}`;
  const thickest = outside ? bottomRadius / 2 : bottomRadius;
  const smallest = outside ? 2 * thickness : thickness;
  const orThinner =
    thickest >= LIMITS.thickness[0] ? `a thickness of at most ${text.atMost(thickest)} or ` : '';
  return [
    {
      path: 'sheet.thickness',
      message: `sheet.thickness is ${text.exact(thickness)}, but ${radius}, and the inside radius must not be smaller than the thickness; give ${orThinner}a bottom radius of at least ${text.atLeast(smallest)}.`,
    },
  ];
}

function materialFaults(spec: TraySpec): Fault[] {
  const { material } = spec.sheet;
  if (typeof material === 'string') return [];
  const faults: Fault[] = [];
  if (material.tensileStrength < material.yieldStrength) {
    faults.push({
      path: 'sheet.material.tensileStrength',
      message: `sheet.material.tensileStrength is ${material.tensileStrength}, below yieldStrength; give at least ${material.yieldStrength} N/mm².`,
    });
  }
  const anneal = material.annealTemperature;
  if (anneal !== undefined && anneal[0] > anneal[1]) {
    faults.push({
      path: 'sheet.material.annealTemperature',
      message: `sheet.material.annealTemperature is ${anneal[0]} to ${anneal[1]} °C; give the lower temperature first.`,
    });
  }
  return faults;
}
