/** Trays solved once for all tests of a worker; nobody changes what comes. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { planDrawing } from '../../src/cli/planDrawing.ts';
import { fitHand, type HandFit } from '../../src/gather/handFit.ts';
import type { Measurements } from '../../src/gather/measurements.ts';
import { type Course, courseOf } from '../../src/gather/workingPlan.ts';
import { flatPatternOf } from '../../src/pattern/developed.ts';
import { developTray } from '../../src/pattern/developTray.ts';
import type { Developed, FlatPattern } from '../../src/pattern/flatPattern.ts';
import { readTray } from '../../src/tray/readTray.ts';
import type { TraySpec } from '../../src/tray/spec.ts';

/** For tests that look at flat, rim and outline alone: the band of hands and the way are left out. */
export const OUTLINE_ONLY = { band: false, way: false } as const;

const known = new Map<string, Developed>();

/** A flat pattern, or why there is none. */
export function developed(spec: TraySpec): Developed {
  const key = JSON.stringify(spec);
  const found = known.get(key) ?? developTray(spec);
  known.set(key, found);
  return found;
}

export const solved = (spec: TraySpec): FlatPattern => flatPatternOf(developed(spec));

const courses = new Map<FlatPattern, Course>();

/** The whole working plan of a solved tray. */
export function solvedCourse(pattern: FlatPattern): Course {
  const course = courses.get(pattern) ?? courseOf(pattern);
  courses.set(pattern, course);
  return course;
}

const fits = new Map<string, HandFit>();

/** The hand from measurements, as `fitHand`. */
export function fitted(spec: TraySpec, measurements: Measurements): HandFit {
  const key = JSON.stringify([spec, measurements]);
  const found = fits.get(key) ?? fitHand(spec, measurements);
  fits.set(key, found);
  return found;
}

export const SAMPLES = fileURLToPath(new URL('../../samples/', import.meta.url));

/** Names of the demo trays. */
export const SAMPLE_NAMES: readonly string[] = readdirSync(SAMPLES)
  .filter((file) => file.endsWith('.json'))
  .map((file) => file.slice(0, -5))
  .sort();

/** A demo tray, and what of its file is said to differ. */
export async function sample(name: string, differences: object = {}): Promise<TraySpec> {
  const value = { ...(JSON.parse(readFileSync(`${SAMPLES}${name}.json`, 'utf8')) as object), ...differences };
  const planDxf = await planDrawing(value, SAMPLES);
  return readTray(value, planDxf === undefined ? {} : { planDxf });
}
