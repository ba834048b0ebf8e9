/** Section and holes of a tray file in mm, edges by number. */
import type { Fault } from '../errors.ts';
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
  const heights = heightsByEdge(given, plan, reading, faults);
  const open = new Set(plan.openEdges ?? []);
  const walls = heights?.filter((_, edge) => !open.has(edge)) ?? [];
  const highest = Math.max(...walls);
  const own = given.height === undefined ? undefined : mm(given.height);
  if (own === undefined && heights === undefined) {
    faults.push({
      path: 'section.height',
      message: `section.height is missing; give ${lengthAccepted(reading.units, LIMITS.height)}.`,
    });
  }
  // An object may leave sides to the height of the section, and then that need not be the largest.
  const complete =
    Array.isArray(given.heights) || SIDES.every((side) => sideHeight(given, side) !== undefined);
  if (own !== undefined && heights !== undefined && complete && Math.abs(own - highest) > ROUNDING) {
    faults.push({
      path: 'section.height',
      message: `section.height is ${given.height}, but the largest of section.heights is ${largestGiven(given, open)}; leave section.height out, or make them equal.`,
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
  const count = planVertices(plan).length;
  if (Array.isArray(heights)) {
    if (heights.length !== count) {
      faults.push({
        path: 'section.heights',
        message: `section.heights is a list of ${heights.length}; give a list of ${count}, one for every edge of the plan.`,
      });
    }
    return heights.map(mm);
  }
  if ('vertices' in plan) {
    faults.push({
      path: 'section.heights',
      message: `section.heights is an object, which names the sides of a rectangle; give a list of ${count} heights, one for every edge of the plan.`,
    });
    return [];
  }
  return SIDES.map((side, edge) => {
    const height = heights[side] ?? given.height;
    if (height === undefined && plan.openEdges?.includes(edge) !== true) {
      faults.push({
        path: `section.heights.${side}`,
        message: `section.heights.${side} is missing; give ${lengthAccepted(units, LIMITS.height)}, or section.height for the sides that are left out.`,
      });
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
  const why = typeof given === 'number' ? `but the plan has ${count} edges` : 'a side of a rectangle';
  faults.push({
    path,
    message: `${path} is ${shown(given)}, ${why}; give a whole number from 0 to ${count - 1}.`,
  });
  return 0;
}
