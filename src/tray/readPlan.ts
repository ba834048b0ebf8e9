/** The plan of a tray file in mm, with every corner's radius filled in. */

import { place } from '../dxf/loops.ts';
import { type Fault, GatherpanError } from '../errors.ts';
import { words } from '../words/language.ts';
import { type DrawnPlan, type DrawnVertex, planFromDxf } from './planDxf.ts';
import type { Reading } from './reading.ts';
import { isByName, type NamedPlan, readByName, readSide } from './readPlaces.ts';
import type { TrayFile } from './schema.ts';
import { shown } from './sentences.ts';
import { SMALLEST_TURN, smoothed, turns } from './smoothJoints.ts';
import type { CornerMaking, HoleSpec, Plan, PlanVertex, TraySpec } from './spec.ts';

type GivenPlan = TrayFile['plan'];
type GivenCorners = NonNullable<TrayFile['forming']>['corners'];
type Corners = TraySpec['forming']['corners'];

/** Bulged edges that rise less than this over their chord are straight, mm. */
const FLATTEST = 1e-3;

const RECTANGLE: NamedPlan = { count: 4, isRectangle: true };

/** Most corners that a sentence names. */
const MOST_NAMED = 6;

/** How a corner is made, or that a side next to it is open. */
export type CornerKind = CornerMaking | 'open';

/** The kind of every corner of a plan. */
export function cornerKinds(
  count: number,
  openEdges: readonly number[],
  corners: CornerMaking | readonly CornerMaking[] | undefined,
): CornerKind[] {
  const open = new Set(openEdges);
  return Array.from({ length: count }, (_, i) => {
    if (open.has(i) || open.has((i + count - 1) % count)) return 'open';
    return corners === undefined
      ? 'gather'
      : typeof corners === 'string'
        ? corners
        : (corners[i] ?? 'gather');
  });
}

/**
 * The plan in mm. Radii that are left out are filled in: the plan's own corner radius where a corner has to be
 * rounded, 0 elsewhere. Nearly smooth joints are made smooth.
 *
 * @param faults output: what is wrong is added
 * @returns the plan, how its corners are made and the holes drawn in it, as far as they can be told, for further
 *   checks only when there are no faults
 */
export function readPlan(
  given: GivenPlan,
  givenCorners: GivenCorners,
  reading: Reading,
  faults: Fault[],
): { plan: Plan; corners: Corners; holes: readonly HoleSpec[] } {
  if ('length' in given) {
    const corners = readCorners(givenCorners, RECTANGLE, faults);
    return { plan: rectangle(given, corners, reading, faults), corners, holes: [] };
  }
  const { mm } = reading;
  const drawn = 'dxf' in given ? drawnPlan(given, reading, faults) : undefined;
  const vertices: readonly (DrawnVertex & { readonly radius?: number })[] =
    drawn?.vertices ??
    ('vertices' in given ? given.vertices : []).map(({ x, y, radius, bulge }) => ({
      x: mm(x),
      y: mm(y),
      ...(radius === undefined ? {} : { radius: mm(radius) }),
      ...(bulge === undefined ? {} : { bulge }),
    }));
  const count = vertices.length;
  if (count === 0) return { plan: { vertices: [] }, corners: undefined, holes: [] };
  const named = { count, isRectangle: false };
  const openEdges = openEdgeNumbers(given.openEdges, named, faults);
  const corners = readCorners(givenCorners, named, faults);
  const kinds = cornerKinds(count, openEdges, corners);
  const shared = given.cornerRadius === undefined ? 0 : mm(given.cornerRadius);
  const plan = smoothed(
    vertices.map(({ x, y, radius = 0, bulge = 0 }, i): PlanVertex => {
      const next = vertices[(i + 1) % count]!;
      const straight = (Math.abs(bulge) * Math.hypot(next.x - x, next.y - y)) / 2 < FLATTEST;
      return { x, y, radius, ...(straight ? {} : { bulge }) };
    }),
  );
  const turned = turns(plan);
  const toRound = (i: number): boolean =>
    kinds[i] === 'gather' && Math.abs(turned[i]!) >= SMALLEST_TURN && vertices[i]!.radius === undefined;
  const sharp = plan.filter((_, i) => toRound(i));
  if (drawn !== undefined && given.cornerRadius === undefined && sharp.length > 0) {
    const say = words().messages.tray.plan;
    const places = sharp.slice(0, MOST_NAMED).map(place).join('; ');
    faults.push({
      path: 'plan.cornerRadius',
      message: say.drawnSharp(
        String(sharp.length),
        sharp.length > MOST_NAMED ? say.moreCorners(places) : places,
      ),
    });
  }
  return {
    plan: {
      vertices: plan.map((vertex, i) => (toRound(i) ? { ...vertex, radius: shared } : vertex)),
      ...(openEdges.length === 0 ? {} : { openEdges }),
    },
    corners,
    holes: drawn?.holes ?? [],
  };
}

/** Vertices of a drawn plan that are corners and not smooth joints. */
export function sharpVertices(drawn: readonly DrawnVertex[]): PlanVertex[] {
  const plan = smoothed(drawn.map((vertex) => ({ ...vertex, radius: 0 })));
  const turned = turns(plan);
  return plan.filter((_, i) => Math.abs(turned[i]!) >= SMALLEST_TURN);
}

function rectangle(
  given: Extract<GivenPlan, { length: number }>,
  corners: Corners,
  { mm }: Reading,
  faults: Fault[],
): Plan {
  const openEdges = openEdgeNumbers(given.openEdges, RECTANGLE, faults);
  const kinds = cornerKinds(RECTANGLE.count, openEdges, corners);
  const radii = isByName(given.cornerRadius)
    ? readByName(given.cornerRadius, 'corner', RECTANGLE, 'plan.cornerRadius', faults)
    : given.cornerRadius;
  const radius = (i: number): number => {
    if (typeof radii !== 'number') return mm(radii?.[i] ?? 0);
    return kinds[i] === 'gather' ? mm(radii) : 0;
  };
  const round = kinds.includes('gather');
  if (given.cornerRadius === undefined && round) {
    const say = words().messages.tray;
    faults.push({
      path: 'plan.cornerRadius',
      message: say.missing('plan.cornerRadius', say.fields.accepted.radii),
    });
  }
  const alike = typeof given.cornerRadius === 'number' && kinds.every((kind) => kind === 'gather');
  return {
    length: mm(given.length),
    width: mm(given.width),
    cornerRadius: alike ? radius(0) : [radius(0), radius(1), radius(2), radius(3)],
    ...(openEdges.length === 0 ? {} : { openEdges }),
  };
}

/** In ascending order. */
function openEdgeNumbers(
  given: readonly (string | number)[] | undefined,
  plan: NamedPlan,
  faults: Fault[],
): number[] {
  const say = words().messages.tray;
  const path = (i: number): string => `plan.openEdges.${i}`;
  const numbers = (given ?? []).map((side, i) => readSide(side, plan, path(i), faults));
  numbers.forEach((edge, i) => {
    const first = numbers.indexOf(edge);
    if (edge !== undefined && first !== i)
      faults.push({ path: path(i), message: say.sameTwice(path(i), path(first)) });
  });
  const known = [...new Set(numbers.filter((edge) => edge !== undefined))].sort((a, b) => a - b);
  if (known.length === plan.count) {
    faults.push({ path: 'plan.openEdges', message: say.plan.noWall });
  }
  return known;
}

/** How the corners are made, all alike or in their order. */
function readCorners(given: GivenCorners, plan: NamedPlan, faults: Fault[]): Corners {
  const path = 'forming.corners';
  if (isByName(given))
    return readByName(given, 'corner', plan, path, faults).map((making) => making ?? 'gather');
  if (Array.isArray(given) && given.length !== plan.count) {
    faults.push({
      path,
      message: words().messages.tray.plan.cornersCount(String(given.length), String(plan.count)),
    });
  }
  return given;
}

/** What a plan.dxf says; nothing when there is a fault. */
function drawnPlan(
  given: Extract<GivenPlan, { dxf: string }>,
  { units, planDxf, note }: Reading,
  faults: Fault[],
): Pick<DrawnPlan, 'vertices' | 'holes'> {
  const say = words().messages.tray.drawing;
  const path = 'plan.dxf';
  const nothing = { vertices: [], holes: [] };
  if (planDxf === undefined) {
    faults.push({ path, message: say.cannotBeRead(shown(given.dxf)) });
    return nothing;
  }
  try {
    const drawn = planFromDxf(planDxf(given.dxf), {
      layer: given.layer,
      loop: given.loop,
      unit: given.units,
      unitless: units,
    });
    drawn.notes.forEach(note);
    return drawn;
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    faults.push(
      ...error.faults.map((fault) =>
        fault.path === '' ? { path, message: say.fault(shown(given.dxf), fault.message) } : fault,
      ),
    );
    return nothing;
  }
}
