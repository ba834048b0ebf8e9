/** Section and holes of a tray file in mm, edges by number. */
import type { Fault } from '../errors.ts';
import { words } from '../words/language.ts';
import { lengthAccepted } from './fields.ts';
import { LIMITS } from './limits.ts';
import { ROUNDING } from './planChecks.ts';
import { planVertices } from './planLoop.ts';
import type { Reading } from './reading.ts';
import { isByName, type NamedPlan, readByName, readSide } from './readPlaces.ts';
import type { TrayFile } from './schema.ts';
import { edgeName } from './sentences.ts';
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
  const own = given.height === undefined ? undefined : mm(given.height);
  const listed = heightsBySide(given, plan, faults);
  const heights = listed?.map((height, side) => {
    if (height !== undefined) return mm(height);
    if (own === undefined && plan.openEdges?.includes(side) !== true) {
      const give = lengthAccepted(reading.units, LIMITS.height);
      faults.push({
        path: 'section.heights',
        message: say.heights.sideMissing(edgeName({ plan }, side), give),
      });
    }
    return own ?? 0;
  });
  const open = new Set(plan.openEdges ?? []);
  const walls = heights?.filter((_, edge) => !open.has(edge)) ?? [];
  const highest = Math.max(...walls);
  if (own === undefined && heights === undefined) {
    faults.push({
      path: 'section.height',
      message: say.missing('section.height', lengthAccepted(reading.units, LIMITS.height)),
    });
  }
  // An object may leave sides to the height of the section, and then that need not be the largest.
  const complete = listed?.every((height) => height !== undefined) === true;
  if (own !== undefined && complete && Math.abs(own - highest) > ROUNDING) {
    const largest = Math.max(...listed.map((height, side) => (open.has(side) ? 0 : (height ?? 0))));
    faults.push({
      path: 'section.height',
      message: say.heights.disagree(String(given.height), String(largest)),
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

const namedPlan = (plan: Plan): NamedPlan => ({
  count: planVertices(plan).length,
  isRectangle: !('vertices' in plan),
});

/** The heights as given, in the order of the sides; undefined for those that are left out. */
function heightsBySide(
  { heights }: GivenSection,
  plan: Plan,
  faults: Fault[],
): readonly (number | undefined)[] | undefined {
  const path = 'section.heights';
  const named = namedPlan(plan);
  if (isByName(heights)) return readByName<number>(heights, 'side', named, path, faults);
  if (heights !== undefined && heights.length !== named.count) {
    const { count } = words().messages.tray.heights;
    faults.push({ path, message: count(String(heights.length), String(named.count)) });
  }
  return heights;
}

/** The holes in mm, edges by number, every hole with a name. */
export function readHoles(
  given: NonNullable<TrayFile['holes']>,
  plan: Plan,
  { mm }: Reading,
  faults: Fault[],
): HoleSpec[] {
  const named = namedPlan(plan);
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
            edge: readSide(place.edge, named, `holes.${i}.place.edge`, faults) ?? 0,
            along: mm(place.along),
            height: mm(place.height),
          },
  }));
}
