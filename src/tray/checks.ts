/**
 * Whether the numbers of a tray fit together: each is within its own limits by then.
 *
 * All lengths refer to the measured skin, in mm. The bend from base to wall turns through θ = 90° − draft
 * and begins r·tan(θ/2) inside the line where the planes of base and wall meet; both that line's distance
 * and the corner radius it leaves are the same whichever skin they are reckoned on.
 */
import type { Fault } from '../errors.ts';
import { softeningFaults } from '../material/sheets/custom.ts';
import { strengthFaults } from '../material/strengths.ts';
import { MILLIMETRES_PER_INCH } from '../units.ts';
import { words } from '../words/language.ts';
import { cornersThatDoNotFit, cornersTooTight, kindsOf, makingFaults } from './cornerChecks.ts';
import type { Units } from './fields.ts';
import { holeFaults } from './holeChecks.ts';
import { baseFaults, rimFaults } from './loopChecks.ts';
import { notchFaults } from './notchChecks.ts';
import { type LengthText, polygonFaults, ROUNDING } from './planChecks.ts';
import { turnedAngle } from './planLoop.ts';
import { heightFaults, heightsFaults, lipFaults, rimRadiusFaults } from './rimChecks.ts';
import type { RectanglePlan, TraySpec } from './spec.ts';

/**
 * Faults of a tray as a whole, each one sentence with what to give instead; empty when it can be solved.
 *
 * @param units of the file, for the sentences
 */
export function trayFaults(spec: TraySpec, units: Units): Fault[] {
  const text = lengthText(units);
  const plan = planFaults(spec, text);
  const height = [...heightFaults(spec, text), ...heightsFaults(spec, text)];
  const lip = lipFaults(spec, text);
  const faults = [...plan, ...height, ...thicknessFaults(spec, text), ...lip, ...materialFaults(spec)];
  if (plan.length > 0 || height.length > 0 || lip.length > 0) return faults;
  // What follows needs a plan and a section that are sound by themselves.
  const radii = rimRadiusFaults(spec, text);
  const rim = radii.length > 0 ? radii : rimFaults(spec, text);
  const notches = rim.length > 0 ? [] : notchFaults(spec, text);
  return [...faults, ...rim, ...notches, ...holeFaults(spec, text)];
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

function planFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { plan } = spec;
  const shape = 'vertices' in plan ? polygonFaults(plan.vertices, kindsOf(spec), text) : [];
  if (shape.length > 0) return shape;
  const making = makingFaults(spec, text);
  if (making.length > 0) return making;
  const wide = 'vertices' in plan ? [] : bottomRadiusTooWide(spec, plan, text);
  if (wide.length > 0) return wide;
  const fit = cornersThatDoNotFit(spec, text);
  if (fit.length > 0) return fit;
  const tight = cornersTooTight(spec, text);
  return tight.length > 0 ? tight : baseFaults(spec, text);
}

function bottomRadiusTooWide(spec: TraySpec, plan: RectanglePlan, text: LengthText): Fault[] {
  const { bottomRadius, draft } = spec.section;
  const perRadius = Math.tan(turnedAngle(draft) / 2);
  const walls = (edges: readonly number[]): number =>
    edges.filter((edge) => plan.openEdges?.includes(edge) !== true).length;
  // Top and bottom stand across the width, left and right across the length.
  const across = [
    { name: 'width', size: plan.width, walls: walls([0, 2]) },
    { name: 'length', size: plan.length, walls: walls([1, 3]) },
  ] as const;
  const most = ({ size, walls }: (typeof across)[number]): number => size / walls / perRadius;
  const tighter = most(across[0]) <= most(across[1]) ? across[0] : across[1];
  if (bottomRadius * perRadius * tighter.walls <= tighter.size + ROUNDING) return [];
  const { name, size } = tighter;
  const say = words().messages.tray.bottomRadius;
  const [radius, over, largest] = [text.exact(bottomRadius), text.exact(size), text.atMost(most(tighter))];
  const upright = tighter.walls === 2 ? say.overHalf : say.over;
  const message =
    draft === 0
      ? upright[name](radius, over, largest)
      : say.leaning[name](radius, String(draft), over, largest);
  return [{ path: 'section.bottomRadius', message }];
}

/** A bend tighter on the inside than the sheet is thick. */
function thicknessFaults(spec: TraySpec, text: LengthText): Fault[] {
  const { thickness } = spec.sheet;
  const { bottomRadius } = spec.section;
  const outside = spec.measured === 'outside';
  const inside = outside ? bottomRadius - thickness : bottomRadius;
  if (thickness <= inside + ROUNDING) return [];
  const thickest = outside ? bottomRadius / 2 : bottomRadius;
  const smallest = text.atLeast(outside ? 2 * thickness : thickness);
  const say = words().messages.tray.tooThick;
  // Every radius that is accepted goes with a thickness that is.
  const give = say.thinnerOrRounder(text.atMost(thickest), smallest);
  const [given, radius, left] = [thickness, bottomRadius, inside].map(text.exact) as [string, string, string];
  const message = !outside
    ? say.inside(given, left, give)
    : inside > 0
      ? say.outside(given, radius, left, give)
      : say.nothingInside(given, radius, give);
  return [{ path: 'sheet.thickness', message }];
}

function materialFaults(spec: TraySpec): Fault[] {
  const { material } = spec.sheet;
  if (typeof material === 'string') return [];
  const say = words().messages.tray;
  const faults: Fault[] = [];
  if (material.tensileStrength < material.yieldStrength) {
    faults.push({
      path: 'sheet.material.tensileStrength',
      message: say.tensileBelowYield(String(material.tensileStrength), String(material.yieldStrength)),
    });
  }
  const anneal = material.annealTemperature;
  if (anneal !== undefined && anneal[0] > anneal[1]) {
    faults.push({
      path: 'sheet.material.annealTemperature',
      message: say.annealFalls(String(anneal[0]), String(anneal[1])),
    });
  }
  faults.push(...softeningFaults(material, 'sheet.material'), ...strengthFaults(material, 'sheet.material'));
  return faults;
}
