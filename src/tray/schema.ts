/**
 * The tray file as a person writes it, as a schema.
 *
 * The same schema checks a file (`readTray.ts`) and is published as JSON Schema, so that an editor can
 * complete and check the file while it is written. The message of every rule is the second half of a
 * sentence, "what would be accepted"; `sentences.ts` puts the field and the value found in front.
 */

import * as z from 'zod';
import { COATINGS, CRYSTALS, FAMILIES } from '../material/families.ts';
import { BIAXIAL_R_RANGE, STRENGTH_RANGE } from '../material/strengths.ts';
import { words } from '../words/language.ts';
import { CORNER_PATTERN } from './cornerLetter.ts';
import { described } from './described.ts';
import {
  byLetters,
  choice,
  length,
  meaning,
  number,
  numberWanted,
  object,
  text,
  trayName,
  UNITS,
  type Units,
} from './fields.ts';
import { type GaugeSystem, gaugeSystemNames, gaugeSystems } from './gauge.ts';
import { holes } from './holeSchema.ts';
import { DEFAULTS, LIMITS, MOST_STAGES } from './limits.ts';
import { plan } from './planSchema.ts';
import { section } from './sectionSchema.ts';
import { GATHERINGS } from './spec.ts';

const take = () => words().messages.tray.fields.accepted;

const unitsMeaning = (): string => described().units;

/** Ranges of a material's own numbers: wide enough for any sheet metal. */
const customMaterial = object(
  {
    name: text(
      () => take().customName,
      () => described().customName,
    ),
    family: choice(FAMILIES, () => described().family).optional(),
    coating: choice(COATINGS, () => described().coating).optional(),
    K: number([1, 10_000], 'N/mm²', () => described().K),
    epsilon0: number([1e-5, 0.5], '', () => described().epsilon0),
    n: number([0.01, 0.8], '', () => described().n),
    r0: number([0.01, 20], '', () => described().r0),
    r45: number([0.01, 20], '', () => described().r45),
    r90: number([0.01, 20], '', () => described().r90),
    strengths: object(
      {
        at45: number(STRENGTH_RANGE, '', () => described().strengthAt45),
        at90: number(STRENGTH_RANGE, '', () => described().strengthAt90),
        biaxial: number(STRENGTH_RANGE, '', () => described().biaxialStrength).optional(),
        biaxialR: number(BIAXIAL_R_RANGE, '', () => described().biaxialR).optional(),
        crystal: choice(CRYSTALS, () => described().crystal).optional(),
      },
      () => take().strengths,
      () => described().strengths,
    ).optional(),
    density: number([0.5, 25], 'kg/dm³', () => described().density),
    youngsModulus: number([1000, 1_000_000], 'N/mm²', () => described().youngsModulus),
    yieldStrength: number([1, 5000], 'N/mm²', () => described().yieldStrength),
    tensileStrength: number([1, 5000], 'N/mm²', () => described().tensileStrength),
    uniformElongation: number([0.1, 200], '%', () => described().uniformElongation),
    strainBudget: number([0.01, 3], '', () => described().strainBudget).optional(),
    annealedStrainBudget: number([0.01, 3], '', () => described().annealedStrainBudget).optional(),
    annealTemperature: z
      .array(
        number([0, 2000], '°C', () => described().temperature),
        {
          error: () => take().temperatures,
        },
      )
      .length(2, { error: () => take().temperatures })
      .meta(meaning(() => described().annealTemperature))
      .optional(),
  },
  () => take().material,
  () => described().customMaterial,
);

const systemForWhat = ({ name, usedFor }: GaugeSystem): string =>
  words().messages.tray.fields.gauges.system(name, usedFor);

const sheet = (units: Units) =>
  object(
    {
      material: z
        .union(
          [
            text(
              () => take().material,
              () => described().materialName,
            ),
            customMaterial,
          ],
          { error: () => take().material },
        )
        .meta(meaning(() => described().material)),
      thickness: z
        .union(
          [
            length(units, LIMITS.thickness, () => described().thickness),
            object(
              {
                gauge: z
                  .int({ error: numberWanted(() => take().gauge) })
                  .min(0, { error: numberWanted(() => take().gauge) })
                  .max(36, { error: numberWanted(() => take().gauge) })
                  .meta(meaning(() => described().gauge)),
                system: choice(gaugeSystemNames as [string, ...string[]], () =>
                  described().gaugeSystem(gaugeSystems.map(systemForWhat).join(', ')),
                ),
              },
              () => take().gaugeObject,
              () => described().thicknessByGauge,
            ),
          ],
          {
            error: numberWanted(() => take().thickness[units]),
          },
        )
        .meta(meaning(() => described().thicknessOrGauge)),
      grain: number(LIMITS.grain, 'degrees', () => described().grain).default(DEFAULTS.grain),
    },
    () => take().sheet,
    () => described().sheet,
  );

const making = choice(['gather', 'notch'], () => described().making);

const forming = (units: Units) =>
  object(
    {
      trim: z
        .union(
          [
            length(units, LIMITS.trim, () => described().trimLength),
            z.enum(['auto'], { error: () => take().trim[units] }).meta(meaning(() => described().trimAuto)),
          ],
          { error: numberWanted(() => take().trim[units]) },
        )
        .meta(meaning(() => described().trim))
        .optional(),
      hand: number(LIMITS.hand, '', () => described().hand).optional(),
      spread: number(LIMITS.spread, '%', () => described().spread).optional(),
      zoneThreshold: number(LIMITS.zoneThreshold, '%', () => described().zoneThreshold).optional(),
      stages: z
        .array(
          number(LIMITS.stageAngle, 'degrees', () => described().stage),
          {
            error: () => take().stages,
          },
        )
        .min(1, { error: () => take().fewestStages })
        .max(MOST_STAGES, { error: () => take().mostStages(String(MOST_STAGES)) })
        .meta(meaning(() => described().stages))
        .optional(),
      gathering: choice([...GATHERINGS], () => described().gathering).optional(),
      corners: z
        .union(
          [
            making,
            z.array(making, { error: () => take().corners }).meta(meaning(() => described().cornersOneByOne)),
            byLetters(
              CORNER_PATTERN,
              making,
              {},
              () => take().corners,
              () => described().cornersByLetter,
            ),
          ],
          { error: () => take().corners },
        )
        .meta(meaning(() => described().corners))
        .optional(),
      weldGap: length(units, LIMITS.weldGap, () => described().weldGap).optional(),
      notchRelief: length(units, LIMITS.notchRelief, () => described().notchRelief).optional(),
    },
    () => take().forming,
    () => described().forming,
  );

/**
 * The schema of a tray file written in `units`.
 *
 * Two schemas instead of one, so that the limits an editor or an error names are in the person's own units.
 */
export function trayFileSchema(units: Units) {
  return object(
    {
      $schema: z
        .string({ error: () => take().schemaAddress })
        .meta(meaning(() => described().schemaAddress))
        .optional(),
      name: trayName(() => described().name).optional(),
      units:
        units === 'mm'
          ? choice(['mm'], unitsMeaning, UNITS).default(DEFAULTS.units)
          : choice(['in'], unitsMeaning, UNITS),
      shownIn: choice(['mm', 'in'], () => described().shownIn).optional(),
      measured: choice(['outside', 'inside'], () => described().measured).default(DEFAULTS.measured),
      plan: plan(units),
      section: section(units),
      holes: holes(units).optional(),
      sheet: sheet(units),
      forming: forming(units).optional(),
      cut: object(
        {
          process: choice(['laser', 'plasma', 'water jet', 'hand'], () => described().process).default(
            DEFAULTS.process,
          ),
          kerf: length(units, LIMITS.kerf, () => described().kerf).optional(),
          compensate: z
            .boolean({ error: () => take().trueOrFalse })
            .meta(meaning(() => described().compensate))
            .default(DEFAULTS.compensate),
        },
        () => take().cut,
        () => described().cut,
      ).optional(),
    },
    () => take().tray,
    () => words().messages.tray.fields.tray,
  );
}

/** A tray file that has passed the schema, in its own units, with the schema's defaults filled in. */
export type TrayFile = z.output<ReturnType<typeof trayFileSchema>>;

/**
 * The JSON Schema (draft 2020-12) of tray files, for editors.
 *
 * Lengths have one set of limits in mm and one in inches; `units` chooses between them.
 */
export function trayJsonSchema(): Record<string, unknown> {
  const { title, tray } = words().messages.tray.fields;
  return jsonSchemaByUnits(trayFileSchema, title, tray);
}

/** A JSON Schema with one set of limits for files in mm and one for those in inches. */
export function jsonSchemaByUnits(
  schema: (units: Units) => z.ZodType,
  title: string,
  description: string,
): Record<string, unknown> {
  const branch = (units: Units): Record<string, unknown> => {
    const { $schema: _, ...rest } = z.toJSONSchema(schema(units), { io: 'input' });
    return rest;
  };
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title,
    description,
    type: 'object',
    properties: {
      units: {
        enum: UNITS,
        default: DEFAULTS.units,
        description: unitsMeaning(),
      },
    },
    if: { properties: { units: { const: 'in' } }, required: ['units'] },
    // biome-ignore lint/suspicious/noThenProperty: a keyword of JSON Schema
    then: branch('in'),
    else: branch('mm'),
  };
}
