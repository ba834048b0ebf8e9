/** From text to a checked tray: the door every tray comes in by. */
import { type Fault, GatherpanError } from '../errors.ts';
import type { CustomMaterial, StatedStrengths } from '../material/sheetSpec.ts';
import { words } from '../words/language.ts';
import { trayFaults } from './checks.ts';
import type { Units } from './fields.ts';
import { gaugeThickness } from './gauge.ts';
import { jsonFault } from './jsonFault.ts';
import { DEFAULTS, MAXIMUM_FILE_SIZE } from './limits.ts';
import type { Reading } from './reading.ts';
import { readPlan } from './readPlan.ts';
import { readHoles, readSection } from './readSection.ts';
import { type TrayFile, trayFileSchema } from './schema.ts';
import { faultsFromIssues, MOST_FAULTS } from './sentences.ts';
import type { TraySpec } from './spec.ts';
import { millimetresFrom } from './writtenSize.ts';

export interface ReadTrayOptions {
  /** Name for a tray whose file gives none. */
  readonly name?: string;
  /**
   * The text of a DXF drawing, for files whose plan is one; `path` is as the file gives it, relative to the
   * file's own folder. Throws a GatherpanError when there is none. Such files are refused without it.
   */
  readonly planDxf?: (path: string) => string;
  /** Takes sentences on how the drawing was read: what was taken, joined, replaced, left out or moved. */
  readonly note?: (sentence: string) => void;
}

/** Stands in for the section of a tray whose plan cannot be told. */
const NO_SECTION: TraySpec['section'] = { bottomRadius: 0, height: 0, draft: 0, rim: { kind: 'plain' } };

const schemas = new Map<Units, ReturnType<typeof trayFileSchema>>();

/** Building a schema takes longer than using it, so each is built once, on first use. */
export function schemaFor(units: Units): ReturnType<typeof trayFileSchema> {
  let schema = schemas.get(units);
  if (schema === undefined) {
    schema = trayFileSchema(units);
    schemas.set(units, schema);
  }
  return schema;
}

/**
 * A complete, checked tray in mm and degrees from the contents of a tray file.
 *
 * Inches become mm here and nowhere else. Lengths, radii and heights stay on the skin the file measures on.
 * That the material is known is not checked here.
 *
 * @param value what `parseTray` returns, or the same made in code; not changed
 * @throws GatherpanError BAD_INPUT with one fault for every field that is missing, unknown, of the wrong kind
 *   or out of range; when all are sound by themselves, one for each way in which they do not fit together
 */
export function readTray(value: unknown, options: ReadTrayOptions = {}): TraySpec {
  const units: Units = isRecord(value) && value.units === 'in' ? 'in' : 'mm';
  const schema = schemaFor(units);
  const parsed = schema.safeParse(value);
  if (!parsed.success)
    throw new GatherpanError('BAD_INPUT', faultsFromIssues(parsed.error.issues, value, schema));
  const faults: Fault[] = [];
  const mm = (length: number): number => millimetresFrom(length, units);
  const reading = { units, mm, planDxf: options.planDxf, note: options.note ?? (() => {}) };
  const spec = inMillimetres(parsed.data, reading, trayName(parsed.data.name ?? options.name), faults);
  if (faults.length === 0) faults.push(...trayFaults(spec, units));
  if (faults.length > 0) throw new GatherpanError('BAD_INPUT', faults.slice(0, MOST_FAULTS));
  return spec;
}

/**
 * What a JSON text says, not yet checked as a tray.
 *
 * @throws GatherpanError TOO_LARGE over 1 MB; BAD_INPUT when the text is empty or not JSON, with the line and
 *   the column of the first fault
 */
export function parseTray(text: string): unknown {
  if (text.length > MAXIMUM_FILE_SIZE) throw new GatherpanError('TOO_LARGE', tooLarge(text.length));
  const json = text.startsWith('\uFEFF') ? text.slice(1) : text;
  if (json.trim() === '') {
    throw new GatherpanError('BAD_INPUT', words().messages.tray.empty);
  }
  try {
    return JSON.parse(json);
  } catch {
    throw new GatherpanError('BAD_INPUT', words().messages.tray.notJson(jsonFault(json)));
  }
}

/** The sentence for a tray file of this many bytes, too many. */
export const tooLarge = (size: number): string =>
  words().messages.tray.tooLarge((size / 1e6).toFixed(1), String(MAXIMUM_FILE_SIZE / 1e6));

function trayName(name: string | undefined): string {
  const say = words().messages.tray;
  if (name !== undefined) return name;
  const message = say.nameMissing(say.fields.accepted.name);
  throw new GatherpanError('BAD_INPUT', { path: 'name', message });
}

/**
 * The file with every length in mm and nothing left out.
 *
 * @param faults output: what is wrong is added
 */
function inMillimetres(file: TrayFile, reading: Reading, name: string, faults: Fault[]): TraySpec {
  const { mm } = reading;
  const optional = (length: number | undefined, otherwise: number): number =>
    length === undefined ? otherwise : mm(length);
  const { plan, corners, holes: drawnHoles } = readPlan(file.plan, file.forming?.corners, reading, faults);
  // What refers to a plan's edges can only be read when there is a plan.
  const isPlan = faults.length === 0;
  const section = isPlan ? readSection(file.section, plan, reading, faults) : NO_SECTION;
  const holes = isPlan ? [...readHoles(file.holes ?? [], plan, reading, faults), ...drawnHoles] : [];
  return {
    name,
    ...((file.shownIn ?? file.units) === 'in' ? { shownIn: 'in' } : {}),
    measured: file.measured,
    plan,
    section,
    ...(holes.length === 0 ? {} : { holes }),
    sheet: {
      material: typeof file.sheet.material === 'string' ? file.sheet.material : material(file.sheet.material),
      thickness: thickness(file.sheet.thickness, mm),
      grain: file.sheet.grain,
    },
    forming: forming(file.forming, corners, optional),
    cut: {
      process: file.cut?.process ?? DEFAULTS.process,
      kerf: optional(file.cut?.kerf, DEFAULTS.kerf),
      compensate: file.cut?.compensate ?? DEFAULTS.compensate,
    },
  };
}

/** Left-out properties stay left out; a trim of "auto" is a number only once the tray is solved. */
function forming(
  given: TrayFile['forming'],
  corners: TraySpec['forming']['corners'],
  optional: (length: number | undefined, otherwise: number) => number,
): TraySpec['forming'] {
  const { trim, hand, spread, zoneThreshold, stages, gathering, weldGap, notchRelief } = given ?? {};
  return {
    trim: optional(trim === 'auto' ? undefined : trim, DEFAULTS.trim),
    ...(trim === 'auto' ? { autoTrim: true } : {}),
    ...(hand === undefined ? {} : { hand }),
    ...(spread === undefined ? {} : { spread }),
    ...(zoneThreshold === undefined ? {} : { zoneThreshold }),
    ...(stages === undefined ? {} : { stages }),
    ...(gathering === undefined ? {} : { gathering }),
    ...(corners === undefined ? {} : { corners }),
    ...(weldGap === undefined ? {} : { weldGap: optional(weldGap, 0) }),
    ...(notchRelief === undefined ? {} : { notchRelief: optional(notchRelief, 0) }),
  };
}

function thickness(given: TrayFile['sheet']['thickness'], mm: (length: number) => number): number {
  return typeof given === 'number' ? mm(given) : gaugeThickness(given.gauge, given.system);
}

/** Left-out properties are left out here too, not set to undefined. */
function material(given: Exclude<TrayFile['sheet']['material'], string>): CustomMaterial {
  const { family, coating, strengths, strainBudget, annealedStrainBudget, annealTemperature, ...rest } =
    given;
  return {
    ...rest,
    ...(family === undefined ? {} : { family }),
    ...(coating === undefined ? {} : { coating }),
    ...(strengths === undefined ? {} : { strengths: statedStrengths(strengths) }),
    ...(strainBudget === undefined ? {} : { strainBudget }),
    ...(annealedStrainBudget === undefined ? {} : { annealedStrainBudget }),
    ...(annealTemperature === undefined
      ? {}
      : { annealTemperature: [annealTemperature[0]!, annealTemperature[1]!] as const }),
  };
}

function statedStrengths({
  at45,
  at90,
  biaxial,
  biaxialR,
  crystal,
}: NonNullable<Exclude<TrayFile['sheet']['material'], string>['strengths']>): StatedStrengths {
  return {
    at45,
    at90,
    ...(biaxial === undefined ? {} : { biaxial }),
    ...(biaxialR === undefined ? {} : { biaxialR }),
    ...(crystal === undefined ? {} : { crystal }),
  };
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
