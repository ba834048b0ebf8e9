/**
 * A tray from a drawing of its plan: everything but the plan comes from the tray on the page, and what the drawing
 * leaves open (unit, radius of sharp corners, layer) is asked, never assumed.
 */
import { GatherpanError } from '../errors.ts';
import { drawnRectangle } from '../tray/drawnRectangle.ts';
import { LIMITS } from '../tray/limits.ts';
import { type DrawnPlan, drawnLayers, drawnOutlines, planFromDxf } from '../tray/planDxf.ts';
import { DRAWING_UNITS, type DrawingUnit } from '../tray/planSchema.ts';
import { sharpVertices } from '../tray/readPlan.ts';
import { readTray } from '../tray/readTray.ts';
import type { HoleSpec, TraySpec } from '../tray/spec.ts';
import { lengthFrom, numberFrom } from '../tray/writtenSize.ts';
import { unitsOf } from '../tray/writtenTray.ts';
import { MILLIMETRES } from '../units.ts';
import { words } from '../words/language.ts';
import { DEMO_TRAY } from './demoTray.ts';
import type { Base, DrawingAnswers, DrawingQuestion, ReadDrawing } from './jobs.ts';
import { planSvg } from './planPicture.ts';

/**
 * @param name for the tray
 * @param said what a person says of the drawing, as it came
 * @throws GatherpanError when no plan can be read from it, or the tray with this plan is not acceptable
 */
export function readDrawing(
  bytes: Uint8Array,
  name: string,
  base: Base,
  said: DrawingAnswers = {},
): ReadDrawing {
  const given = Object.keys(base).length === 0 ? DEMO_TRAY : base;
  const text = textOf(bytes);
  const notes: string[] = [];
  const { rest, leftOut } = withoutOldPlan(given);
  if (leftOut) notes.push(words().messages.drawnPlan.oldPlanLeftOut);
  const asked: DrawingQuestion[] = [];
  let unit: DrawingUnit | undefined;
  try {
    if (said.units === undefined) {
      const { sizes, plan } = measured(text, said);
      if (plan.ownUnit === undefined) {
        asked.push({ about: 'units', sizes });
        // Whichever reads: corners are where they are in every unit.
        unit = sizes[0]?.unit ?? 'mm';
      }
    }
    const tray = readTray(
      {
        ...rest,
        name,
        plan: {
          dxf: `${name}.dxf`,
          ...(said.layer === undefined ? {} : { layer: said.layer }),
          ...(said.loop === undefined ? {} : { loop: numberFrom(said.loop) ?? said.loop }),
          ...(said.units === undefined && unit === undefined ? {} : { units: said.units ?? unit }),
          ...(said.cornerRadius === undefined
            ? {}
            : { cornerRadius: lengthFrom(said.cornerRadius, unitsOf(given)) ?? said.cornerRadius }),
        },
      },
      { planDxf: () => text, note: (sentence) => notes.push(sentence) },
    );
    if (asked.length === 0)
      return { kind: 'drawing', ...rectangular(tray, notes), picture: pictureOf(text, said) };
  } catch (error) {
    if (!(error instanceof GatherpanError)) throw error;
    const [fault, ...others] = error.faults;
    if (said.layer === undefined && fault?.path === 'plan.layer') {
      return { kind: 'question', questions: [{ about: 'layer', layers: drawnLayers(text) }], picture: null };
    }
    if (said.loop === undefined && fault?.path === 'plan.loop') {
      const loops = drawnOutlines(text, said.layer).map(({ size: [length, width], x, y }) => ({
        size: [figure(length), figure(width)] as const,
        x: rounded(x),
        y: rounded(y),
      }));
      return { kind: 'question', questions: [{ about: 'loop', loops }], picture: null };
    }
    const isRadius = said.cornerRadius === undefined && fault?.path === 'plan.cornerRadius';
    if (isRadius && others.length === 0) {
      const { plan } = measured(text, said);
      asked.push({
        about: 'cornerRadius',
        corners: sharpVertices(plan.vertices).map(({ x, y }) => ({ x: rounded(x), y: rounded(y) })),
      });
    } else if (asked.length === 0) throw error;
    // What is wrong with the tray in a unit that nobody has said is not known yet.
  }
  return { kind: 'question', questions: asked, picture: pictureOf(text, said) };
}

/** The plan as it was found; in a drawing without a unit the figures stand for themselves. */
function pictureOf(text: string, said: DrawingAnswers): string | null {
  const { plan, read } = measured(text, said);
  const own = plan.ownUnit ?? (said.units as DrawingUnit | undefined);
  return planSvg(plan, own ?? read, own !== undefined);
}

/** The plan in the first unit in which it can be read, and its size in each that makes a tray of it. */
function measured(
  text: string,
  { layer, loop, units }: DrawingAnswers,
): {
  plan: DrawnPlan;
  read: DrawingUnit;
  sizes: Extract<DrawingQuestion, { about: 'units' }>['sizes'];
} {
  const unit = units as DrawingUnit | undefined;
  let failure: unknown;
  for (const unitless of unit === undefined ? (['mm', 'in', 'm'] as const) : [unit]) {
    try {
      const plan = planFromDxf(text, {
        layer,
        loop: loop === undefined ? undefined : Number(loop),
        unit,
        unitless,
      });
      const [width, height] = plan.size.map((extent) => extent / MILLIMETRES[unitless]);
      const sizes = DRAWING_UNITS.map((each) => ({
        unit: each,
        drawn: [figure(width!), figure(height!)] as const,
        millimetres: [figure(width! * MILLIMETRES[each]), figure(height! * MILLIMETRES[each])] as const,
      })).filter(({ millimetres }) =>
        millimetres.every((extent) => extent >= LIMITS.planSize[0] && extent <= LIMITS.planSize[1]),
      );
      if (sizes.length === 0) {
        const [least, most] = LIMITS.planSize.map(String) as [string, string];
        const extent = [figure(width!), figure(height!)].map(String) as [string, string];
        throw new GatherpanError('BAD_INPUT', words().messages.drawnPlan.noUnitFits(...extent, least, most));
      }
      return { plan, read: unitless, sizes };
    } catch (error) {
      failure ??= error;
    }
  }
  throw failure;
}

/** The tray without what refers to the edges and places of the plan it had. */
function withoutOldPlan(given: Base): { rest: Base; leftOut: boolean } {
  const { holes, section, forming, ...rest } = given as Readonly<Record<string, unknown>> & {
    readonly section?: Readonly<Record<string, unknown>>;
    readonly forming?: Readonly<Record<string, unknown>>;
  };
  const { heights, runOut, ...ownSection } = section ?? {};
  const { corners, ...ownForming } = forming ?? {};
  const oneByOne = corners !== undefined && typeof corners !== 'string';
  return {
    rest: {
      ...rest,
      ...(section === undefined ? {} : { section: ownSection }),
      ...(forming === undefined
        ? {}
        : { forming: { ...ownForming, ...(corners === undefined || oneByOne ? {} : { corners }) } }),
    },
    leftOut:
      (Array.isArray(holes) && holes.length > 0) || heights !== undefined || runOut !== undefined || oneByOne,
  };
}

/** A drawn rectangle as one, so that length, width and radius can be changed. */
function rectangular(tray: TraySpec, notes: readonly string[]): { tray: TraySpec; notes: readonly string[] } {
  const found = 'vertices' in tray.plan ? drawnRectangle(tray.plan) : null;
  if (found === null) return { tray, notes };
  const { plan, x, y } = found;
  const holes = tray.holes?.map(
    (hole): HoleSpec =>
      hole.place.on === 'base'
        ? { ...hole, place: { on: 'base', x: hole.place.x - x, y: hole.place.y - y } }
        : hole,
  );
  try {
    const spec = readTray({ ...tray, plan, ...(holes === undefined ? {} : { holes }) });
    return { tray: spec, notes: [...notes, words().messages.drawnPlan.rectangle] };
  } catch (error) {
    // A size at the edge of what is accepted, settled to the other side of it.
    if (error instanceof GatherpanError) return { tray, notes };
    throw error;
  }
}

/** A size with the figures that a person tells it by. */
const figure = (size: number): number => Number(size.toPrecision(5));

const rounded = (place: number): number => Math.round(place * 1e3) / 1e3 + 0;

/** Drawings are ASCII but for names and remarks, and those may be in an older encoding. */
function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}
