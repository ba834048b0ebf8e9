/** Section and holes of a tray file in mm, edges by number. */
import type { Fault } from '../errors.ts';
import { words } from '../words/language.ts';
import { lengthAccepted } from './fields.ts';
import { LIMITS } from './limits.ts';
import { ROUNDING } from './planChecks.ts';
import { planVertices } from './planLoop.ts';
import { SIDES } from './planSchema.ts';
import type { Reading } from './reading.ts';
import type { TrayFile } from './schema.ts';
import { shown } from './sentences.ts';
import type { HoleSpec, Plan, Rim, Section } from './spec.ts';

type GivenSection = TrayFile['section'];

/**
 * The section in mm. Heights that turn out all alike become the one height.
 *
 * @param faults output: what is wrong is added
 */
export function readSection(given: GivenSection, plan: Plan, reading: Reading, faults: Fault[]): Section {
  const { mm } = reading;
  const say = words().messages.tray;
  const heights = heightsByEdge(given, plan, reading, faults);
  const open = new Set(plan.openEdges ?? []);
  const walls = heights?.filter((_, edge) => !open.has(edge)) ?? [];
  const highest = Math.max(...walls);
  const own = given.height === undefined ? undefined : mm(given.height);
  if (own === undefined && heights === undefined) {
    faults.push({
      path: 'section.height',
      message: say.missing('section.height', lengthAccepted(reading.units, LIMITS.height)),
    });
  }
  // An object may leave sides to the height of the section, and then that need not be the largest.
  const complete =
    Array.isArray(given.heights) || SIDES.every((side) => sideHeight(given, side) !== undefined);
  if (own !== undefined && heights !== undefined && complete && Math.abs(own - highest) > ROUNDING) {
    faults.push({
      path: 'section.height',
      message: say.heights.disagree(String(given.height), String(largestGiven(given, open))),
    });
  }
  const differ = walls.some((height) => Math.abs(height - highest) > ROUNDING);
  return {
    bottomRadius: mm(given.bottomRadius),
    height: heights === undefined ? (own ?? 0) : highest,
    draft: given.draft,
    rim: rim(given.rim, mm),
    ...(heights === undefined || !differ
      ? {}
      : { heights: heights.map((height, edge) => (open.has(edge) ? highest : height)) }),
    ...(given.runOut === undefined ? {} : { runOut: mm(given.runOut) }),
  };
}

function rim(given: GivenSection['rim'], mm: Reading['mm']): Rim {
  if (given.kind === 'plain') return { kind: 'plain' };
  const { kind, direction, bendRadius, width } = given;
  return { kind, direction, bendRadius: mm(bendRadius), width: mm(width) };
}

/** The largest of the heights above edges that have a wall, in the file's units. */
function largestGiven({ heights }: GivenSection, open: ReadonlySet<number>): number {
  const list = Array.isArray(heights) ? heights : SIDES.map((side) => heights?.[side] ?? 0);
  return Math.max(...list.filter((_, edge) => !open.has(edge)));
}

const sideHeight = ({ heights }: GivenSection, side: (typeof SIDES)[number]): number | undefined =>
  heights === undefined || Array.isArray(heights) ? undefined : heights[side];

function heightsByEdge(
  given: GivenSection,
  plan: Plan,
  { mm, units }: Reading,
  faults: Fault[],
): number[] | undefined {
  const { heights } = given;
  if (heights === undefined) return undefined;
  const say = words().messages.tray.heights;
  const count = planVertices(plan).length;
  if (Array.isArray(heights)) {
    if (heights.length !== count) {
      faults.push({
        path: 'section.heights',
        message: say.count(String(heights.length), String(count)),
      });
    }
    return heights.map(mm);
  }
  if ('vertices' in plan) {
    faults.push({
      path: 'section.heights',
      message: say.sidesOfNoRectangle(String(count)),
    });
    return [];
  }
  return SIDES.map((side, edge) => {
    const height = heights[side] ?? given.height;
    if (height === undefined && plan.openEdges?.includes(edge) !== true) {
      const path = `section.heights.${side}`;
      faults.push({ path, message: say.sideMissing(path, lengthAccepted(units, LIMITS.height)) });
    }
    return mm(height ?? 0);
  });
}

/** The holes in mm, edges by number, every hole with a name. */
export function readHoles(
  given: NonNullable<TrayFile['holes']>,
  plan: Plan,
  { mm }: Reading,
  faults: Fault[],
): HoleSpec[] {
  const count = planVertices(plan).length;
  return given.map(({ name, shape, place }, i) => ({
    name: name ?? `hole-${i + 1}`,
    shape:
      shape.kind === 'round'
        ? { kind: shape.kind, diameter: mm(shape.diameter) }
        : shape.kind === 'slot'
          ? { kind: shape.kind, length: mm(shape.length), width: mm(shape.width), angle: shape.angle }
          : { kind: shape.kind, points: shape.points.map(({ x, y }) => ({ x: mm(x), y: mm(y) })) },
    place:
      place.on === 'base'
        ? { on: place.on, x: mm(place.x), y: mm(place.y) }
        : {
            on: place.on,
            edge: edgeNumber(place.edge, plan, count, `holes.${i}.place.edge`, faults),
            along: mm(place.along),
            height: mm(place.height),
          },
  }));
}

function edgeNumber(
  given: number | (typeof SIDES)[number],
  plan: Plan,
  count: number,
  path: string,
  faults: Fault[],
): number {
  if (typeof given === 'string' && !('vertices' in plan)) return SIDES.indexOf(given);
  if (typeof given === 'number' && given < count) return given;
  const say = words().messages.tray;
  const [value, most] = [shown(given), String(count - 1)];
  const message =
    typeof given === 'number'
      ? say.plan.edgeUnknown(path, value, String(count), most)
      : say.hole.sideOfNoRectangle(path, value, most);
  faults.push({ path, message });
  return 0;
}
